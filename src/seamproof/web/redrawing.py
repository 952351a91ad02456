"""A drawing from the page brought into the drawing of the file it came from.

The way a file draws its block stays as long as it can say what is wanted: cells become seams only
when the seams themselves are really changed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.draft.cells import pieces_of
from seamproof.draft.model import (
    Block,
    Cells,
    Drawing,
    DrawnSeam,
    FabricAt,
    Fixing,
    Polygons,
    Seams,
    Written,
)
from seamproof.draft.understanding import understand
from seamproof.findings import Where
from seamproof.plane.model import Line, Point
from seamproof.web.sketches import Sketch


@dataclass(frozen=True, slots=True)
class Redrawn:
    """What a file shall draw. If its way of drawing stays, `fabrics` are those that its patches
    shall have, in their order: whoever reads the new text sees whether they do."""

    drawing: Drawing
    fabrics: tuple[str, ...] | None = None


def redrawn(
    drawing: Drawing, before: Sketch | str, block: Block | None, wanted: Sketch, letter: str
) -> Redrawn:
    """`drawing` changed to say what the page wants. `before` and `block` are what it says now, as
    a sketch and understood; `letter` is the fabric of a block that has no seam and was given
    none."""
    drawn, fabrics = _drawn(drawing, before, block, wanted, letter)
    return Redrawn(_said(drawing, wanted, drawn), fabrics)


def in_seams(drawing: Drawing, wanted: Sketch) -> Redrawn:
    """The same by seam lines, whatever the file did before."""
    return Redrawn(_said(drawing, wanted, _seams(wanted)))


def _said(drawing: Drawing, wanted: Sketch, drawn: Cells | Polygons | Seams) -> Drawing:
    return replace(
        drawing,
        name=wanted.name,
        finished=wanted.size,
        fixings=wanted.fixings,
        order=("rows",) if wanted.rows else (),
        drawn=drawn,
    )


def _seams(wanted: Sketch) -> Seams:
    return Seams(
        tuple(DrawnSeam(line) for line in wanted.seams),
        tuple(FabricAt(fabric, at) for at, fabric in wanted.patches),
    )


def _drawn(
    drawing: Drawing, before: Sketch | str, block: Block | None, wanted: Sketch, letter: str
) -> tuple[Cells | Polygons | Seams, tuple[str, ...] | None]:
    if not wanted.seams or not wanted.patches:
        return _without_seams(drawing, wanted, letter), None
    if isinstance(drawing.drawn, Seams) or isinstance(before, str) or block is None:
        return _seams(wanted), None
    scale = (wanted.size[0] / before.size[0], wanted.size[1] / before.size[1])
    if _lines(wanted.seams) != _lines(_scaled(before.seams, scale)):
        return _seams(wanted), None
    shall = _fabrics(before, block, wanted, scale)
    if shall is None:
        return _seams(wanted), None
    if isinstance(drawing.drawn, Polygons):
        patches = zip(_sized(drawing.drawn, scale).patches, shall, strict=True)
        return Polygons(tuple(replace(p, fabric=f) for p, f in patches), drawing.drawn.where), shall
    if tuple(patch.fabric for patch in block.patches) == shall:
        return drawing.drawn, shall
    return _cells(drawing, drawing.drawn, shall), shall


def _without_seams(drawing: Drawing, wanted: Sketch, letter: str) -> Cells | Seams:
    """A block of one patch, or with seams that have no fabric yet: the file needs one."""
    fabric = wanted.patches[0][1] if wanted.patches else letter
    if wanted.seams:
        middle = (wanted.size[0] / 2, wanted.size[1] / 2)
        lines = tuple(DrawnSeam(line) for line in wanted.seams)
        return Seams(lines, (FabricAt(fabric, _off_the_lines(wanted.seams, middle)),))
    drawn = drawing.drawn
    if isinstance(drawn, Cells) and [[c.text for c in row] for row in drawn.cells] == [[fabric]]:
        return drawn
    return Cells(((Written(fabric, Where()),),))


def _off_the_lines(seams: Sequence[Line], middle: Point) -> Point:
    """The middle, moved a little until no seam runs through it."""
    point = middle
    for step in range(1, 50):
        if not any(
            (b[0] - a[0]) * (point[1] - a[1]) == (b[1] - a[1]) * (point[0] - a[0]) for a, b in seams
        ):
            break
        point = (middle[0] * (1 + Fraction(step, 97)), middle[1] * (1 + Fraction(step, 61)))
    return point


def _lines(seams: Sequence[Line]) -> set[frozenset[Point]]:
    return {frozenset(line) for line in seams}


def _scaled(seams: Sequence[Line], scale: Point) -> list[Line]:
    def to(point: Point) -> Point:
        return (point[0] * scale[0], point[1] * scale[1])

    return [(to(a), to(b)) for a, b in seams]


def _fabrics(before: Sketch, block: Block, wanted: Sketch, scale: Point) -> tuple[str, ...] | None:
    """The fabric that each patch of the block shall have; None if one would have none."""
    given = {(at[0] / scale[0], at[1] / scale[1]): fabric for at, fabric in wanted.patches}
    if len(given) == len(wanted.patches) == len(before.patches):
        found = [given.get(at) for at, _ in before.patches]
        if None not in found:
            return tuple(fabric for fabric in found if fabric is not None)
    # The page named other points: whichever patch they lie in.
    made, _ = understand(Drawing(wanted.name, wanted.size, _seams(wanted)))
    if made is None:
        return None
    shall = {frozenset(made.corners_of(patch)): patch.fabric for patch in made.patches}
    fabrics = [
        shall.get(frozenset(_scaled_points(block.corners_of(patch), scale)))
        for patch in block.patches
    ]
    if None in fabrics:
        return None
    return tuple(fabric for fabric in fabrics if fabric is not None)


def _scaled_points(points: Sequence[Point], scale: Point) -> list[Point]:
    return [(x * scale[0], y * scale[1]) for x, y in points]


def _sized(drawn: Polygons, scale: Point) -> Polygons:
    """The patches in another size; as they are if it is the same."""
    if scale[0] == scale[1] == 1:
        return drawn
    return Polygons(
        tuple(replace(p, points=tuple(_scaled_points(p.points, scale))) for p in drawn.patches),
        drawn.where,
    )


_LETTERS = re.compile("[a-z]{1,2}")


def _cells(drawing: Drawing, drawn: Cells, shall: Sequence[str]) -> Cells:
    """Cells with other letters. Each letter of a cell is a piece of one patch, and patches are
    numbered by their first piece."""
    pieces, _ = pieces_of(drawing.name, drawing.finished, drawn)
    number: dict[int, int] = {}
    letters: dict[Where, list[str]] = {}
    for piece in pieces:
        patch = number.setdefault(piece.patch, len(number))
        letters.setdefault(piece.where, []).append(shall[patch])

    def cell(written: Written) -> Written:
        mine = iter(letters.get(written.where, ()))
        if len(letters.get(written.where, ())) != len(_LETTERS.findall(written.text)):
            return written
        return replace(written, text=_LETTERS.sub(lambda _: next(mine), written.text))

    return replace(drawn, cells=tuple(tuple(map(cell, row)) for row in drawn.cells))


# Turned and mirrored ------------------------------------------------------------------------------


def turned(sketch: Sketch, quarters: int) -> Sketch:
    """The sketch turned by quarters clockwise as seen."""
    for _ in range(quarters % 4):
        height = sketch.size[1]
        size = (height, sketch.size[0])
        sketch = _moved(replace(sketch, size=size), lambda p, h=height: (h - p[1], p[0]))
    return sketch


def mirrored(sketch: Sketch) -> Sketch:
    """The sketch as in a mirror beside it: left and right exchanged."""
    width = sketch.size[0]
    moved = _moved(sketch, lambda p: (width - p[0], p[1]))
    fixings = tuple(
        f if f.clockwise is None else replace(f, clockwise=not f.clockwise) for f in moved.fixings
    )
    return replace(moved, fixings=fixings)


def _moved(sketch: Sketch, move: object) -> Sketch:
    to = move
    assert callable(to)

    def fixing(old: Fixing) -> Fixing:
        return replace(
            old,
            line=None if old.line is None else (to(old.line[0]), to(old.line[1])),
            crossing=None if old.crossing is None else to(old.crossing),
            towards=None if old.towards is None else to(old.towards),
        )

    return replace(
        sketch,
        seams=tuple((to(a), to(b)) for a, b in sketch.seams),
        patches=tuple((to(at), fabric) for at, fabric in sketch.patches),
        fixings=tuple(map(fixing, sketch.fixings)),
    )
