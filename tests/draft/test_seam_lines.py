from __future__ import annotations

from fractions import Fraction

from seamproof.draft.model import Block
from seamproof.draft.understanding import understand
from seamproof.plane.predicates import corners_only
from tests import cast


def test_lines_that_overhang_are_cut_off_at_the_edge() -> None:
    block = cast.understood(
        cast.seams_drawing(
            "cross",
            (4, 4),
            [((-1, 2), (9, 2)), ((2, -5), (2, 5))],
            [("a", (1, 1)), ("b", (3, 1)), ("c", (3, 3)), ("d", (1, 3))],
        )
    )
    assert len(block.vertices) == 9
    assert [p.fabric for p in block.patches] == ["a", "b", "c", "d"]


def test_crossings_of_lines_on_the_grid_are_exact() -> None:
    block = cast.understood(
        cast.seams_drawing(
            "thirds",
            (1, 1),
            [((0, 0), (1, "1/2")), ((0, "1/2"), ("1/2", 0))],
            [
                ("a", ("0.1", "0.2")),
                ("b", ("0.25", "0.05")),
                ("c", ("0.8", "0.1")),
                ("d", ("0.5", "0.8")),
            ],
        )
    )
    assert (Fraction(1, 3), Fraction(1, 6)) in block.vertices


def test_the_same_seam_drawn_twice_or_in_parts_is_one() -> None:
    fabrics = [("a", (1, 1)), ("b", (3, 1))]
    once = cast.seams_drawing("rails", (4, 4), [((2, 0), (2, 4))], fabrics)
    often = cast.seams_drawing(
        "rails", (4, 4), [((2, 4), (2, 1)), ((2, 0), (2, 3)), ((2, 0), (2, 4))], fabrics
    )
    assert cast.understood(once) == cast.understood(often)


def test_ends_typed_a_little_short_or_far_meet_their_seam() -> None:
    for end in ("1.99", "2.01"):
        block = cast.understood(
            cast.seams_drawing(
                "tee",
                (4, 4),
                [((2, 0), (2, 4)), (("0.01", 2), (end, 2))],
                [("a", (1, 1)), ("b", (1, 3)), ("c", (3, 2))],
            )
        )
        assert len(block.vertices) == 8
        assert (2, 2) in block.vertices


def test_no_seams_make_one_patch() -> None:
    block = cast.understood(cast.seams_drawing("plain", (4, 3), [], [("a", (1, 1))]))
    assert block == cast.understood(cast.cells_drawing("plain", (4, 3), ["a"]))


def test_seams_outside_or_along_the_edge_are_warned_of() -> None:
    for seam in (((5, 0), (5, 4)), ((0, 0), (4, 0)), ((1, 1), (1, 1))):
        block, findings = understand(cast.seams_drawing("plain", (4, 4), [seam], [("a", (1, 1))]))
        assert block is not None
        assert [(f.code, f.severity, f.where.line) for f in findings] == [(131, "warning", 1)]


def test_a_fabric_may_be_named_twice_if_it_is_the_same() -> None:
    drawing = cast.seams_drawing("plain", (4, 4), [], [("a", (1, 1)), ("a", (3, 3))])
    assert len(cast.understood(drawing).patches) == 1


def test_seams_and_cells_agree() -> None:
    def shapes(block: Block) -> set[object]:
        return {
            (p.fabric, cast.from_least(corners_only(block.corners_of(p)))) for p in block.patches
        }

    lines = cast.seams_drawing(
        "hourglass",
        (4, 4),
        [((0, 0), (4, 4)), ((4, 0), (0, 4))],
        [("a", (2, 1)), ("b", (3, 2)), ("a", (2, 3)), ("b", (1, 2))],
    )
    assert shapes(cast.understood(lines)) == shapes(cast.hourglass())


def test_more_crossings_than_anybody_sews() -> None:
    lines = [((k, 0), (k, 160)) for k in range(1, 160)] + [
        ((0, k), (160, k)) for k in range(1, 160)
    ]
    block, findings = understand(cast.seams_drawing("mesh", (160, 160), lines, [("a", (1, 1))]))
    assert block is None
    assert [f.code for f in findings] == [113]
