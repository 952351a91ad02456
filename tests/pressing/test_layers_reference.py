"""The reference values of the layer model, held by two other implementations before ours."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings
from seamproof.piecing.planning import plan
from seamproof.pressing.folding import Convex, Fold, Sheet, Spot, laid
from seamproof.pressing.layers import layer_map, map_of
from seamproof.pressing.model import LayerMap, PressSettings
from seamproof.pressing.sheets import Cloth, cloth_of
from seamproof.pressing.snipping import snipped
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN
from seamproof.project.reading import read_block_bytes
from tests.drawings import understood
from tests.reference import TABLES

CASES: list[dict[str, Any]] = json.loads((TABLES / "layer_cases.json").read_text(encoding="utf-8"))
PLANS = [(case, plan) for case in CASES for plan in case["plans"]]
EXACT = 1e-6
"""Square inches; the table gives six to nine decimals."""

KEPT = 1e-5
"""The same where corners off the grid are kept to the nearest 2^-20 in."""


def clockwise(points: list[list[float]]) -> Convex:
    loop = [(x, y) for x, y in points]
    doubled = sum(loop[i - 1][0] * y - x * loop[i - 1][1] for i, (x, y) in enumerate(loop))
    return tuple(loop if doubled > 0 else loop[::-1])


def as_told(case: dict[str, Any], pressed: dict[str, Any]) -> list[Sheet]:
    """The sheets of a case, with the folds that its plan names for each patch."""
    seams = {seam["id"]: seam for seam in case["seams"]}
    sheets = []
    for patch in case["patches"]:
        folds = []
        for name in pressed["folds"][patch["id"]]:
            (ax, ay), (bx, by) = seams[name]["from"], seams[name]["to"]
            length = math.dist((ax, ay), (bx, by))
            along = ((bx - ax) / length, (by - ay) / length)
            fold = Fold((ax, ay), along, ())
            if fold.beyond(tuple(patch["keep_point"])) > 0:
                fold = Fold((ax, ay), (-along[0], -along[1]), ())
            folds.append(fold)
        outline = clockwise(patch["cut"])
        pieces = tuple(piece for _, piece in snipped(outline, outline))
        sheets.append(Sheet(patch["id"], pieces, tuple(folds)))
    return sheets


def box(window: list[float]) -> tuple[Spot, ...]:
    x0, y0, x1, y1 = window
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


@pytest.mark.parametrize(
    ("case", "pressed"), PLANS, ids=[f"{c['name']}: {p['label']}" for c, p in PLANS]
)
def test_every_case_has_its_layers(case: dict[str, Any], pressed: dict[str, Any]) -> None:
    found = map_of(laid(as_told(case, pressed), []), box(pressed["window"]), PressSettings())
    assert found.most == pressed["max_layers"]
    areas, told = dict(found.areas), pressed["areas_by_layers"]
    for layers in {*areas, *map(int, told)}:
        assert areas.get(layers, 0.0) == pytest.approx(told.get(str(layers), 0.0), abs=EXACT)


# The same from a drawing: the program finds by itself which sheets a seam catches ----------------


def cloth(text: str) -> Cloth:
    block = understood(read_block_bytes(text.encode(), "b.yaml").drawing)
    piecing, _ = plan(block)
    cutting, _ = cutting_list(block, piecing, settings=CuttingSettings())
    return cloth_of(piecing, cutting, PressSettings())


def inside(found: Cloth, ways: list[int]) -> LayerMap:
    """The layers of the finished block."""
    return map_of(laid(found.sheets, ways), found.outline, PressSettings())


def told(name: str, label: str) -> dict[str, Any]:
    (found,) = [p for c, p in PLANS if c["name"] == name and p["label"] == label]
    return found


SPIRAL = """\
name: Spiral square
finished: 9
patches:
  - {fabric: c, points: [[3, 3], [6, 3], [6, 6], [3, 6]]}
  - {fabric: a, points: [[0, 0], [6, 0], [6, 3], [0, 3]]}
  - {fabric: b, points: [[6, 0], [9, 0], [9, 6], [6, 6]]}
  - {fabric: d, points: [[3, 6], [9, 6], [9, 9], [3, 9]]}
  - {fabric: e, points: [[0, 3], [3, 3], [3, 9], [0, 9]]}
"""

ATTIC = """\
name: Attic window
finished: 6
patches:
  - {fabric: w, points: [[2, 0], [6, 0], [6, 4], [2, 4]]}
  - {fabric: s, points: [[0, 0], [2, 0], [2, 4], [0, 6]]}
  - {fabric: t, points: [[2, 4], [6, 4], [6, 6], [0, 6]]}
"""

FOUR = "name: Four\nfinished: 8\ncells:\n  - a b\n  - c d\n"
PINWHEEL = "name: Pinwheel\nfinished: 8\ncells:\n  - a\\b a/b\n  - b/a b\\a\n"


def test_a_seam_in_two_goes_folds_as_one() -> None:
    found = cloth(SPIRAL)
    row = told("spiral square, 3 in unit, 9 in finished", "all four seams open")
    opened = inside(found, [OPEN] * len(found.ways))
    assert dict(opened.areas) == pytest.approx(
        {int(k): v for k, v in row["areas_by_layers"].items()}
    )


def test_a_set_in_point_has_four_layers_all_open() -> None:
    found = cloth(ATTIC)
    name = "attic window, mitred, 6 in finished, one Y point; mitre sewn first"
    row = told(name, "all three open")
    opened = inside(found, [OPEN] * len(found.ways))
    assert opened.most == 4
    areas = dict(opened.areas)
    for layers, area in row["areas_by_layers"].items():
        assert areas[int(layers)] == pytest.approx(area, abs=KEPT)


def test_a_four_patch_spun_lies_four_layers_high_everywhere() -> None:
    found = cloth(FOUR)
    assert SPUN in found.ways[-1]
    # Whichever way the two short seams must lie for it, one of the four plans nests and is flat.
    flattest = min(
        inside(found, [*ways, SPUN]).most
        for ways in [[a, b][: len(found.ways) - 1] for a in (LEFT, RIGHT) for b in (LEFT, RIGHT)]
    )
    assert flattest == 4


@pytest.mark.parametrize(
    ("column_above", "column_below", "row", "most"),
    [
        (OPEN, OPEN, OPEN, 4),
        (OPEN, OPEN, RIGHT, 6),
        (LEFT, LEFT, OPEN, 6),
    ],
)
def test_a_four_patch_crossing(column_above: int, column_below: int, row: int, most: int) -> None:
    found = cloth(FOUR)
    assert len(found.ways) == 3
    assert inside(found, [column_above, column_below, row]).most == most


def test_columns_that_nest_have_seven_layers_and_alike_nine() -> None:
    found = cloth(FOUR)
    counts = sorted(inside(found, [a, b, RIGHT]).most for a in (LEFT, RIGHT) for b in (LEFT, RIGHT))
    assert counts == [7, 7, 9, 9]


def test_eight_points_have_eight_layers_open_and_twelve_with_the_last_seam_aside() -> None:
    found = cloth(PINWHEEL)
    opened = [OPEN] * len(found.ways)
    assert inside(found, opened).most == 8
    assert dict(inside(found, opened).areas)[8] == pytest.approx(0.207107, abs=EXACT)
    assert inside(found, [*opened[:-1], RIGHT]).most == 12


@pytest.mark.parametrize("text", [SPIRAL, ATTIC, FOUR, PINWHEEL])
def test_the_map_reaches_to_the_raw_edge_and_keeps_all_cloth(text: str) -> None:
    found = cloth(text)
    for way in (OPEN, LEFT, RIGHT):
        layers = layer_map(found, [way] * len(found.ways), PressSettings())
        whole = sum(area for _, area in layers.areas)
        xs, ys = [x for x, _ in found.raw], [y for _, y in found.raw]
        assert whole == pytest.approx((max(xs) - min(xs)) * (max(ys) - min(ys)), abs=EXACT)
