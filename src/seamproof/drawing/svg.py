"""A scene as SVG: real units, nothing but paths and text, the same bytes for the same scene."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape, quoteattr

import shapely
from shapely import Geometry

from seamproof.drawing.hatches import Box, Path, Row, marks
from seamproof.drawing.inks import INK, PRINT, WHITE, Medium, Pen, hatch_ink
from seamproof.drawing.lettering import FAMILY
from seamproof.drawing.placing import Area, Disc, Drawn, Mark, Placed, Text, place
from seamproof.drawing.scene import Scene


def svg(scene: Scene, scale: float, medium: Medium = PRINT, *, name: str = "") -> str:
    """The scene with one inch of cloth drawn `scale` inches long, as an SVG document.

    `name` begins the ids in it, so that several pictures can stand in one page.
    """
    return written(place(scene, scale, medium), name=name)


def written(placed: Placed, *, name: str = "") -> str:
    """A placed picture as an SVG document; see :func:`svg`.

    >>> written(place(Scene(()), 1.0)).splitlines()[1:]
    ['</svg>']
    """
    width, height = _n(placed.width), _n(placed.height)
    unit = placed.medium.unit
    says = f' role="img" aria-label={quoteattr(placed.says)}' if placed.says else ""
    writer = _Writer(placed.medium, name)
    body = [text for mark in placed.marks for text in writer.mark(mark)]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}{unit}" height="{height}{unit}"'
        f' viewBox="0 0 {width} {height}" font-family="{FAMILY}"{says}>'
    )
    return "\n".join([head, *body, "</svg>"])


class _Writer:
    """Writes marks, counting the clips it needs."""

    def __init__(self, medium: Medium, name: str) -> None:
        self.medium = medium
        self.name = name
        self.clips = 0

    def mark(self, mark: Mark) -> list[str]:
        if isinstance(mark, Area):
            return self._area(mark)
        if isinstance(mark, Drawn):
            return _drawn(mark)
        if isinstance(mark, Disc):
            (x, y), r = mark.at, mark.radius
            look = f'fill="{mark.colour}"'
            if mark.opacity < 1:
                look += f' fill-opacity="{_n(mark.opacity)}"'
            return [f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(r)}" {look}/>']
        return [_text(mark)]

    def _area(self, area: Area) -> list[str]:
        outline = _d(area.paths, closed=True)
        fill = f'<path d="{outline}" fill="{area.colour}"/>'
        if area.paint is None:
            return [fill]
        self.clips += 1
        clip = f"{self.name or 'clip'}{self.clips}"
        colour, opacity = (INK, 1.0) if self.medium.plain else hatch_ink(area.colour)
        pen = f'fill="none" stroke="{colour}" stroke-opacity="{_n(opacity)}"'
        inner = [
            f'<path d="{d}" {pen} {look}/>'
            for d, look in hatching(
                area.paths, area.paint.letter, self.medium.pitch, self.medium.hatch
            )
        ]
        return [
            fill,
            f'<clipPath id="{clip}"><path d="{outline}"/></clipPath>',
            f'<g clip-path="url(#{clip})">',
            *inner,
            "</g>",
        ]


_POINT = 0.01

KEPT = 4096
"""Hatched areas that are kept while the program runs: those of some drawings. After an edit most of
a block is where it was."""


@functools.lru_cache(maxsize=KEPT)
def hatching(
    paths: tuple[Path, ...], letter: str, pitch: float, width: float
) -> tuple[tuple[str, str], ...]:
    """The hatch of a printed fabric letter, no further than the cloth of these closed paths
    reaches: what is drawn, and the rest of its look besides its colour."""
    found = marks(letter, _box(paths), pitch)
    parts = [shapely.make_valid(shapely.Polygon(p)) for p in paths]
    cloth = parts[0] if len(parts) == 1 else shapely.union_all(parts)
    shapely.prepare(cloth)
    whole = _lines_within(found.lines, cloth, width) + _rings_on(found.rings, cloth)
    thin = f'stroke-width="{_n(width)}"'
    drawn = [(whole, thin)] if whole else []
    for kind, rows in _by_rhythm(found.rows):
        d = _rows_within(rows, cloth.buffer(width + kind.radius))
        if not d:
            continue
        # A dash of next to no length with round ends is a dot.
        on, off = (kind.on, kind.off) if kind.on else (_POINT, kind.off - _POINT)
        look = f'stroke-width="{_n(2 * kind.radius)}" stroke-linecap="round"'
        dash = f'stroke-dasharray="{_n(on)} {_n(off)}"'
        drawn.append((d, f"{look if kind.radius else thin} {dash}"))
    return tuple(drawn)


def _by_rhythm(rows: Iterable[Row]) -> list[tuple[Row, list[Row]]]:
    """Rows that are drawn alike, with one that stands for them."""
    alike: dict[tuple[float, ...], list[Row]] = {}
    for row in rows:
        alike.setdefault((row.on, row.off, row.radius), []).append(row)
    return [(some[0], some) for some in alike.values()]


def _lines_within(lines: Sequence[Path], cloth: Geometry, more: float) -> str:
    """What of lines lies on the cloth or `more` beside it."""
    if not lines:
        return ""
    held = shapely.intersection([shapely.LineString(line) for line in lines], cloth.buffer(more))
    return "".join(_run(piece.coords) for found in held for piece in _pieces(found))


def _rings_on(rings: Sequence[tuple[float, float, float]], cloth: Geometry) -> str:
    """The rings that reach the cloth."""
    if not rings:
        return ""
    away = shapely.distance(shapely.points([(x, y) for x, y, _ in rings]), cloth)
    return "".join(_ring(*ring) for ring, far in zip(rings, away, strict=True) if far < ring[2])


def _rows_within(rows: Sequence[Row], cloth: Geometry) -> str:
    """Rows of dashes as far as they lie on the cloth; each piece begins where a dash begins."""
    found = []
    lines = shapely.linestrings([(row.start, row.end) for row in rows])
    for row, held in zip(rows, shapely.intersection(lines, cloth), strict=True):
        ends = sorted(
            tuple(sorted(math.dist(row.start, spot) for spot in (p.coords[0], p.coords[-1])))
            for p in _pieces(held)
        )
        done = -1.0
        for low, high in ends:
            begins = math.floor(low / row.period) * row.period
            if begins + row.on < low:  # that dash ends before the cloth begins
                begins += row.period
            begins = max(begins, done)  # one that reaches over a gap is not drawn twice
            if begins < high:
                found.append(_run((_at(row, begins), _at(row, high))))
                done = math.ceil(high / row.period) * row.period
    return "".join(found)


def _at(row: Row, way: float) -> tuple[float, float]:
    (x0, y0), (x1, y1) = row.start, row.end
    share = way / row.length
    return (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)


def _pieces(found: Geometry) -> list[shapely.LineString]:
    return [p for p in getattr(found, "geoms", [found]) if isinstance(p, shapely.LineString) and p]


def _drawn(drawn: Drawn) -> list[str]:
    d, pen = _d(drawn.paths, closed=drawn.closed), drawn.pen
    if drawn.filled:
        return [f'<path d="{d}" fill="{pen.colour}"/>']
    casing = Pen(pen.casing, WHITE)
    return [_stroked(d, p) for p in ((casing, pen) if pen.casing else (pen,))]


def _stroked(d: str, pen: Pen) -> str:
    dash = f' stroke-dasharray="{" ".join(map(_n, pen.dash))}"' if pen.dash else ""
    join = ' stroke-linejoin="miter"' if not pen.dash else ""
    look = f'fill="none" stroke="{pen.colour}" stroke-width="{_n(pen.width)}"'
    return f'<path d="{d}" {look}{join}{dash}/>'


def _text(text: Text) -> str:
    x, y = text.at
    spans = []
    for run in text.line.runs:
        size = "" if run.size == text.line.size else f' font-size="{_n(run.size)}"'
        spans.append(
            f'<tspan x="{_n(x + run.x)}" y="{_n(y - run.rise)}"{size}>{escape(run.text)}</tspan>'
        )
    return (
        f'<text font-size="{_n(text.line.size)}"'
        f' font-weight="{text.line.weight}" fill="{text.colour}">{"".join(spans)}</text>'
    )


def _d(paths: Iterable[Path], *, closed: bool = False) -> str:
    end = "Z" if closed else ""
    return "".join("M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in path) + end for path in paths)


def _run(spots: Iterable[tuple[float, float]]) -> str:
    """An open path, each spot told from the one before, which takes less text."""
    (x, y), *others = spots
    x, y = round(x, 1), round(y, 1)
    parts = [f"M{_n(x)} {_n(y)}l"]
    for i, spot in enumerate(others):
        dx, dy = round(spot[0], 1) - x, round(spot[1], 1) - y
        parts.append(f"{' ' if i else ''}{_n(dx)} {_n(dy)}")
        x, y = x + dx, y + dy
    return "".join(parts)


def _ring(x: float, y: float, r: float) -> str:
    """Almost all of a circle in one arc; closing it adds what is missing."""
    radius = _n(r)
    return f"M{_n(round(x - r, 1))} {_n(round(y, 1))}a{radius} {radius} 0 1 0 0 {_n(_POINT)}Z"


def _box(paths: Iterable[Path]) -> Box:
    spots = [spot for path in paths for spot in path]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return (min(xs), min(ys), max(xs), max(ys))


def _n(value: float) -> str:
    """A number to two decimals, without needless zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
