"""What the maker fixed, brought from the block's frame to the choices."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.draft.checks import place_name
from seamproof.draft.model import Block, Fixing
from seamproof.findings import Finding, Where
from seamproof.piecing.leaves import in_its_frame, parts_in
from seamproof.plane.model import Line, Placed, Point
from seamproof.plane.predicates import cross, distance, placed, same_point, side
from seamproof.pressing.checks import CANNOT_SPIN, CONTRADICTION, NOT_GIVEN, TWO_LINES
from seamproof.pressing.choices import seen_along
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK
from seamproof.pressing.wishing import Seams, spinnable


@dataclass(frozen=True, slots=True)
class Given:
    """What is left to each choice once the maker's word is kept, and which choices were fixed.
    `findings` say what contradicts itself; then `ways` are those without the fixings at fault."""

    ways: tuple[tuple[int, ...], ...]
    fixed: frozenset[int]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class _Asked:
    ways: tuple[int, ...]
    fixing: Fixing


def in_block(seams: Seams) -> tuple[tuple[Placed, ...], ...]:
    """Where every run lies in the block: the placings of its part, for every copy."""
    of_part: dict[int, list[Placed]] = {}
    for here in parts_in(seams.plan, in_its_frame(seams.plan.whole)):
        of_part.setdefault(here.part, []).append(here)
    return tuple(tuple(of_part.get(run.part, ())) for run in seams.runs)


def line_in_block(line: Line, where: Placed) -> Line:
    """A line of a part, where it lies in the block."""
    a, b = (placed(p, where.turn, where.at) for p in line)
    return a, b


def given(block: Block, seams: Seams) -> Given:
    """The fixings of a block, choice by choice.

    A seam is pressed from its first stitch to its last: fixing a stretch of it fixes all of it, and
    fixing a line fixes every seam in it.
    """
    fixings = [fixing for fixing in block.fixings if fixing.way != "last"]
    findings = list(_crossed(block.name, fixings))
    asked: dict[int, list[_Asked]] = {}
    places = in_block(seams) if fixings else ()
    for fixing in fixings:
        found: list[tuple[int, tuple[int, ...]]] = []
        for k, copies in enumerate(places):
            for where in copies:
                ways = _asked(fixing, seams, k, where)
                if ways:
                    found.append((seams.runs[k].choice, ways))
        if fixing.crossing is not None and not any(
            way in seams.ways[choice] for choice, ways in found for way in ways
        ):
            findings.append(_cannot_spin(block.name, fixing, fixing.crossing))
            continue
        for choice, ways in found:
            asked.setdefault(choice, []).append(_Asked(ways, fixing))
    left = list(seams.ways)
    for choice, wanted in asked.items():
        ways = tuple(w for w in left[choice] if all(w in one.ways for one in wanted))
        if ways:
            left[choice] = ways
        else:
            findings.append(_contradiction(block.name, wanted))
    return Given(tuple(left), frozenset(asked), tuple(dict.fromkeys(findings)))


def impossible(block: Block) -> Finding:
    """What to say when each fixing alone is fine and all together cannot be pressed: only where a
    crossing is spun do seams depend on each other."""
    spun = [fixing for fixing in block.fixings if fixing.way == "spin"]
    at = spun[0].crossing if spun else None
    place = f" at {place_name(at)}" if at else ""
    return CONTRADICTION.found(
        f"the crossing{place} is to be spun, but seams that end there are fixed so that they do "
        "not lie round it the same way",
        mend="fix all seams that end there the same way round, or leave them to the program",
        where=replace(spun[0].where if spun else Where(), block=block.name, at=at),
    )


def not_given(block: str, seams: Seams, fixed: Sequence[int] | frozenset[int]) -> list[Finding]:
    """A finding for every seam that nothing is said about, at its first place in the block."""
    places = in_block(seams)
    found: dict[int, Finding] = {}
    for k, run in enumerate(seams.runs):
        if run.choice in fixed or run.choice in found or not places[k]:
            continue
        a, b = line_in_block(run.line, places[k][0])
        found[run.choice] = NOT_GIVEN.found(
            f"nothing is said about the seam from {place_name(a)} to {place_name(b)}",
            mend="name it under `press`, or let the program choose",
            where=Where(block=block, at=a),
        )
    return list(found.values())


def _asked(fixing: Fixing, seams: Seams, k: int, where: Placed) -> tuple[int, ...]:
    """The ways that a fixing leaves to a run in one of its places; () if it is not about it."""
    run = seams.runs[k]
    if fixing.line is not None:
        a, b = line_in_block(run.line, where)
        if not _shares(fixing.line, (a, b)):
            return ()
        if fixing.way == "open" or fixing.towards is None:
            return (OPEN,)
        to_right = side(a, b, fixing.towards) > 0
        return (seen_along(RIGHT if to_right else LEFT, run.against),)
    if fixing.crossing is None:
        return ()
    turns = spinnable(seams.meetings[k])
    for number, crossing in enumerate(turns):
        spot = _point(crossing.at)
        if same_point(placed(spot, where.turn, where.at), fixing.crossing):
            if fixing.clockwise is None:
                return (SPUN, SPUN_BACK)
            from_first = len(turns) - 1 - number if run.against else number
            return (SPUN,) if fixing.clockwise == (from_first % 2 == 0) else (SPUN_BACK,)
    return ()


def _point(spot: tuple[float, float]) -> Point:
    return Fraction(spot[0]), Fraction(spot[1])


def _shares(line: Line, other: Line) -> bool:
    """Whether two lines lie along each other for more than a point."""
    if side(*line, other[0]) or side(*line, other[1]):
        return False
    length = distance(*line)
    ux, uy = (float(line[1][k] - line[0][k]) / length for k in (0, 1))
    ends = sorted(float(p[0] - line[0][0]) * ux + float(p[1] - line[0][1]) * uy for p in other)
    return min(ends[1], length) - max(ends[0], 0.0) > NEAR


def _crossed(block: str, fixings: Sequence[Fixing]) -> list[Finding]:
    """Lines that are each to be sewn as one seam and run through each other."""
    found = []
    lines = [fixing for fixing in fixings if fixing.line is not None]
    for one, other in itertools.combinations(lines, 2):
        at = _through(one.line, other.line) if one.line and other.line else None
        if at is not None:
            found.append(
                TWO_LINES.found(
                    f"two lines that are each fixed as one seam cross at {place_name(at)}; only "
                    "one of them can run through there",
                    mend="fix one of the two in two pieces, up to the crossing and from there on",
                    where=replace(other.where, block=block, at=at),
                )
            )
    return found


def _through(one: Line, other: Line) -> Point | None:
    """Where two lines cross each other inside both."""
    sides = (side(*one, other[0]), side(*one, other[1]))
    others = (side(*other, one[0]), side(*other, one[1]))
    if sides[0] * sides[1] >= 0 or others[0] * others[1] >= 0:
        return None
    a, b = cross(*other, one[0]), cross(*other, one[1])
    t = a / (a - b)
    (ax, ay), (bx, by) = one
    return ax + t * (bx - ax), ay + t * (by - ay)


def _cannot_spin(block: str, fixing: Fixing, at: Point) -> Finding:
    return CANNOT_SPIN.found(
        f"the crossing at {place_name(at)} cannot be spun: the seam that is sewn last does not run "
        "on through it with seams ending on both sides",
        mend="press the seams there open, or to one side",
        where=replace(fixing.where, block=block, at=at),
    )


def _contradiction(block: str, wanted: Sequence[_Asked]) -> Finding:
    one, other = wanted[0].fixing, wanted[-1].fixing
    for a, b in itertools.combinations(wanted, 2):
        if not set(a.ways) & set(b.ways):
            one, other = a.fixing, b.fixing
            break
    return CONTRADICTION.found(
        f"one seam is to be pressed in two ways: {_told(one)}, and {_told(other)}; it is sewn in "
        "one go, and all its copies are pressed alike",
        mend="leave one of the two out, or fix only seams that are sewn apart",
        where=replace(other.where, block=block, at=other.crossing or (other.line or (None,))[0]),
    )


def _told(fixing: Fixing) -> str:
    if fixing.crossing is not None:
        return f"spun at {place_name(fixing.crossing)}"
    place = (
        f"from {place_name(fixing.line[0])} to {place_name(fixing.line[1])}" if fixing.line else ""
    )
    if fixing.towards is not None and fixing.way == "towards":
        return f"{place} towards {place_name(fixing.towards)}"
    return f"{place} open"
