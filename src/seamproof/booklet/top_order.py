"""The order in which a top is sewn, round by round, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from seamproof.length.notation import Measure, number
from seamproof.piecing.model import Join, Leaf, PiecingPlan, Whole
from seamproof.setting.model import Top, TopPiece
from seamproof.setting.seams import SetPress


@dataclass(frozen=True, slots=True)
class SewLine:
    """One step at the machine: what is sewn to what, in which round of chain piecing, how many
    times, what it gives, and which way it is pressed: to what it then lies on, a direction, or
    open; None while nothing says how the blocks are pressed."""

    round: int
    step: int
    first: str
    second: str
    gives: str
    times: int
    press: str | None


def order_of(
    top: Top,
    measure: Measure,
    called: Mapping[str, str] | None = None,
    presses: Sequence[SetPress] = (),
) -> tuple[SewLine, ...]:
    """Every step of the top in its order. `called` are the blocks' names as they are told."""
    said: dict[int, list[str]] = {}
    for press in presses:
        if press.towards not in said.setdefault(press.part, []):
            said[press.part].append(press.towards)
    plan = top.plan
    step: dict[int, int] = {}
    for parts in plan.rounds:
        for part in parts:
            step[part] = len(step) + 1
    names = _names(plan, top, step, measure, called or {})
    lines = []
    for round_, parts in enumerate(plan.rounds, start=1):
        for part in parts:
            made = plan.parts[part].made
            if not isinstance(made, Join):
                continue
            lines.append(
                SewLine(
                    round=round_,
                    step=step[part],
                    first=names[made.left.part],
                    second=names[made.right.part],
                    gives=names[part],
                    times=plan.parts[part].uses,
                    press=", ".join(sorted(said[part], key=_mitre_last)) if part in said else None,
                )
            )
    return tuple(lines)


def _mitre_last(said: str) -> bool:
    return said.startswith("mitre")


def _names(
    plan: PiecingPlan,
    top: Top,
    step: dict[int, int],
    measure: Measure,
    called: Mapping[str, str],
) -> list[str]:
    pieces = {part: piece for piece in top.pieces for part in piece.parts}
    framed = {called.get(coped.block, coped.block) for coped in top.coped}
    holds: list[frozenset[str]] = []
    counts: list[int] = []
    names: list[str] = []
    for i, part in enumerate(plan.parts):
        made = part.made
        match made:
            case Leaf():
                names.append(_cut(pieces[i], measure))
                holds.append(frozenset())
                counts.append(0)
            case Whole(block):
                names.append(called.get(block, block))
                holds.append(frozenset({names[-1]}))
                counts.append(1)
            case Join(left, right):
                both = holds[left.part] | holds[right.part]
                many = counts[left.part] + counts[right.part]
                holds.append(both)
                counts.append(many)
                name = "the top" if i == plan.whole else _joined(both, many, framed)
                names.append(f"{name} (step {step[i]})" if name != "the top" else name)
            case _:
                raise AssertionError("a top has no seam in two goes")
    return names


def _joined(blocks: frozenset[str], count: int, framed: set[str]) -> str:
    """What a joined part is called: the block it holds, or how many."""
    if count == 1:
        (block,) = blocks
        return f"{block}, with strips" if block in framed else f"{block} and a strip"
    return f"{count} blocks" if count else "strips"


def _cut(piece: TopPiece, measure: Measure) -> str:
    """A piece by its fabric and, unless it is cut from a square or trimmed, its cut size."""
    name = f"{piece.name} {piece.fabric.upper()}"
    if piece.split != "whole":
        return name
    width, height = piece.width.ruler, piece.height.ruler
    size = number(width, measure)
    return f"{name} {size}" if width == height else f"{name} {size} × {number(height, measure)}"
