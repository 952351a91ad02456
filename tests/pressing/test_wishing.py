"""The wishes that are no matter of layers, counted by hand."""

from __future__ import annotations

import itertools

import pytest

from seamproof.pressing.choosing import Sum, value
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK
from seamproof.pressing.wishing import (
    Seams,
    darkness,
    departures,
    neighbours,
    nesting,
    spinning,
)
from tests import cast
from tests.drawings import cells_drawing, understood
from tests.pressing.desks import SHADES, seams
from tests.reference import reference_blocks


def test_one_crossing_nests_if_its_two_halves_lie_opposite() -> None:
    """Four unlike patches: the upper and the lower seam are two choices."""
    block = understood(cells_drawing("four", (6, 6), ["a b", "c d"]))
    found = seams(block)
    assert len(found.ways) == 3
    wish = Sum("nest", nesting(found))
    upper, lower = wish.terms[0].seams
    for one, other in itertools.product((OPEN, LEFT, RIGHT), repeat=2):
        plan = [OPEN] * 3
        plan[upper], plan[lower] = one, other
        runs = [found.runs[k] for k in (upper, lower)]
        same_way = runs[0].line[0][1] < runs[0].line[1][1]
        assert same_way == (runs[1].line[0][1] < runs[1].line[1][1]), "stitched the same way down"
        opposite = {one, other} == {LEFT, RIGHT}
        assert value(wish, plan) == (0 if opposite else 1)


def test_copies_count() -> None:
    found = seams(reference_blocks()["nine_patch"])
    assert value(Sum("nest", nesting(found)), [OPEN] * 5) == 4


def test_dark_behind_light_in_inches() -> None:
    found = seams(understood(cells_drawing("two", (6, 3), ["a b"])))
    wish = Sum("dark", darkness(found, dict(SHADES)), 10)
    values = [value(wish, [way]) for way in (OPEN, LEFT, RIGHT)]
    assert sorted(values) == [0, 0, 3]
    assert values[0] == 0
    assert darkness(found, {}) == ()
    assert darkness(found, {"a": "dark", "b": "dark"}) == ()


def test_departures_count_choices() -> None:
    found = seams(cast.nine_patch())
    wish = Sum("rules", departures(found, [LEFT] * 5))
    assert value(wish, [LEFT] * 5) == 0
    assert value(wish, [LEFT, OPEN, RIGHT, LEFT, LEFT]) == 2


def test_neighbours_meet_at_the_edge() -> None:
    """A block of two rows meets itself in two seams: across its sides and across top and bottom."""
    found = seams(cast.four_patch())
    assert [term.seams for term in neighbours(found)] == [(1,), (0,)]
    # One long seam pressed to one side all across never nests with itself, half-turned copies do.
    assert value(Sum("edge", neighbours(found)), [OPEN, LEFT]) == 2
    assert value(Sum("edge", neighbours(found)), [LEFT, LEFT]) == 1


def spun(found: Seams) -> Seams:
    ways = tuple((OPEN, LEFT, RIGHT, SPUN, SPUN_BACK) for _ in found.ways)
    return Seams(found.plan, found.runs, found.meetings, found.rim, ways)


def test_a_crossing_is_spun_one_way_round_only() -> None:
    found = spun(seams(cast.four_patch()))
    bar = Sum("bar", spinning(found))
    fits = {
        (stem, long)
        for stem, long in itertools.product((OPEN, LEFT, RIGHT), (SPUN, SPUN_BACK))
        if value(bar, [stem, long]) == 0
    }
    # Pressed one way the crossing turns one way, pressed the other way the other.
    assert len(fits) == 2
    assert {stem for stem, _ in fits} == {LEFT, RIGHT}
    assert {long for _, long in fits} == {SPUN, SPUN_BACK}
    for stem, long in fits:
        assert value(Sum("nest", nesting(found)), [stem, long]) == 0


@pytest.mark.parametrize("block", [cast.one_patch(), cast.rail()], ids=lambda b: b.name)
def test_nothing_crosses(block: object) -> None:
    found = seams(block)  # type: ignore[arg-type]
    assert nesting(found) == ()
    assert spinning(spun(found)) == ()
