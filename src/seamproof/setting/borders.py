"""Borders: plain ones butted, mitred or with corner squares, and pieced ones with their spacer."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.length.rounding import Size, nearest, on_ruler, up
from seamproof.plane.model import Point
from seamproof.plane.predicates import box
from seamproof.setting.assembling import Builder, Lying
from seamproof.setting.cells import Cells, framed
from seamproof.setting.model import BorderAsked, BorderMade, Frame, SetCell

MITRE = 1 + math.sqrt(2)
"""Seam allowances that a mitred strip is longer at each end than it finishes: the allowance runs
along a slant of 45 degrees."""


@dataclass(frozen=True, slots=True)
class Fit:
    """How a pieced border can be made to fit: the plain strips inside it, `beside` and `above`."""

    beside: Fraction
    above: Fraction


def cut_lengths(
    inner: Point, border: BorderAsked, seam: Fraction, step: Fraction
) -> tuple[Size, Size]:
    """The cut lengths of one side strip and of one above or below, in inches.

    Butted, the side strips are as long as what they go round is high, and those above and below
    run over their ends. Mitred, all run on to the corner and are trimmed there.
    """
    w, (width, height) = border.width, inner
    if border.corners == "mitred":
        more = 2 * float(w) + 2 * float(seam) * MITRE
        sides, ends = float(height) + more, float(width) + more
        return Size(up(sides, step), sides), Size(up(ends, step), ends)
    over = Fraction(0) if border.corners == "squares" else 2 * w
    return _cut(height + 2 * seam, step), _cut(width + over + 2 * seam, step)


def _cut(length: Fraction, step: Fraction) -> Size:
    on = length if on_ruler(length, step) else nearest(length, step)
    return Size(on, float(length))


def spacer_for(inner: Point, border: BorderAsked, least: Fraction) -> Fit | None:
    """The plain strips, `least` wide or nothing, that make a pieced border of whole units fit; None
    if it fits without.

    Both sides get the same width if one width does for both.

    >>> asked = BorderAsked(Fraction(3), None, unit=Fraction(3))
    >>> fit = spacer_for((Fraction(45), Fraction(61)), asked, Fraction(1))
    >>> str(fit.beside), str(fit.above)
    ('0', '1')
    >>> spacer_for((Fraction(45), Fraction(60)), asked, Fraction(1)) is None
    True
    """
    unit = unit_of(border)
    if all(not length % unit for length in inner):
        return None
    for wide in (_next(length, unit, least) for length in inner):
        if all(not (length + 2 * wide) % unit for length in inner):
            return Fit(wide, wide)
    beside, above = (_strip(length, unit, least) for length in inner)
    return Fit(beside, above)


def _strip(length: Fraction, unit: Fraction, least: Fraction) -> Fraction:
    return Fraction(0) if not length % unit else _next(length, unit, least)


def _next(length: Fraction, unit: Fraction, least: Fraction) -> Fraction:
    """The narrowest strip, at least so wide, two of which take a length to a multiple."""
    whole = math.ceil((length + 2 * least) / unit) * unit
    return (whole - length) / 2


def unit_of(border: BorderAsked) -> Fraction:
    """How long one unit of a pieced border is along it."""
    return border.unit or border.width


def divided(inner: Point, border: BorderAsked) -> tuple[int, int] | None:
    """Units in a side and in an end; None if they do not come out even. The corners are squares of
    the border's width."""
    unit = unit_of(border)
    if inner[0] % unit or inner[1] % unit:
        return None
    return int(inner[1] / unit), int(inner[0] / unit)


def bordered(
    builder: Builder, cells: Cells, lying: Lying, border: BorderAsked, made: BorderMade
) -> Lying:
    """The top with one border more, sewn on in its order."""
    if made.spacer is not None:
        lying = framed(builder, lying, made.spacer, "spacer")
    w = border.width
    if border.units:
        return _pieced(builder, cells, lying, border)
    assert border.fabric is not None
    if border.corners == "mitred":
        return _mitred(builder, lying, w, border.fabric)
    if border.corners == "squares":
        assert border.squares is not None
        return _squared(builder, lying, w, border.fabric, border.squares)
    (x0, y0), (x1, y1) = box(lying.outline)
    frame = Frame(border.fabric, w, w, (x1 - x0, y1 - y0), (x1 - x0 + 2 * w, y1 - y0 + 2 * w))
    return framed(builder, lying, frame, "border")


def _squared(builder: Builder, lying: Lying, w: Fraction, fabric: str, squares: str) -> Lying:
    (x0, y0), (x1, y1) = box(lying.outline)
    left = builder.rectangle(fabric, (x0 - w, y0), (x0, y1), "border")
    right = builder.rectangle(fabric, (x1, y0), (x1 + w, y1), "border")
    lying = builder.join(builder.join(left, lying), right)

    def end(y: Fraction) -> Lying:
        return builder.chain(
            [
                builder.rectangle(squares, (x0 - w, y), (x0, y + w), "corner square"),
                builder.rectangle(fabric, (x0, y), (x1, y + w), "border"),
                builder.rectangle(squares, (x1, y), (x1 + w, y + w), "corner square"),
            ]
        )

    return builder.join(builder.join(end(y0 - w), lying), end(y1))


def _mitred(builder: Builder, lying: Lying, w: Fraction, fabric: str) -> Lying:
    """All four strips end in slants; each is sewn on up to the corner, turned there, and the mitre
    closed: the corner is set in."""
    (x0, y0), (x1, y1) = box(lying.outline)
    a, b, c, d = (x0, y0), (x1, y0), (x1, y1), (x0, y1)
    e, f, g, h = (x0 - w, y0 - w), (x1 + w, y0 - w), (x1 + w, y1 + w), (x0 - w, y1 + w)
    for corners in ((e, a, d, h), (e, f, b, a), (f, g, c, b), (h, d, c, g)):
        strip = builder.leaf(fabric, corners, "border")
        lying = builder.join(lying, strip)
    return lying


def _pieced(builder: Builder, cells: Cells, lying: Lying, border: BorderAsked) -> Lying:
    (x0, y0), (x1, y1) = box(lying.outline)
    w, unit = border.width, unit_of(border)
    units = border.units
    corner = border.squares or border.fabric
    assert corner is not None

    def run(low: Point, count: int, *, level: bool, start: int) -> list[Lying]:
        row = []
        for n in range(count):
            cell = units[(start + n) % len(units)]
            at = (low[0] + n * unit, low[1]) if level else (low[0], low[1] + n * unit)
            size = (unit, w) if level else (w, unit)
            row.append(_unit(builder, cells, cell, at, size, level=level))
        return row

    across, down = int((x1 - x0) / unit), int((y1 - y0) / unit)
    left = builder.chain(run((x0 - w, y0), down, level=False, start=0))
    right = builder.chain(run((x1, y0), down, level=False, start=0))
    lying = builder.join(builder.join(left, lying), right)

    def end(y: Fraction) -> Lying:
        first = builder.rectangle(corner, (x0 - w, y), (x0, y + w), "corner square")
        last = builder.rectangle(corner, (x1, y), (x1 + w, y + w), "corner square")
        return builder.chain([first, *run((x0, y), across, level=True, start=0), last])

    return builder.join(builder.join(end(y0 - w), lying), end(y1))


def _unit(
    builder: Builder, cells: Cells, cell: SetCell, low: Point, size: Point, *, level: bool
) -> Lying:
    if cell.plain:
        high = (low[0] + size[0], low[1] + size[1])
        return builder.rectangle(cell.name, low, high, "border unit")
    block = cells.blocks[cell.name]
    number = builder.whole(cell.name, (block.width, block.height))
    quarters = cell.quarters + (0 if level else 1)
    return builder.lay(number, Fraction(quarters % 4, 4), low)


def fabrics_of(border: BorderAsked) -> tuple[str, ...]:
    """The fabrics that a border names, each once."""
    named = [border.fabric, border.squares, border.spacer]
    named += [cell.name for cell in border.units if cell.plain]
    return tuple(dict.fromkeys(letter for letter in named if letter))


def made_border(
    inner: Point, border: BorderAsked, seam: Fraction, step: Fraction, spacer: Frame | None
) -> BorderMade:
    """One border, worked out round something of the finished size `inner`."""
    within = spacer.outer if spacer else inner
    w = border.width
    sides, ends = cut_lengths(within, border, seam, step)
    return BorderMade(
        kind="pieced" if border.units else border.corners,
        fabrics=fabrics_of(border),
        width=w,
        inner=inner,
        outer=(within[0] + 2 * w, within[1] + 2 * w),
        sides=sides,
        ends=ends,
        lengthwise=border.lengthwise,
        along=divided(within, border) if border.units else None,
        spacer=spacer,
    )


def middle_of_three(lengths: Sequence[Fraction]) -> Fraction:
    """What a border strip is cut to when the top was measured at three places: their mean.

    Cutting each strip to its own edge makes an edge that waves stay that way.

    >>> str(middle_of_three([Fraction("58.25"), Fraction("58.5"), Fraction("58.75")]))
    '117/2'
    """
    return sum(lengths, Fraction(0)) / len(lengths)
