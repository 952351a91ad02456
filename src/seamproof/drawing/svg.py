"""A scene as SVG: real units, nothing but paths and text, the same bytes for the same scene."""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from seamproof.drawing.hatches import Box, Path, marks
from seamproof.drawing.inks import PRINT, WHITE, Medium, Pen, hatch_ink
from seamproof.drawing.lettering import FAMILY
from seamproof.drawing.placing import Area, Disc, Drawn, Mark, Placed, Text, place
from seamproof.drawing.scene import Scene

_DISC_OPACITY = 0.94


def svg(scene: Scene, scale: float, medium: Medium = PRINT, *, name: str = "") -> str:
    """The scene with one inch of cloth drawn `scale` inches long, as an SVG document.

    `name` begins the ids in it, so that several pictures can stand in one page.
    """
    return written(place(scene, scale, medium), name=name)


def written(placed: Placed, *, name: str = "") -> str:
    """A placed picture as an SVG document; see :func:`svg`.

    >>> print(written(place(Scene(()), 1.0)))
    <svg xmlns="http://www.w3.org/2000/svg" width="1.2pt" height="1.2pt" viewBox="0 0 1.2 1.2">
    </svg>
    """
    width, height = _n(placed.width), _n(placed.height)
    unit = placed.medium.unit
    says = f' role="img" aria-label={quoteattr(placed.says)}' if placed.says else ""
    writer = _Writer(placed.medium, name)
    body = [text for mark in placed.marks for text in writer.mark(mark)]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}{unit}" height="{height}{unit}"'
        f' viewBox="0 0 {width} {height}"{says}>'
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
            look = f'fill="{WHITE}" fill-opacity="{_n(_DISC_OPACITY)}"'
            return [f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(r)}" {look}/>']
        return [_text(mark)]

    def _area(self, area: Area) -> list[str]:
        outline = _d(area.paths, closed=True)
        fill = f'<path d="{outline}" fill="{area.colour}"/>'
        if area.paint is None:
            return [fill]
        self.clips += 1
        clip = f"{self.name or 'clip'}{self.clips}"
        inner = self._hatch(area)
        return [
            fill,
            f'<clipPath id="{clip}"><path d="{outline}"/></clipPath>',
            f'<g clip-path="url(#{clip})">',
            *inner,
            "</g>",
        ]

    def _hatch(self, area: Area) -> list[str]:
        assert area.paint is not None
        colour, opacity = hatch_ink(area.colour)
        found = marks(area.paint.letter, _box(area.paths), self.medium.pitch)
        boxes = [_box([path]) for path in area.paths]
        lines = _d(path for path in found.lines if _meet(_box([path]), boxes))
        lines += "".join(
            _circle(x, y, r) for x, y, r in found.rings if _meet((x, y, x, y), boxes, r)
        )
        dots = [(x, y, r) for x, y, r in found.dots if _meet((x, y, x, y), boxes, r)]
        result = []
        if lines:
            result.append(
                f'<path d="{lines}" fill="none" stroke="{colour}" stroke-opacity="{_n(opacity)}"'
                f' stroke-width="{_n(self.medium.hatch)}"/>'
            )
        if dots:
            # A stroke of next to no length with round ends is a dot in a fifth of the text.
            d = "".join(f"M{_n(x)} {_n(y)}h.01" for x, y, _ in dots)
            result.append(
                f'<path d="{d}" fill="none" stroke="{colour}" stroke-opacity="{_n(opacity)}"'
                f' stroke-width="{_n(2 * dots[0][2])}" stroke-linecap="round"/>'
            )
        return result


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
        f'<text font-family="{FAMILY}" font-size="{_n(text.line.size)}"'
        f' font-weight="{text.line.weight}" fill="{text.colour}">{"".join(spans)}</text>'
    )


def _d(paths: Iterable[Path], *, closed: bool = False) -> str:
    end = "Z" if closed else ""
    return "".join("M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in path) + end for path in paths)


def _circle(x: float, y: float, r: float) -> str:
    return (
        f"M{_n(x - r)} {_n(y)}a{_n(r)} {_n(r)} 0 1 0 {_n(2 * r)} 0"
        f"a{_n(r)} {_n(r)} 0 1 0 {_n(-2 * r)} 0Z"
    )


def _box(paths: Iterable[Path]) -> Box:
    spots = [spot for path in paths for spot in path]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return (min(xs), min(ys), max(xs), max(ys))


def _meet(box: Box, boxes: Iterable[Box], more: float = 0.0) -> bool:
    """Whether a mark can be seen in one of the pieces of cloth."""
    x0, y0, x1, y1 = box
    return any(
        x0 - more <= right and x1 + more >= left and y0 - more <= bottom and y1 + more >= top
        for left, top, right, bottom in boxes
    )


def _n(value: float) -> str:
    """A number to two decimals, without needless zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
