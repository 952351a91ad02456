"""Lists of pieces and cloths for tests of how cloth is laid, and the smallest plans by trying all.

The brute force here knows nothing of the engine: it packs pieces into strips one by one.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from hypothesis import strategies as st

from seamproof.cloth.model import Cloth, Demand, Fixed, Row

WIDTH = Fraction(40)

DIAMONDS = Row(Fraction(3), Fraction(17, 4), 45.0)
"""45° diamonds from strips 3 in high."""

sides = st.integers(8, 8 * 16).map(lambda n: Fraction(n, 8))


@st.composite
def demands(draw: st.DrawFn, most: int = 8, copies: int = 40) -> tuple[Demand, ...]:
    """A few kinds of piece, some that may be turned, some in rows with slanted cuts."""
    made = []
    for n in range(draw(st.integers(1, most))):
        count = draw(st.integers(1, copies))
        if draw(st.integers(0, 5)) == 0:
            made.append(Demand(f"A{n}", Fraction(0), Fraction(3), count, row=DIAMONDS))
        else:
            made.append(Demand(f"A{n}", draw(sides), draw(sides), count, draw(st.booleans())))
    return tuple(made)


@st.composite
def cloths(draw: st.DrawFn) -> Cloth:
    """Cloth by length, fixed pieces, leftovers on the shelf, in every company."""
    yardage = draw(st.booleans())
    quarter = Fixed("fat quarter", Fraction(21), Fraction(18), draw(st.none() | st.integers(0, 5)))
    scrap = Fixed("scrap", Fraction(9), Fraction(31), draw(st.integers(0, 3)))
    fixed = (quarter,) if not yardage or draw(st.booleans()) else ()
    return Cloth("a", WIDTH, yardage, fixed, (scrap,) if draw(st.booleans()) else ())


def pieces(*sizes: tuple[int, int, int], turn: bool = False) -> tuple[Demand, ...]:
    """Demands from (width, height, count)."""
    return tuple(
        Demand(f"A{n}", Fraction(w), Fraction(h), count, turn)
        for n, (w, h, count) in enumerate(sizes)
    )


def shortest(sizes: list[tuple[int, int]], width: int, *, turn: bool = False) -> int:
    """The least length of strips with cross-cuts for single pieces (width, height)."""

    @cache
    def least(left: tuple[tuple[int, int], ...]) -> int:
        if not left:
            return 0
        found = []
        for height in {h for w, h in left} | ({w for w, h in left} if turn else set()):
            found += [height + least(r) for r in fillings(left, height, width) if r != left]
        return min(found, default=1 << 30)

    def fillings(
        left: tuple[tuple[int, int], ...], height: int, room: int
    ) -> set[tuple[tuple[int, int], ...]]:
        if not left:
            return {()}
        first, others = left[0], left[1:]
        found = {tuple(sorted((first, *rest))) for rest in fillings(others, height, room)}
        for w, h in {first, first[::-1]} if turn else {first}:
            if h <= height and w <= room:
                found |= fillings(others, height, room - w)
        return found

    return least(tuple(sorted(sizes)))
