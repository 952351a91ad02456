"""The usual rules on the units that the trade has them for."""

from __future__ import annotations

import csv

import pytest

from seamproof.draft.model import Block
from seamproof.piecing.model import Join, Leaf
from seamproof.plane.predicates import area
from seamproof.pressing.choices import seen_along
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK
from seamproof.pressing.usual import RULES, usual
from seamproof.pressing.wishing import Seams, direction, matched, nests, spinning
from tests import cast
from tests.pressing.desks import SHADES, planned, seams
from tests.reference import TABLES, reference_blocks


def with_spins(block: Block) -> Seams:
    found = seams(block)
    ways = tuple((OPEN, LEFT, RIGHT, SPUN, SPUN_BACK) for _ in found.ways)
    return Seams(found.plan, found.runs, found.meetings, found.rim, ways)


def ways_of(found: Seams) -> tuple[int, ...]:
    return tuple(said.way for said in usual(found, dict(SHADES)))


def rules_of(found: Seams) -> list[str]:
    return [said.rule.name for said in usual(found, dict(SHADES))]


def test_sources_are_rows_of_the_table_of_facts_or_owned_up_to() -> None:
    with (TABLES / "trade_facts.csv").open(encoding="utf-8", newline="") as file:
        facts = {row["id"]: row for row in csv.DictReader(file)}
    for rule in RULES.values():
        if rule.source != "common practice, no source":
            assert facts[rule.source]["family"] == "press_rule", rule.name
    assert {row["id"] for row in facts.values() if row["family"] == "press_rule"} == {
        rule.source for rule in RULES.values() if rule.source.startswith("F")
    }


@pytest.mark.parametrize("name", ["four_patch", "nine_patch", "sixteen_patch", "double_four_patch"])
def test_rows_alternate_so_that_every_crossing_nests(name: str) -> None:
    found = seams(reference_blocks()[name])
    plan = ways_of(found)
    for k, meeting in enumerate(found.meetings):
        for crossing in matched(meeting):
            assert nests(found, crossing, direction(found.runs[k]), plan)


def sides(found: Seams, plan: tuple[int, ...]) -> list[tuple[int, int]]:
    """For every straight join the parts it is pressed to and away from."""
    result = []
    for run in found.runs:
        made = found.plan.parts[run.part].made
        assert isinstance(made, Join)
        way = seen_along(plan[run.choice], run.against)
        pair = (made.left.part, made.right.part)
        result.append(pair if way == LEFT else pair[::-1])
    return result


@pytest.mark.parametrize(
    ("block", "rule"),
    [
        (reference_blocks()["square_in_square"], "corners"),
        (reference_blocks()["snowball"], "corners"),
        (reference_blocks()["economy_patch"], "corners"),
        (reference_blocks()["log_cabin_2"], "log cabin"),
        (reference_blocks()["courthouse_steps_3"], "log cabin"),
    ],
    ids=lambda value: value if isinstance(value, str) else value.name,
)
def test_outwards(block: Block, rule: str) -> None:
    found = seams(block)
    assert set(rules_of(found)) == {rule}
    parts = planned(block).parts
    for to, away in sides(found, ways_of(found))[1:]:
        assert isinstance(parts[to].made, Leaf)
        assert not isinstance(parts[away].made, Leaf)


def test_geese_to_the_small_triangles() -> None:
    found = seams(reference_blocks()["flying_geese_3x4"])
    parts = planned(reference_blocks()["flying_geese_3x4"]).parts
    geese = [k for k, name in enumerate(rules_of(found)) if name == "geese"]
    assert len(geese) == 2
    for choice, (to, away) in zip(geese, sides(found, ways_of(found))[:2], strict=True):
        assert found.runs[choice].choice == choice
        assert area(parts[to].outline) < area(parts[away].outline)


def test_half_square_triangles_to_the_dark_side_unless_many_points_meet() -> None:
    assert rules_of(seams(cast.half_square())) == ["to the dark side"]
    (way,) = ways_of(seams(cast.half_square()))
    found = seams(cast.half_square())
    stretch = found.meetings[0].stretches[0]
    dark = stretch.left if way == LEFT else stretch.right
    assert dict(SHADES)[dark] == "dark"
    pinwheel = seams(cast.pinwheel())
    assert rules_of(pinwheel)[0] == "many points"
    assert ways_of(pinwheel)[0] == OPEN


def test_an_hourglass_is_spun_the_way_its_halves_lie() -> None:
    found = with_spins(cast.hourglass())
    assert rules_of(found)[-1] == "hourglass"
    plan = ways_of(found)
    assert plan[-1] in (SPUN, SPUN_BACK)
    (bar,) = spinning(found)
    row = 0
    for seam, ways in zip(bar.seams, bar.ways, strict=True):
        row = row * len(ways) + ways.index(plan[seam])
    assert bar.costs[row] == 0
    assert rules_of(seams(cast.hourglass()))[-1] == "unspun"


def test_a_piece_that_is_set_in_is_pressed_away_from() -> None:
    found = seams(reference_blocks()["lemoyne_star"])
    set_in = [said for said in usual(found, dict(SHADES)) if said.rule.name == "set in"]
    assert set_in


def test_without_values_no_seam_goes_to_the_dark() -> None:
    for block in reference_blocks().values():
        names = {said.rule.name for said in usual(seams(block), {})}
        assert "to the dark side" not in names


def test_every_seam_of_every_block_has_a_rule() -> None:
    for block in (*reference_blocks().values(), *(make() for make in cast.CAST.values())):
        found = seams(block)
        said = usual(found, dict(SHADES))
        assert len(said) == len(found.ways)
        assert all(one.way in found.ways[c] for c, one in enumerate(said))
