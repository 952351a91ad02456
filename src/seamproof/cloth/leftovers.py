"""What is left of the cloth once everything is cut, as far as it is worth keeping."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from seamproof.cloth.buying import Buying, Purchase
from seamproof.cloth.model import Cut, Fixed, Laid

WORTH: tuple[tuple[Fraction, Fraction], ...] = (
    (Fraction(5), Fraction(5)),
    (Fraction(5, 2), Fraction(18)),
)
"""A leftover is kept if it holds one of these, either way round: a 5 in square, or a strip 2 1/2 in
wide (house rule: they come back as small squares and as binding)."""


def worth_keeping(width: Fraction, length: Fraction) -> bool:
    """Whether a leftover of this size is kept.

    >>> worth_keeping(Fraction(13), Fraction(52)), worth_keeping(Fraction(40), Fraction(2))
    (True, False)
    """
    short, long = sorted((width, length))
    return any(short >= low and long >= high for low, high in WORTH)


def leftovers(laid: Laid, bought: Purchase | None, buying: Buying) -> tuple[Fixed, ...]:
    """What is kept of a fabric that was laid, pieces of one size together, the largest first; the
    names are empty. First of all the end of what was bought, straightened and washed.

    >>> leftovers(Laid(()), None, Buying())
    ()
    """
    counts: dict[tuple[Fraction, Fraction], int] = {}
    for lay in laid.lays:
        for width, length, count in _left(lay.cut, lay.times):
            counts[width, length] = counts.get((width, length), 0) + count
    bolt = [lay for lay in laid.lays if lay.cloth == "yardage"]
    if bolt and bought is not None:
        rest = bought.buy * (1 - buying.shrinkage) - bought.straightening - bought.bare
        size = (bolt[0].width, rest)
        counts[size] = counts.get(size, 0) + 1
    found = [Fixed("", *size, count) for size, count in counts.items() if worth_keeping(*size)]
    return tuple(sorted(found, key=lambda one: (-one.width * one.length, -one.width)))


def _left(cut: Cut, times: int) -> Iterator[tuple[Fraction, Fraction, int]]:
    """The rectangles of a cut that become nothing, and how many of each."""
    if cut.along is None:
        if cut.piece is None:
            yield cut.width, cut.height, times
        return
    for part in cut.parts:
        yield from _left(part, times * part.times)
