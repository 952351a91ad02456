"""Cutting diagrams: a length of cloth to scale, with its cuts in their order.

The cloth lies with its length from left to right and its selvages above and below. Strips are cut
off from the left; the cuts that part them run past both selvages. What a strip is cross-cut into
lies in it from above downwards. What is left over is veiled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.model import Cut, Lay
from seamproof.cloth.ordering import counted_in
from seamproof.cloth.pooling import Kind
from seamproof.drawing.inks import PRINT
from seamproof.drawing.lettering import line
from seamproof.drawing.scene import (
    Cloth,
    Dimension,
    Label,
    Letter,
    Paint,
    Scene,
    Shape,
    Spot,
    Stroke,
)
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, number, with_unit

WIDTH = 7.0
"""Inches of paper that a diagram's cloth may take from left to right: a page's text."""

HEIGHT = 4.2
"""And from selvage to selvage, so that the key to its letters has room below."""

LARGEST_SCALE = 1 / 5
"""A short length is not drawn larger than this."""

ALL_DRAWN = Fraction(108)
"""Up to this length, in inches, every strip is drawn; of longer ones each sort of strip once, with
how often it is cut: nothing could be read otherwise."""

_LABEL = 9.0  # points, the size of labels
_LINE = 13.0  # points from line to line of the key
_ROW = 16.0  # points from row to row of measures: the bars of one clear the labels of the other
_PAST = 13.0  # points that a cut with its bar takes beyond the cloth
_TICK = {1: 3.0, 2: 5.0, 3: 7.0}  # points: a unit, six, twelve
_GAP = 5.0  # points between two labels
_NARROWEST = 11.0  # points from cut to cut, so that letters fit between
_COLUMN = 18.0  # points between the columns of the key


@dataclass(frozen=True, slots=True)
class _Field:
    """A rectangle of the cloth in the diagram: `x` along the length, `y` down from the selvage."""

    x: float
    y: float
    along: float
    across: float
    cut: Cut

    @property
    def corners(self) -> tuple[Spot, ...]:
        right, bottom = self.x + self.along, self.y + self.across
        return ((self.x, self.y), (right, self.y), (right, bottom), (self.x, bottom))


@dataclass(frozen=True, slots=True)
class _Strip:
    """What lies between two first cuts: `times` of them in all, of which this one is drawn."""

    field: _Field
    times: int


def drawings(lay: Lay, first: AbstractSet[str] = frozenset()) -> tuple[Lay, ...]:
    """A lay in as many parts as it is drawn in: no drawing is longer than can be read with its
    narrowest strip, and lengths for what comes `first` have one of their own if all of it together
    would be too long."""
    if lay.cut.along != "across" or not lay.cut.parts:
        return (lay,)
    whole = lay.length <= 2 * ALL_DRAWN
    together = lay.length <= ALL_DRAWN
    runs: list[list[Cut]] = []
    for part in lay.cut.parts:
        run = [*runs[-1], part] if runs else [part]
        apart = not together and _first(part, first) != _first(run[0], first)
        if not runs or apart or not _legible(run, whole=whole):
            runs.append([part])
        else:
            runs[-1].append(part)
    return (lay,) if len(runs) == 1 else tuple(_of_lay(lay, tuple(run)) for run in runs)


def _first(part: Cut, first: AbstractSet[str]) -> bool:
    return bool(first & counted_in(part).keys())


def _legible(parts: Sequence[Cut], *, whole: bool) -> bool:
    """Whether strips can be drawn side by side, all of them or one of each sort."""
    length = sum((part.height * (part.times if whole else 1) for part in parts), Fraction(0))
    narrowest = min((part.height for part in parts if part.along or part.piece), default=length)
    return length <= ALL_DRAWN and float(narrowest / length) * WIDTH * 72 >= _NARROWEST


def _of_lay(lay: Lay, parts: tuple[Cut, ...]) -> Lay:
    length = sum((part.height * part.times for part in parts), Fraction(0))
    return replace(lay, length=length, cut=replace(lay.cut, height=length, parts=parts))


def drawn_length(lay: Lay, bought: Fraction | None = None) -> Fraction:
    """How much of a lay is drawn, in inches along the selvage: all that was `bought`, or one of
    each sort of strip if there are more than can be told apart."""
    if _all_drawn(lay):
        return max(lay.length, bought or lay.length)
    return sum((part.height for part in lay.cut.parts), Fraction(0))


def lay_scale(lay: Lay, bought: Fraction | None = None) -> float:
    """The scale at which a diagram fills a page's width."""
    length = float(drawn_length(lay, bought)) or 1.0
    return min(WIDTH / length, HEIGHT / float(lay.width), LARGEST_SCALE)


def lay_scene(
    lay: Lay,
    kinds: Mapping[str, Kind],
    paint: Paint,
    measure: Measure,
    *,
    scale: float,
    bought: Fraction | None = None,
    title: str = "",
    key: Sequence[tuple[str, str]] = (),
) -> Scene:
    """One length of cloth with its cuts, to be set at `scale`.

    `kinds` are the pieces by the name of their demand. Of `bought` inches what the lay does not
    take is drawn as left over. `title` stands above; `key` below, marks with what they mean.
    """
    everything = _all_drawn(lay)
    strips = list(_strips(lay))
    taken = float(lay.length) if everything else strips[-1].field.x + strips[-1].field.along
    end = float(drawn_length(lay, bought))
    width = float(lay.width)
    point = 1 / PRINT.per_inch / scale
    cloth, edges, letters = _contents([strip.field for strip in strips], kinds, paint)
    shapes: list[Shape] = [*cloth]
    if end > taken + _HAIR:
        rest = _Field(taken, 0.0, end - taken, width, lay.cut)
        shapes += _left_over(rest, paint)
    shapes += edges
    shapes += _around(lay, end, width)
    shapes += _first_cuts(lay, strips, end)
    shapes += letters
    shapes += _measures(strips, width, measure, point)
    shapes.append(Dimension((0.0, width), (0.0, 0.0), with_unit(lay.width, measure)))
    shapes += _rest_told(taken, end, width, measure, point) if everything else []
    above = _ruler(end, measure, point) if everything else _times(strips, point)
    shapes += above
    highest = min((label.below for label in above if isinstance(label, Label)), default=0.0)
    head = Label((0.0, 0.0), title, "start", below=highest - 1.6 * _LINE)
    rows = _rows(strips, measure, point)
    below = PRINT.clear + _PAST + _ROW * (max(rows, default=0) + 1) + _LINE
    shapes += [head] if title else []
    shapes += _key_shapes(key, width, below, point, max(end, WIDTH / scale))
    return Scene(tuple(shapes), title or "a length of cloth with its cuts")


# What there is to draw ----------------------------------------------------------------------------


def _all_drawn(lay: Lay) -> bool:
    return lay.cut.along != "across" or _legible(lay.cut.parts, whole=True)


def _strips(lay: Lay) -> Iterator[_Strip]:
    """The strips in their order; one of each sort if not everything is drawn."""
    if lay.cut.along != "across":
        yield _Strip(_Field(0.0, 0.0, float(lay.length), float(lay.width), lay.cut), 1)
        return
    x = 0.0
    for part in lay.cut.parts:
        for _ in range(part.times if _all_drawn(lay) else 1):
            strip = _Field(x, 0.0, float(part.height), float(part.width), replace(part, times=1))
            yield _Strip(strip, part.times)
            x += float(part.height)


def _leaves(field: _Field) -> Iterator[_Field]:
    """The rectangles that are not cut again."""
    cut = field.cut
    if cut.along is None:
        yield field
        return
    x, y = field.x, field.y
    for part in cut.parts:
        along, across = float(part.height), float(part.width)
        for _ in range(part.times):
            yield from _leaves(_Field(x, y, along, across, replace(part, times=1)))
            if cut.along == "across":
                x += along
            else:
                y += across


def _contents(
    fields: Sequence[_Field], kinds: Mapping[str, Kind], paint: Paint
) -> tuple[list[Shape], list[Shape], list[Shape]]:
    """Cloth, edges and letters of everything in some strips. Of pieces of one kind that follow each
    other in a strip the first carries the letter."""
    whole: list[Shape] = []
    veiled: list[Shape] = []
    edges: list[Shape] = []
    letters: list[Shape] = []
    for field in fields:
        before = None
        for leaf in _leaves(field):
            name = leaf.cut.piece
            if name is None:
                veiled += _left_over(leaf, paint)
                continue
            kind = kinds[name]
            pieces = _pieces(leaf, kind)
            if kind.demand.row is not None:
                veiled += _left_over(leaf, paint)
            whole += [Cloth(corners, paint) for corners in pieces]
            edges += [Stroke("cross-cut", corners, closed=True) for corners in pieces]
            if name != before:
                letters.append(_letter(pieces[0], kind.mark))
                before = name
    lines = [shape for shape in veiled if isinstance(shape, Stroke)]
    pale = [shape for shape in veiled if isinstance(shape, Cloth)]
    return [*pale, *whole], [*lines, *edges], letters


def _pieces(leaf: _Field, kind: Kind) -> list[tuple[Spot, ...]]:
    row = kind.demand.row
    if row is None:
        return [leaf.corners]
    near, far = leaf.x, leaf.x + leaf.along
    offset, pitch = float(row.offset), float(row.pitch)
    found: list[tuple[Spot, ...]] = []
    for n in range(leaf.cut.pieces):
        y = leaf.y + n * pitch
        if kind.outline == "slanted":
            found.append(
                ((near, y), (far, y + offset), (far, y + offset + pitch), (near, y + pitch))
            )
            continue
        long = (y, y + pitch + offset)
        short = (y + offset, y + pitch)
        base, top = (near, far) if n % 2 == 0 else (far, near)
        corners = [(base, long[0]), (top, short[0]), (top, short[1]), (base, long[1])]
        found.append(tuple(dict.fromkeys(corners)))
    return found


def _letter(corners: Sequence[Spot], mark: str) -> Letter:
    """The letter in the middle of a piece; narrow ones carry one too."""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    room = min(max(xs) - min(xs), max(ys) - min(ys)) / 2
    return Letter((sum(xs) / len(xs), sum(ys) / len(ys)), mark, room, needed=True)


def _left_over(field: _Field, paint: Paint) -> list[Shape]:
    corners = field.corners
    return [Cloth(corners, paint, veiled=True), Stroke("leftover", corners, closed=True)]


# What stands round it -----------------------------------------------------------------------------


def _around(lay: Lay, end: float, width: float) -> list[Shape]:
    """Selvages of what comes from the bolt; raw edges elsewhere."""
    sides: list[Shape] = [
        Stroke("raw edge", ((0.0, 0.0), (0.0, width))),
        Stroke("raw edge", ((end, 0.0), (end, width))),
    ]
    level = "selvage" if lay.cloth == "yardage" else "raw edge"
    for y in (0.0, width):
        sides.append(Stroke("raw edge", ((0.0, y), (end, y))))
        if level == "selvage":
            sides.append(Stroke("selvage", ((0.0, y), (end, y))))
    return sides


def _first_cuts(lay: Lay, strips: Sequence[_Strip], end: float) -> list[Shape]:
    """The cuts that part the strips, or, where the cloth is first cut lengthwise, those lengths."""
    width = float(lay.width)
    if lay.cut.along == "across":
        ends = [strip.field.x + strip.field.along for strip in strips]
        return [
            Stroke("cut", ((x, 0.0), (x, width))) for x in dict.fromkeys(ends) if x < end - _HAIR
        ]
    cuts: list[Shape] = []
    y = 0.0
    for part in lay.cut.parts:
        for _ in range(part.times):
            y += float(part.width)
            if y < width - _HAIR:
                cuts.append(Stroke("cut", ((0.0, y), (float(lay.length), y))))
    return cuts


_HAIR = 1e-6


def _groups(strips: Sequence[_Strip]) -> list[tuple[float, float, Fraction, int]]:
    """Start, end and height of strips of one height that follow each other, and how many."""
    found: list[tuple[float, float, Fraction, int]] = []
    for strip in strips:
        field = strip.field
        high = field.cut.height
        if found and found[-1][2] == high and abs(found[-1][1] - field.x) < _HAIR:
            start, _, _, count = found[-1]
            found[-1] = (start, field.x + field.along, high, count + 1)
        else:
            found.append((field.x, field.x + field.along, high, 1))
    return found


def _told(
    strips: Sequence[_Strip], measure: Measure, point: float
) -> Iterator[tuple[float, float, str]]:
    """What is measured: each strip where there is room, else alike neighbours together."""
    for start, end, high, count in _groups(strips):
        text = number(high, measure)
        room = (end - start) / count / point
        if count > 1 and line(text, _LABEL, 600).width + _GAP > room:
            yield start, end, f"{text} each"
            continue
        step = (end - start) / count
        for n in range(count):
            yield start + n * step, start + (n + 1) * step, text


def _rows(strips: Sequence[_Strip], measure: Measure, point: float) -> list[int]:
    """The row of each measure below the cloth."""
    told = list(_told(strips, measure, point))
    return _stacked([(a + b) / 2 for a, b, _ in told], [t for *_, t in told], 600, point)


def _stacked(
    middles: Sequence[float], texts: Sequence[str], weight: int, point: float
) -> list[int]:
    """The row of each label: the first in which it stands clear of the one before."""
    last: list[float] = []
    rows = []
    for middle, text in zip(middles, texts, strict=True):
        half = (line(text, _LABEL, weight).width / 2 + _GAP / 2) * point
        row = next((n for n, edge in enumerate(last) if edge <= middle - half), len(last))
        if row == len(last):
            last.append(0.0)
        last[row] = middle + half
        rows.append(row)
    return rows


def _measures(
    strips: Sequence[_Strip], width: float, measure: Measure, point: float
) -> list[Shape]:
    """The distance from cut to cut, below the cloth."""
    rows = _rows(strips, measure, point)
    return [
        Dimension((end, width), (start, width), text, _PAST - PRINT.clear / 2 + row * _ROW)
        for (start, end, text), row in zip(_told(strips, measure, point), rows, strict=True)
    ]


def _rest_told(
    taken: float, end: float, width: float, measure: Measure, point: float
) -> list[Shape]:
    rest = Fraction(end - taken).limit_denominator(1 << 12)
    text = f"{with_unit(rest, measure)} left"
    if line(text, _LABEL).width + 2 * _GAP > (end - taken) / point:
        return []
    return [Label(((taken + end) / 2, width / 2), text, below=-_LABEL / 2)]


def _ruler(end: float, measure: Measure, point: float) -> list[Shape]:
    """Ticks for every inch or two centimetres, numbers where they can be read."""
    unit = float(CM) * 5 if measure == "cm" else 1.0
    long, longer = (2, 10) if measure == "cm" else (6, 12)
    shapes: list[Shape] = []
    for n in range(int(end / unit + _HAIR) + 1):
        sort = 3 if n % longer == 0 else 2 if n % long == 0 else 1
        x = n * unit
        top, foot = -(_TICK[sort] + 2.5) * point, -2.5 * point
        shapes.append(Stroke("raw edge", ((x, top), (x, foot))))
        if n % longer == 0:
            text = str(n * 5 if measure == "cm" else n)
            shapes.append(Label((x, 0.0), text, below=-_PAST - _LABEL))
    return shapes


def _times(strips: Sequence[_Strip], point: float) -> list[Shape]:
    """How many of a sort of strip are cut, above it, if it is more than one."""
    several = [strip for strip in strips if strip.times > 1]
    texts = [f"cut {strip.times}" for strip in several]
    middles = [strip.field.x + strip.field.along / 2 for strip in several]
    rows = _stacked(middles, texts, 400, point)
    return [
        Label((middle, 0.0), text, below=-_PAST - _LABEL - row * _ROW)
        for middle, text, row in zip(middles, texts, rows, strict=True)
    ]


def _key_shapes(
    key: Sequence[tuple[str, str]], foot: float, below: float, point: float, room: float
) -> list[Shape]:
    """Marks and what they mean, in columns, below everything."""
    if not key:
        return []
    shift = max(line(mark, PRINT.large, 700).width for mark, _ in key) + 12.0
    widest = max(line(text, _LABEL).width for _, text in key) + shift + _COLUMN
    columns = max(1, min(3, int(room / point / widest)))
    high = -(-len(key) // columns)
    shapes: list[Shape] = []
    for n, (mark, text) in enumerate(key):
        column, row = divmod(n, high)
        x, y = column * widest * point, foot + (below + row * _LINE) * point
        shapes.append(Letter((x + 6.4 * point, y), mark, 12.0 * point))
        shapes.append(Label((x, y), text, "start", -_LABEL * 0.36, shift))
    return shapes
