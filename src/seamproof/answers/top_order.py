"""The order in which a top is sewn, round by round, in words."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from seamproof.answers.shapes import size_text
from seamproof.length.notation import Measure
from seamproof.piecing.model import Join, Leaf, PiecingPlan, Whole
from seamproof.plane.predicates import box
from seamproof.setting.model import Top


@dataclass(frozen=True, slots=True)
class SewLine:
    """One step at the machine: what is sewn to what, in which round of chain piecing, how many
    times, and what it gives."""

    round: int
    step: int
    first: str
    second: str
    gives: str
    times: int


def order_of(top: Top, measure: Measure) -> tuple[SewLine, ...]:
    """Every step of the top in its order."""
    plan = top.plan
    step: dict[int, int] = {}
    for parts in plan.rounds:
        for part in parts:
            step[part] = len(step) + 1
    names = _names(plan, top, step, measure)
    lines = []
    for number, parts in enumerate(plan.rounds, start=1):
        for part in parts:
            made = plan.parts[part].made
            if not isinstance(made, Join):
                continue
            lines.append(
                SewLine(
                    round=number,
                    step=step[part],
                    first=names[made.left.part],
                    second=names[made.right.part],
                    gives=names[part],
                    times=plan.parts[part].uses,
                )
            )
    return tuple(lines)


def _names(plan: PiecingPlan, top: Top, step: dict[int, int], measure: Measure) -> list[str]:
    roles = {part: piece.name for piece in top.pieces for part in piece.parts}
    framed = {coped.block for coped in top.coped}
    holds: list[frozenset[str]] = []
    counts: list[int] = []
    names: list[str] = []
    for number, part in enumerate(plan.parts):
        made = part.made
        match made:
            case Leaf(fabric):
                size = size_text(*_sides(part.outline), measure)
                names.append(f"{roles.get(number, 'strip')} {fabric.upper()} {size}")
                holds.append(frozenset())
                counts.append(0)
            case Whole(block):
                names.append(block)
                holds.append(frozenset({block}))
                counts.append(1)
            case Join(left, right):
                both = holds[left.part] | holds[right.part]
                many = counts[left.part] + counts[right.part]
                holds.append(both)
                counts.append(many)
                name = "the top" if number == plan.whole else _joined(both, many, framed)
                names.append(f"{name} (step {step[number]})" if name != "the top" else name)
            case _:
                raise AssertionError("a top has no seam in two goes")
    return names


def _joined(blocks: frozenset[str], count: int, framed: set[str]) -> str:
    """What a joined part is called: the block it holds, or how many."""
    if count == 1:
        (block,) = blocks
        return f"{block}, with strips" if block in framed else f"{block} and a strip"
    return f"{count} blocks" if count else "strips"


def _sides(corners: tuple[tuple[Fraction, Fraction], ...]) -> tuple[Fraction, Fraction]:
    (x0, y0), (x1, y1) = box(corners)
    short, long = sorted((x1 - x0, y1 - y0))
    return short, long
