"""Laws of the layer model."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import settings as running
from hypothesis import strategies as st

from seamproof.draft.model import Block, Drawing
from seamproof.piecing.planning import plan
from seamproof.pressing.folding import Convex, Fold, Sheet, Spot, laid
from seamproof.pressing.layers import map_of
from seamproof.pressing.model import LayerMap, PressSettings
from seamproof.pressing.sheets import Cloth, cloth_of
from seamproof.pressing.tables import LEFT, OPEN, RIGHT
from seamproof.pressing.tabling import tables_of
from tests import strategies
from tests.cutting.facts import Fact, checked
from tests.drawings import cells_drawing, polygon_drawing, understood
from tests.pressing.by_tracing import layers_at
from tests.pressing.in_place import InPlace, Window, box, in_place
from tests.pressing.test_layers_table import (
    ROWS,
    disc,
    eight_points,
    four,
    geese,
    hourglass,
    wedges,
)

SEAM = 0.25
SETTINGS = PressSettings()
THICK = 1e-5
"""Square inches; places below DUST are not told in a map."""

EVERYWHERE = box(-50.0, -50.0, 100.0, 100.0)

blocks = strategies.planted_blocks(most=8)
seeds = st.integers(0, 2**32 - 1)


def cloth(block: Block) -> Cloth:
    """Mitred pieces, each its patch pushed out."""
    return cloth_of(plan(block)[0], None, SETTINGS)


def drawn(dice: random.Random, found: Cloth) -> list[int]:
    return [dice.choice(known) for known in found.ways]


def layers(found: Cloth, ways: list[int], window: Window = EVERYWHERE) -> LayerMap:
    return map_of(laid(found.sheets, ways), window, SETTINGS)


def area(outline: Convex) -> float:
    ends = zip(outline, (*outline[1:], outline[0]), strict=True)
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in ends)) / 2


@given(blocks, seeds)
@running(max_examples=15)
def test_layers_times_area_is_the_cloth_that_was_cut(block: Block, seed: int) -> None:
    found = cloth(block)
    total = sum(
        count * wide for count, wide in layers(found, drawn(random.Random(seed), found)).areas
    )
    cut = sum(area(piece) for sheet in found.sheets for piece in sheet.pieces)
    # Places below DUST are not told.
    assert total == pytest.approx(cut, abs=1e-4)


@given(blocks, seeds, st.integers(0, 3), st.booleans())
@running(max_examples=12)
def test_a_turned_or_mirrored_block_has_its_map_turned_or_mirrored(
    block: Block, seed: int, quarters: int, mirrored: bool
) -> None:
    found = cloth(block)
    ways = drawn(random.Random(seed), found)

    def moved(p: Spot) -> Spot:
        x, y = (-p[0], p[1]) if mirrored else p
        for _ in range(quarters):
            x, y = -y, x
        return (x, y)

    def fold(of: Fold) -> Fold:
        ux, uy = moved(of.along)
        # Mirrored, what lay right of the line lies left of it.
        return Fold(moved(of.at), (-ux, -uy) if mirrored else (ux, uy), of.when)

    sheets = [
        Sheet(
            s.fabric,
            tuple(tuple(map(moved, p[::-1] if mirrored else p)) for p in s.pieces),
            tuple(map(fold, s.folds)),
        )
        for s in found.sheets
    ]
    window = tuple(map(moved, found.outline))
    other = map_of(laid(sheets, ways), window[::-1] if mirrored else window, SETTINGS)
    assert dict(other.areas) == pytest.approx(
        dict(layers(found, ways, found.outline).areas), abs=1e-6
    )


@pytest.mark.parametrize("seam", [Fraction(1, 4), Fraction(3, 8), Fraction(1, 2)])
def test_one_seam_alone_is_two_and_two_or_one_and_three(seam: Fraction) -> None:
    two = understood(cells_drawing("two", (8, 6), ["a b"]))
    found = cloth_of(plan(two)[0], None, PressSettings(seam=seam))
    s = float(seam)
    left, right = box(4 - s, 2, 4, 4), box(4, 2, 4 + s, 4)
    counts = {
        way: [layers(found, [way], side).most for side in (left, right)]
        for way in (OPEN, LEFT, RIGHT)
    }
    assert counts[OPEN] == [2, 2]
    assert sorted([counts[LEFT], counts[RIGHT]]) == [[1, 3], [3, 1]]
    for way in (OPEN, LEFT, RIGHT):
        for side in (left, right):
            # One count all over the allowance.
            ((_, wide),) = layers(found, [way], side).areas
            assert wide == pytest.approx(2 * s)


@pytest.mark.parametrize(
    ("block", "at", "patches"),
    [(four, (4.0, 4.0), 4), (eight_points, (4.0, 4.0), 8), (hourglass, (2.0, 2.0), 4)],
)
def test_round_a_point_of_p_patches_the_mean_is_p(
    block: Callable[[], InPlace], at: Spot, patches: int
) -> None:
    found = block()
    # Folds map it onto itself: it has a corner every 1.5 degrees.
    window = tuple((at[0] + x, at[1] + y) for x, y in disc(SEAM))
    dice = random.Random(3)
    for _ in range(12):
        ways = [dice.choice((OPEN, LEFT, RIGHT)) for _ in found.cloth.ways]
        told = found.layers(ways, window)
        total = sum(count * wide for count, wide in told.areas)
        assert total / area(window) == pytest.approx(patches, abs=1e-4)
        assert told.most >= patches


@pytest.mark.parametrize("count", [4, 8, 16])
def test_joins_of_equal_halves_all_open_are_even(count: int) -> None:
    """So many layers all over the regular polygon inside the allowances, no more anywhere."""
    halves: Any = list(range(count))
    while len(halves) > 2:
        halves = [(halves[k], halves[k + 1]) for k in range(0, len(halves), 2)]
    window = disc(SEAM / math.cos(math.pi / count) + 0.01)
    found = map_of(laid(wedges(tuple(halves)), []), window, SETTINGS)
    assert found.most == count
    want = count * SEAM**2 * math.tan(math.pi / count)
    assert dict(found.areas)[count] == pytest.approx(want, abs=1e-6)


def test_an_uneven_join_all_open_has_twice_what_each_side_had() -> None:
    """Two patches sewn open, two layers at their seam, and one: four layers and two."""
    found = in_place(understood(cells_drawing("t", (6, 6), ["a b", "c ="])))
    ways = found.opened
    upper, lower_ = ((3 - SEAM, y, 3 + SEAM, y + SEAM) for y in (3 - SEAM, 3.0))
    assert dict(found.layers(ways, box(*upper)).areas) == pytest.approx({4: 2 * SEAM**2})
    assert dict(found.layers(ways, box(*lower_)).areas) == pytest.approx({2: 2 * SEAM**2})


def _least_and_open(block: Block) -> tuple[int, int]:
    """The least possible maximum from six layers up to all open's, by every plan."""
    found = in_place(block).cloth
    tables = tables_of(found, SEAM)

    def most(ways: tuple[int, ...]) -> int:
        return max(int(t.most[row]) for t in tables if (row := t.row(ways)) is not None)

    every = itertools.product((OPEN, LEFT, RIGHT), repeat=len(found.ways))
    return min(map(most, every)), most((OPEN,) * len(found.ways))


TIP = [
    ("g", [(3, 0), (6, 3), (0, 3)]),
    ("s", [(0, 0), (3, 0), (0, 3)]),
    ("t", [(3, 0), (6, 0), (6, 3)]),
    ("u", [(0, -3), (6, -3), (6, 0), (0, 0)]),
]


def lower(points: list[tuple[int, int]]) -> list[tuple[int, int]]:
    return [(x, y + 3) for x, y in points]


@pytest.mark.parametrize(
    ("name", "block", "least", "opened"),
    [
        ("T point", cells_drawing("t", (6, 6), ["a b", "c ="]), 4, 4),
        (
            "goose tip on a seam",
            polygon_drawing("tip", (6, 6), [(f, lower(p)) for f, p in TIP]),
            6,
            8,
        ),
    ],
)
def test_all_open_is_not_always_flattest(
    name: str, block: Drawing, least: int, opened: int
) -> None:
    assert _least_and_open(understood(block)) == (least, opened), name


@given(blocks, seeds)
@running(max_examples=15)
def test_far_from_all_seams_there_is_one_layer(block: Block, seed: int) -> None:
    dice, found = random.Random(seed), cloth(block)
    ways = drawn(dice, found)
    sharpest = min(_angle(p, k) for p in found.patches for k in range(len(p)))
    corners = {p for patch in found.patches for p in patch}
    xs, ys = [p[0] for p in found.outline], [p[1] for p in found.outline]
    for _ in range(60):
        p = (dice.uniform(min(xs), max(xs)), dice.uniform(min(ys), max(ys)))
        sides = [
            (a, b)
            for patch in found.patches
            for a, b in zip(patch, (*patch[1:], patch[0]), strict=True)
        ]
        if min(_apart(p, a, b) for a, b in sides) <= SEAM:
            continue
        if min(math.dist(p, c) for c in corners) <= SEAM / math.sin(sharpest / 2):
            continue
        assert layers_at(p, found.sheets, ways) == 1


def _angle(patch: Convex, k: int) -> float:
    """The inner angle, 180 degrees where a side only runs on."""
    a, p, b = patch[k - 1], patch[k], patch[(k + 1) % len(patch)]
    back = math.atan2(a[1] - p[1], a[0] - p[0]) - math.atan2(b[1] - p[1], b[0] - p[0])
    return min(back % (2 * math.pi), math.pi)


def _apart(p: Spot, a: Spot, b: Spot) -> float:
    wide = math.dist(a, b)
    t = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / wide**2
    t = min(max(t, 0.0), 1.0)
    return math.dist(p, (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))


# Published counts ---------------------------------------------------------------------------------


RIGHTWARDS, LEFTWARDS = 1, -1


def cells_of(above: int, below: int, row: Spot | int) -> list[int]:
    """Layers in the four quarter-inch cells round the middle of a four-patch, falling."""
    found = four()
    ways = found.ways({(4, 2): (4 + above, 2), (4, 6): (4 + below, 6), (2, 4): row})
    spots = [(4 + dx, 4 + dy) for dy in (-0.1, 0.1) for dx in (-0.1, 0.1)]
    return sorted((layers_at(p, found.cloth.sheets, ways) for p in spots), reverse=True)


DOWN = (2.0, 5.0)
CELLS: dict[str, tuple[int, int, Spot | int]] = {
    "rows pressed the same way, long seam down": (RIGHTWARDS, RIGHTWARDS, DOWN),
    "rows pressed opposite, long seam open": (RIGHTWARDS, LEFTWARDS, OPEN),
}


@pytest.mark.parametrize("fact", checked("layers_law"), ids=lambda fact: fact.id)
def test_facts_of_the_cells_of_a_crossing(fact: Fact) -> None:
    if fact.inputs in CELLS:
        assert cells_of(*CELLS[fact.inputs]) == fact.numbers
    else:
        assert fact.inputs.startswith("four-patch centre, 4 cells")
        assert all(sum(cells_of(*pressed)) == fact.number for pressed in CELLS.values())


MEETING = {
    "two seams meet; both allowances pressed away from the point": (
        "both towards the small triangles"
    ),
    "both pressed the same way": "first towards the goose, second towards the small triangle",
    "both pressed toward the point": "both towards the goose",
}


@pytest.mark.parametrize(
    "fact", [f for f in checked("layers") if f.inputs in MEETING], ids=lambda fact: fact.id
)
def test_facts_of_two_seams_that_meet(fact: Fact) -> None:
    """At the tip of a goose, of which the rows of the table tell."""
    (row,) = [
        row
        for row in ROWS
        if row.case.endswith("four at a time, trimmed")
        and row.press == MEETING[fact.inputs]
        and "tip" in row.window
    ]
    found, _ = geese(row)
    assert found.most == fact.number


def test_no_fact_is_forgotten() -> None:
    """One row counts layers of allowance when spun, in a way of its own: it is not held."""
    (left,) = [f for f in checked("layers") if f.inputs not in MEETING]
    assert left.inputs == "four corners, unspun minimum -> spun"


# Tables -------------------------------------------------------------------------------------------


@given(st.one_of(blocks, strategies.cell_drawings().map(understood)), seeds)
@running(max_examples=6)
def test_tables_have_all_that_is_thick(block: Block, seed: int) -> None:
    """Points that stick out at the edge too: everything that is laid anywhere."""
    dice, found = random.Random(seed), cloth(block)
    tables = tables_of(found, SEAM)
    for _ in range(3):
        ways = drawn(dice, found)
        whole = layers(found, ways)
        rows = [(t, t.row(ways)) for t in tables]
        assert max((int(t.most[row]) for t, row in rows), default=1) >= min(whole.most, 4)
        if whole.most >= 4:
            assert max(int(t.most[row]) for t, row in rows) == whole.most
        for thick in (4, 6):
            counted = sum(t.copies * float(t.areas[row, thick:].sum()) for t, row in rows)
            there = sum(wide for count, wide in whole.areas if count >= thick)
            assert counted == pytest.approx(there, abs=THICK)
