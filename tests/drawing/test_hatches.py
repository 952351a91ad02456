"""Twelve hatches: told apart without colour, fixed on paper, along no seam."""

from __future__ import annotations

import math

import pytest
import shapely

from seamproof.drawing.hatches import Marks, Row, hatch_name, marks
from seamproof.drawing.inks import PRINT, contrast, hatch_ink, mixed
from seamproof.drawing.lettering import FABRIC_LETTERS

BOX = (0.0, 0.0, 60.0, 40.0)
TWELVE = FABRIC_LETTERS[:12]


def starts(row: Row) -> list[tuple[float, float]]:
    """Where the dashes or dots of a row begin."""
    (x0, y0), (x1, y1) = row.start, row.end
    shares = [n * row.period / row.length for n in range(round(row.length / row.period) + 1)]
    return [(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in shares]


def dots_of(found: Marks) -> list[tuple[float, float, float]]:
    return [(*spot, row.radius) for row in found.rows if row.radius for spot in starts(row)]


def ink(found: Marks) -> float:
    """How much ink a hatch lays, as a share of the box: grey mush has much."""
    x0, y0, x1, y1 = BOX
    box = shapely.box(*BOX)

    def inside(*path: tuple[float, float]) -> float:
        return float(shapely.LineString(path).intersection(box).length)

    strokes = sum(inside(*path) for path in found.lines)
    strokes += sum(2 * math.pi * r for _, _, r in found.rings)
    strokes += sum(inside(row.start, row.end) * row.on / row.period for row in found.rows)
    dots = sum(math.pi * r * r for x, y, r in dots_of(found) if x0 < x < x1 and y0 < y < y1)
    return (strokes * PRINT.hatch + dots) / ((x1 - x0) * (y1 - y0))


def test_no_two_hatches_are_alike() -> None:
    assert len({hatch_name(letter) for letter in FABRIC_LETTERS}) == len(FABRIC_LETTERS)
    assert len({marks(letter, BOX, PRINT.pitch) for letter in FABRIC_LETTERS}) == 22


@pytest.mark.parametrize("letter", TWELVE)
def test_a_hatch_is_seen_and_does_not_grey_the_cloth(letter: str) -> None:
    assert 0.01 < ink(marks(letter, BOX, PRINT.pitch)) < 0.30


@pytest.mark.parametrize("letter", TWELVE)
def test_long_lines_run_where_no_usual_seam_runs(letter: str) -> None:
    found = marks(letter, BOX, PRINT.pitch)
    for path in (*found.lines, *((row.start, row.end) for row in found.rows if not row.radius)):
        if math.dist(path[0], path[-1]) < 20:
            continue
        (x0, y0), (x1, y1) = path[0], path[-1]
        angle = math.degrees(math.atan2(y1 - y0, x1 - x0)) % 180
        assert min(abs(angle - a) for a in (22.5, 67.5, 112.5, 157.5)) < 2.5


@pytest.mark.parametrize("letter", TWELVE)
def test_patches_of_one_fabric_fit_together(letter: str) -> None:
    """The hatch of a smaller box is what the larger box shows there."""
    inner = (15.0, 10.0, 45.0, 30.0)
    whole = marks(letter, BOX, PRINT.pitch)
    part = marks(letter, inner, PRINT.pitch)

    def centres(found: Marks) -> set[tuple[float, float]]:
        return {
            (round(x, 6), round(y, 6))
            for x, y in (
                *((x, y) for x, y, _ in found.rings),
                *(spot for row in found.rows for spot in starts(row)),
            )
            if inner[0] <= x <= inner[2] and inner[1] <= y <= inner[3]
        }

    assert centres(part) == centres(whole)


@pytest.mark.parametrize(
    "colour", ["#F2EFE6", "#F2C250", "#7AB0AD", "#C9563B", "#26587D", "#141F3B"]
)
def test_a_hatch_stands_out_from_its_cloth(colour: str) -> None:
    over, opacity = hatch_ink(colour)
    assert contrast(mixed(colour, over, opacity), colour) > 1.6


def test_the_measure_of_ink_can_fail() -> None:
    crowded = Marks(lines=tuple(((0.0, y / 4), (60.0, y / 4)) for y in range(160)))
    assert ink(crowded) > 0.30
