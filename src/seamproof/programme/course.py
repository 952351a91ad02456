"""The year as a course: what each release teaches, how hard it is, which tools it asks for.

What is learned is read off how the units are made. How hard a block is, is a count that can be
checked by hand; its weights are an assumption of ours, not a measurement.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from seamproof.cutting.model import CuttingList
from seamproof.findings import Finding
from seamproof.piecing.model import PiecingPlan
from seamproof.programme.checks import HARD_EARLY, NO_EASY_ONE, TOO_MUCH_NEW
from seamproof.programme.model import Asked

CORNER_WEIGHT = 3
"""A corner that is set in, and a seam in two goes, count as so many steps at the machine (an
assumption)."""

BIAS_WEIGHT = 2
"""Units with edges on the bias count as so many steps more (an assumption)."""

HARD_SHARE = 4
"""One block in so many counts as hard (an assumption)."""

FEWEST = 3
"""Blocks of which a course is made: fewer have no middle."""

BASICS = ("rotary cutter, mat and ruler", "iron", "pins")
"""Tools of every maker from the first release on (common practice, no source)."""

_BY_METHOD: Mapping[str, str] = {
    "strip sets": "strip sets",
    "stitch-and-flip": "corners sewn and flipped",
    "stitch-and-flip, backs left in": "corners sewn and flipped",
    "logs cut to length": "log cabins",
}
_BY_KIND: Mapping[str, str] = {
    "half-square triangle": "half-square triangles",
    "hourglass": "hourglass units",
    "flying geese": "flying geese",
    "split quarter square": "split quarter squares",
    "half-rectangle triangle": "half-rectangle triangles",
    "square-in-a-square": "squares in squares",
    "economy patch": "economy patches",
    "diamond": "diamonds",
    "diamond row": "diamonds",
    "hexagon": "hexagons",
    "kite": "kites",
    "wedge": "wedges",
    "template": "templates",
}


@dataclass(frozen=True, slots=True)
class Lesson:
    """What one block teaches. `hardness` is its steps at the machine, with weights for corners set
    in, seams in two goes and bias edges."""

    block: str
    techniques: tuple[str, ...]
    tools: tuple[str, ...]
    hardness: int


@dataclass(frozen=True, slots=True)
class Term:
    """One release of the course: what is `new` in it, what was known before, and the `tools` that
    are needed from here on for the first time."""

    release: int
    lessons: tuple[Lesson, ...]
    new: tuple[str, ...]
    known: tuple[str, ...]
    tools: tuple[str, ...]


def lesson(block: str, plan: PiecingPlan, cutting: CuttingList) -> Lesson:
    """What a block teaches, from how it is sewn and cut."""
    techniques: dict[str, None] = {}
    for recipe in cutting.recipes:
        name = _BY_METHOD.get(recipe.method) or _BY_KIND.get(recipe.kind)
        if name is not None:
            techniques[name] = None
    if plan.set_in_points:
        techniques["corners set in"] = None
    if plan.partial_bound:
        techniques["a seam in two goes"] = None
    bias = sum(recipe.bias_edges > 0 for recipe in cutting.recipes)
    hardness = plan.sessions + CORNER_WEIGHT * (plan.set_in_points + plan.partial_bound)
    return Lesson(
        block, tuple(techniques), tuple(_tools(plan, cutting)), hardness + BIAS_WEIGHT * bias
    )


def _tools(plan: PiecingPlan, cutting: CuttingList) -> Iterator[str]:
    if any(step.drawn for step in cutting.steps) or plan.set_in_points:
        yield "marking pencil"
    if any(step.verb == "trim" for step in cutting.steps):
        yield "square ruler with a diagonal line"
    if any(piece.angle is not None for piece in cutting.pieces):
        yield "ruler with lines at an angle"
    if any(piece.shape == "template" for piece in cutting.pieces):
        yield "card for templates"


def course_of(asked: Asked, lessons: Iterable[Lesson]) -> tuple[Term, ...]:
    """The course, release by release; blocks that were not worked out are left out."""
    by_block = {one.block: one for one in lessons}
    learned: dict[str, None] = {}
    tools: dict[str, None] = {}
    found = []
    for n, release in enumerate(asked.releases, start=1):
        here = tuple(by_block[name] for name in release.blocks if name in by_block)
        taught = dict.fromkeys(t for one in here for t in one.techniques)
        asked_for = dict.fromkeys(
            (*(BASICS if n == 1 else ()), *(t for o in here for t in o.tools))
        )
        found.append(
            Term(
                release=n,
                lessons=here,
                new=tuple(t for t in taught if t not in learned),
                known=tuple(t for t in taught if t in learned),
                tools=tuple(t for t in asked_for if t not in tools),
            )
        )
        learned |= taught
        tools |= asked_for
    return tuple(found)


def gentlest(lessons: Iterable[Lesson]) -> tuple[str, ...]:
    """The blocks in an order that brings as few new techniques at a time as can be, easier ones
    first.

    If any order brings no more than one at a time, this one does: what was learned can only help.

    >>> a, b = Lesson("A", ("x", "y"), (), 1), Lesson("B", ("x",), (), 9)
    >>> gentlest([a, b]), gentlest([])
    (('B', 'A'), ())
    """
    left, learned, order = list(lessons), set[str](), []
    while left:
        best = min(left, key=lambda one: (max(1, len({*one.techniques} - learned)), one.hardness))
        left.remove(best)
        learned |= set(best.techniques)
        order.append(best.block)
    return tuple(order)


def course_faults(asked: Asked, terms: Sequence[Term]) -> Iterator[Finding]:
    """Where the course asks too much at once."""
    lessons = [one for term in terms for one in term.lessons]
    order = gentlest(lessons)
    said = False
    for term in terms:
        if len(term.new) > 1:
            yield TOO_MUCH_NEW.found(
                f"release {term.release} brings {len(term.new)} new techniques: "
                f"{', '.join(term.new)}",
                mend=f"the gentlest order of these blocks is {', '.join(order)}"
                if not said
                else "let one of them be taught with another block before",
                where=asked.releases[term.release - 1].where,
            )
            said = True
    hardest = max(lessons, key=lambda one: one.hardness, default=None)
    if hardest is None or len(lessons) < FEWEST:
        return
    first = next(term for term in terms if hardest in term.lessons)
    if first.release <= len(terms) // 2:
        yield HARD_EARLY.found(
            f"{hardest.block} is the hardest block and goes out with release {first.release} "
            f"of {len(terms)}",
            mend="let it come after the middle, when hands have had practice",
            where=asked.releases[first.release - 1].where,
        )
    hard = sorted(lessons, key=lambda one: -one.hardness)[: len(lessons) // HARD_SHARE]
    alone = [t.release for t in terms if len(t.lessons) == 1 and t.lessons[0] in hard]
    if alone:
        told = ", ".join(str(n) for n in alone)
        yield NO_EASY_ONE.found(
            f"hard blocks go out alone, with release {told}",
            mend="an easier block beside a hard one lets everybody finish something",
            where=asked.where,
        )
