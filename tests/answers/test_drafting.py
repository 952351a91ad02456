from __future__ import annotations

from seamproof.answers.drafting import DraftAnswer, draft_answer
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block_bytes


def answered(text: str) -> DraftAnswer:
    return draft_answer(work_block(read_block_bytes(text.encode(), "b.yaml"), until="draft"))


def test_fabrics_patches_and_areas() -> None:
    answer = answered("name: Two\nfinished: [6, 3]\ncopies: 5\ncells:\n  - a/b a\n")
    assert (answer.name, answer.width, answer.height, answer.copies) == ("Two", 6.0, 3.0, 5)
    assert answer.fabrics is not None
    assert [(f.letter, f.patches, f.area) for f in answer.fabrics] == [
        ("a", 2, 13.5),
        ("b", 1, 4.5),
    ]
    assert answer.patches_list is not None
    assert [patch.shape for patch in answer.patches_list] == ["triangle", "triangle", "square"]
    assert sum(patch.area for patch in answer.patches_list) == 18.0


def test_points_at_which_a_side_runs_straight_on_are_no_corners() -> None:
    answer = answered("name: T\nfinished: 4\ncells:\n  - a =\n  - b c\n")
    assert answer.patches_list is not None
    assert [len(patch.corners) for patch in answer.patches_list] == [4, 4, 4]
    assert answer.patches_list[0].shape == "rectangle"


def test_a_turned_square_is_a_square() -> None:
    answer = answered(
        "name: On point\nfinished: 4\npatches:\n"
        "  - {fabric: a, points: [[2, 0], [4, 2], [2, 4], [0, 2]]}\n"
        "  - {fabric: b, points: [[0, 0], [2, 0], [0, 2]]}\n"
        "  - {fabric: b, points: [[2, 0], [4, 0], [4, 2]]}\n"
        "  - {fabric: b, points: [[4, 2], [4, 4], [2, 4]]}\n"
        "  - {fabric: b, points: [[0, 2], [2, 4], [0, 4]]}\n"
    )
    assert answer.patches_list is not None
    assert answer.patches_list[0].shape == "square"
    assert answer.patches_list[0].area == 8.0


def test_a_notebook_shows_the_block() -> None:
    picture = answered("name: One\nfinished: 6\ncells:\n  - a/b\n")._repr_svg_()
    assert picture is not None
    assert picture.startswith("<svg ")


def test_what_was_not_understood_has_no_picture_and_no_patches() -> None:
    answer = answered("name: One\nfinished: 6\ncells:\n  - a a\n  - a\n")
    assert answer.patches is answer.fabrics is answer.patches_list is None
    assert answer._repr_svg_() is None
    assert answer.exit_code == 1
    assert answer.findings[0].where.line == 5
