from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from seamproof.answers.piecing import PieceAnswer, piece_answer
from seamproof.piecing.model import Finish, Join, Leaf, Part, PiecingPlan
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.working import work_block
from seamproof.plane.model import Placed
from seamproof.project.reading import read_block_bytes
from seamproof.project.writing import write_block
from tests.cast import reference_drawings, reference_values


def answered(text: str) -> PieceAnswer:
    return piece_answer(work_block(read_block_bytes(text.encode(), "b.yaml"), until="piecing"))


STRAIGHT = [
    name
    for name, row in reference_values().items()
    if int(row["setin_points"]) == 0 and int(row["partial"]) == 0 and name in reference_drawings()
]


@pytest.mark.parametrize("name", STRAIGHT)
def test_counts_are_those_of_the_table(name: str) -> None:
    row = reference_values()[name]
    answer = answered(write_block(reference_drawings()[name]))
    assert answer.patches == int(row["patches"])
    assert answer.joins == answer.straight == int(row["joins"])
    assert (answer.partial, answer.set_in_points) == (0, 0)
    assert answer.patch_types == int(row["patch_types"])
    assert answer.sessions is not None
    assert answer.sessions_bound is not None
    assert answer.sessions_bound <= int(row["sessions"])
    assert answer.sessions <= int(row["sessions"])
    if row["grid"]:
        assert answer.grid == tuple(map(int, row["grid"].split("x")))
    assert answer.units is not None
    if row["units"]:
        assert sum(unit.count for unit in answer.units) == int(row["units"])
        assert answer.unit_types == len(answer.units) == int(row["unit_types"])


def test_joins_are_listed_once_in_sewing_order_with_their_rounds() -> None:
    answer = answered(write_block(reference_drawings()["nine_patch"]))
    assert answer.joins_list is not None
    assert answer.rounds is not None
    ids = [join.id for join in answer.joins_list]
    assert ids == sorted(ids)
    assert len(ids) == answer.sessions
    assert Counter(ids) == Counter(part for parts in answer.rounds for part in parts)
    assert all(join.kind == "straight" for join in answer.joins_list)
    sewn_in = {part: number for number, parts in enumerate(answer.rounds) for part in parts}
    for join in answer.joins_list:
        for part in (join.left, join.right):
            assert part is not None
            assert part < join.id
            assert sewn_in.get(part, -1) < sewn_in[join.id]


def test_a_single_patch_needs_no_sewing() -> None:
    answer = answered("name: One\nfinished: 6\ncells:\n  - a\n")
    assert (answer.patches, answer.joins, answer.sessions, answer.grid) == (1, 0, 0, (1, 1))
    assert answer.units is not None
    assert [(u.name, u.count, u.width) for u in answer.units] == [("square", 1, 6.0)]
    assert answer.joins_list == answer.rounds == ()


def test_a_block_that_cannot_be_sewn_leaves_nulls_and_counts_its_patches() -> None:
    gap = (
        "name: Gap\nfinished: 9\npatches:\n"
        "  - {fabric: a, points: [[0, 0], [9, 0], [9, 4], [0, 4]]}\n"
        "  - {fabric: b, points: [[0, 5], [9, 5], [9, 9], [0, 9]]}\n"
    )
    plain = answered(gap).to_json()
    assert {key for key, value in plain.items() if value is None} == {
        *("patches", "joins", "straight", "partial", "set_in_points", "sessions"),
        *("sessions_bound", "patch_types", "grid", "units", "unit_types", "rounds", "joins_list"),
    }
    assert answered(gap).exit_code == 1


def test_set_in_and_partial_seams_are_told_apart() -> None:
    """A made-up plan: one seam in two goes, used twice, and one with a corner set in."""

    def at(x: int, y: int) -> tuple[Fraction, Fraction]:
        return Fraction(x), Fraction(y)

    square = (at(0, 0), at(2, 0), at(2, 2), at(0, 2))
    here = Placed(0, Fraction(0), at(0, 0))
    seam = (at(0, 2), at(2, 2))
    half = ((at(0, 2), at(1, 2)),)
    rest = ((at(1, 2), at(2, 2)),)
    bend = (at(0, 0), at(1, 1), at(2, 0))
    straight_runs = ((bend[0], bend[1]), (bend[1], bend[2]))
    plan = PiecingPlan(
        parts=(
            Part(Leaf("a", square), square, 4),
            Part(Join(here, here, seam, half), square, 2),
            Part(Finish(Placed(1, Fraction(0), at(0, 0)), rest), square, 2),
            Part(Join(here, here, bend, straight_runs, (bend[1],)), square, 1),
        ),
        units=(),
        rows=((2, 2, -1),),
        rounds=((1,), (2,), (3,)),
        patches=4,
        sessions_bound=3,
        set_in_points=1,
    )
    source = read_block_bytes(b"name: Made up\nfinished: 4\ncells:\n  - a\n", "b.yaml")
    work = work_block(source, until="draft")
    answer = piece_answer(
        BlockWork(source, 1, work.settings, (), work.block, plan, None, findings=())
    )
    assert (answer.joins, answer.straight, answer.partial, answer.set_in_points) == (3, 0, 2, 1)
    assert answer.sessions == 3
    assert answer.grid == (1, 3)
    assert [(line.name, line.count) for line in answer.units or ()] == [("pieced unit", 2)]
    kinds = [(join.kind, join.right) for join in answer.joins_list or ()]
    assert kinds == [("partial", 0), ("finish", None), ("set-in", 0)]
    assert (answer.joins_list or ())[1].seam == ((1.0, 2.0), (2.0, 2.0))
