"""What is cut first, out of the full length of the cloth: borders that run along it, a backing.

Such pieces stand side by side from selvage to selvage. The cloth beside them is a piece of its own,
from which other pieces are cut before the rest of the bolt is touched.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.model import Cloth, Cut, Demand, Fixed, Laid, Lay
from seamproof.cloth.ordering import counted_in

BESIDE = "beside "
"""How the cloth beside reserved pieces is named while the rest is laid; never shown."""


@dataclass(frozen=True, slots=True)
class Length:
    """`times` equal lengths of cloth with pieces standing side by side in each. `room` is the width
    of what is left beside them, over the whole length."""

    length: Fraction
    room: Fraction
    cuts: tuple[Cut, ...]
    times: int


@dataclass(frozen=True, slots=True)
class Reserved:
    """The lengths that are cut first from a cloth, the longest first."""

    cloth: Cloth
    lengths: tuple[Length, ...] = ()

    @property
    def rest(self) -> Cloth:
        """The cloth for everything else: as before, with what is left beside on the shelf."""
        beside = tuple(
            Fixed(f"{BESIDE}{n}", one.room, one.length, one.times)
            for n, one in enumerate(self.lengths)
            if one.room
        )
        return replace(self.cloth, shelf=(*self.cloth.shelf, *beside))


def reserved(cloth: Cloth, demands: Sequence[Demand]) -> Reserved:
    """The lengths in which these pieces are cut: the longest opens one, and whatever fits beside it
    stands there. All of them must be narrow enough for the cloth.

    >>> border = Demand("Aa", Fraction(6), Fraction(62), 4)
    >>> made = reserved(Cloth("a", Fraction(40)), [border])
    >>> [(str(one.length), str(one.room), one.times) for one in made.lengths]
    [('62', '16', 1)]
    >>> reserved(Cloth("a", Fraction(40)), []).lengths
    ()
    """
    left = {demand.name: demand.count for demand in demands}
    standing = sorted(demands, key=lambda one: (-one.height, -one.width))
    found: list[Length] = []
    while any(left.values()):
        length, room = Fraction(0), cloth.width
        chosen: list[tuple[Demand, int]] = []
        for demand in standing:
            count = min(left[demand.name], int(room // demand.width))
            if count:
                length = length or demand.height
                room -= count * demand.width
                chosen.append((demand, count))
        times = min(left[demand.name] // count for demand, count in chosen)
        for demand, count in chosen:
            left[demand.name] -= count * times
        cuts = tuple(_standing(demand, count, length) for demand, count in chosen)
        found.append(Length(length, room, cuts, times))
    return Reserved(cloth, tuple(found))


def _standing(demand: Demand, count: int, length: Fraction) -> Cut:
    """Some alike pieces side by side; what is over at the end of each is trimmed off."""
    piece = Cut(demand.width, demand.height, piece=demand.name)
    if demand.height < length:
        rest = Cut(demand.width, length - demand.height)
        piece = Cut(demand.width, length, "across", (piece, rest))
    return replace(piece, times=count)


def joined_to(first: Reserved, laid: Laid, demands: Sequence[Demand]) -> Laid:
    """The whole fabric: the lengths that are cut first, with what is cut beside them, and the rest.
    `demands` are all that are cut from it.

    Bounds: what comes first takes the length that it takes, and the rest at least its own bound,
    with the cloth beside what comes first to be had for nothing.
    """
    if not first.lengths:
        return laid
    beside: dict[str, list[Lay]] = {}
    fixed: list[Lay] = []
    strips: list[Cut] = []
    at_least, proved = 0.0, True
    for lay in laid.lays:
        if lay.cloth == "yardage":
            strips += lay.cut.parts * lay.times
            at_least, proved = lay.bound, lay.proved
        elif lay.stock.startswith(BESIDE):
            beside.setdefault(lay.stock, []).append(lay)
        else:
            fixed.append(lay)
    parts = [
        cut
        for n, one in enumerate(first.lengths)
        for cut in _filled(first.cloth, one, beside.get(f"{BESIDE}{n}", []))
    ]
    taken = sum((part.height * part.times for part in parts), Fraction(0))
    parts += strips
    width = first.cloth.width
    length = sum((part.height * part.times for part in parts), Fraction(0))
    cut = Cut(width, length, "across", tuple(parts))
    counts = counted_in(cut)
    least = sum((counts.get(one.name, 0) * _area(one) for one in demands), Fraction(0)) / width
    whole = Lay(
        first.cloth.fabric,
        "yardage",
        width,
        length,
        cut,
        times=1,
        bound=max(float(least), float(taken) + at_least),
        area_bound=float(least),
        proved=proved,
    )
    return replace(laid, lays=(*fixed, whole))


def _filled(cloth: Cloth, one: Length, fills: Sequence[Lay]) -> list[Cut]:
    """One sort of length, parted by what is cut beside its pieces."""
    bare = one.times - sum(fill.times for fill in fills)
    beside = [(fill.cut, fill.times) for fill in fills]
    if bare:
        beside.append((Cut(one.room, one.length), bare))
    return [
        Cut(
            *(cloth.width, one.length, "length"),
            (*one.cuts, replace(cut, times=1)) if one.room else one.cuts,
            times=times,
        )
        for cut, times in beside
    ]


def _area(demand: Demand) -> Fraction:
    """Square inches of one piece."""
    return demand.height * (demand.width if demand.row is None else demand.row.pitch)
