"""The top in its fabrics, and the front view for the longarm quilter."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from seamproof.draft.model import Block
from seamproof.drawing.inks import SCREEN, Pen
from seamproof.drawing.lettering import line
from seamproof.drawing.scene import Dimension, Dot, Label, Scene, Shape, Spot, Stroke
from seamproof.figures.block import seam_lines
from seamproof.figures.cloth import Coloured, Paints, edge, filled, spots
from seamproof.length.notation import Measure, number, with_unit
from seamproof.length.rounding import INCH_STEP, METRIC_STEP, nearest
from seamproof.plane.model import Polygon
from seamproof.plane.predicates import placed
from seamproof.setting.model import SetBlock, Top

MEDIUM = replace(SCREEN, pitch=6.0, pens={**SCREEN.pens, "seam": Pen(0.7)})
"""The top is drawn small: a finer hatch and thinner seams than a block."""

BINDING_SHOWN = 0.375
"""How much of a binding is seen from the front, in inches."""

_ROOM = 6.0  # points that a measure's label leaves free of its bars


def top_scene(
    top: Top,
    blocks: Mapping[str, Block],
    paints: Paints,
    *,
    scale: float,
    measure: Measure | None = None,
) -> Scene:
    """The finished top from the front: every patch in its fabric and hatch, every seam, the binding
    round it.

    With `measure` the sizes of columns, rows, sashes and borders stand along the upper and the left
    edge, as far as they have room at this `scale`, and the finished size along the others. A block
    that was not understood is left white.
    """
    width, height = float(top.width), float(top.height)
    patches = [*_block_patches(top, blocks), *_strips(top)]
    shapes: list[Shape] = []
    if top.binding.fabric in paints:
        shapes += filled(_binding(width, height, top.binding.fabric or ""), paints)
    shapes += filled((p for p in patches if p.fabric in paints), paints)
    shapes += [Stroke("seam", run) for run in _seams(top, blocks)]
    shapes += [edge(spots(corners), kind="seam") for corners in _outlines(top)]
    shapes += [
        edge(spots(_corners(b, blocks[b.name])), kind="raw edge")
        for b in top.blocks
        if b.name in blocks
    ]
    shapes.append(edge(_box(0.0, 0.0, width, height), kind="outline"))
    if top.binding.fabric in paints:
        b = BINDING_SHOWN
        shapes.append(edge(_box(-b, -b, width + b, height + b), kind="raw edge"))
    if measure:
        shapes += _measures(top, scale, measure)
    return Scene(tuple(shapes), _says(top, measure or "in"))


def _says(top: Top, measure: Measure) -> str:
    width, height = _mark(top.width, measure), _mark(top.height, measure)
    size = f"{number(width, measure)} × {with_unit(height, measure)}"
    return f"The top from the front, {size}, {top.columns} × {top.rows} blocks {top.way}"


def _block_patches(top: Top, blocks: Mapping[str, Block]) -> Iterable[Coloured]:
    for b in top.blocks:
        block = blocks.get(b.name)
        for patch in block.patches if block else ():
            corners = block.corners_of(patch) if block else ()
            yield Coloured(patch.fabric, spots(_lay(b, corners)))


def _strips(top: Top) -> Iterable[Coloured]:
    return (Coloured(fabric, spots(corners)) for _, fabric, corners in top.leaves)


def _outlines(top: Top) -> Iterable[Polygon]:
    return (corners for _, _, corners in top.leaves)


def _lay(b: SetBlock, corners: Iterable[tuple[Fraction, Fraction]]) -> Polygon:
    """Points of a block where they lie in the top."""
    return tuple(placed((x * b.scale[0], y * b.scale[1]), b.turn, b.at) for x, y in corners)


def _corners(b: SetBlock, block: Block) -> Polygon:
    return _lay(b, (block.vertices[v] for v in block.outline))


def _seams(top: Top, blocks: Mapping[str, Block]) -> list[tuple[Spot, Spot]]:
    """The seams inside the blocks, where they lie in the top."""
    inside = {name: seam_lines(block) for name, block in blocks.items()}
    found = []
    for b in top.blocks:
        for start, end in inside.get(b.name, ()):
            run = spots(_lay(b, ((Fraction(x), Fraction(y)) for x, y in (start, end))))
            found.append((run[0], run[1]))
    return found


def _binding(width: float, height: float, fabric: str) -> list[Coloured]:
    b = BINDING_SHOWN
    boxes = (
        (-b, -b, width + b, 0.0),
        (-b, height, width + b, height + b),
        (-b, 0.0, 0.0, height),
        (width, 0.0, width + b, height),
    )
    return [Coloured(fabric, _box(*corners)) for corners in boxes]


def _box(x0: float, y0: float, x1: float, y1: float) -> tuple[Spot, ...]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _measures(top: Top, scale: float, measure: Measure) -> list[Shape]:
    """What the stretches along the upper and the left edge measure, and the whole."""
    across, down = _stretches(top)
    shapes: list[Shape] = []
    gone = Fraction(0)
    for length in across:
        text = number(_mark(length, measure), measure)
        if _fits(text, float(length), scale):
            shapes.append(Dimension((float(gone), 0.0), (float(gone + length), 0.0), text))
        gone += length
    gone = Fraction(0)
    for length in down:
        if float(length) * scale * MEDIUM.per_inch > MEDIUM.small + _ROOM:
            text = number(_mark(length, measure), measure)
            shapes.append(Dimension((0.0, float(gone + length)), (0.0, float(gone)), text))
        gone += length
    width, height = float(top.width), float(top.height)
    shapes.append(
        Dimension((width, height), (0.0, height), with_unit(_mark(top.width, measure), measure))
    )
    shapes.append(
        Dimension((width, 0.0), (width, height), with_unit(_mark(top.height, measure), measure))
    )
    return shapes


def _mark(length: Fraction, measure: Measure) -> Fraction:
    """The mark of a ruler that people read: an on-point top lies between marks."""
    return nearest(length, INCH_STEP if measure == "in" else METRIC_STEP)


def _fits(text: str, length: float, scale: float) -> bool:
    return length * scale * MEDIUM.per_inch > line(text, MEDIUM.small, 600).width + _ROOM


def _stretches(top: Top) -> tuple[list[Fraction], list[Fraction]]:
    """Borders, sashes and cells along the upper edge, and down the left one."""
    rims = [
        (b.spacer.beside if b.spacer else Fraction(0), b.spacer.above if b.spacer else Fraction(0))
        for b in top.borders
    ]
    before = [[], []]  # type: list[list[Fraction]]
    for border, rim in zip(reversed(top.borders), reversed(rims), strict=True):
        for axis in (0, 1):
            before[axis] += [border.width, *([rim[axis]] if rim[axis] else [])]
    field = _field(top)
    found = []
    for axis in (0, 1):
        inner = _cells(top, axis, field[axis])
        found.append([*before[axis], *inner, *reversed(before[axis])])
    return found[0], found[1]


def _field(top: Top) -> tuple[Fraction, Fraction]:
    return top.borders[0].inner if top.borders else (top.width, top.height)


def _cells(top: Top, axis: int, whole: Fraction) -> Sequence[Fraction]:
    """The cells and sashes across the field; on point only the whole."""
    if top.way == "on point":
        return [whole]
    count = (top.columns, top.rows)[axis]
    cell, sash = top.cell[axis], top.sashing
    inner = [n for _ in range(count) for n in (cell, sash)][:-1]
    if not sash:
        return [cell] * count
    return [sash, *inner, sash] if sum(inner) < whole else inner


def quilter_scene(
    top: Top,
    blocks: Mapping[str, Block],
    paints: Paints,
    says: Sequence[str],
    *,
    measure: Measure,
) -> Scene:
    """The front view for the longarm quilter: the top on its backing, not bound yet, with a pin at
    its top edge; the sizes of both; and lines of text below."""
    plain = replace(top, binding=replace(top.binding, fabric=None))
    scene = top_scene(plain, blocks, paints, scale=1.0)
    width, height = float(top.width), float(top.height)
    margin = float(top.backing.margin)
    right, low = width + margin, height + margin
    backing = edge(_box(-margin, -margin, right, low), kind="unfinished")
    wide, high = (with_unit(_mark(n, measure), measure) for n in (top.width, top.height))
    across, down = with_unit(top.backing.width, measure), with_unit(top.backing.height, measure)
    shapes: list[Shape] = [
        Dot((width / 2, 0.0)),
        Label((width / 2, -margin), "Top edge, marked with a safety pin", below=-16.0),
        Dimension((right, low), (-margin, low), f"top {wide}, backing {across}"),
        Dimension((right, -margin), (right, low), f"top {high}, backing {down}"),
    ]
    shapes += [
        Label((-margin, low), text, anchor="start", below=_FIRST_LINE + n * _LINE)
        for n, text in enumerate(says)
    ]
    return Scene((backing, *scene.shapes, *shapes), scene.says + ", on its backing")


_FIRST_LINE, _LINE = 36.0, 14.0  # points below the backing, and from line to line
