"""Drawings written short, for all tests."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from seamproof.draft.model import (
    Block,
    Cells,
    Drawing,
    DrawnPatch,
    DrawnSeam,
    FabricAt,
    Fixing,
    Polygons,
    Seams,
    Written,
)
from seamproof.draft.understanding import understand
from seamproof.findings import Where
from seamproof.plane.model import Point

Number = float | int | str | Fraction
Corners = Sequence[Sequence[Number]]


def cells_drawing(
    name: str,
    finished: tuple[Number, Number],
    rows: Sequence[str],
    *,
    columns: Sequence[Number] | None = None,
    heights: Sequence[Number] | None = None,
    units: Mapping[str, Sequence[str]] | None = None,
    fixings: Sequence[Fixing] = (),
) -> Drawing:
    """A drawing of cells; each row is one text with blanks between its cells."""
    drawn = cells(
        rows, columns, heights, tuple((unit, cells(of)) for unit, of in (units or {}).items())
    )
    return Drawing(
        name, (Fraction(finished[0]), Fraction(finished[1])), drawn, fixings=tuple(fixings)
    )


def cells(
    rows: Sequence[str],
    columns: Sequence[Number] | None = None,
    heights: Sequence[Number] | None = None,
    units: tuple[tuple[str, Cells], ...] = (),
) -> Cells:
    return Cells(
        cells=tuple(
            tuple(
                Written(text, Where(line=line + 1, column=column + 1))
                for column, text in enumerate(row.split())
            )
            for line, row in enumerate(rows)
        ),
        columns=None if columns is None else tuple(Fraction(c) for c in columns),
        rows=None if heights is None else tuple(Fraction(h) for h in heights),
        units=units,
        where=Where(line=1),
    )


def polygon_drawing(
    name: str,
    finished: tuple[Number, Number],
    patches: Sequence[tuple[str, Corners]],
    *,
    fixings: Sequence[Fixing] = (),
) -> Drawing:
    """A drawing of polygons; coordinates may be numbers or text such as "3.51" or "1/3"."""
    return Drawing(
        name=name,
        finished=(Fraction(finished[0]), Fraction(finished[1])),
        drawn=Polygons(
            tuple(
                DrawnPatch(fabric, tuple(point(p) for p in points), Where(line=line + 1))
                for line, (fabric, points) in enumerate(patches)
            ),
            Where(line=1),
        ),
        fixings=tuple(fixings),
    )


def seams_drawing(
    name: str,
    finished: tuple[Number, Number],
    seams: Sequence[tuple[Sequence[Number], Sequence[Number]]],
    fabrics: Sequence[tuple[str, Sequence[Number]]],
) -> Drawing:
    """A drawing of seam lines, with a fabric for a point in each patch."""
    return Drawing(
        name=name,
        finished=(Fraction(finished[0]), Fraction(finished[1])),
        drawn=Seams(
            tuple(
                DrawnSeam((point(a), point(b)), Where(line=line + 1))
                for line, (a, b) in enumerate(seams)
            ),
            tuple(
                FabricAt(fabric, point(p), Where(line=len(seams) + line + 1))
                for line, (fabric, p) in enumerate(fabrics)
            ),
            Where(line=1),
        ),
    )


def point(pair: Sequence[Number]) -> Point:
    return (Fraction(pair[0]), Fraction(pair[1]))


def understood(drawing: Drawing) -> Block:
    """The block of a drawing that must be fine."""
    block, findings = understand(drawing)
    assert block is not None, findings
    assert not [f for f in findings if f.severity == "error"], findings
    return block


def as_polygons(block: Block) -> Drawing:
    """A drawing of the block's patches as polygons, every vertex typed as it is."""
    return Drawing(
        block.name,
        (block.width, block.height),
        Polygons(tuple(DrawnPatch(p.fabric, block.corners_of(p)) for p in block.patches)),
        upright=block.upright,
        fixings=block.fixings,
    )
