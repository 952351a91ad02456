"""The piecing plan of a block: its order of sewing, from the patches to the whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamproof.draft.model import Block
from seamproof.findings import Finding, Where
from seamproof.piecing.assembling import assemble
from seamproof.piecing.checks import CORNER_SET_IN, NOT_LAST, NOT_WHOLE, TWO_GOES
from seamproof.piecing.choosing import Choice, choose
from seamproof.piecing.cores import fewest_stops
from seamproof.piecing.cuts import CORE_EFFORT, Breadth, Grid, Kinds, broken, grid_of, survey
from seamproof.piecing.model import Finish, PiecingPlan
from seamproof.piecing.regions import Region, chords, code, split
from seamproof.piecing.shapes import Layout, lay_out
from seamproof.piecing.units import recognise

SEARCH_PATCHES = 150
"""Blocks with more patches than this are cut at their middle seams without a search: every kind of
region of a larger block takes longer to list than a maker waits."""

HABIT_PRICE = 1.1
"""The habit of the trade (units, then rows, then the block) is kept while it costs no more than a
tenth more steps at the machine."""


def plan(block: Block, *, search: bool = True) -> tuple[PiecingPlan, tuple[Finding, ...]]:
    """The best order of sewing a block, and what there is to say about it.

    Straight seams wherever the drawing allows; equal parts once; the fewest things to do at the
    machine. Without `search` the block is cut at its middle seams: the same kind of plan at once,
    with perhaps more to do at the machine. Corners are set in only where no seam can run straight,
    seams are sewn in two goes only where they wait for each other in a ring; the notes say where.
    """
    layout = lay_out(block)
    whole = frozenset(range(len(block.patches)))
    grid = grid_of(layout, whole)
    kinds, choice, in_rows = _search(layout, grid, whole, search=search)
    made = assemble(kinds, choice, grid)
    corners = set_in_points(layout)
    drawn = PiecingPlan(
        parts=made.parts,
        units=(),
        rows=made.rows,
        rounds=made.rounds,
        patches=len(block.patches),
        sessions_bound=choice.bound,
        partial_bound=_fewest_stops(layout, whole) if kinds.cored else 0,
        set_in_points=len(corners),
        sessions_in_rows=in_rows,
    )
    notes = (
        *_notes(layout, corners, drawn),
        *_unmet(block, kinds.unmet),
        *_not_whole(block, kinds, choice),
    )
    return replace(drawn, units=recognise(drawn)), notes


def _fewest_stops(layout: Layout, whole: Region) -> int:
    """No plan sews fewer seams in two goes; equal cores are looked at once."""
    bounds: dict[tuple[int, ...], int] = {}
    total = 0
    for core in (region for region in undivided(layout, whole) if len(region) > 1):
        text = code(layout, core).text
        if text not in bounds:
            bounds[text] = fewest_stops(layout, core, effort=CORE_EFFORT).bound
        total += bounds[text]
    return total


def _notes(layout: Layout, corners: Sequence[int], drawn: PiecingPlan) -> tuple[Finding, ...]:
    name = layout.block.name
    notes = [
        CORNER_SET_IN.found(
            "no seam can run straight over this point: a corner must be set in",
            mend="sew up to the dot a quarter inch from the edge, turn, and sew on; or draw one "
            "more seam through the point",
            where=Where(block=name, at=layout.block.vertices[v]),
        )
        for v in corners
    ]
    stops = sum(part.uses for part in drawn.parts if isinstance(part.made, Finish))
    if stops:
        notes.append(
            TWO_GOES.found(
                f"seams wait for each other in a ring, so {'one' if stops == 1 else stops} of them "
                "must be sewn in two goes",
                mend="sew the first half, close the ring, then finish the seam; no order needs "
                f"fewer than {drawn.partial_bound}",
                where=Where(block=name),
            )
        )
    return tuple(notes)


def _unmet(block: Block, unmet: set[int]) -> tuple[Finding, ...]:
    asked = [fixing for fixing in block.fixings if fixing.way == "last"]
    return tuple(
        NOT_LAST.found(
            "this line cannot be sewn last: it does not run from edge to edge of what is left "
            "to sew",
            mend="ask for a line that runs from edge to edge, or leave it to the program",
            where=replace(asked[i].where, block=block.name),
        )
        for i in sorted(unmet)
    )


def _not_whole(block: Block, kinds: Kinds, choice: Choice) -> tuple[Finding, ...]:
    """A seam line fixed by the maker is sewn as one seam where the drawing allows."""
    parted: set[int] = set()
    for kind, cut in zip(kinds.kinds, choice.cut, strict=False):
        if cut is not None:
            parted |= broken(kinds.layout, kind.specimen, cut.seam)
    return tuple(
        NOT_WHOLE.found(
            "this line cannot be sewn as one seam: other seams must run through it first; all of "
            "it is pressed as you say",
            mend="fix its pieces one by one, or draw the block so that a seam can run along it",
            where=replace(block.fixings[i].where, block=block.name),
        )
        for i in sorted(parted)
    )


def set_in_points(layout: Layout) -> list[int]:
    """The vertices inside the block over which no seam runs straight on: there a corner must be
    set in, whatever the order. Their number is the least any plan has (docs/explanation/piecing.md,
    "corners to set in are counted, not searched")."""
    passed = {dart[1] for dart in layout.straight}
    inner = {v for loop in layout.map.faces for v in loop} - layout.rim
    return sorted(inner - passed)


def undivided(layout: Layout, region: Region) -> list[Region]:
    """What is left when every region is cut along all its chords until none has any: single
    patches, and cores that no straight seam divides."""
    left, done = [region], []
    while left:
        piece = left.pop()
        found = chords(layout, piece) if len(piece) > 1 else []
        if found:
            left += split(layout, piece, found)
        else:
            done.append(piece)
    return sorted(done, key=min)


def _search(
    layout: Layout, grid: Grid, whole: Region, *, search: bool
) -> tuple[Kinds, Choice, int | None]:
    """The kinds of region, the choice among their cuts, and the steps that rows would take."""
    breadths: tuple[Breadth, ...] = ("every", "edges")
    for breadth in breadths if search and len(whole) <= SEARCH_PATCHES else ():
        kinds = survey(layout, grid, breadth, whole)
        if kinds is not None:
            free = choose(kinds, complete=True)
            odd = any(cut is not None and cut.odd for cut in free.cut)
            habit = choose(kinds, natural=True, complete=True) if odd else free
            rowed = None
            if len(grid.rows) > 1 and len(grid.rows[0]) > 1:
                rowed = choose(kinds, rows=True, complete=True)
            if rowed is not None and "rows" in layout.block.order:
                chosen = rowed
            else:
                chosen = habit if habit.sessions <= free.sessions * HABIT_PRICE else free
            # Only a look at every chord says what is least possible.
            bound = free.bound if breadth == "every" else _types_bound(layout)
            in_rows = None if rowed is None else rowed.sessions
            return kinds, Choice(chosen.cut, chosen.sessions, bound), in_rows
    kinds = survey(layout, grid, "middle", whole)
    assert kinds is not None  # the middle breadth has no limit
    choice = choose(kinds)
    return kinds, Choice(choice.cut, choice.sessions, _types_bound(layout)), None


def _types_bound(layout: Layout) -> int:
    return len(layout.shapes) - 1
