"""Every row of the table of layers: as its cut outlines and folds tell, or from a drawing.

Rows from a drawing go the whole way: understood, planned, cut by recipe, and pressed. There the
program finds by itself which sheets a seam catches.
"""

from __future__ import annotations

import csv
import functools
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest

from seamproof.pressing.folding import Fold, Lying, Sheet, Spot, laid
from seamproof.pressing.layers import map_of
from seamproof.pressing.model import LayerMap, PressSettings
from seamproof.pressing.tables import OPEN
from seamproof.pressing.tabling import DUST
from tests.drawings import cells_drawing, polygon_drawing, understood
from tests.pressing.in_place import InPlace, Window, box, in_place, square_round
from tests.pressing.test_layers_reference import CASES, as_told
from tests.reference import TABLES

SEAM = 0.25
EXACT = 1e-6
"""Square inches; the table gives six decimals."""

KEPT = 1e-5
"""Layers on average, from a drawing: corners of cut pieces off the grid are kept to the nearest
2^-20 in. In the area of the most layers, half a square inch at most, that shows in the seventh
decimal; in a window of several square inches, crossed by long edges, in the sixth."""


@dataclass(frozen=True)
class Row:
    case: str
    press: str
    window: str
    most: int
    area: float
    mean: float | None


def _rows() -> list[Row]:
    with (TABLES / "layers.csv").open(encoding="utf-8", newline="") as file:
        return [
            Row(
                row["case"],
                row["press_plan"],
                row["window"],
                int(row["max_layers"]),
                float(row["area_at_max_sq_in"]),
                float(row["mean_layers_in_window"]) if row["mean_layers_in_window"] else None,
            )
            for row in csv.DictReader(file)
        ]


ROWS = _rows()


def held(row: Row, found: LayerMap, window: Window, near: float = EXACT) -> None:
    """The row's greatest count, its area and its mean (to `near`) are those of a map of the
    window."""
    assert found.most == row.most
    assert dict(found.areas)[row.most] == pytest.approx(row.area, abs=EXACT)
    if row.mean is not None:
        total = sum(layers * area for layers, area in found.areas)
        assert total / _area(window) == pytest.approx(row.mean, abs=near)


def _area(outline: Window) -> float:
    ends = zip(outline, (*outline[1:], outline[0]), strict=True)
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in ends)) / 2


# As told: cut outlines, seams in their order, and the folds of each patch ------------------------

TOLD: dict[str, list[dict[str, Any]]] = {}
for _case in CASES:
    TOLD.setdefault(_case["name"], []).append(_case)

GEESE = {
    "both open": {"L": OPEN, "R": OPEN},
    "both towards the goose": {"L": 1, "R": 1},
    "both towards the small triangles": {"L": 2, "R": 2},
    "first towards the goose, second towards the small triangle": {"L": 1, "R": 2},
}
WINDOWS: dict[str, Window] = {
    "1.5 x 0.75 in at the tip": box(1.25, 0, 2.75, 0.75),
    "finished unit": box(0, 0, 4, 2),
}


def told_plan(row: Row) -> tuple[dict[str, Any], dict[str, Any], Window] | None:
    """The case, the folds of each patch and the window of a row that is told by outlines."""
    for case in TOLD.get(row.case, []):
        for pressed in case["plans"]:
            if (pressed["label"], pressed["window_name"]) == (row.press, row.window):
                return case, pressed, box(*pressed["window"])
        if row.case.startswith("flying geese"):
            press = GEESE[row.press]
            folds = {
                patch["id"]: [
                    seam["id"]
                    for seam in case["seams"]
                    for number in (1, 2)
                    if patch["id"] in seam[f"side{number}"] and press[seam["id"]] in (OPEN, number)
                ]
                for patch in case["patches"]
            }
            return case, {"folds": folds}, WINDOWS[row.window]
    return None


def by_case(prefix: str) -> list[Row]:
    return [row for row in ROWS if row.case.startswith(prefix)]


def label(row: Row) -> str:
    return f"{row.case[:28]}: {re.sub(r'[(].*[)]', '', row.press)[:70]}: {row.window[:12]}"


AS_TOLD = [row for row in ROWS if told_plan(row)]


@pytest.mark.parametrize("row", AS_TOLD, ids=label)
def test_as_told(row: Row) -> None:
    found = told_plan(row)
    assert found is not None
    case, pressed, window = found
    found_map = map_of(laid(as_told(case, pressed), []), window, PressSettings())
    held(row, found_map, window)


# Wedges round a point: seams of a tree of halves --------------------------------------------------

WEDGES: dict[str, Any] = {
    "4 wedges": ((0, 1), (2, 3)),
    "6 wedges": (((0, 1), 2), ((3, 4), 5)),
    "8 wedges": (((0, 1), (2, 3)), ((4, 5), (6, 7))),
    "12 wedges": ((((0, 1), 2), ((3, 4), 5)), (((6, 7), 8), ((9, 10), 11))),
}


def wedges(tree: Any) -> list[Sheet]:
    """Wedges of 3 in, mitred; every seam of the tree open, the outermost right through."""
    count = len(_leaves(tree))
    folds: dict[int, list[Fold]] = {k: [] for k in range(count)}
    _sewn(tree, 2 * math.pi / count, folds)
    sheets = []
    for k, own in folds.items():
        a, b = (2 * math.pi * (k + end) / count for end in (0, 1))
        outer = 3.0 / math.cos((b - a) / 2)
        tip = SEAM / math.sin((b - a) / 2)
        middle = (a + b) / 2
        start = (-tip * math.cos(middle), -tip * math.sin(middle))
        far = [(outer * math.cos(t), outer * math.sin(t)) for t in (a, b)]
        # The far side stays where it is: all that is asked lies round the point.
        out = [(p[0] + start[0], p[1] + start[1]) for p in far]
        sheets.append(Sheet(str(k), ((start, out[0], far[0], far[1], out[1]),), tuple(own)))
    return sheets


def _leaves(tree: Any) -> list[int]:
    return [tree] if isinstance(tree, int) else [k for half in tree for k in _leaves(half)]


def _sewn(tree: Any, wide: float, folds: dict[int, list[Fold]]) -> None:
    """Sewn first, folded first. A wedge lies clockwise as seen after the ray of its number."""
    if isinstance(tree, int):
        return
    first, second = tree
    for half in tree:
        _sewn(half, wide, folds)
    ray = wide * _leaves(second)[0]
    for half, way in ((first, 1.0), (second, -1.0)):
        # The first half lies before the ray, so left of it: what is beyond lies right.
        along = (way * math.cos(ray), way * math.sin(ray))
        for k in _leaves(half):
            folds[k].append(Fold((0.0, 0.0), along, ()))


def disc(radius: float) -> Window:
    steps = [math.pi * k / 120 for k in range(240)]
    return tuple((radius * math.cos(t), radius * math.sin(t)) for t in steps)


@pytest.mark.parametrize("name", WEDGES)
def test_wedges_all_open(name: str) -> None:
    (row,) = [r for r in by_case(name) if "meeting at a point" in r.case]
    # Just wider than the disc, so that no corner of what is folded is cut off.
    window = disc(SEAM / math.cos(math.pi / 4) + 0.01)
    found = map_of(laid(wedges(WEDGES[name]), []), window, PressSettings())
    assert found.most == row.most
    assert dict(found.areas)[row.most] == pytest.approx(row.area, abs=EXACT)


# From drawings ------------------------------------------------------------------------------------

ABOUT = {"up": (0.0, -1.0), "down": (0.0, 1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}


def towards(at: Spot, way: str) -> Spot | int:
    if way == "open":
        return OPEN
    return (at[0] + ABOUT[way][0], at[1] + ABOUT[way][1])


def said(row: Row, pattern: str) -> str:
    found = re.search(pattern, row.press)
    assert found, (pattern, row.press)
    return found[1]


def crossed(row: Row) -> dict[Spot, Spot | int]:
    """The two column seams and the row seam of four squares of 4 in."""
    return {
        at: towards(at, said(row, rf"{name} seam (\w+)"))
        for at, name in (((4, 2), "upper column"), ((4, 6), "lower column"), ((2, 4), "row"))
    }


@functools.cache
def four() -> InPlace:
    return in_place(understood(cells_drawing("four", (8, 8), ["a b", "c d"])))


@functools.cache
def eight_points() -> InPlace:
    cells = ["a\\b c/d", "e/f g\\h"]
    return in_place(understood(cells_drawing("eight points", (8, 8), cells)))


def four_patch(row: Row) -> tuple[LayerMap, Window]:
    window = square_round((4, 4), 0.5)
    return four().layers(four().ways(crossed(row)), window), window


def half_squares(row: Row) -> tuple[LayerMap, Window]:
    pressed = crossed(row)
    to = {"open": None, "upper-left": (1.0, 5.0), "lower-right": (3.0, 7.0)}[
        said(row, r"diagonals (?:towards )?([\w-]+)")
    ]
    at: Spot = (2.0, 6.0)
    for _ in range(4):
        pressed[at] = OPEN if to is None else to
        at = (8 - at[1], at[0])
        to = None if to is None else (8 - to[1], to[0])
    window = square_round((4, 4), 2)
    return eight_points().layers(eight_points().ways(pressed), window), window


@functools.cache
def hourglass() -> InPlace:
    return in_place(understood(cells_drawing("hourglass", (4, 4), ["a.b.c.d"])))


def quarters(row: Row) -> tuple[LayerMap, Window]:
    found = hourglass()
    # A is left of the seam: first pair to the lower right, second to the upper left.
    sides: dict[str, dict[str, Spot | int]] = {
        "first pair": {"A": (4, 2), "B": (2, 4)},
        "second pair": {"A": (0, 2), "B": (2, 0)},
        "long seam": {"A": (0, 0), "B": (4, 4)},
    }
    spots: dict[str, Spot] = {"first pair": (3, 3), "second pair": (1, 1), "long seam": (3, 1)}
    pressed = {
        spots[name]: {"open": OPEN, **to}[said(row, rf"{name} (\w+)")] for name, to in sides.items()
    }
    window = square_round((2, 2), 2)
    return found.layers(found.ways(pressed), window), window


def nine(row: Row) -> tuple[LayerMap, Window]:
    found = in_place(understood(cells_drawing("nine", (9, 9), ["a b c", "d e f", "g h i"])))
    pressed: dict[Spot, Spot | int] = {}
    if row.press != "all open":
        assert row.press.startswith("row 1 left right, row 2 right left, row 3 left right")
        for y, ways in ((1.5, "left right"), (4.5, "right left"), (7.5, "left right")):
            for x, way in zip((3.0, 6.0), ways.split(), strict=True):
                pressed[x, y] = towards((x, y), way)
        pressed |= {(1.5, 3.0): (1.5, 4.0), (1.5, 6.0): (1.5, 5.0)}
    return found.layers(found.ways(pressed)), found.cloth.outline


SPIRAL = [
    ("c", [(3, 3), (6, 3), (6, 6), (3, 6)]),
    ("a", [(0, 0), (6, 0), (6, 3), (0, 3)]),
    ("b", [(6, 0), (9, 0), (9, 6), (6, 6)]),
    ("d", [(3, 6), (9, 6), (9, 9), (3, 9)]),
    ("e", [(0, 3), (3, 3), (3, 9), (0, 9)]),
]


def spiral(row: Row) -> tuple[LayerMap, Window]:
    found = in_place(understood(polygon_drawing("spiral", (9, 9), SPIRAL)))
    middle: Spot = (4.5, 4.5)
    at: list[Spot] = [(3.5, 3), (6, 3.5), (5.5, 6), (3, 5.5)]
    to: Spot | int = OPEN if "open" in row.press else middle
    return found.layers(found.ways(dict.fromkeys(at, to))), found.cloth.outline


ATTIC = [
    ("w", [(2, 0), (6, 0), (6, 4), (2, 4)]),
    ("s", [(0, 0), (2, 0), (2, 4), (0, 6)]),
    ("t", [(2, 4), (6, 4), (6, 6), (0, 6)]),
]


def attic(row: Row) -> tuple[LayerMap, Window]:
    found = in_place(understood(polygon_drawing("attic", (6, 6), ATTIC)))
    window, sill, side = (4.0, 2.0), (4.0, 5.0), (1.0, 2.0)
    pressed: dict[Spot, Spot | int] = {}
    if "seams towards the strips" in row.press:
        pressed = {(4, 4): sill, (2, 2): side}
    elif "towards the window" in row.press:
        pressed = {(4, 4): window, (2, 2): window}
    return found.layers(found.ways(pressed)), found.cloth.outline


@functools.cache
def star() -> InPlace:
    """The star with 3 in diamonds of the table, to nine decimals."""
    (case,) = TOLD["eight-pointed star, diamond edge 3 in, 8 set-in points"]
    fabrics = {"d": "ab", "t": "cc", "q": "dd"}
    patches = [
        (
            fabrics[p["id"][0]][int(p["id"][1:]) % 2],
            [(f"{x:.9f}", f"{y:.9f}") for x, y in p["finished"]],
        )
        for p in case["patches"]
    ]
    size = "10.242640687"
    return in_place(understood(polygon_drawing("star", (size, size), patches)))


def set_in(row: Row) -> tuple[LayerMap, Window]:
    middle, reach = 10.242640687 / 2, 3.0
    turn = math.radians(float(said_window(row, r"at (\d+) degrees")))
    at = (middle + reach * math.cos(turn), middle + reach * math.sin(turn))
    if "corner" in row.window:
        at = (middle + math.sqrt(4.5), middle + math.sqrt(4.5))
    return star().layers(star().opened, square_round(at, 1)), square_round(at, 1)


def said_window(row: Row, pattern: str) -> str:
    found = re.search(pattern, row.window)
    assert found
    return found[1]


def geese(row: Row) -> tuple[LayerMap, Window]:
    patches = [
        ("g", [(2, 0), (4, 2), (0, 2)]),
        ("s", [(0, 0), (2, 0), (0, 2)]),
        ("s", [(2, 0), (4, 0), (4, 2)]),
    ]
    found = in_place(understood(polygon_drawing("goose", (4, 2), patches)))
    # The right-hand seam is sewn first here; the table has the left one first.
    first, second = (3.0, 1.0), (1.0, 1.0)
    assert found.seam(first)[0].part < found.seam(second)[0].part
    goose, left, right = (2.0, 1.5), (0.1, 0.1), (3.9, 0.1)
    to: dict[str, tuple[Spot | int, Spot | int]] = {
        "both open": (OPEN, OPEN),
        "both towards the goose": (goose, goose),
        "both towards the small triangles": (right, left),
        "first towards the goose, second towards the small triangle": (goose, left),
    }
    ways = found.ways(dict(zip((first, second), to[row.press], strict=True)))
    return found.layers(ways, WINDOWS[row.window]), WINDOWS[row.window]


DRAWN: dict[str, Callable[[Row], tuple[LayerMap, Window]]] = {
    "four-patch of 4 in squares": four_patch,
    "four HST units 4 in finished, trimmed, all eight points at the centre": half_squares,
    "hourglass 4 in finished, trimmed": quarters,
    "nine-patch of 3 in squares": nine,
    "spiral square, 3 in unit, 9 in finished": spiral,
    "attic window, mitred, 6 in finished, one Y point; mitre sewn first": attic,
    "flying geese 2 x 4 in finished, four at a time, trimmed": geese,
}
AS_DRAWN = [row for row in ROWS if row.case in DRAWN]
SET_IN = [row for row in ROWS if "round the set-in" in row.window]


@pytest.mark.parametrize("row", AS_DRAWN, ids=label)
def test_as_drawn(row: Row) -> None:
    held(row, *DRAWN[row.case](row), KEPT)


@pytest.mark.parametrize("row", SET_IN, ids=lambda row: row.window[:40])
def test_set_in_points_of_a_star(row: Row) -> None:
    held(row, *set_in(row), KEPT)


def test_no_row_is_left_out() -> None:
    wedged = [row for row in ROWS if "meeting at a point" in row.case]
    assert {*AS_TOLD, *AS_DRAWN, *SET_IN, *wedged} == set(ROWS)
    assert len(ROWS) == 68


def test_many_slivers_make_no_place() -> None:
    """Each less than DUST, together more."""
    side = math.sqrt(0.8 * DUST)
    whole = box(0.0, 0.0, 1.0, 1.0)
    cloth = [Lying(tuple(whole), False, 0)] + [
        Lying(tuple(box(x, 0.0, x + side, side)), False, 1) for x in (0.25, 0.5, 0.75)
    ]
    found = map_of(cloth, whole, PressSettings())
    assert found.most == 1
    assert [layers for layers, _ in found.areas] == [1]
