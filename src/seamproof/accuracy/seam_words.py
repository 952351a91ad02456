"""What measurements say, in a quilter's words."""

from __future__ import annotations

from fractions import Fraction

from seamproof.accuracy.spare_cloth import ENOUGH, NextUnits, SewnUnits
from seamproof.accuracy.strip_test import Known, SeamFit
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, mixed, number, with_unit

_MARK = 32
"""Parts of an inch in which a small amount is told, if it lies on one."""

RIGHT = 1 / 100
"""A seam within this of the plan, in inches, is right: two thirds of a thread, and less than three
sets of six strips can tell."""

UNSURE = 1 / 50
"""A seam that is known only to this, in inches, asks for another test before one trusts it."""


def thin(value: float, measure: Measure = "in") -> str:
    """A small amount of cloth, without its sign: a mark of the ruler if it lies on one, else a
    decimal of an inch; millimetres where sizes are in centimetres.

    >>> thin(1 / 16), thin(0.0417), thin(-0.125), thin(1 / 16, "cm"), thin(0.001)
    ('1/16 in', '0.04 in', '1/8 in', '1.6 mm', '0 in')
    """
    amount = abs(value)
    if measure == "cm":
        return f"{amount / float(CM) * 10:.1f} mm"
    mark = Fraction(round(amount * _MARK), _MARK)
    if mark and abs(float(mark) - amount) <= 0.001:
        return f"{mixed(mark)} in"
    text = f"{amount:.2f}".rstrip("0").rstrip(".")
    return f"{text} in"


def thousandths(value: float, measure: Measure = "in") -> str:
    """An amount without its sign where a mark of the ruler would hide that it changed.

    >>> thousandths(0.0123), thousandths(-0.0123, "cm")
    ('0.012 in', '0.31 mm')
    """
    if measure == "cm":
        return f"{abs(value) / float(CM) * 10:.2f} mm"
    return f"{abs(value):.3f} in"


def seam_sentences(fit: SeamFit, measure: Measure = "in") -> tuple[str, ...]:
    """What the seam takes up, what to do with the needle, and how surely that is known."""
    says = [_takes_up(fit.takes_up, measure)]
    says += _needle(fit.takes_up, measure)
    says.append(
        f"Ninety of a hundred makers who measure this have a seam that takes up between "
        f"{_signed(fit.takes_up.low, measure)} and {_signed(fit.takes_up.high, measure)}."
    )
    if fit.takes_up.sd > UNSURE:
        says.append(
            f"So this test fixes it only to about {thin(fit.takes_up.sd, measure)} per seam. "
            "Sew a set of more strips, or three such sets, before you trust it further."
        )
    if fit.scatter is not None:
        says.append(
            f"From seam to seam your allowance varies by about {thin(fit.scatter.value, measure)}."
        )
    if fit.fold_measured:
        gained = 2 * fit.fold.value
        says.append(
            f"Pressed open, each seam gives back {thin(gained, measure)} of what the fold takes."
        )
    return tuple(says)


def _takes_up(known: Known, measure: Measure) -> str:
    if abs(known.value) <= RIGHT:
        return "Your seam takes up what was planned."
    more = "more" if known.value > 0 else "less"
    return f"Your seam takes up {thin(known.value, measure)} {more} than planned."


def _needle(known: Known, measure: Measure) -> list[str]:
    if abs(known.value) <= RIGHT:
        return ["Leave the needle where it is."]
    if known.low <= 0 <= known.high:
        return ["It may as well be right: leave the needle where it is, and test once more."]
    towards = "towards the raw edge" if known.value > 0 else "away from the raw edge"
    by = thin(known.value / 2, measure)
    return [f"Move the needle, or the guide, {by} {towards}, then sew the strips again."]


def _signed(value: float, measure: Measure) -> str:
    if abs(value) < 0.0005:
        return "nothing"
    return f"{thin(value, measure)} too {'much' if value > 0 else 'little'}"


def next_sentences(sewn: SewnUnits, asked: NextUnits, measure: Measure = "in") -> tuple[str, ...]:
    """What to cut for the next units, and why."""
    count = len(sewn.slacks)
    what = "half-square triangles" if sewn.kind == "half-square triangle" else "flying geese"
    says = []
    if asked.short:
        says.append(f"{asked.short} of your {count} {what} could not be squared up.")
    squares = f"squares {with_unit(asked.cut, measure)}"
    if asked.goose_cut is not None:
        squares = f"small {squares} and large squares {with_unit(asked.goose_cut, measure)}"
    next_ones = "the next one" if asked.more == 1 else f"all of the next {asked.more}"
    says.append(
        f"Cut {squares}: then 95 of 100 makers who measured this could square up {next_ones}."
    )
    if asked.marks:
        says.append(
            f"That is {with_unit(asked.marks, measure)} more than no oversize. In a quilt file: "
            f"oversize: {{{sewn.kind}: {number(asked.marks, measure)}}}"
        )
    if count < ENOUGH:
        says.append(f"{count} units tell little: measure {ENOUGH} or more and cut less cloth away.")
    if sewn.raw and not sewn.overhangs:
        says.append(
            "Told by the raw sizes this is a little hopeful. Surer: lay the ruler's diagonal on "
            "the seam so that two sides just clean up, and measure the smaller overhang on the "
            "other two."
        )
    return tuple(says)
