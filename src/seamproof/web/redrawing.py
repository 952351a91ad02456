"""A drawing from the page brought into the drawing of the file it came from.

The way a file draws its block stays as long as it can say what is wanted: cells become seams only
when the seams themselves are really changed.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
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
from seamproof.web.sketches import Sketch, sketch_of


def redrawn(drawing: Drawing, wanted: Sketch, letter: str) -> Drawing:
    """`drawing` changed to say what the page wants. `letter` is the fabric of a block that has no
    seam and was given none."""
    return replace(
        drawing,
        name=wanted.name,
        finished=wanted.size,
        fixings=wanted.fixings,
        order=("rows",) if wanted.rows else (),
        drawn=_drawn(drawing, wanted, letter),
    )


def _drawn(drawing: Drawing, wanted: Sketch, letter: str) -> Cells | Polygons | Seams:
    if not wanted.seams or not wanted.patches:
        return _without_seams(drawing, wanted, letter)
    before = sketch_of(drawing)
    seams = Seams(
        tuple(DrawnSeam(line) for line in wanted.seams),
        tuple(FabricAt(fabric, at) for at, fabric in wanted.patches),
    )
    if isinstance(drawing.drawn, Seams) or isinstance(before, str):
        return seams
    scale = (wanted.size[0] / before.size[0], wanted.size[1] / before.size[1])
    if _lines(wanted.seams) != _lines(_scaled(before.seams, scale)):
        return seams
    fabrics = _fabrics(drawing, wanted, seams, scale)
    if fabrics is None:
        return seams
    sized = _sized(drawing, wanted.size, scale)
    drawn = _recoloured(sized, fabrics)
    # A cell can be written in more ways than there are rules here: what comes out is read again.
    made, _ = understand(replace(sized, drawn=drawn))
    if made is None or Counter(_patches(made)) != Counter(fabrics.items()):
        return seams
    return drawn


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


Corners = frozenset[Point]


def _patches(block: Block) -> list[tuple[Corners, str]]:
    return [(frozenset(block.corners_of(patch)), patch.fabric) for patch in block.patches]


def _fabrics(
    drawing: Drawing, wanted: Sketch, seams: Seams, scale: Point
) -> dict[Corners, str] | None:
    """The fabric that each patch of the file shall have; None if one would have none."""
    made, _ = understand(Drawing(wanted.name, wanted.size, seams))
    old, _ = understand(_sized(drawing, wanted.size, scale))
    if made is None or old is None:
        return None
    shall = dict(_patches(made))
    fabrics = {}
    for corners, _ in _patches(old):
        if corners not in shall:
            return None
        fabrics[corners] = shall[corners]
    return fabrics


def _sized(drawing: Drawing, size: Point, scale: Point) -> Drawing:
    """The drawing in another finished size; cells have none of their own."""
    drawn = drawing.drawn
    if isinstance(drawn, Polygons) and (scale[0] != 1 or scale[1] != 1):
        drawn = replace(
            drawn,
            patches=tuple(
                replace(p, points=tuple((x * scale[0], y * scale[1]) for x, y in p.points))
                for p in drawn.patches
            ),
        )
    return replace(drawing, finished=size, drawn=drawn, fixings=())


def _recoloured(drawing: Drawing, fabrics: Mapping[Corners, str]) -> Cells | Polygons | Seams:
    """What is drawn, in these fabrics."""
    block, _ = understand(drawing)
    drawn = drawing.drawn
    assert block is not None
    shall = [fabrics[frozenset(block.corners_of(patch))] for patch in block.patches]
    if isinstance(drawn, Polygons):
        patches = zip(drawn.patches, shall, strict=True)
        return replace(drawn, patches=tuple(replace(p, fabric=f) for p, f in patches))
    if isinstance(drawn, Cells):
        changed = {p.fabric != f for p, f in zip(block.patches, shall, strict=True)}
        return _cells(drawing, drawn, fabrics) if True in changed else drawn
    return drawn


_LETTERS = re.compile("[a-z]{1,2}")


def _cells(drawing: Drawing, drawn: Cells, fabrics: Mapping[Corners, str]) -> Cells:
    """Cells with other letters. Each letter of a cell is a piece of one patch; the patch that a
    piece lies in is found by the middle of the piece."""
    import shapely

    pieces, _ = pieces_of(drawing.name, drawing.finished, drawn)
    block, _ = understand(drawing)
    assert block is not None
    shapes = [
        shapely.Polygon([(float(x), float(y)) for x, y in block.corners_of(patch)])
        for patch in block.patches
    ]
    tree = shapely.STRtree(shapes)
    letters: dict[Where, list[str]] = {}
    for piece in pieces:
        middle = shapely.Polygon([(float(x), float(y)) for x, y in piece.corners]).centroid
        found = tree.query(middle, predicate="within")
        if len(found) != 1:
            return drawn
        corners = frozenset(block.corners_of(block.patches[int(found[0])]))
        letters.setdefault(piece.where, []).append(fabrics[corners])

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
