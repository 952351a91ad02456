"""Places above the limit, and the cheapest change that makes them thinner."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from seamproof.draft.checks import place_name, towards_words
from seamproof.findings import Finding, Where
from seamproof.length.exact import kept
from seamproof.plane.model import Point
from seamproof.pressing.checks import LEAST_POSSIBLE, NOT_PROVED, TOO_MANY_LAYERS, TOO_THICK
from seamproof.pressing.choices import seen_along
from seamproof.pressing.fixing import in_block, line_in_block
from seamproof.pressing.model import PressPlan
from seamproof.pressing.plans import Desk
from seamproof.pressing.tables import LEFT, OPEN, SPUN, SPUN_BACK, Table

AT_ONCE = 3
"""Changes of more seams at once are not looked for: that is another plan."""


def above_limit(block: str, desk: Desk, plan: Sequence[int]) -> list[Finding]:
    """A finding for every place that is above the limit, the worst first."""
    places: dict[tuple[float, float], tuple[int, Table]] = {}
    for table in desk.tables:
        layers = int(table.most[table.row(plan) or 0])
        if layers > desk.limit and layers > places.get(table.at, (0, table))[0]:
            places[table.at] = (layers, table)
    thick = sorted(places.values(), key=lambda pair: (-pair[0], pair[1].at))
    return [_finding(block, desk, plan, layers, table) for layers, table in thick]


def unproved(block: str, plan: PressPlan) -> list[Finding]:
    """A finding if the search stopped before every wish was proved."""
    gaps = [wish for wish in plan.wishes if wish.value != wish.bound]
    if not gaps:
        return []
    told = "; ".join(f"{w.name} {w.value:g}, where {w.bound:g} may be possible" for w in gaps)
    return [
        NOT_PROVED.found(
            f"the search stopped at its limit: {told}",
            mend="the plan can be sewn as it is; fix a few seams to shorten the search",
            where=Where(block=block),
        )
    ]


def _finding(block: str, desk: Desk, plan: Sequence[int], layers: int, table: Table) -> Finding:
    at: Point = (kept(table.at[0]), kept(table.at[1]))
    where = Where(block=block, at=at)
    millimetres = layers * desk.settings.cloth_mm
    what = f"{layers} layers ({millimetres:.2f} mm) lie at {place_name(at)}"
    if table.copies > 1:
        what += f" and {table.copies - 1} more places like it"
    by_count = layers > desk.settings.limit
    limit = (
        f"the limit is {desk.settings.limit} layers"
        if by_count
        else f"the limit is {desk.settings.limit_mm:g} mm"
    )
    least = _least(desk, table)
    if least >= layers:
        return LEAST_POSSIBLE.found(
            f"{what}; {limit}, and no way of pressing makes it fewer",
            mend="sew slowly over it, mark it for whoever quilts the top, or draw fewer points "
            "together",
            where=where,
        )
    kind = TOO_MANY_LAYERS if by_count else TOO_THICK
    change = cheapest_change(desk, plan, table)
    if change is None:
        mend = f"at best {least} layers can lie there, with more than {AT_ONCE} seams changed"
    else:
        then = list(plan)
        for choice, way in change:
            then[choice] = way
        after = int(table.most[table.row(then) or 0])
        told = ", and ".join(_told(desk, choice, way) for choice, way in change)
        mend = f"press {told}: {after} layers are left"
    return kind.found(f"{what}; {limit}", mend=mend, where=where)


def _least(desk: Desk, table: Table) -> int:
    """The fewest layers that any plan has at a table's place."""
    return min(int(table.most[row]) for row in _rows(desk, table))


def _rows(desk: Desk, table: Table) -> Iterator[int]:
    """The rows of a table that allowed ways lead to."""
    known = [[w for w in desk.seams.ways[c] if w in ways] for c, ways in _columns(table)]
    for ways in itertools.product(*known):
        row = 0
        for way, (_, all_ways) in zip(ways, _columns(table), strict=True):
            row = row * len(all_ways) + all_ways.index(way)
        yield row


def _columns(table: Table) -> list[tuple[int, tuple[int, ...]]]:
    return list(zip(table.seams, table.ways, strict=True))


def cheapest_change(
    desk: Desk, plan: Sequence[int], table: Table
) -> tuple[tuple[int, int], ...] | None:
    """The fewest choices of a table, each with its new way, that bring its place to the limit or
    else lower it most, without making another place above the limit worse. None if up to
    `AT_ONCE` choices cannot."""
    now = int(table.most[table.row(plan) or 0])
    others = [t for t in desk.tables if t is not table and set(t.seams) & set(table.seams)]
    found: tuple[int, tuple[tuple[int, int], ...]] | None = None
    for count in range(1, min(AT_ONCE, len(table.seams)) + 1):
        for choices in itertools.combinations(table.seams, count):
            ways = [[w for w in desk.seams.ways[c] if w != plan[c]] for c in choices]
            for new in itertools.product(*ways):
                then = list(plan)
                for choice, way in zip(choices, new, strict=True):
                    then[choice] = way
                layers = int(table.most[table.row(then) or 0])
                if layers >= (found[0] if found else now) or _barred(desk, then):
                    continue
                if all(
                    int(t.most[t.row(then) or 0]) <= max(desk.limit, int(t.most[t.row(plan) or 0]))
                    for t in others
                ):
                    found = layers, tuple(zip(choices, new, strict=True))
        if found and found[0] <= desk.limit:
            break
    return found[1] if found else None


def _barred(desk: Desk, plan: Sequence[int]) -> bool:
    for bar in desk.bars:
        row = 0
        for seam, ways in zip(bar.seams, bar.ways, strict=True):
            row = row * len(ways) + ways.index(plan[seam])
        if bar.costs[row]:
            return True
    return False


def _told(desk: Desk, choice: int, way: int) -> str:
    """A seam and its way in words, at its first place in the block."""
    k = next(k for k, run in enumerate(desk.seams.runs) if run.choice == choice)
    run = desk.seams.runs[k]
    a, b = line_in_block(run.line, in_block(desk.seams)[k][0])
    seam = f"the seam from {place_name(a)} to {place_name(b)}"
    if way == OPEN:
        return f"{seam} open"
    if way in (SPUN, SPUN_BACK):
        return f"{seam} spun"
    (ax, ay), (bx, by) = a, b
    left = seen_along(way, run.against) == LEFT
    # Left of somebody who walks along (x, y) is (y, -x), y downwards.
    x, y = (by - ay, ax - bx) if left else (ay - by, bx - ax)
    return f"{seam} {towards_words(x, y)}"
