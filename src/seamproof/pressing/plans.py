"""Press plans by name: the best one, what the maker fixed, and those worth laying beside them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from seamproof.length.exact import kept
from seamproof.piecing.model import PiecingPlan
from seamproof.plane.model import Point
from seamproof.pressing.choices import runs, seen_along
from seamproof.pressing.choosing import Aim, Chosen, Sum, Term, Worst, area_above, chosen, value
from seamproof.pressing.meetings import meetings
from seamproof.pressing.model import Press, PressPlan, PressSettings, Way, limit_of
from seamproof.pressing.reasons import reasons
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK, Table
from seamproof.pressing.usual import Usual, usual
from seamproof.pressing.wishing import (
    Seams,
    darkness,
    departures,
    direction,
    matched,
    neighbours,
    nesting,
    nests,
    spinnable,
    spinning,
)

THICK = 6
"""From so many layers on a place is thick: two more than four patches sewn open ever have."""

TENTHS = 10
"""Inches of dark behind light are counted in tenths."""

AREA = "thick area"
"""What "flat" asks for in the second place: few square inches of `THICK` layers and more."""


def seams_of(plan: PiecingPlan, tables: Sequence[Table]) -> Seams:
    """The choices of a plan with what meets along each, and the ways that all tables know."""
    listed = runs(plan)
    met, rim = meetings(plan, listed)
    count = 1 + max((run.choice for run in listed), default=-1)
    ways: list[tuple[int, ...]] = [(OPEN, LEFT, RIGHT)] * count
    seen: set[int] = set()
    for table in tables:
        for choice, known in zip(table.seams, table.ways, strict=True):
            before = ways[choice] if choice in seen else known
            ways[choice] = tuple(way for way in before if way in known)
            seen.add(choice)
    return Seams(plan, listed, met, rim, tuple(ways))


@dataclass
class Desk:
    """Everything that a press plan of one block is chosen from: its seams, the tables of layers,
    the project's settings, and the usual rules. Plans are one way per choice."""

    seams: Seams
    tables: tuple[Table, ...]
    settings: PressSettings

    @cached_property
    def values(self) -> Mapping[str, str]:
        """How dark each fabric is, by letter."""
        return dict(self.settings.values)

    @cached_property
    def usual(self) -> tuple[Usual, ...]:
        """What the usual rules say of each choice."""
        return usual(self.seams, self.values)

    @cached_property
    def limit(self) -> int:
        """The greatest count of layers that is neither too many nor too thick."""
        return limit_of(self.settings)

    @cached_property
    def bars(self) -> tuple[Term, ...]:
        """What cannot be pressed: a spun crossing whose seams do not lie round it the same way."""
        return spinning(self.seams)

    @cached_property
    def aims(self) -> tuple[Aim, ...]:
        """The wishes in the project's order; the usual rules decide what they leave open."""
        found = [aim for name in self.settings.wishes for aim in self._aims(name)]
        if "few-rules" not in self.settings.wishes:
            found += self._aims("few-rules")
        return tuple(found)

    def _aims(self, name: str) -> Iterator[Aim]:
        if name == "limit":
            yield area_above(name, self.tables, self.limit)
        elif name == "flat":
            yield Worst(name, self.tables)
            yield area_above(AREA, self.tables, THICK - 1)
        elif name == "nest":
            yield Sum(name, nesting(self.seams))
        elif name == "to-the-dark-side":
            yield Sum(name, darkness(self.seams, self.values), TENTHS)
        elif name == "few-rules":
            yield Sum(name, departures(self.seams, self.usual_ways))
        elif name == "neighbour":
            yield Sum(name, neighbours(self.seams))

    @cached_property
    def usual_ways(self) -> tuple[int, ...]:
        """The plan by the usual rules."""
        return tuple(said.way for said in self.usual)

    # Plans by name --------------------------------------------------------------------------------

    def best(self, ways: Sequence[Sequence[int]] | None = None) -> Chosen:
        """The plan that the wishes ask for, of the ways that are left. No plan if these contradict
        each other at a spun crossing."""
        return chosen(ways or self.seams.ways, self.aims, bars=self.bars)

    def all_open(self) -> tuple[int, ...]:
        """Every seam pressed open."""
        return (OPEN,) * len(self.seams.ways)

    def spun(self) -> tuple[int, ...]:
        """As many crossings spun as can be, the rest by the usual rules."""
        unspun = tuple(
            Term((c,), (ways,), np.array([float(w not in (SPUN, SPUN_BACK)) for w in ways]))
            for c, ways in enumerate(self.seams.ways)
            if SPUN in ways
        )
        rest = Sum("few-rules", departures(self.seams, self.usual_ways))
        return chosen(self.seams.ways, [Sum("spun", unspun), rest], bars=self.bars).plan

    def least_area(self, ways: Sequence[Sequence[int]] | None = None) -> Chosen:
        """The plan with the smallest thick places, however many layers lie there."""
        small, *_ = (aim for aim in self._aims("flat") if aim.name == AREA)
        others = [aim for aim in self.aims if aim.name != AREA]
        return chosen(ways or self.seams.ways, [small, *others], bars=self.bars)

    def nested_first(self) -> Chosen:
        """The plan with the most crossings that nest below the limit, as flat as those allow."""
        nest, limit = list(self._aims("nest")), list(self._aims("limit"))
        asked = {aim.name for aim in (*nest, *limit)}
        others = [aim for aim in self.aims if aim.name not in asked]
        return chosen(self.seams.ways, [*limit, *nest, *others], bars=self.bars)

    # What a plan comes to -------------------------------------------------------------------------

    def layers(self, plan: Sequence[int]) -> int:
        """The most layers of a plan."""
        return int(value(Worst("flat", self.tables), plan))

    def thick_area(self, plan: Sequence[int]) -> float:
        """Square inches of `THICK` layers and more."""
        return value(area_above(AREA, self.tables, THICK - 1), plan)

    def nested(self, plan: Sequence[int]) -> tuple[int, int]:
        """How many crossings of the block nest, and how many there are at which seams match."""
        good = of = 0
        for k, meeting in enumerate(self.seams.meetings):
            along = direction(self.seams.runs[k])
            for crossing in matched(meeting):
                of += self.seams.copies(k)
                if nests(self.seams, crossing, along, plan):
                    good += self.seams.copies(k)
        return good, of

    def as_usual(self, plan: Sequence[int]) -> int:
        """How many choices follow the usual rule."""
        return sum(way == said for way, said in zip(plan, self.usual_ways, strict=True))

    def press_plan(
        self, found: Chosen | tuple[int, ...], fixed: frozenset[int] = frozenset()
    ) -> PressPlan:
        """A plan in the words of the house: a press for every run, with its reason."""
        plan = found.plan if isinstance(found, Chosen) else found
        said = reasons(self.seams, self.aims, self.usual, plan, fixed)
        presses = []
        for k, run in enumerate(self.seams.runs):
            way, spun, clockwise = self._pressed(k, plan[run.choice])
            presses.append(
                Press(
                    run.part,
                    run.run,
                    way,
                    spun,
                    clockwise,
                    run.choice in fixed,
                    plan[run.choice] == self.usual_ways[run.choice],
                    said[k],
                )
            )
        wishes = found.wishes if isinstance(found, Chosen) else ()
        proved = isinstance(found, Chosen) and found.proved
        return PressPlan(tuple(presses), self.missed(plan), wishes, proved)

    def _pressed(self, k: int, way: int) -> tuple[Way, tuple[Point, ...], bool | None]:
        run = self.seams.runs[k]
        if way not in (SPUN, SPUN_BACK):
            return _NAMES[seen_along(way, run.against)], (), None
        turns = spinnable(self.seams.meetings[k])
        clockwise = (way == SPUN) == (not run.against or len(turns) % 2 == 1)
        # Whoever walks up to a crossing that turns clockwise from the back has the vane right.
        side: Way = "right" if clockwise else "left"
        return side, tuple((kept(c.at[0]), kept(c.at[1])) for c in turns), clockwise

    def missed(self, plan: Sequence[int]) -> tuple[str, ...]:
        """What could not be had, in sentences."""
        found = []
        layers = self.layers(plan)
        if layers > self.limit:
            area = value(area_above("limit", self.tables, self.limit), plan)
            found.append(
                f"{layers} layers lie at the worst place, more than the limit of {self.limit}; "
                f"{area:.3f} sq in of the block are above it."
            )
        nested, crossings = self.nested(plan)
        if nested < crossings:
            found.append(
                f"{crossings - nested} of {crossings} crossings do not nest: pin them on both "
                "sides of the seams that meet."
            )
        dark = value(Sum("dark", darkness(self.seams, self.values), TENTHS), plan)
        if dark:
            found.append(f"Darker cloth lies behind lighter along {dark:.1f} in of seam.")
        return tuple(found)


_NAMES: dict[int, Way] = {OPEN: "open", LEFT: "left", RIGHT: "right"}


@dataclass(frozen=True, slots=True)
class Compared:
    """One plan beside others: the most layers, square inches of `THICK` layers and more, crossings
    that nest out of all, and choices that follow the usual rule out of all."""

    name: str
    plan: PressPlan
    ways: tuple[int, ...]
    layers: int
    thick_area: float
    nested: int
    crossings: int
    usual: int
    choices: int


def compared(
    desk: Desk,
    ways: Sequence[Sequence[int]] | None = None,
    fixed: frozenset[int] = frozenset(),
) -> tuple[Compared, ...]:
    """The plans worth laying side by side: by the usual rules, all open, spun where possible (if
    anything can be spun), the best, the one with the least thick area where that costs layers, the
    one that asks for nesting before flatness where more crossings nest by it, and the maker's own
    with what is fixed (if anything is)."""
    best, nesting_first = desk.best(), desk.nested_first()
    small = desk.least_area()
    plans: list[tuple[str, Chosen | tuple[int, ...], frozenset[int]]] = [
        ("usual rules", desk.usual_ways, frozenset()),
        ("all open", desk.all_open(), frozenset()),
    ]
    if any(SPUN in known for known in desk.seams.ways):
        plans.append(("spun where possible", desk.spun(), frozenset()))
    plans.append(("best", best, frozenset()))
    if _conflict(desk, best.plan, small.plan):
        plans.append(("least thick area", small, frozenset()))
    if desk.nested(nesting_first.plan) > desk.nested(best.plan):
        plans.append(("nested first", nesting_first, frozenset()))
    if fixed:
        plans.append(("mine", desk.best(ways), fixed))
    found = []
    for name, made, kept_fixed in plans:
        if isinstance(made, Chosen) and not made.possible:
            continue
        plan = made.plan if isinstance(made, Chosen) else made
        nested, crossings = desk.nested(plan)
        found.append(
            Compared(
                name,
                desk.press_plan(made, kept_fixed),
                plan,
                desk.layers(plan),
                desk.thick_area(plan),
                nested,
                crossings,
                desk.as_usual(plan),
                len(plan),
            )
        )
    return tuple(found)


def _conflict(desk: Desk, best: Sequence[int], small: Sequence[int]) -> bool:
    """Whether fewer layers and less thick area cannot be had together."""
    fewer = desk.layers(best) < desk.layers(small)
    return fewer and desk.thick_area(small) < desk.thick_area(best)
