"""The account of stock, held to lists that were worked out by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingList, CuttingSettings, Step, Stock
from seamproof.draft.model import Block
from seamproof.length.rounding import Size
from seamproof.proof import checks
from seamproof.proof.front import compare
from seamproof.proof.ledger import Outcome, run
from tests.cast import polygon_drawing, understood
from tests.proof.hand_made import (
    S,
    face_down,
    flying_goose,
    four_patch,
    half_square_triangles,
    line,
    listed,
    piece,
    points,
    upright,
)

SETTINGS = CuttingSettings()


def squares(*fabrics: str) -> Block:
    """A block of 2 in squares, two by two, row by row."""
    places = [(0, 0), (2, 0), (0, 2), (2, 2)]
    return understood(
        polygon_drawing(
            "four",
            (4, 4),
            [
                (f, [(x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)])
                for f, (x, y) in zip(fabrics, places, strict=True)
            ],
        )
    )


def halves(first: str, second: str) -> Block:
    return understood(
        polygon_drawing(
            "halves",
            (4, 4),
            [(first, [(0, 0), (4, 0), (0, 4)]), (second, [(4, 0), (4, 4), (0, 4)])],
        )
    )


GOOSE = understood(
    polygon_drawing(
        "goose",
        (4, 2),
        [
            ("a", [(2, 0), (4, 2), (0, 2)]),
            ("b", [(0, 0), (2, 0), (0, 2)]),
            ("b", [(2, 0), (4, 0), (4, 2)]),
        ],
    )
)


def said(outcome: Outcome) -> list[int]:
    return [finding.code for finding in outcome.findings]


def changed(cutting: CuttingList, number: int, how: Callable[[Step], Step]) -> CuttingList:
    steps = list(cutting.steps)
    steps[number] = how(steps[number])
    return replace(cutting, steps=tuple(steps))


@pytest.mark.parametrize(
    ("cutting", "block", "left"),
    [
        (four_patch(), squares("a", "b", "b", "a"), {"block": 1}),
        (half_square_triangles(), halves("a", "b"), {"unit": 2}),
        (flying_goose(), GOOSE, {"Aa": 3, "block": 1}),
    ],
    ids=["four-patch", "half-square triangles", "flying goose"],
)
def test_lists_made_by_hand_come_out(
    cutting: CuttingList, block: Block, left: dict[str, int]
) -> None:
    outcome = run(cutting, SETTINGS)
    assert outcome.findings == ()
    assert outcome.account.left() == left
    assert outcome.last is not None
    assert compare(block, outcome.last, float(S)) == ()


def test_what_comes_out_is_only_that_block() -> None:
    sewn = run(four_patch(), SETTINGS).last
    assert sewn is not None
    wrong = compare(squares("a", "b", "a", "a"), sewn, float(S))
    assert {finding.code for finding in wrong} == {checks.NOT_THE_BLOCK.code}
    assert "shows B, and A is drawn" in wrong[0].what
    assert compare(squares("b", "a", "a", "b"), sewn, float(S)) == ()  # the same block, turned


def test_a_goose_is_not_its_colours_exchanged() -> None:
    sewn = run(flying_goose(), SETTINGS).last
    assert sewn is not None
    drawn = [("b", [(2, 0), (4, 2), (0, 2)]), ("a", [(0, 0), (2, 0), (0, 2)])]
    other = understood(polygon_drawing("goose", (4, 2), [*drawn, ("a", [(2, 0), (4, 0), (4, 2)])]))
    assert len(compare(other, sewn, float(S))) == 3


# What is not so, one slip at a time ---------------------------------------------------------------


def test_more_is_taken_than_was_cut() -> None:
    few = replace(
        four_patch(), pieces=(four_patch().pieces[0], piece("Ba", "b", Fraction(5, 2), 1))
    )
    outcome = run(few, SETTINGS)
    assert said(outcome) == [checks.COUNT.code]
    assert "2 Ba" in outcome.findings[0].what


def test_what_was_never_made_is_taken() -> None:
    cutting = four_patch()
    assert said(run(replace(cutting, steps=cutting.steps[1:]), SETTINGS)) == [
        checks.NOT_ON_TABLE.code
    ]
    backwards = replace(cutting, steps=cutting.steps[::-1])
    assert said(run(backwards, SETTINGS)) == [checks.NOT_ON_TABLE.code]


def test_a_piece_is_cut_a_mark_too_large() -> None:
    large = piece("Ba", "b", Fraction(21, 8), 2)
    outcome = run(replace(four_patch(), pieces=(four_patch().pieces[0], large)), SETTINGS)
    assert said(outcome) == [checks.OTHER_SHAPE.code]
    assert "2 5/8 in" in outcome.findings[0].what


def test_a_piece_is_too_large_and_shown_so() -> None:
    """Everything agrees but the seam: the larger piece sticks out."""
    large = piece("Ba", "b", Fraction(21, 8), 2)
    shown = Stock("Ba", upright("-1/8", 0, "5/2", "21/8"), 2, "down")
    cutting = changed(
        replace(four_patch(), pieces=(four_patch().pieces[0], large)),
        0,
        lambda step: replace(step, takes=(step.takes[0], shown)),
    )
    outcome = run(cutting, SETTINGS)
    assert said(outcome) == [checks.LEFT_OVER_CLOTH.code]
    assert "1/8 in × 2 5/8 in of cloth" in outcome.findings[0].what


def test_the_seam_is_not_a_quarter_inch() -> None:
    cutting = changed(
        four_patch(),
        0,
        lambda step: replace(step, stitched=(line(("17/8", 0), ("17/8", "5/2")),)),
    )
    outcome = run(cutting, SETTINGS)
    assert said(outcome) == [checks.ALLOWANCE.code]
    assert "3/8 in wide, not 1/4 in" in outcome.findings[0].what


def test_stitching_that_stops_in_the_allowance() -> None:
    for start in ("1/8", "-1/8"):
        cutting = changed(
            four_patch(),
            0,
            lambda step, start=start: replace(  # type: ignore[misc]
                step, stitched=(line(("9/4", start), ("9/4", "5/2")),)
            ),
        )
        assert said(run(cutting, SETTINGS)) == [checks.STITCHING.code]


def test_more_is_shown_than_there_is() -> None:
    cutting = changed(
        four_patch(),
        0,
        lambda step: replace(step, gives=(Stock("pair", upright(0, 0, "37/8", "5/2"), 2),)),
    )
    outcome = run(cutting, SETTINGS)
    assert said(outcome) == [checks.SHORT.code]
    assert "1/8 in short" in outcome.findings[0].what


def test_a_unit_that_cannot_be_trimmed() -> None:
    small = Fraction(19, 4)
    cutting = half_square_triangles()
    pieces = tuple(
        replace(p, width=Size(small, 4.85), height=Size(small, 4.85)) for p in cutting.pieces
    )
    d = Fraction(3535533906, 10**10)
    sewn, whole = upright(0, 0, small - d, small - d), upright(0, 0, small, small)
    drawn = line((0, small), (small, 0))
    sew = replace(
        cutting.steps[0],
        takes=(Stock("Aa", whole, 1), Stock("Ba", whole, 1, "down")),
        gives=(Stock("sewn", sewn, 2),),
        drawn=(drawn,),
        stitched=(line((0, small - d), (small - d, 0)), line((d, small), (small, d))),
        cuts=(drawn,),
    )
    trim = replace(
        cutting.steps[1],
        takes=(Stock("sewn", sewn, 2),),
        gives=(Stock("unit", upright(0, 0, "9/2", "9/2"), 2),),
    )
    outcome = run(replace(cutting, pieces=pieces, steps=(sew, trim)), SETTINGS)
    assert said(outcome) == [checks.NO_ROOM_TO_TRIM.code]
    assert "cannot be trimmed to 4 1/2 in × 4 1/2 in; it is 0.104 in short" in (
        outcome.findings[0].what
    )


def test_counts_of_what_is_cut_apart() -> None:
    def other(step: Step) -> Step:
        return replace(step, gives=(replace(step.gives[0], count=3),))

    outcome = run(changed(half_square_triangles(), 0, other), SETTINGS)
    assert said(outcome) == [checks.COUNT.code]
    assert "gives 2 sewn, not 3" in outcome.findings[0].what


def test_a_wrong_measure() -> None:
    right = (Size(Fraction(9, 2), 4.5), Size(Fraction(5, 2), 2.5))
    wrong = (Size(Fraction(35, 8), 4.5), right[1])
    for measure, codes in ((right, []), (wrong, [checks.MEASURE.code])):
        cutting = changed(four_patch(), 0, lambda s, m=measure: replace(s, measure=m))  # type: ignore[misc]
        assert said(run(cutting, SETTINGS)) == codes


def test_a_cut_that_ends_within_the_cloth() -> None:
    def short(step: Step) -> Step:
        return replace(step, cuts=(line((1, 4), (5, 0)),))

    assert said(run(changed(half_square_triangles(), 0, short), SETTINGS)) == [
        checks.STITCHING.code
    ]


def test_a_drawn_line_that_is_none_to_sew_or_cut_by() -> None:
    def other(step: Step) -> Step:
        return replace(step, drawn=(line((0, 0), (5, 5)),))

    assert said(run(changed(half_square_triangles(), 0, other), SETTINGS)) == [
        checks.STITCHING.code
    ]


def test_a_pair_that_is_not_turned_is_another_block() -> None:
    below = upright(0, 2, "9/2", "9/2")  # from its first corner on: it lies as it was given
    over = face_down([(x, Fraction(9, 2) - y) for x, y in below])
    cutting = changed(
        four_patch(),
        1,
        lambda step: replace(step, takes=(step.takes[0], Stock("pair", over, 1, "down"))),
    )
    outcome = run(cutting, SETTINGS)
    assert outcome.findings == ()
    assert outcome.last is not None
    assert compare(squares("a", "b", "a", "b"), outcome.last, float(S)) == ()
    assert len(compare(squares("a", "b", "b", "a"), outcome.last, float(S))) == 2


def test_a_thing_shown_mirrored() -> None:
    goose = flying_goose()

    def mirrored(step: Step) -> Step:
        half = step.takes[0]
        return replace(step, takes=(replace(half, corners=half.corners[::-1]), step.takes[1]))

    assert said(run(changed(goose, 1, mirrored), SETTINGS)) == [checks.OTHER_SHAPE.code]


def test_shapes_that_are_none() -> None:
    flat = Stock("Aa", points((0, 0), (1, 0), (2, 0)), 2)
    cutting = changed(four_patch(), 0, lambda step: replace(step, gives=(flat,)))
    assert said(run(cutting, SETTINGS)) == [checks.OTHER_SHAPE.code]
    point = changed(four_patch(), 0, lambda step: replace(step, stitched=(line((1, 1), (1, 1)),)))
    assert said(run(point, SETTINGS)) == [checks.STITCHING.code]
    nothing = changed(four_patch(), 0, lambda step: replace(step, gives=()))
    assert said(run(nothing, SETTINGS)) == [checks.COUNT.code]


def test_two_names_for_unlike_things() -> None:
    pieces = [piece("Aa", "a", Fraction(5, 2), 1), piece("Aa", "b", Fraction(5, 2), 1)]
    assert said(run(listed(pieces, []), SETTINGS)) == [checks.UNLIKE.code]


def test_a_block_of_one_patch_is_not_sewn() -> None:
    outcome = run(listed([piece("Aa", "a", Fraction(9, 2), 3)], []), SETTINGS)
    assert outcome.findings == ()
    assert outcome.last is not None
    one = understood(polygon_drawing("one", (4, 4), [("a", [(0, 0), (4, 0), (4, 4), (0, 4)])]))
    assert compare(one, outcome.last, float(S)) == ()
