"""What meets along a seam, held to the drawing."""

from __future__ import annotations

import math

import pytest
from hypothesis import given

from seamproof.draft.model import Block
from tests import cast
from tests.pressing.desks import planned, seams
from tests.reference import reference_blocks
from tests.strategies import planted_blocks

BLOCKS = {**reference_blocks(), **{name: make() for name, make in cast.CAST.items()}}


def check(block: Block) -> None:
    found = seams(block)
    for run, meeting in zip(found.runs, found.meetings, strict=True):
        length = math.dist(*((float(x), float(y)) for x, y in run.line))
        assert sum(s.length for s in meeting.stretches) == pytest.approx(length, abs=1e-3)
        for crossing in meeting.crossings:
            stems = (*crossing.left, *crossing.right)
            assert all(math.hypot(*stem.away) == pytest.approx(1) for stem in stems)
            assert len({stem.away for stem in stems}) == len(stems)
    # What is left at the end is the block's edge, all round and once.
    edge = sum(math.dist(side.start, side.end) for side in found.rim.sides)
    outline = [(float(x), float(y)) for x, y in planned(block).parts[-1].outline]
    round_ = sum(math.dist(a, b) for a, b in zip(outline, [*outline[1:], outline[0]], strict=True))
    assert edge == pytest.approx(round_, abs=1e-3)


@pytest.mark.parametrize("block", BLOCKS.values(), ids=BLOCKS.keys())
def test_every_seam_lies_between_patches(block: Block) -> None:
    check(block)


@given(planted_blocks())
def test_so_it_is_in_random_blocks(block: Block) -> None:
    check(block)


def test_eight_points_meet_in_a_pinwheel() -> None:
    *_, last = seams(cast.pinwheel()).meetings
    (crossing,) = (c for c in last.crossings if c.inside)
    assert len(crossing.left) == len(crossing.right) == 3
    assert len(crossing.pairs) == 3


def test_one_patch_has_no_seam() -> None:
    found = seams(cast.one_patch())
    assert found.runs == ()
    assert found.meetings == ()
    assert len(found.rim.sides) == 4
