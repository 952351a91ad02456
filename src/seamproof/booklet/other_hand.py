"""The edition for a left-handed maker: what goes by the hand is turned over, a unit never is.

Pictures of how a unit is made are shown as in a mirror, so that laying and cutting begin at the
other end. That is right only for a unit which is its own mirror twin: the pictures of any other
stay, since it would come out as its twin.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

import shapely

from seamproof.booklet import wording
from seamproof.booklet.model import Chapter, Part, PrintedStep, Section
from seamproof.drawing.scene import Cloth, Scene

_CRUMB = 0.12  # share of a piece that may lie otherwise
_TURNING = re.compile(r"clockwise", re.IGNORECASE)

_Laid = list[tuple[tuple[str, str], shapely.Polygon]]


def turned_over(section: Section) -> Section:
    """A section for a left-handed maker."""
    return replace(section, parts=tuple(map(_part, section.parts)))


def _part(part: Part) -> Part:
    if not isinstance(part, Chapter) or part.by or part.title == wording.ASSEMBLY_TITLE:
        return part
    if not part.steps or not _may(part):
        return part
    return replace(part, steps=tuple(map(_step, part.steps)))


def _may(chapter: Chapter) -> bool:
    """Whether what a chapter makes is its own mirror twin, and nothing in it is spun."""
    made = (chapter.steps[-1].figure, *(one.figure for one in chapter.variants))
    spun = any(_TURNING.search(step.text) for step in chapter.steps)
    return not spun and all(map(is_own_twin, made))


def _step(step: PrintedStep) -> PrintedStep:
    return replace(
        step,
        figure=step.figure.mirrored(),
        sewn=None if step.sewn is None else step.sewn.mirrored(),
    )


def is_own_twin(scene: Scene) -> bool:
    """Whether the cloth of a picture, seen in a mirror and turned by quarters, is the same.

    >>> from seamproof.drawing.scene import Paint
    >>> light, dark = Paint("A", "#ffffff"), Paint("B", "#000000")
    >>> one, other = Cloth(((0, 0), (2, 0), (0, 2)), light), Cloth(((2, 0), (2, 2), (0, 2)), dark)
    >>> is_own_twin(Scene((one, other))), is_own_twin(Scene(()))
    (True, True)
    >>> long = Cloth(((0, 0), (4, 0), (0, 2)), light), Cloth(((4, 0), (4, 2), (0, 2)), dark)
    >>> is_own_twin(Scene(long))
    False
    """
    cloth = [shape for shape in scene.shapes if isinstance(shape, Cloth)]
    if not cloth:
        return True
    as_it_is = _laid(cloth, 0)
    seen = [shape for shape in scene.mirrored().shapes if isinstance(shape, Cloth)]
    return any(_alike(as_it_is, _laid(seen, quarters)) for quarters in range(4))


def _alike(one: _Laid, other: _Laid) -> bool:
    """Whether two pictures show each piece at the same place, but for a crumb: at the point of a
    goose one of the sky's triangles lies over the other."""
    rest = list(other)
    for cloth, shape in one:
        for twin in rest:
            if twin[0] == cloth and _apart(shape, twin[1]) <= _CRUMB * shape.area:
                rest.remove(twin)
                break
        else:
            return False
    return not rest


def _apart(one: shapely.Polygon, other: shapely.Polygon) -> float:
    return float(one.symmetric_difference(other).area)


def _laid(cloth: Iterable[Cloth], quarters: int) -> _Laid:
    """The pieces of a picture that is turned by so many quarters."""
    found = [
        ((one.paint.letter, one.side), [_turned(spot, quarters) for spot in one.corners])
        for one in cloth
    ]
    left = min(x for _, corners in found for x, _ in corners)
    top = min(y for _, corners in found for _, y in corners)
    return [
        (key, shapely.Polygon([(x - left, y - top) for x, y in corners])) for key, corners in found
    ]


def _turned(spot: tuple[float, float], quarters: int) -> tuple[float, float]:
    x, y = spot
    for _ in range(quarters):
        x, y = -y, x
    return x, y
