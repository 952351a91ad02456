"""What the maker fixed reaches the right seams, and contradictions are told."""

from __future__ import annotations

from fractions import Fraction

from seamproof.draft.model import Block, Fixing
from seamproof.pressing.checks import CANNOT_SPIN, CONTRADICTION, NOT_GIVEN, TWO_LINES
from seamproof.pressing.choosing import chosen
from seamproof.pressing.fixing import Given, given, impossible, not_given
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK
from seamproof.pressing.wishing import Seams, spinning
from tests.drawings import cells_drawing, point, understood
from tests.pressing.desks import seams


def line(a: tuple[int, int], b: tuple[int, int], towards: tuple[int, int] | None = None) -> Fixing:
    return Fixing(
        (point(a), point(b)), None, "towards" if towards else "open", towards and point(towards)
    )


def spin(at: tuple[int, int], clockwise: bool | None) -> Fixing:
    return Fixing(None, point(at), "spin", None, clockwise)


def four(*fixings: Fixing) -> Block:
    return understood(cells_drawing("four", (6, 6), ["a b", "c d"], fixings=fixings))


def spun(found: Seams) -> Seams:
    ways = tuple((OPEN, LEFT, RIGHT, SPUN, SPUN_BACK) for _ in found.ways)
    return Seams(found.plan, found.runs, found.meetings, found.rim, ways)


def check(block: Block, *, spins: bool = False) -> Given:
    found = seams(block)
    return given(block, spun(found) if spins else found)


def test_nothing_fixed_leaves_everything() -> None:
    found = check(four())
    assert found.fixed == frozenset()
    assert set(found.ways) == {(OPEN, LEFT, RIGHT)}
    assert found.findings == ()


def test_open_and_towards() -> None:
    block = four(line((3, 0), (3, 3)), line((0, 3), (6, 3), (1, 5)))
    found = check(block)
    assert found.findings == ()
    assert len(found.fixed) == 2
    ways = [found.ways[c] for c in sorted(found.fixed)]
    assert (OPEN,) in ways
    runs = seams(block).runs
    (last,) = (run for run in runs if run.line[0][1] == run.line[1][1])
    # Downwards is right of somebody who walks to the right.
    to_right = last.line[0][0] < last.line[1][0]
    assert found.ways[last.choice] == ((RIGHT,) if to_right else (LEFT,))


def test_a_line_fixes_every_seam_in_it() -> None:
    found = check(four(line((3, 0), (3, 6), (4, 1))))
    assert found.fixed
    assert all(len(found.ways[c]) == 1 for c in found.fixed)


def test_a_stretch_fixes_the_seam_it_is_part_of() -> None:
    found = check(four(line((0, 3), (3, 3))))
    last = seams(four()).runs[-1]
    assert last.choice in found.fixed


def test_copies_of_a_seam_cannot_be_pressed_apart() -> None:
    """One seam is pressed in two ways if its two halves are fixed apart."""
    fixings = (line((0, 3), (3, 3)), line((3, 3), (6, 3), (4, 5)))
    findings = check(four(*fixings)).findings
    assert [finding.code for finding in findings] == [CONTRADICTION.code]
    assert "(0, 3) to (3, 3) open" in findings[0].what
    assert "(4, 5)" in findings[0].what


def test_two_lines_through_one_crossing() -> None:
    findings = check(four(line((0, 3), (6, 3)), line((3, 0), (3, 6)))).findings
    assert TWO_LINES.code in [finding.code for finding in findings]
    (crossed,) = (f for f in findings if f.code == TWO_LINES.code)
    assert crossed.where.at == (Fraction(3), Fraction(3))
    halves = (line((0, 3), (6, 3)), line((3, 0), (3, 3)), line((3, 3), (3, 6)))
    assert check(four(*halves)).findings == ()


def test_spin() -> None:
    clockwise = check(four(spin((3, 3), True)), spins=True)
    other = check(four(spin((3, 3), False)), spins=True)
    either = check(four(spin((3, 3), None)), spins=True)
    (choice,) = clockwise.fixed
    assert clockwise.ways[choice] == (SPUN,)
    assert other.ways[choice] == (SPUN_BACK,)
    assert either.ways[choice] == (SPUN, SPUN_BACK)
    findings = check(four(spin((3, 3), True))).findings
    assert [finding.code for finding in findings] == [CANNOT_SPIN.code]


def test_as_given_names_every_seam_left_out() -> None:
    block = four(line((0, 3), (6, 3)))
    found = given(block, seams(block))
    findings = not_given(block.name, seams(block), found.fixed)
    assert [finding.code for finding in findings] == [NOT_GIVEN.code] * 2
    assert all("(3, 3)" in f.what for f in findings)
    assert any("(3, 0)" in f.what for f in findings)
    assert any("(3, 6)" in f.what for f in findings)


def test_fixings_that_only_together_cannot_be_pressed() -> None:
    block = four(spin((3, 3), True), line((3, 0), (3, 3), (5, 1)), line((3, 3), (3, 6), (5, 5)))
    found = spun(seams(block))
    maker = given(block, found)
    assert maker.findings == ()
    assert not chosen(maker.ways, [], bars=spinning(found)).possible
    assert impossible(block).code == CONTRADICTION.code
    halves = (line((3, 0), (3, 3), (5, 1)), line((3, 3), (3, 6), (1, 5)))
    good = [given(b, found) for b in (four(spin((3, 3), t), *halves) for t in (True, False))]
    # Right of whoever walks up from the crossing: clockwise from the front, not from the back.
    assert [chosen(g.ways, [], bars=spinning(found)).possible for g in good] == [False, True]
