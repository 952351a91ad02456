"""What holds for every drawing."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from seamproof.draft.model import (
    Block,
    Cells,
    Drawing,
    DrawnSeam,
    FabricAt,
    Polygons,
    Seams,
    Written,
)
from seamproof.draft.turning import mirrored, recoloured, turned
from seamproof.draft.understanding import understand
from seamproof.findings import Where
from seamproof.length.rounding import SAME
from seamproof.plane.predicates import area, box, corners_only, distance, same_point
from seamproof.plane.snapping import READ_SNAP
from seamproof.plane.subdivision import straight_pairs, subdivide
from tests import cast, strategies

REFERENCE = sorted(cast.reference_drawings())
EVERYBODY = sorted(cast.CAST)


def topology(block: Block) -> tuple[object, ...]:
    """Everything about a block but its coordinates: patches with the number of their vertices,
    which lie side by side, and which seams run straight on into which."""
    plane = subdivide(block.vertices, [p.corners for p in block.patches])

    def between(dart: tuple[int, int]) -> tuple[int, int]:
        return (plane.right_of(dart), plane.left_of(dart))

    return (
        [(p.fabric, len(p.corners)) for p in block.patches],
        sorted(between(dart) for dart in plane.face),
        sorted(
            (between(one), between(other))
            for one, other in straight_pairs(block.vertices, plane.face).items()
        ),
    )


def check_block(block: Block) -> None:
    """What the docstring of Block promises."""
    plane = subdivide(block.vertices, [p.corners for p in block.patches])
    assert {v for p in block.patches for v in p.corners} == set(range(len(block.vertices)))
    assert box(block.vertices) == ((0, 0), (block.width, block.height))
    ring = list(zip(block.outline, block.outline[1:] + block.outline[:1], strict=True))
    assert sorted(ring) == sorted(plane.border())
    assert area([block.vertices[v] for v in block.outline]) > 0
    for patch in block.patches:
        corners = block.corners_of(patch)
        assert area(corners) > 0
        assert patch.corners[0] == min(patch.corners)
    sides = plane.inner_edges() + plane.border()
    places = np.array([(float(x), float(y)) for x, y in block.vertices])
    near = shapely.STRtree(shapely.points(places)).query(
        shapely.linestrings(places[np.array(sides)]), predicate="dwithin", distance=float(SAME)
    )
    assert all(vertex in sides[side] for side, vertex in near.T.tolist())
    total = sum(area(block.corners_of(p)) for p in block.patches)
    assert total == area([block.vertices[v] for v in block.outline])


@pytest.mark.parametrize("name", EVERYBODY)
def test_the_cast_keeps_the_promise(name: str) -> None:
    check_block(cast.CAST[name]())


@pytest.mark.parametrize("name", REFERENCE)
def test_reference_blocks_keep_the_promise(name: str) -> None:
    block = cast.reference_blocks()[name]
    check_block(block)
    values = cast.reference_values()[name]
    assert len(block.patches) == int(values["patches"])
    plane = subdivide(block.vertices, [p.corners for p in block.patches])
    inner = set(range(len(block.vertices))) - set(block.outline)
    straight = {dart[1] for dart in straight_pairs(block.vertices, plane.face)}
    assert len(inner - straight) == int(values["setin_points"])


@given(strategies.cell_drawings())
def test_any_cells_are_a_block(drawing: Drawing) -> None:
    block = cast.understood(drawing)
    check_block(block)
    assert area([block.vertices[v] for v in block.outline]) == block.width * block.height


@given(st.booleans().flatmap(lambda lattice: strategies.planted(lattice=lattice)))
def test_any_planted_partition_is_a_block(drawing: Drawing) -> None:
    block = cast.understood(drawing)
    check_block(block)
    assert isinstance(drawing.drawn, Polygons)
    assert len(block.patches) == len(drawing.drawn.patches)
    assert area([block.vertices[v] for v in block.outline]) == block.width * block.height


@given(strategies.planted())
def test_what_lies_on_the_grid_does_not_move(drawing: Drawing) -> None:
    block = cast.understood(drawing)
    assert isinstance(drawing.drawn, Polygons)
    for patch, drawn in zip(block.patches, drawing.drawn.patches, strict=True):
        assert cast.from_least(corners_only(block.corners_of(patch))) == cast.from_least(
            corners_only(drawn.points)
        )


@given(strategies.planted(), st.integers(1, 3))
def test_turning_the_drawing_turns_the_block(drawing: Drawing, quarters: int) -> None:
    block = cast.understood(drawing)
    again = strategies.moved(
        drawing,
        lambda p: {1: (-p[1], p[0]), 2: (-p[0], -p[1]), 3: (p[1], -p[0])}[quarters],
    )
    assert cast.understood(again) == turned(block, quarters)


@given(strategies.planted())
def test_mirroring_the_drawing_mirrors_the_block(drawing: Drawing) -> None:
    again = strategies.moved(drawing, lambda p: (-p[0], p[1]))
    assert cast.understood(again) == mirrored(cast.understood(drawing))


@given(strategies.cell_drawings(), st.integers(1, 3))
def test_a_turned_unit_is_the_block_turned(drawing: Drawing, quarters: int) -> None:
    assert isinstance(drawing.drawn, Cells)
    plain = cast.understood(drawing)
    width, height = drawing.finished if quarters == 2 else drawing.finished[::-1]
    cell = Written("B" + "'" * quarters, Where())
    unit = Drawing(drawing.name, (width, height), Cells(((cell,),), units=(("B", drawing.drawn),)))
    block = cast.understood(unit)
    expected = turned(plain, quarters)
    assert block.vertices == expected.vertices
    assert block.patches == expected.patches


@pytest.mark.parametrize("name", EVERYBODY)
def test_four_quarters_and_two_mirrors_change_nothing(name: str) -> None:
    block = cast.CAST[name]()
    assert turned(turned(block, 1), 3) == block == turned(block, 4)
    assert turned(turned(block, 3), -3) == block
    assert mirrored(mirrored(block)) == block
    assert turned(mirrored(block), 1) == mirrored(turned(block, 3))
    assert recoloured(recoloured(block, {"a": "z"}), {"z": "a"}) == block


@pytest.mark.parametrize("decimals", [2, 3, 4])
@pytest.mark.parametrize("name", REFERENCE)
def test_typed_decimals_change_no_seam(name: str, decimals: int) -> None:
    drawing = cast.reference_drawings()[name]
    typed = cast.understood(strategies.typed(drawing, decimals))
    assert topology(typed) == topology(cast.reference_blocks()[name])


@pytest.mark.parametrize("name", REFERENCE)
@pytest.mark.parametrize(("degrees", "decimals"), [(7, 6), (29, 6), (45, 6), (101, 2), (213, 2)])
def test_lying_askew_changes_no_seam(name: str, degrees: int, decimals: int) -> None:
    drawing = cast.reference_drawings()[name]
    askew = cast.understood(strategies.rotated(drawing, math.radians(degrees), decimals))
    assert topology(askew) == topology(cast.reference_blocks()[name])


@given(
    st.booleans().flatmap(lambda lattice: strategies.planted(lattice=lattice)),
    strategies.angles,
    strategies.decimals,
)
def test_typed_and_askew_any_partition_is_the_same(
    drawing: Drawing, angle: float, decimals: int
) -> None:
    again = cast.understood(strategies.rotated(drawing, angle, decimals))
    assert topology(again) == topology(cast.understood(drawing))


@given(strategies.planted(lattice=False), strategies.angles)
def test_nothing_moves_farther_than_reading_allows(drawing: Drawing, angle: float) -> None:
    typed = strategies.rotated(drawing, angle, 2)
    block = cast.understood(typed)
    assert isinstance(typed.drawn, Polygons)
    for patch, drawn in zip(block.patches, typed.drawn.patches, strict=True):
        corners = block.corners_of(patch)
        for point in drawn.points:
            assert min(distance(point, corner) for corner in corners) <= 2 * float(READ_SNAP)


@given(st.booleans().flatmap(lambda lattice: strategies.planted(lattice=lattice)))
def test_seam_lines_say_the_same_as_polygons(drawing: Drawing) -> None:
    block = cast.understood(drawing)
    seams = {
        tuple(sorted((p, q)))
        for patch in block.patches
        for corners in [corners_only(block.corners_of(patch))]
        for p, q in zip(corners, corners[1:] + corners[:1], strict=True)
    }
    fabrics = []
    for patch in block.patches:
        spot = shapely.point_on_surface(shapely.Polygon(block.corners_of(patch)))
        at = (Fraction(spot.x), Fraction(spot.y))
        fabrics.append(FabricAt(patch.fabric, at))
    lines = tuple(DrawnSeam((p, q)) for p, q in sorted(seams))
    again = cast.understood(replace(drawing, drawn=Seams(lines, tuple(fabrics))))
    assert topology(again) == topology(block)
    assert all(same_point(p, q) for p, q in zip(again.vertices, block.vertices, strict=True))


@pytest.mark.parametrize("name", EVERYBODY)
def test_a_block_drawn_as_polygons_is_itself(name: str) -> None:
    block = cast.CAST[name]()
    assert cast.understood(cast.as_polygons(block)) == block


@given(strategies.scrawled_cells())
def test_understanding_never_fails_and_never_differs(drawing: Drawing) -> None:
    first, second = understand(drawing), understand(drawing)
    assert first == second
    block, findings = first
    if block is None:
        errors = [f for f in findings if f.severity == "error"]
        assert errors
        for finding in errors:
            assert finding.where.at is not None or finding.where.line is not None
            assert finding.where.block == "scrawled"
            assert finding.what
            assert finding.mend
    else:
        check_block(block)


@pytest.mark.parametrize("name", sorted(cast.REFUSED))
def test_every_refusal_has_a_place(name: str) -> None:
    code, drawing = cast.REFUSED[name]
    block, findings = understand(drawing)
    assert block is None
    assert code in {f.code for f in findings}
    for finding in findings:
        assert finding.where.line is not None
        assert finding.where.block == drawing.name
        assert finding.mend
