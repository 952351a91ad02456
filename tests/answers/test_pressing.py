from __future__ import annotations

import functools
from dataclasses import replace
from importlib.resources import files

import pytest

from seamproof.answers.pressing import PressAnswer, press_answer
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.pressing import press_block
from seamproof.pipeline.working import work_block
from seamproof.pressing.model import PlanName
from seamproof.project.reading import read_block_bytes

DEMO = files("seamproof.project") / "demo" / "blocks"
FOUR = "name: Four\nfinished: 8\ncells:\n  - a b\n  - b a\n"
PINWHEEL = "name: Pinwheel\nfinished: 8\ncells:\n  - a\\b a/b\n  - b/a b\\a\n"


def demo_text(name: str) -> str:
    return (DEMO / f"{name}.yaml").read_text(encoding="utf-8")


@functools.cache
def cut(text: str) -> BlockWork:
    """A block up to its cutting list: the same for every plan."""
    return work_block(read_block_bytes(text.encode(), "b.yaml"), until="cutting")


@functools.cache
def answered(text: str, plan: PlanName = "best", **asked: object) -> PressAnswer:
    return press_answer(press_block(cut(text), name=plan, **asked), plan)


def test_a_four_patch_all_open_has_four_layers_on_a_quarter_square_inch() -> None:
    answer = answered(FOUR, "open")
    assert answer.seams is not None
    assert {line.way for line in answer.seams} == {"open"}
    assert (answer.max_layers, answer.max_at) == (4, (4.0, 4.0))
    assert answer.max_mm == pytest.approx(1.0)
    assert answer.layers_area is not None
    # 8 1/2 square, seams 1/2 wide under two layers, a square of 1/2 under four.
    assert answer.layers_area == pytest.approx({"1": 64.0, "2": 8.0, "4": 0.25})


@pytest.mark.parametrize("plan", ["best", "usual", "spun", "thin", "nested"])
@pytest.mark.parametrize("name", ["capstan", "breakwater", "lamp-room", "cobbled-quay"])
def test_layers_times_area_is_the_cut_cloth(name: str, plan: PlanName) -> None:
    text = demo_text(name)
    answer = answered(text, plan)
    every = answered(text, "open")
    assert answer.layers_area is not None
    assert every.layers_area is not None
    cloth = sum(int(count) * area for count, area in answer.layers_area.items())
    assert cloth == pytest.approx(
        sum(int(count) * area for count, area in every.layers_area.items()), abs=1e-6
    )
    assert sum(answer.layers_area.values()) == pytest.approx(sum(every.layers_area.values()))


def test_the_map_has_as_many_layers_as_the_plan_was_chosen_for() -> None:
    for plan in ("best", "usual", "spun", "thin"):
        answer = answered(PINWHEEL, plan, compare=True)
        row = {"best": "best", "usual": "usual rules", "spun": "spun where possible"}.get(plan)
        if row is not None:
            (line,) = [line for line in answer.plans or () if line.name == row]
            assert line.max_layers == answer.max_layers


def test_what_the_maker_fixes_holds_and_says_so() -> None:
    text = FOUR + "press:\n  - {seam: [[0, 4], [8, 4]], towards: [4, 6]}\n"
    answer = answered(text)
    assert answer.seams is not None
    (fixed,) = [line for line in answer.seams if line.fixed]
    assert (fixed.way, fixed.start[1], fixed.end[1]) == ("towards", 4.0, 4.0)
    assert fixed.towards == (4.0, 4.25)
    assert answer.exit_code == 0


def test_as_given_names_the_seam_that_is_not() -> None:
    text = FOUR + "press:\n  - {seam: [[0, 4], [8, 4]], open: true}\n"
    answer = answered(text, "as-given")
    assert answer.seams is None
    assert answer.exit_code == 1
    (note,) = [note for note in answer.findings if note.code == 413]
    assert "(4, 0)" in note.what


def test_two_fixed_lines_through_one_crossing_are_refused() -> None:
    text = FOUR + (
        "press:\n  - {seam: [[0, 4], [8, 4]], open: true}\n"
        "  - {seam: [[4, 0], [4, 8]], open: true}\n"
    )
    answer = answered(text)
    assert [note.code for note in answer.findings if note.severity == "error"] == [411]
    assert answer.findings[-1].where.line == 8


def test_eight_points_lie_flatter_open_than_with_the_last_seam_to_a_side() -> None:
    assert answered(PINWHEEL, "open").max_layers == 8
    text = PINWHEEL + "press:\n  - {seam: [[0, 4], [8, 4]], towards: [4, 6]}\n"
    aside = answered(text, wishes=("flat",))
    assert aside.max_layers is not None
    assert aside.max_layers >= 12


def test_a_wish_first_changes_the_plan() -> None:
    flat, nest = answered(FOUR, wishes=("flat",)), answered(FOUR, wishes=("nest",))
    assert flat.max_layers == 4
    assert (nest.nested, nest.crossings) == (1, 1)


def test_places_above_the_limit_are_found_with_what_lowers_them() -> None:
    answer = answered(demo_text("lamp-room"), "usual")
    spots = answer.thick_spots or ()
    assert spots
    assert spots[0].layers == answer.max_layers
    assert all(spot.layers > 8 for spot in spots)
    notes = [note for note in answer.findings if note.code == 401]
    assert len({note.where.at for note in notes}) == len(notes) > 0


def test_memory_changes_nothing() -> None:
    memory = Memory()
    work = work_block(read_block_bytes(PINWHEEL.encode(), "b.yaml"), until="cutting")
    first = press_block(work, memory=memory)
    again = press_block(work, memory=memory)
    assert first == again == press_block(work)


def test_json_says_from_and_to() -> None:
    seams = answered(FOUR).to_json()["seams"]
    assert set(seams[0]) >= {"from", "to", "way", "reason"}
    assert "start" not in seams[0]


def test_a_block_that_was_not_understood_is_not_pressed() -> None:
    answer = answered(FOUR.replace("b a", "b"))
    assert (answer.seams, answer.max_layers, answer.exit_code) == (None, None, 1)
    assert replace(answer, findings=()).plans is None
