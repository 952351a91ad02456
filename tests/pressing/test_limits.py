"""Places above the limit and what is proposed there."""

from __future__ import annotations

import re

from seamproof.pressing.checks import LEAST_POSSIBLE, NOT_PROVED, TOO_MANY_LAYERS, TOO_THICK
from seamproof.pressing.limits import above_limit, cheapest_change, unproved
from seamproof.pressing.model import PressPlan, Wish
from seamproof.pressing.tables import LEFT
from tests import cast
from tests.pressing.desks import desk
from tests.reference import reference_blocks


def test_below_the_limit_nothing_is_said() -> None:
    at = desk(cast.nine_patch())
    assert above_limit("nine", at, at.usual_ways) == []


def test_the_cheapest_change_is_named_and_does_what_it_says() -> None:
    at = desk(reference_blocks()["pinwheel"])
    plan = list(at.all_open())
    plan[at.seams.runs[-1].choice] = LEFT
    (finding,) = (f for f in above_limit("pinwheel", at, plan) if "12 layers" in f.what)
    assert finding.code == TOO_MANY_LAYERS.code
    assert re.search(r"press the seam from .* open: \d+ layers are left", finding.mend)
    worst = max(at.tables, key=lambda t: int(t.most[t.row(plan)]))
    change = cheapest_change(at, plan, worst)
    assert change is not None
    assert len(change) == 1
    for choice, way in change:
        plan[choice] = way
    assert at.layers(plan) == 8


def test_the_least_possible_is_said_to_be_so() -> None:
    at = desk(reference_blocks()["pinwheel"], limit=7)
    findings = above_limit("pinwheel", at, at.all_open())
    assert findings
    assert {finding.code for finding in findings} == {LEAST_POSSIBLE.code}
    assert "no way of pressing makes it fewer" in findings[0].what


def test_the_limit_in_millimetres() -> None:
    at = desk(reference_blocks()["pinwheel"], cloth_mm=0.35)
    assert at.limit == 7
    findings = above_limit("pinwheel", at, at.all_open())
    assert "8 layers (2.80 mm)" in findings[0].what
    assert "the limit is 2.5 mm" in findings[0].what
    assert findings[0].code == LEAST_POSSIBLE.code
    thicker = desk(cast.nine_patch(), cloth_mm=0.5)
    (finding, *_) = above_limit("nine", thicker, thicker.usual_ways)
    assert finding.code == TOO_THICK.code
    assert "7 layers (3.50 mm)" in finding.what


def test_a_search_that_stopped_is_owned_up_to() -> None:
    stopped = PressPlan((), (), (Wish("nest", 5, 5), Wish("flat", 15, 12)))
    (finding,) = unproved("block", stopped)
    assert finding.code == NOT_PROVED.code
    assert "flat 15, where 12 may be possible" in finding.what
    assert "nest" not in finding.what
    assert unproved("block", PressPlan((), (), (Wish("nest", 5, 5),))) == []
