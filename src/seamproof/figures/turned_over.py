"""What lies on the table, turned over: the same cloth from its other side."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from seamproof.drawing.scene import Cloth, Dimension, Scene, Shape, Spot, Stroke

SEEN_FROM_BOTH_SIDES = ("stitching", "cut")
"""Lines that go through all the cloth; what is marked is on one side of it alone."""


def turned_over(scene: Scene) -> Scene:
    """A picture of pieces that lie on the table, as it is when they are turned over, left to right:
    what lay below lies above, and the right sides are where the wrong sides were.

    Letters and whatever else is written on the cloth are left out, since they belong to the side
    that was up; sizes stay. An empty scene is itself turned over.

    >>> from seamproof.drawing.scene import Paint
    >>> corners = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0))
    >>> turned = turned_over(Scene((Cloth(corners, Paint("A", "#F1EBDD")),)))
    >>> turned.shapes[0].side, turned.shapes[0].corners
    ('wrong', ((0.0, 1.0), (0.0, 0.0), (2.0, 0.0)))
    >>> turned_over(Scene(())).shapes
    ()
    """
    right = max(_across(scene.shapes), default=0.0)

    def mirrored(spots: Sequence[Spot]) -> tuple[Spot, ...]:
        return tuple((right - x, y) for x, y in spots)

    layers: list[list[Shape]] = []
    through: list[Shape] = []
    for shape in scene.shapes:
        if isinstance(shape, Cloth):
            if not layers or not isinstance(layers[-1][-1], Cloth):
                layers.append([])
            corners = mirrored(shape.corners)[::-1]
            layers[-1].append(
                replace(
                    shape,
                    corners=corners,
                    side="right" if shape.side == "wrong" else "wrong",
                    slip=-shape.slip,
                )
            )
        elif isinstance(shape, Stroke):
            turned = replace(shape, points=mirrored(shape.points), slip=-shape.slip)
            if shape.kind in SEEN_FROM_BOTH_SIDES:
                through.append(turned)
            elif shape.kind != "marked" and layers:
                layers[-1].append(turned)
        elif isinstance(shape, Dimension):
            start, end = mirrored((shape.end, shape.start))
            through.append(replace(shape, start=start, end=end))
    shapes = [shape for layer in reversed(layers) for shape in layer]
    return Scene((*shapes, *through), f"{scene.says}, from the back" if scene.says else "")


def _across(shapes: Iterable[Shape]) -> Iterable[float]:
    for shape in shapes:
        if isinstance(shape, Cloth):
            yield from (x for x, _ in shape.corners)
