"""The picture that ``seamproof top -o`` writes: the top from the front, and apart in its order of
sewing beside it."""

from __future__ import annotations

from seamproof.drawing.scene import Label, Scene, extent
from seamproof.drawing.svg import svg
from seamproof.figures.cloth import paints
from seamproof.figures.press_signs import press_signs
from seamproof.figures.top import MEDIUM
from seamproof.figures.top_order import Sewn, top_order_scene
from seamproof.pipeline.setting import TopWork
from seamproof.pipeline.top_pressing import PressedTop

BETWEEN = 1.25
"""Between the two pictures, in inches on the screen: room for the measures."""

APART = (
    "In the order of sewing: what lies closest is sewn first. Numbers are those of the steps.",
    "An arrow points the way the allowances go; two, to either side, stand for open.",
)
"""What stands below the top apart."""

_FIRST_LINE, _LINE = 22.0, 16.0  # points below it, and from line to line


def sheet_svg(front: Scene, scale: float, work: TopWork, pressed: PressedTop | None) -> str:
    """The front of a top that can be set, drawn at `scale`, and the top apart."""
    order = _order(work, pressed, scale)
    (_, y0), (x1, _) = extent(front.shapes)
    (x2, y2), _ = extent(order.shapes)
    order = order.moved(x1 + BETWEEN / scale - x2, y0 - y2)
    (left, _), (_, low) = extent(order.shapes)
    labels = tuple(
        Label((left, low), text, "start", below=_FIRST_LINE + n * _LINE)
        for n, text in enumerate(APART if pressed is not None else APART[:1])
    )
    return svg(front + order + Scene(labels), scale, MEDIUM)


def _order(work: TopWork, pressed: PressedTop | None, scale: float) -> Scene:
    """The top apart, with the press signs of the setting and of the blocks at their edges."""
    shown = paints(work.project.fabrics)
    if pressed is None:
        assert work.top is not None
        plain = {name: Sewn(block) for name, block in work.drawn.items()}
        return top_order_scene(work.top, (), plain, shown, scale=scale)
    return top_order_scene(pressed.top, pressed.presses, sewn(pressed), shown, scale=scale)


def sewn(pressed: PressedTop) -> dict[str, Sewn]:
    """The blocks as they are set, each with the signs of its own seams."""
    found = {}
    for name, one in pressed.blocks.items():
        plan, drawn = one.work.piecing, one.work.block
        if drawn is not None and plan is not None and one.pressed is not None:
            presses = one.pressed.plan.presses
            found[name] = Sewn(drawn, press_signs(plan, plan.whole, presses))
    return found
