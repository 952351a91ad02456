"""The piecing plan of a block: its order of sewing, from the patches to the whole."""

from __future__ import annotations

from seamproof.draft.model import Block
from seamproof.findings import Finding, Where
from seamproof.piecing.assembling import assemble
from seamproof.piecing.checks import NO_STRAIGHT_SEAM
from seamproof.piecing.choosing import Choice, choose
from seamproof.piecing.cuts import Breadth, Grid, Kinds, grid_of, survey
from seamproof.piecing.model import PiecingPlan
from seamproof.piecing.regions import Region, chords, split
from seamproof.piecing.shapes import Layout, lay_out
from seamproof.piecing.units import recognise

SEARCH_PATCHES = 150
"""Blocks with more patches than this are cut at their middle seams without a search: every kind of
region of a larger block takes longer to list than a maker waits."""

HABIT_PRICE = 1.1
"""The habit of the trade (units, then rows, then the block) is kept while it costs no more than a
tenth more steps at the machine."""


def plan(block: Block) -> tuple[PiecingPlan | None, tuple[Finding, ...]]:
    """The best order of sewing a block, and what there is to say about it.

    Straight seams wherever the drawing allows; equal parts once; the fewest things to do at the
    machine. None if part of the drawing has no straight seam from edge to edge; the findings say
    where.
    """
    layout = lay_out(block)
    whole = frozenset(range(len(block.patches)))
    cores = tuple(core for core in undivided(layout, whole) if len(core) > 1)
    if cores:
        return None, tuple(_core_finding(layout, core) for core in cores)
    grid = grid_of(layout, whole)
    kinds, choice = _search(layout, grid, whole)
    made = assemble(kinds, choice, grid)
    drawn = PiecingPlan(
        parts=made.parts,
        units=(),
        rows=made.rows,
        rounds=made.rounds,
        patches=len(block.patches),
        sessions_bound=choice.bound,
    )
    return PiecingPlan(
        drawn.parts,
        recognise(drawn),
        drawn.rows,
        drawn.rounds,
        drawn.patches,
        drawn.sessions_bound,
    ), ()


def set_in_points(layout: Layout) -> list[int]:
    """The vertices inside the block over which no seam runs straight on: there a corner must be
    set in, whatever the order. Their number is the least any plan has (docs/explanation/piecing.md,
    "corners to set in are counted, not searched")."""
    edge = {v for dart in layout.map.border() for v in dart}
    passed = {dart[1] for dart in layout.straight}
    inner = {v for loop in layout.map.faces for v in loop} - edge
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


def _search(layout: Layout, grid: Grid, whole: Region) -> tuple[Kinds, Choice]:
    breadths: tuple[Breadth, ...] = ("every", "axis")
    for breadth in breadths if len(whole) <= SEARCH_PATCHES else ():
        kinds = survey(layout, grid, breadth, whole)
        if kinds is not None:
            best = choose(kinds, complete=True)
            habit = choose(kinds, natural=True, complete=True)
            chosen = habit if habit.sessions <= best.sessions * HABIT_PRICE else best
            # Only a look at every chord says what is least possible.
            bound = best.bound if breadth == "every" else _types_bound(layout)
            return kinds, Choice(chosen.cut, chosen.sessions, bound)
    kinds = survey(layout, grid, "middle", whole)
    assert kinds is not None  # the middle breadth has no limit
    choice = choose(kinds)
    return kinds, Choice(choice.cut, choice.sessions, _types_bound(layout))


def _types_bound(layout: Layout) -> int:
    return len(layout.shapes) - 1


def _core_finding(layout: Layout, core: Region) -> Finding:
    points = [p for f in core for p in layout.points(f)]
    middle = (
        (min(p[0] for p in points) + max(p[0] for p in points)) / 2,
        (min(p[1] for p in points) + max(p[1] for p in points)) / 2,
    )
    return NO_STRAIGHT_SEAM.found(
        f"no straight seam runs from edge to edge of the {len(core)} patches here",
        mend="draw one more seam that divides them, or sew with corners set in",
        where=Where(block=layout.block.name, at=middle),
    )
