"""One choice per run; both goes of a line are one."""

from __future__ import annotations

import pytest

from seamproof.draft.model import Block
from seamproof.piecing.model import Finish, Join
from seamproof.pressing.choices import runs
from tests import cast
from tests.pressing.desks import planned
from tests.reference import reference_blocks

BLOCKS = {**reference_blocks(), **{name: make() for name, make in cast.CAST.items()}}


@pytest.mark.parametrize("block", BLOCKS.values(), ids=BLOCKS.keys())
def test_every_run_has_one_choice(block: Block) -> None:
    plan = planned(block)
    found = runs(plan)
    assert runs(plan) == found
    sewn = [
        (number, k)
        for number, part in enumerate(plan.parts)
        if isinstance(part.made, Join | Finish)
        for k in range(len(part.made.sewn if isinstance(part.made, Join) else part.made.seam))
    ]
    assert [(run.part, run.run) for run in found] == sewn
    numbers = [run.choice for run in found]
    assert list(dict.fromkeys(numbers)) == list(range(len(set(numbers))))
    finishes = [run for run in found if isinstance(plan.parts[run.part].made, Finish)]
    assert len(found) - len(set(numbers)) == len(
        [run for run in finishes if numbers.count(run.choice) > 1]
    )


def test_both_goes_of_a_partial_seam_are_pressed_alike() -> None:
    plan = planned(cast.spiral())
    found = runs(plan)
    begun, *_, finished = found
    assert isinstance(plan.parts[finished.part].made, Finish)
    assert finished.choice == begun.choice
    assert len({run.choice for run in found}) == len(found) - 1
