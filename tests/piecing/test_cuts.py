"""Seam lines that the maker fixed stay whole while the block is cut apart."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

from seamproof.draft.model import Block, Fixing
from seamproof.piecing.leaves import in_its_frame, parts_in
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.plane.model import Line, Point
from seamproof.plane.predicates import placed
from tests.cast import cells_drawing, understood

F = Fraction
NINE = ["a b c", "d e f", "g h i"]


def fixed(rows: list[str], *lines: Line, size: int = 9) -> Block:
    drawing = cells_drawing("lines", (size, size), rows)
    return understood(replace(drawing, fixings=tuple(Fixing(line, None, "open") for line in lines)))


def seams_in_block(made: PiecingPlan) -> list[tuple[Point, ...]]:
    """The seams of a plan as they lie in the block, every copy."""
    found = []
    for here in parts_in(made, in_its_frame(made.whole)):
        join = made.parts[here.part].made
        if isinstance(join, Join):
            found.append(tuple(placed(p, here.turn, here.at) for p in join.seam))
        assert not isinstance(join, Finish)
    return found


def covers(seam: tuple[Point, ...], line: Line) -> bool:
    """Whether an upright or level seam runs along all of a line."""
    for k in (0, 1):
        across = {p[k] for p in (*seam, *line)}
        along = [p[1 - k] for p in seam]
        if len(across) == 1 and all(min(along) <= p[1 - k] <= max(along) for p in line):
            return True
    return False


def upright(x: int, top: int, bottom: int) -> Line:
    return ((F(x), F(top)), (F(x), F(bottom)))


def level(y: int, left: int, right: int) -> Line:
    return ((F(left), F(y)), (F(right), F(y)))


def test_a_line_over_two_crossings_is_sewn_as_one_seam() -> None:
    for line in (upright(3, 0, 9), level(6, 0, 9), upright(6, 3, 9)):
        made, notes = plan(fixed(NINE, line))
        assert any(covers(seam, line) for seam in seams_in_block(made)), line
        assert not notes


def test_pieces_fixed_one_by_one_part_nothing() -> None:
    """The habit of the trade, rows first, is kept."""
    made, _ = plan(fixed(NINE, upright(3, 0, 3), upright(3, 3, 6), upright(3, 6, 9)))
    assert not any(covers(seam, upright(3, 0, 9)) for seam in seams_in_block(made))


def test_a_large_block_follows_too() -> None:
    rows = ["a b c d e f g h i j k l m"] * 13
    line = upright(6, 0, 13)
    made, _ = plan(fixed(rows, line, size=13), search=False)
    assert any(covers(seam, line) for seam in seams_in_block(made))


def test_of_two_lines_through_one_crossing_one_cannot_be() -> None:
    _, notes = plan(fixed(NINE, upright(3, 0, 9), level(3, 0, 9)))
    assert [note.code for note in notes] == [204]


@given(st.data())
def test_one_line_of_a_grid_is_always_one_seam(data: st.DataObject) -> None:
    wide, high = data.draw(st.integers(2, 5)), data.draw(st.integers(2, 5))
    x = data.draw(st.integers(1, wide - 1))
    top = data.draw(st.integers(0, high - 1))
    bottom = data.draw(st.integers(top + 1, high))
    assume(bottom - top > 1)
    letters = data.draw(
        st.lists(st.sampled_from("abc"), min_size=wide * high, max_size=wide * high)
    )
    rows = [" ".join(letters[i * wide : (i + 1) * wide]) for i in range(high)]
    drawing = cells_drawing("grid", (wide, high), rows)
    line = upright(x, top, bottom)
    block = understood(replace(drawing, fixings=(Fixing(line, None, "open"),)))
    made, notes = plan(block)
    assert not notes
    assert any(covers(seam, line) for seam in seams_in_block(made))
