"""Regions that no straight seam divides: rings, stops, and what can be sewn last."""

from __future__ import annotations

import pytest

from benchmarks.piecing import CORES, random_rectangles
from seamproof.piecing.cores import _knots, _shortest, fewest_stops
from seamproof.piecing.cuts import CORE_EFFORT
from seamproof.piecing.finishing import begun
from seamproof.piecing.model import Finish
from seamproof.piecing.planning import plan
from seamproof.piecing.shapes import lay_out
from tests import cast
from tests.piecing.drawn import drawn
from tests.piecing.exhausting import rings_apart
from tests.piecing.replaying import replay


@pytest.mark.parametrize(("across", "longest", "patches", "seed"), CORES)
def test_random_rectangles_are_sewn(across: int, longest: int, patches: int, seed: int) -> None:
    block = random_rectangles(across, longest, seed)
    made, _ = plan(block, search=False)
    done = replay(made, block)
    assert len(block.patches) == patches
    assert done.points == 0
    assert rings_apart(drawn(block)) <= made.partial_bound == done.stops


def test_no_ring_of_patches_is_closed_round_others() -> None:
    """With these stops a ring of patches could be closed in halves round others; a plan that did so
    would have a part with a hole."""
    block = random_rectangles(32, 3, 0)
    made, _ = plan(block, search=False)
    assert replay(made, block).stops == made.partial_bound == 21


def test_stops_are_proved_and_bounded_by_rings_that_share_nothing() -> None:
    for seed in range(6):
        block = random_rectangles(14, 3, seed)
        found = fewest_stops(
            lay_out(block), frozenset(range(len(block.patches))), effort=CORE_EFFORT
        )
        assert found.proved
        assert rings_apart(drawn(block)) <= found.bound == len(found.stops)


def test_every_dart_of_a_knot_lies_on_a_ring() -> None:
    """A ring that is met sideways first: from s both x and z are one step away."""
    s, x, y, z, end = (0, 1), (1, 2), (2, 3), (3, 4), (8, 9)
    onward = {s: (x, z), x: (y, end), y: (z,), z: (x,), end: ()}
    knot = _knots(onward, onward)
    assert knot.keys() == {x, y, z}
    assert len(set(knot.values())) == 1
    for dart in (x, y, z):
        assert sorted(_shortest(dart, onward, knot).edges) == sorted([x, y, z])


def test_a_seam_that_waits_for_itself_is_a_ring() -> None:
    loop = (1, 2)
    assert _knots([loop], {loop: (loop,)}).keys() == {loop}


def test_a_seam_stopped_twice_and_finished_in_its_middle() -> None:
    """A windmill beside another in a third: the seam between them is stopped at both ends. The one
    that closes the ring is sewn whole, so nothing of it was begun before."""
    boxes = [
        (8, 0, 18, 2), (0, 8, 12, 10), (10, 10, 12, 12), (12, 8, 14, 12), (0, 10, 10, 14),
        (14, 2, 18, 14), (0, 0, 8, 8), (10, 12, 14, 14), (10, 4, 12, 6), (10, 2, 14, 4),
        (12, 4, 14, 8), (8, 6, 12, 8), (8, 2, 10, 6),
    ]  # fmt: skip
    block = cast.understood(
        cast.polygon_drawing(
            "two rings",
            (18, 14),
            [("a", [(a, b), (c, b), (c, d), (a, d)]) for a, b, c, d in boxes],
        )
    )
    made, _ = plan(block)
    done = replay(made, block)
    assert done.stops == made.partial_bound == 2
    finishes = [n for n, part in enumerate(made.parts) if isinstance(part.made, Finish)]
    starts = [begun(made, n) for n in finishes]
    assert starts.count(None) == done.count("closing")
    assert len(starts) == 2
