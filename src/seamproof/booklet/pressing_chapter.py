"""How the block is pressed: what is said of each seam, and the block turned over."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from seamproof.booklet import press_wording
from seamproof.booklet.model import SignShown, TurnedOver, Variant
from seamproof.drawing.lettering import printed
from seamproof.drawing.scene import PressSign, Scene, SpinSign, Stroke
from seamproof.figures.bulk import close_scene, scale_scene
from seamproof.figures.cloth import Paints
from seamproof.figures.press_signs import press_signs
from seamproof.figures.steps import part_scene
from seamproof.length.notation import Measure
from seamproof.length.rounding import nearest
from seamproof.piecing.leaves import all_leaves, in_its_frame, parts_in
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.pressing.model import Press, Pressed

_SAMPLE = 1.2
"""Inches of seam in the picture of a sign."""


class Pressing:
    """What a sheet says about the seams of one block, by the parts that they give."""

    def __init__(self, plan: PiecingPlan, presses: Sequence[Press]) -> None:
        self.plan = plan
        self.presses = tuple(presses)
        self.of_part: dict[int, list[Press]] = {}
        for press in presses:
            self.of_part.setdefault(press.part, []).append(press)

    def seam(self, part: int, left: str, right: str) -> str:
        """How the seam that gives a part is pressed; `left` and `right` name what lies there."""
        some = self.of_part.get(part, [])
        spun = [press for press in some if press.spun]
        if spun:
            turn: press_wording.Turn = "clockwise" if spun[0].clockwise else "anticlockwise"
            return press_wording.spin(turn)
        ways = {press.way for press in some}
        if ways == {"open"}:
            return press_wording.open_up()
        names = {"left": left, "right": right}
        if len(ways) == 1 and left != right and names[(way := next(iter(ways)))]:
            return press_wording.towards(names[way])
        return press_wording.as_shown(len(some))

    def unit(self, part: int) -> str:
        """How all seams within a unit lie: "open", the letter of the fabric they are all pressed
        towards, or "shown" if there is no such word; "" if it has no seam."""
        inside = {placed.part for placed in parts_in(self.plan, in_its_frame(part))}
        some = [press for number in sorted(inside) for press in self.of_part.get(number, ())]
        if not some:
            return ""
        if all(press.way == "open" for press in some):
            return "open"
        found = {self._fabric(press) for press in some}
        return printed(found.pop() or "") if len(found) == 1 and None not in found else "shown"

    def _fabric(self, press: Press) -> str | None:
        """The one fabric on the side that a seam is pressed to; None if there is none such."""
        made = self.plan.parts[press.part].made
        if not isinstance(made, Join) or press.way == "open" or press.spun:
            return None
        child, other = (made.left, made.right) if press.way == "left" else (made.right, made.left)
        fabrics = {leaf.fabric for leaf in all_leaves(self.plan, child.part)}
        others = {leaf.fabric for leaf in all_leaves(self.plan, other.part)}
        return fabrics.pop() if len(fabrics) == 1 and not fabrics & others else None

    def unit_scene(self, part: int, paints: Paints) -> Scene:
        """A unit from the front with the signs of all its seams."""
        front = part_scene(self.plan, part, paints)
        return Scene(
            (*front.shapes, *press_signs(self.plan, part, self.presses)),
            "the unit from the front, with its press signs",
        )

    def signs(self) -> tuple[SignShown, ...]:
        """The signs that this block uses, explained."""
        ways = {"spun" if press.spun else press.way for press in self.presses}
        return legend(
            open_=("open" in ways),
            side=bool(ways & {"left", "right"}) or "spun" in ways,
            spun="spun" in ways,
        )


def legend(*, open_: bool, side: bool, spun: bool) -> tuple[SignShown, ...]:
    """Press signs with what they mean."""
    a, b, middle = (0.0, 0.0), (_SAMPLE, 0.0), (_SAMPLE / 2, 0.0)
    line = Stroke("seam", (a, b))
    across = Stroke("seam", ((_SAMPLE / 2, -_SAMPLE / 4), (_SAMPLE / 2, _SAMPLE / 4)))
    found = []
    if open_:
        scene = Scene((line, PressSign(a, b, "open", needed=True)), "the sign of an open seam")
        found.append(SignShown(press_wording.OPEN, scene))
    if side:
        scene = Scene((line, PressSign(a, b, "left", needed=True)), "the sign of a seam to a side")
        found.append(SignShown(press_wording.SIDE, scene))
    if spun:
        scene = Scene((line, across, SpinSign(middle, True)), "the sign of a spun crossing")
        found.append(SignShown(press_wording.SPUN, scene))
    return tuple(found)


def turned_over(
    pressed: Pressed,
    plan: PiecingPlan,
    back: Scene,
    names: Mapping[int, str],
    size: tuple[float, float],
    limit: int,
    step: Fraction,
    measure: Measure,
) -> TurnedOver:
    """The block from the back beside its thickest place, and why seams lie as they do. `names` are
    those of units and steps by the number of the part that they give."""
    layers = pressed.layers
    at = tuple(nearest(value, step) for value in layers.most_at)
    said = [
        press_wording.where_it_is((at[0], at[1]), measure) if layers.most > 1 else "",
        press_wording.nesting(pressed.here.nested, pressed.here.crossings),
        *map(press_wording.on_paper, pressed.plan.missed),
    ]
    return TurnedOver(
        title=press_wording.TITLE,
        back=back,
        back_says=press_wording.BACK,
        layers=layers.most,
        layers_say=press_wording.most_layers(layers.most),
        close=close_scene(layers, size, limit),
        close_says=press_wording.close_said(measure),
        scale=scale_scene(layers.most, limit),
        said=tuple(sentence for sentence in said if sentence),
        reasons=_reasons(pressed.plan.presses, plan, names),
    )


def _reasons(
    presses: Iterable[Press], plan: PiecingPlan, names: Mapping[int, str]
) -> tuple[str, ...]:
    """Why seams lie otherwise than is usual, those of one reason together."""
    held = _holders(plan, names)
    by_reason: dict[str, list[str]] = {}
    for press in presses:
        if press.usual or not press.reason:
            continue
        name = held.get(press.part, "")
        some = by_reason.setdefault(press_wording.on_paper(press.reason), [])
        if name and name not in some:
            some.append(name)
    first: dict[tuple[str, ...], str] = {}  # the weightiest reason of what bears several
    for reason, some in by_reason.items():
        first.setdefault(tuple(sorted(some, key=_order)), reason)
    told = tuple(press_wording.why(some, reason) for some, reason in first.items() if some)
    return told or (press_wording.USUAL,)


def _order(name: str) -> tuple[bool, int, str]:
    number = "".join(c for c in name if c.isdigit())
    return (name.startswith("step "), int(number or 0), name)


def _holders(plan: PiecingPlan, names: Mapping[int, str]) -> dict[int, str]:
    """What each sewn part is called, or else the unit that it is in. Units come first: what a step
    sews together holds their seams too, and those are no seams of the step."""
    held: dict[int, str] = {}
    for number, name in sorted(names.items(), key=lambda item: item[1].startswith("step ")):
        for placed in parts_in(plan, in_its_frame(number)):
            if isinstance(plan.parts[placed.part].made, Join | Finish):
                held.setdefault(placed.part, name)
    return held | {
        number: name
        for number, name in names.items()
        if isinstance(plan.parts[number].made, Join | Finish)
    }


def unit_shown(pressing: Pressing, part: int, paints: Paints, before: str = "") -> Variant | None:
    """A unit as it is pressed, beside how; None if it has no seam."""
    how = pressing.unit(part)
    if not how:
        return None
    said = " ".join(text for text in (before, press_wording.whole_unit(how)) if text)
    return Variant(said, pressing.unit_scene(part, paints))
