"""A lay as it is worked: strip after strip, and what each is cut into."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.model import Cut, Lay
from seamproof.cloth.stacking import Handling


@dataclass(frozen=True, slots=True)
class Strip:
    """`times` strips that are cut alike: `height` along the selvage, `width` across.

    `pieces` are names and counts of what one of them gives, in cutting order; `left` is the length
    of strip that is not used, of its full height. `crossings` counts the cuts across it.
    """

    height: Fraction
    width: Fraction
    times: int
    pieces: tuple[tuple[str, int], ...]
    left: Fraction
    crossings: int


def strips_of(lay: Lay) -> tuple[Strip, ...]:
    """The strips of one lay in cutting order. Cloth that is not cut across first is one strip.

    >>> square = Cut(Fraction(4), Fraction(4), piece="Aa", times=9)
    >>> row = Cut(Fraction(40), Fraction(4), "length", (square, Cut(Fraction(4), Fraction(4))))
    >>> whole = Cut(Fraction(40), Fraction(4), "across", (row,))
    >>> lay = Lay("a", "yardage", Fraction(40), Fraction(4), whole, 1, 4.0, 3.6, True)
    >>> [(str(s.height), s.times, s.pieces, str(s.left), s.crossings) for s in strips_of(lay)]
    [('4', 1, (('Aa', 9),), '4', 9)]
    """
    parts = lay.cut.parts if lay.cut.along == "across" else (replace(lay.cut, times=1),)
    return tuple(_strip(part) for part in parts if any(_pieces(part)))


def _strip(part: Cut) -> Strip:
    counts = counted_in(part)
    left = Fraction(0)
    crossings = 0
    if part.along == "length":
        left = sum(
            (p.width * p.times for p in part.parts if p.along is None and p.piece is None),
            Fraction(0),
        )
        crossings = sum(p.times * max(1, p.pieces) for p in part.parts) - 1
    return Strip(part.height, part.width, part.times, tuple(counts.items()), left, crossings)


def _pieces(cut: Cut, times: int = 1) -> Iterator[tuple[str, int]]:
    """Names and counts of what one of a cut gives."""
    if cut.along is None:
        if cut.piece is not None:
            yield cut.piece, cut.pieces * times
        return
    for part in cut.parts:
        yield from _pieces(part, times * part.times)


def counted(lays: tuple[Lay, ...]) -> dict[str, int]:
    """How many of each piece some lays give in all, by name.

    >>> counted(())
    {}
    """
    found: dict[str, int] = {}
    for lay in lays:
        for name, count in counted_in(lay.cut, lay.times).items():
            found[name] = found.get(name, 0) + count
    return found


def counted_in(cut: Cut, times: int = 1) -> dict[str, int]:
    """How many of each piece so many of a cut give, whatever its own times."""
    found: dict[str, int] = {}
    for name, count in _pieces(cut, times):
        found[name] = found.get(name, 0) + count
    return found


def how_handled(strip: Strip, handled: dict[str, Handling]) -> Handling:
    """How a strip is stacked for its cross-cuts: as the most delicate of its pieces is handled."""
    hows = {handled[name] for name, _ in strip.pieces}
    return "bias" if "bias" in hows else "short" if "short" in hows else "long"


@dataclass(frozen=True, slots=True)
class Measures:
    """What the ruler is set to: different widths of `strips`, and different measures of the `cuts`
    in them. A cross-cut and a trim of one measure are two, since the strip is laid anew in between;
    slanted cuts count once for each kind of piece."""

    strips: int
    cuts: int

    @property
    def settings(self) -> int:
        """All of them."""
        return self.strips + self.cuts


def measures(lays: tuple[Lay, ...]) -> Measures:
    """The settings of the ruler that some lays take.

    >>> measures(())
    Measures(strips=0, cuts=0)
    """
    strips: set[Fraction] = set()
    cuts: set[tuple[str | None, Fraction | str]] = set()
    for lay in lays:
        parts = lay.cut.parts if lay.cut.along == "across" else (lay.cut,)
        for part in parts:
            if any(_pieces(part)):
                strips.add(part.height)
                cuts |= set(_measured(part))
    return Measures(len(strips), len(cuts))


def _measured(cut: Cut) -> Iterator[tuple[str | None, Fraction | str]]:
    """All cuts inside one: which way they run, and their measures."""
    for part in cut.parts:
        if not any(_pieces(part)):
            continue
        if part.slope is not None and part.piece is not None:
            yield "slanted", part.piece
        else:
            yield cut.along, part.height if cut.along == "across" else part.width
        yield from _measured(part)
