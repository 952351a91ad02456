"""How the trade presses a seam when nothing else decides: the usual rules, and which one a seam
falls under."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from seamproof.piecing.leaves import all_leaves
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan, Whole
from seamproof.plane.predicates import area, turned
from seamproof.pressing.choices import Run, seen_along
from seamproof.pressing.meetings import Stem
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK
from seamproof.pressing.wishing import Seams, direction, lying, matched, shadows, spinnable

MANY_POINTS = 8
"""So many patches meet where the trade calls a crossing bulky and presses it open (facts: two blog
statements, mixed)."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A usual rule: `name` as in the documentation, `says` what it does to a seam, `source` a row
    of the table of published facts (F…) or how else it is known."""

    name: str
    says: str
    source: str


PRACTICE = "common practice, no source"

RULES = {
    rule.name: rule
    for rule in (
        Rule("to the dark side", "to the darker cloth", "F464"),
        Rule("strips one way", "all seams of a row the same way", PRACTICE),
        Rule("rows alternate", "opposite to the row beside it, so that the seams nest", "F466"),
        Rule("away from bulk", "to the side where fewer seams end", PRACTICE),
        Rule("long seams one way", "all long seams the same way", PRACTICE),
        Rule("log cabin", "away from the centre", PRACTICE),
        Rule("geese", "to the small triangles", PRACTICE),
        Rule("corners", "outwards, to the corner", PRACTICE),
        Rule("hourglass", "spun, so that the middle lies flat", "F465"),
        Rule("hourglass pairs", "all pairs the same way round, or they cannot be spun", "F469"),
        Rule("unspun", "open, because it cannot be spun here", PRACTICE),
        Rule("many points", "open, because so many points meet", PRACTICE),
        Rule("set in", "away from the piece that is set in", PRACTICE),
        Rule("two goes", "away from the piece in the middle", PRACTICE),
        Rule("sashing", "to the sashing", PRACTICE),
    )
}
"""The usual rules by name."""


@dataclass(frozen=True, slots=True)
class Usual:
    """The usual way of one choice, and the rule that says so."""

    way: int
    rule: Rule


_OUTWARDS = {
    "flying geese": "geese",
    "snowball": "corners",
    "square-in-a-square": "corners",
    "economy patch": "corners",
}
"""Units in which each seam is pressed to its smaller side."""

_DARK = {"half-square triangle", "half-rectangle triangle"}


def usual(seams: Seams, values: Mapping[str, str]) -> tuple[Usual, ...]:
    """The usual way of every choice. `values` tell how dark each fabric is; letters without one
    are neither."""
    return _Habit(seams, values).found()


@dataclass
class _Habit:
    seams: Seams
    values: Mapping[str, str]

    @property
    def plan(self) -> PiecingPlan:
        return self.seams.plan

    @cached_property
    def first_run(self) -> dict[int, int]:
        """Per choice the first run that it decides."""
        return {choice: runs[0] for choice, runs in self.runs_of_choice.items()}

    @cached_property
    def runs_of_choice(self) -> dict[int, list[int]]:
        """Per choice the runs that it decides."""
        found: dict[int, list[int]] = {}
        for k, run in enumerate(self.seams.runs):
            found.setdefault(run.choice, []).append(k)
        return found

    @cached_property
    def runs_of_part(self) -> dict[int, list[int]]:
        """Per part its runs."""
        found: dict[int, list[int]] = {}
        for k, run in enumerate(self.seams.runs):
            found.setdefault(run.part, []).append(k)
        return found

    @cached_property
    def unit_kind(self) -> dict[int, str]:
        """The kind of the innermost unit that a part is sewn in."""
        kind: dict[int, str] = {}
        for unit in self.plan.units:
            todo = [unit.part]
            while todo:
                part = todo.pop()
                if part in kind:
                    continue
                made = self.plan.parts[part].made
                if isinstance(made, Join):
                    kind[part] = unit.kind
                    todo += [made.left.part, made.right.part]
                elif isinstance(made, Finish):
                    kind[part] = unit.kind
                    todo.append(made.of.part)
        return kind

    @cached_property
    def holds_blocks(self) -> list[bool]:
        """Whether a part has whole blocks in it."""
        found: list[bool] = []
        for part in self.plan.parts:
            match part.made:
                case Join(left, right):
                    found.append(found[left.part] or found[right.part])
                case Finish(of):
                    found.append(found[of.part])
                case made:
                    found.append(isinstance(made, Whole))
        return found

    @cached_property
    def points_at(self) -> dict[int, int]:
        """Per run the most patches that meet at one of its ends inside the block."""
        most: dict[int, int] = {}
        for meeting in self.seams.meetings:
            for crossing in meeting.crossings:
                stems = (*crossing.left, *crossing.right)
                for stem in stems:
                    most[stem.run] = max(most.get(stem.run, 0), len(stems) + 2)
        return most

    def found(self) -> tuple[Usual, ...]:
        result: dict[int, Usual] = {}
        rows: list[int] = []
        spun: list[int] = []
        for choice, k in self.first_run.items():
            run = self.seams.runs[k]
            kind = self.unit_kind.get(run.part, "")
            if kind == "hourglass" and spinnable(self.seams.meetings[k]):
                spun.append(choice)
                continue
            direct = self._direct(k, run, kind)
            if direct is None:
                rows.append(choice)
            else:
                result[choice] = Usual(seen_along(direct[0], run.against), RULES[direct[1]])
        result.update(self._rows(rows))
        for choice in spun:
            result[choice] = self._spun(self.first_run[choice], result)
        return tuple(
            self._allowed(choice, result[choice]) for choice in range(len(self.seams.ways))
        )

    def _allowed(self, choice: int, said: Usual) -> Usual:
        return said if said.way in self.seams.ways[choice] else Usual(OPEN, RULES["unspun"])

    def _direct(self, k: int, run: Run, kind: str) -> tuple[int, str] | None:
        """The way, in the direction of the run, of a seam that its own two sides decide."""
        made = self.plan.parts[run.part].made
        if not isinstance(made, Join):
            return None
        left, right = made.left.part, made.right.part
        sizes = [area(self.plan.parts[part].outline) for part in (left, right)]
        if self.holds_blocks[left] != self.holds_blocks[right]:
            return (RIGHT if self.holds_blocks[left] else LEFT), "sashing"
        if kind in _OUTWARDS:
            return (LEFT if sizes[0] < sizes[1] else RIGHT), _OUTWARDS[kind]
        if kind == "log cabin":
            return (LEFT if self._added(left, right) else RIGHT), "log cabin"
        if kind in _DARK and self.points_at.get(k, 0) >= MANY_POINTS:
            return OPEN, "many points"
        if kind == "hourglass":
            return (self._dark(k) or LEFT), "hourglass pairs"
        if made.set_in:
            one, other = (isinstance(self.plan.parts[p].made, Leaf) for p in (left, right))
            if one != other:
                return (RIGHT if one else LEFT), "set in"
        if made.partial:
            return (LEFT if sizes[0] > sizes[1] else RIGHT), "two goes"
        dark = self._dark(k)
        if (kind in _DARK or made.set_in) and dark:
            return dark, "to the dark side"
        return None

    def _added(self, left: int, right: int) -> bool:
        """Whether the left of two parts of a log cabin is the log."""
        counts = [len(all_leaves(self.plan, part)) for part in (left, right)]
        if counts[0] != counts[1]:
            return counts[0] < counts[1]
        return self._slender(left) > self._slender(right)

    def _slender(self, part: int) -> float:
        spots = self.plan.parts[part].outline
        sides = [math.dist(a, b) for a, b in zip(spots, [*spots[1:], spots[0]], strict=True)]
        return max(sides) / min(sides)

    def _dark(self, k: int) -> int:
        """The side of a run with no darker cloth behind lighter, OPEN (0) if both are alike."""
        left, right = shadows(self.seams.meetings[k], self.values)
        return OPEN if left == right else (LEFT if left < right else RIGHT)

    def _spun(self, k: int, known: Mapping[int, Usual]) -> Usual:
        """A long seam of an hourglass turns as its halves were pressed."""
        crossing = spinnable(self.seams.meetings[k])[0]
        lies = 0
        for stem in (*crossing.left, *crossing.right):
            said = known.get(self.seams.runs[stem.run].choice)
            lies += lying(self.seams, stem, said.way) if said else 0
        way = SPUN if lies <= 0 else SPUN_BACK
        return Usual(way, RULES["hourglass"])

    # Rows: seams that have to agree with each other -----------------------------------------------

    def _rows(self, rows: Sequence[int]) -> dict[int, Usual]:
        links = self._links(rows)
        ways: dict[int, int] = {}
        rule: dict[int, str] = {}
        todo: deque[int] = deque()
        for choice in rows:
            way = self._from_bulk(self.first_run[choice])
            if way:
                ways[choice], rule[choice] = way, "away from bulk"
                todo.append(choice)
        self._spread(todo, links, ways, rule)
        for choice in rows:
            if choice in ways:
                continue
            trial: dict[int, int] = {choice: LEFT}
            named: dict[int, str] = {}
            self._spread(deque([choice]), links, trial, named, ways)
            votes = 0.0
            for member, way in trial.items():
                votes += self._vote(member, way)
            turn = votes < 0
            for member, way in trial.items():
                ways[member] = seen_along(way, turn)
                rule[member] = named.get(member, self._alone(member, bool(votes)))
        return {choice: Usual(ways[choice], RULES[rule[choice]]) for choice in rows}

    def _alone(self, choice: int, dark: bool) -> str:
        if self._long(choice):
            return "long seams one way"
        return "to the dark side" if dark and self._vote(choice, LEFT) else "strips one way"

    def _long(self, choice: int) -> bool:
        return bool(matched(self.seams.meetings[self.first_run[choice]]))

    def _vote(self, choice: int, way: int) -> float:
        """Inches that speak for a way (below nothing: against it): no dark cloth behind light."""
        found = 0.0
        for k in self.runs_of_choice[choice]:
            left, right = shadows(self.seams.meetings[k], self.values)
            gain = (right - left) * self.seams.copies(k)
            found += gain if seen_along(way, self.seams.runs[k].against) == LEFT else -gain
        return found

    def _from_bulk(self, k: int) -> int:
        """The side of a run where fewer seams end (in its choice's direction), OPEN (0) if neither.
        Seams that match across it do not count."""
        left = right = 0
        for crossing in self.seams.meetings[k].crossings:
            if crossing.inside and not crossing.pairs:
                left += len(crossing.left)
                right += len(crossing.right)
        if left == right:
            return OPEN
        return seen_along(LEFT if left < right else RIGHT, self.seams.runs[k].against)

    def _links(self, rows: Sequence[int]) -> dict[int, list[tuple[int, bool, str]]]:
        """Which choices have to agree: (other, whether it must lie the other way in its own
        direction, the rule)."""
        links: dict[int, list[tuple[int, bool, str]]] = {choice: [] for choice in rows}

        def link(one: int, other: int, turned_round: bool, name: str) -> None:
            if one != other and one in links and other in links:
                links[one].append((other, turned_round, name))
                links[other].append((one, turned_round, name))

        for k, run in enumerate(self.seams.runs):
            along = direction(run)
            for crossing in matched(self.seams.meetings[k]):
                for one, other in crossing.pairs:
                    a, b = (self.seams.runs[s.run].choice for s in (one, other))
                    # Both pressed left of their own direction: do they lie the same way along?
                    same = self._lies(one, along) * self._lies(other, along) > 0
                    link(a, b, same, "rows alternate")
        for k, run in enumerate(self.seams.runs):
            inner = self._parallel_inside(k)
            if inner is not None:
                before, against = inner
                name = "long seams one way" if self._long(run.choice) else "strips one way"
                link(run.choice, self.seams.runs[before].choice, against, name)
        return links

    def _lies(self, stem: Stem, along: tuple[float, float]) -> float:
        right = lying(self.seams, stem, LEFT)
        return right * (-stem.away[1] * along[0] + stem.away[0] * along[1])

    def _parallel_inside(self, k: int) -> tuple[int, bool] | None:
        """The run of the seam sewn just before in one of the two sides, if it lies parallel; and
        whether its choice's direction is against this one's."""
        run = self.seams.runs[k]
        made = self.plan.parts[run.part].made
        if not isinstance(made, Join):
            return None
        x, y = direction(run)
        for side in (made.left, made.right):
            for j in self.runs_of_part.get(side.part, ()):
                other = self.seams.runs[j]
                (ax, ay), (bx, by) = other.line
                u, v = (float(t) for t in turned((bx - ax, by - ay), side.turn))
                if abs(x * v - y * u) <= 1e-6 * math.hypot(x, y) * math.hypot(u, v):
                    against = x * u + y * v < 0
                    return j, against != (run.against != other.against)
        return None

    @staticmethod
    def _spread(
        todo: deque[int],
        links: Mapping[int, Sequence[tuple[int, bool, str]]],
        ways: dict[int, int],
        rule: dict[int, str],
        taken: Mapping[int, int] | None = None,
    ) -> None:
        """Hands a way on to all that have to agree and have none yet."""
        while todo:
            choice = todo.popleft()
            for other, turned_round, name in links[choice]:
                if other not in ways and other not in (taken or {}):
                    ways[other] = seen_along(ways[choice], turned_round)
                    rule[other] = name
                    todo.append(other)
