"""Published sizes of triangles, diamonds and hexagons cut from strips, and of the eight-pointed
star, row by row."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingList, Piece
from seamproof.draft.model import Block
from seamproof.length.rounding import nearest
from seamproof.plane.predicates import box, distance
from tests.cutting.drawn import EXACT, listed, piece_of
from tests.cutting.facts import Disputed, Fact, Tally, disputed, facts
from tests.cutting.recipes.proving import drawn
from tests.cutting.recipes.stars import star

F = Fraction
ROOT2, ROOT3 = math.sqrt(2), math.sqrt(3)

TALLY = Tally(
    tri60=1,
    tri60_exact=1,
    diamond45=1,
    diamond45_edge=1,
    diamond60=1,
    diamond60_edge=1,
    hex=3,
    hex_exact=1,
    lemoyne=3,
)


def test_rows_are_counted_and_every_number_is_tested() -> None:
    assert TALLY.faults() == ({}, set())


def test_no_row_is_both_published_truth_and_disputed() -> None:
    told = {(f.family, f.inputs, f.expected) for f in facts("hex", "hex_exact")}
    assert not told & {(d.family, d.inputs, d.published) for d in disputed("hex")}


def triangles(height: float) -> CuttingList:
    """Two triangles of equal sides, one of them head down."""
    half = height / ROOT3
    upright = [(half, 0.0), (2 * half, height), (0.0, height)]
    head_down = [(half, 0.0), (3 * half, 0.0), (2 * half, height)]
    return listed(drawn([("a", upright), ("b", head_down)]))


def diamonds(across: float, angle: int) -> CuttingList:
    """Two diamonds side by side, `across` from side to side."""
    side = across / math.sin(math.radians(angle))
    lean = across / math.tan(math.radians(angle))
    one = [(lean, 0.0), (lean + side, 0.0), (side, across), (0.0, across)]
    return listed(drawn([("a", one), ("b", [(x + side, y) for x, y in one])]))


def hexagon(side: float) -> Piece:
    """The row of a hexagon that is a whole block."""
    flat = side * ROOT3
    corners = [
        (side / 2, 0.0),
        (1.5 * side, 0.0),
        (2 * side, flat / 2),
        (1.5 * side, flat),
        (side / 2, flat),
        (0.0, flat / 2),
    ]
    return piece_of(listed(drawn([("a", corners)]), EXACT), "a")


def side_of(piece: Piece) -> float:
    """The side of what is cut, all sides being alike."""
    return distance(piece.corners[0], piece.corners[1])


# Triangles ----------------------------------------------------------------------------------------


@TALLY.rows("tri60")
def test_equilateral_triangles(fact: Fact) -> None:
    piece = piece_of(triangles(float(fact.given("height_finished"))), "a")
    assert (piece.shape, piece.angle) == ("triangle", 60)
    assert piece.width.ruler == fact.number


@TALLY.rows("tri60_exact")
def test_what_an_equilateral_triangle_needs(fact: Fact) -> None:
    for height in (1.0, 1.75, 6.0):
        piece = piece_of(triangles(height), "a")
        assert piece.width.need - height == pytest.approx(float(fact.number), abs=1e-5)


# Diamonds -----------------------------------------------------------------------------------------


@TALLY.rows("diamond45")
def test_diamonds_at_45_degrees(fact: Fact) -> None:
    piece = piece_of(diamonds(float(fact.given("finished")), 45), "a")
    assert (piece.shape, piece.angle) == ("diamond", 45)
    assert piece.width.ruler == piece.height.ruler == fact.number


@TALLY.rows("diamond60")
def test_diamonds_at_60_degrees(fact: Fact) -> None:
    for across in (1, F(7, 4), 6):
        piece = piece_of(diamonds(float(across), 60), "a")
        assert (piece.shape, piece.angle) == ("diamond", 60)
        assert piece.width.ruler - across == piece.height.ruler - across == fact.number


@TALLY.rows("diamond45_edge", "diamond60_edge")
def test_diamonds_measured_along_the_edge_of_the_strip(fact: Fact) -> None:
    # The writer gives the nearest quarter of an inch: "approx", with the exact number beside it.
    angle = {"diamond45_edge": 45, "diamond60_edge": 60}[fact.family]
    piece = piece_of(diamonds(float(fact.given("strip")) - 0.5, angle), "a")
    assert piece.width.ruler == fact.given("strip")
    exact = {45: 2.828, 60: 2.309}[angle]
    assert side_of(piece) == pytest.approx(exact, abs=0.0005)
    assert nearest(side_of(piece), F(1, 4)) == fact.number


# Hexagons -----------------------------------------------------------------------------------------


@TALLY.rows("hex")
def test_hexagons(fact: Fact) -> None:
    if fact.id == "F130":  # cut of squares as wide as the hexagon from point to point
        piece = hexagon(3 - 0.5 / ROOT3)
        assert side_of(piece) == pytest.approx(float(fact.given("edge")), abs=1e-5)
        low, high = box(piece.corners)
        assert float(high[0] - low[0]) == pytest.approx(float(fact.number), abs=1e-5)
        return
    given_flat = fact.given("flat_finished" if fact.id == "F128" else "flat")
    piece = hexagon(float(given_flat) / ROOT3)
    if fact.id == "F128":
        assert piece.shape == "hexagon"
        assert piece.width.ruler == piece.height.ruler == fact.number
    else:  # the finished side
        finished = side_of(piece) - 0.5 / ROOT3
        assert finished == pytest.approx(float(fact.number), abs=fact.last_digit)


@TALLY.rows("hex_exact")
def test_what_a_hexagon_finishes(fact: Fact) -> None:
    edge, points = (float(number) for number in fact.numbers)
    piece = hexagon(edge)
    assert side_of(piece) == pytest.approx(float(fact.given("cut_edge")), abs=5e-5)
    assert 2 * edge == pytest.approx(points, abs=5e-5)


@pytest.mark.parametrize("row", disputed("hex"), ids=lambda row: row.id)
def test_half_an_inch_less_on_every_edge(row: Disputed) -> None:
    """A hexagon's edge loses 2s / root 3 = 0.289 in, its points 0.577 in, not 1/2 in each."""
    cut = float(row.inputs.removeprefix("cut_edge="))
    published, holds = (
        [float(n) for n in text.split(";")] for text in (row.published, row.holds_up)
    )
    assert published == [cut - 0.5, 2 * cut - 0.5]
    assert side_of(hexagon(published[0])) < cut - 0.2
    assert side_of(hexagon(holds[0])) == pytest.approx(cut, abs=0.0005)
    assert 2 * holds[0] == pytest.approx(holds[1], abs=0.0015)


# The eight-pointed star ---------------------------------------------------------------------------


def ring(size: float) -> Block:
    """An octagon, a ring of squares on its sides with diamonds between them, and what fills the
    block: the tips of the diamonds lie on its edge, at the ends of the large octagon's sides."""
    d = size / (3 + 2 * ROOT2)
    m = size / 2

    def at(x: float, y: float, k: int) -> tuple[float, float]:
        """A point by its place when turned by k eighths of a turn."""
        a = math.pi / 4 * k
        c, s = math.cos(a), math.sin(a)
        return (round(m + d * (c * x - s * y), 9), round(m + d * (s * x + c * y), 9))

    apothem, half = (1 + ROOT2) / 2, 1 / 2
    out, wide = apothem + 1, m / d
    patches: list[tuple[str, list[tuple[float, float]]]] = [
        ("a", [at(apothem, -half, k) for k in range(8)])
    ]
    for k in range(8):
        square = [(apothem, -half), (out, -half), (out, half), (apothem, half)]
        patches.append(("b", [at(x, y, k) for x, y in square]))
        slant = (apothem + 1 / ROOT2, half + 1 / ROOT2)
        diamond = [(apothem, half), (out, half), (out + 1 / ROOT2, half + 1 / ROOT2), slant]
        patches.append(("d", [at(x, y, k) for x, y in diamond]))
    for k in range(0, 8, 2):
        side = [(out, -half), (wide, -apothem), (wide, apothem), (out, half)]
        patches.append(("c", [at(x, y, k) for x, y in side]))
        inner = apothem + 1 / ROOT2
        corner = [(wide, apothem), (wide, wide), (apothem, wide), (apothem, inner)]
        patches.append(("c", [at(x, y, k) for x, y in [*corner, (inner, apothem)]]))
    return drawn(patches)


@TALLY.rows("lemoyne")
def test_the_eight_pointed_star(fact: Fact) -> None:
    if fact.id == "F135":  # block / (2 + root 2): the corner square, the leg of the triangle
        made = listed(star(float(fact.given("block"))), EXACT)
        square = piece_of(made, "a")
        assert square.width.need - 0.5 == pytest.approx(float(fact.number), abs=fact.last_digit)
        triangle = piece_of(made, "c")
        leg = (triangle.width.need - 0.25 * (2 + 2 * ROOT2)) / ROOT2
        assert leg == pytest.approx(float(fact.number), abs=fact.last_digit)
    elif fact.id == "F137":  # block / (3 + 2 root 2): diamonds in the ring round an octagon
        made = listed(ring(float(fact.given("block"))), EXACT)
        diamond = piece_of(made, "d")
        finished = (diamond.width.need - 0.5) * ROOT2
        # The writer divides by 5.828, where it is 5.8284.
        assert finished * (3 + 2 * ROOT2) / 5.828 == pytest.approx(
            float(fact.number), abs=fact.last_digit
        )
    else:  # the side of the octagon: the long side of the triangle, computed with 1.414
        triangle = piece_of(listed(star(6), EXACT), "c")
        long = triangle.width.need - 0.25 * (2 + 2 * ROOT2)
        assert long * 1.414 / ROOT2 == pytest.approx(float(fact.number), abs=0.001)
