"""Real blocks: what to do about those that did not come out as planned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.findings import Finding
from seamproof.length.notation import Measure, with_unit
from seamproof.plane.model import Point
from seamproof.setting import checks
from seamproof.setting.habits import INCHES, Habits
from seamproof.setting.model import Advice, Available, Resashing, Setting


def advice(
    block: str, planned: Point, finished: Point, *, framed: bool, habits: Habits = INCHES
) -> Advice:
    """What to do about one block. `framed`: it has coping, which takes up the difference. A block a
    little short is pressed again and measured again before anything else.

    >>> def inches(text: str) -> Point:
    ...     return (Fraction(text), Fraction(12))
    >>> [advice("a", inches("12"), inches(n), framed=False).what
    ...  for n in ("12", "11.9375", "11.8125", "12.25", "11")]
    ['fits', 'ease in', 'press again', 'trim', 'frame']
    """
    off = (finished[0] - planned[0], finished[1] - planned[1])
    short = -min(*off, Fraction(0))
    large = max(*off, Fraction(0))
    if not short and not large:
        what = "fits"
    elif framed:
        what = "frame"
    elif max(short, large) <= habits.ease:
        what = "ease in"
    elif short > habits.press_again:
        what = "frame"
    elif short > habits.ease:
        what = "press again"
    else:
        what = "trim"
    return Advice(block, planned, finished, off, what)  # type: ignore[arg-type]


def resashed(
    advised: Sequence[Advice], cell: Point, sash: Fraction, layout: tuple[int, int], outer: bool
) -> Resashing | None:
    """Sashes that make up for small blocks: all bare blocks are trimmed to the smallest one, and
    the top keeps its size. None if no bare block is short, or there is no sashing to widen.

    `layout` counts columns and rows.
    """
    short = [a for a in advised if a.what in ("press again", "frame")]
    if not short or not sash:
        return None
    lost = [max(-a.off[axis] for a in short) for axis in (0, 1)]
    small = (cell[0] - max(lost[0], Fraction(0)), cell[1] - max(lost[1], Fraction(0)))
    extra = 1 if outer else -1
    wide = [
        sash + (cell[axis] - small[axis]) * layout[axis] / (layout[axis] + extra)
        for axis in (0, 1)
        if layout[axis] + extra > 0
    ]
    if len(wide) < 2:
        return None
    return Resashing(small, wide[0], wide[1])


@dataclass(frozen=True)
class Sewn:
    """The blocks as they are set, those with coping in the size they really have, and what to do
    about each that was measured."""

    blocks: Mapping[str, Available]
    advice: tuple[Advice, ...]


def measured_blocks(
    setting: Setting, blocks: Mapping[str, Available], seam: Fraction, habits: Habits = INCHES
) -> Sewn:
    """The measured sizes in the place of the planned ones, where frames can take them up."""
    framed = {coping.block for coping in setting.coping}
    real, advised = dict(blocks), []
    for measured in setting.measured:
        block = blocks.get(measured.block)
        if block is None:
            continue
        finished = (measured.width - 2 * seam, measured.height - 2 * seam)
        planned = (block.width, block.height)
        advised.append(
            advice(block.name, planned, finished, framed=block.name in framed, habits=habits)
        )
        if block.name in framed and min(finished) > 0:
            real[block.name] = replace(block, width=finished[0], height=finished[1])
    return Sewn(real, tuple(advised))


def measured_faults(
    setting: Setting, blocks: Mapping[str, Available], sewn: Sewn, seam: Fraction, measure: Measure
) -> Iterator[Finding]:
    """What there is to say about measured blocks, each with what to do about it."""
    advised = {a.block: a for a in sewn.advice}
    for measured in setting.measured:
        block = blocks.get(measured.block)
        if block is None:
            yield checks.UNKNOWN_BLOCK.found(
                f'a size was measured for "{measured.block}", which the quilt does not have',
                mend="correct the name",
                where=measured.where,
            )
            continue
        given = advised[block.name]
        if (measured.width, measured.height) == (block.width, block.height):
            yield checks.FINISHED_TYPED.found(
                f"{block.name} measures what it should finish",
                mend="write what the ruler shows from raw edge to raw edge: "
                f"{with_unit(block.width + 2 * seam, measure)} if it is right",
                where=measured.where,
            )
        elif given.what in _SAID:
            kind = checks.CAME_OUT_LARGE if given.what == "trim" else checks.CAME_OUT_SMALL
            yield kind.found(
                f"{block.name} came out {_off(given, measure)}",
                mend=_SAID[given.what],
                where=measured.where,
            )


_SAID = {
    "press again": "press it again, seams fully open, and measure once more; what then still "
    "lacks is eased in, or every block is trimmed to the smallest and the sashing cut wider",
    "trim": "trim it to size, the same on opposite sides, so that its points stay",
    "frame": "its coping takes that up; without coping frame it, or trim every block to the "
    "smallest and cut the sashing wider",
}


def _off(given: Advice, measure: Measure) -> str:
    """How much too small or large, by its worst side."""
    worst = max(given.off, key=abs)
    return f"{with_unit(abs(worst), measure)} too {'small' if worst < 0 else 'large'}"
