"""The year as a course."""

from __future__ import annotations

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from seamproof.programme.course import Lesson, course_faults, course_of, gentlest
from seamproof.programme.model import Asked, ReleaseAsked

skills = st.sets(st.sampled_from("uvwxyz"), max_size=4).map(lambda some: tuple(sorted(some)))


@st.composite
def lessons(draw: st.DrawFn) -> list[Lesson]:
    count = draw(st.integers(1, 6))
    return [Lesson(f"B{n}", draw(skills), (), draw(st.integers(1, 40))) for n in range(count)]


def most_new(order: list[Lesson]) -> int:
    known: set[str] = set()
    most = 0
    for one in order:
        most = max(most, len({*one.techniques} - known))
        known |= set(one.techniques)
    return most


@given(lessons())
def test_if_one_at_a_time_is_possible_the_gentlest_order_does_it(some: list[Lesson]) -> None:
    from itertools import permutations

    by_name = {one.block: one for one in some}
    found = [by_name[name] for name in gentlest(some)]
    assert sorted(one.block for one in found) == sorted(by_name)
    possible = any(most_new(list(order)) <= 1 for order in permutations(some))
    assert (most_new(found) <= 1) == possible


@given(lessons())
def test_everything_is_new_once_and_known_from_then_on(some: list[Lesson]) -> None:
    asked = Asked(date(2027, 1, 1), tuple(ReleaseAsked((one.block,)) for one in some))
    terms = course_of(asked, some)
    new = [technique for term in terms for technique in term.new]
    assert sorted(new) == sorted({t for one in some for t in one.techniques})
    known: set[str] = set()
    for term in terms:
        assert set(term.known) <= known
        known |= set(term.new)
    tools = [tool for term in terms for tool in term.tools]
    assert len(tools) == len(set(tools))


def codes(*some: Lesson) -> list[int]:
    asked = Asked(date(2027, 1, 1), tuple(ReleaseAsked((one.block,)) for one in some))
    return [finding.code for finding in course_faults(asked, course_of(asked, some))]


def test_two_new_things_at_once_are_warned_of() -> None:
    assert codes(Lesson("A", ("x",), (), 1), Lesson("B", ("y", "z"), (), 9)) == [806]


def test_the_hardest_block_before_the_middle_is_warned_of() -> None:
    assert codes(Lesson("A", ("x",), (), 9), Lesson("B", (), (), 1), Lesson("C", (), (), 1)) == [
        807
    ]
    assert codes(Lesson("A", ("x",), (), 9), Lesson("B", (), (), 1)) == []


def test_a_hard_block_alone_is_noted() -> None:
    easy = [Lesson(f"E{n}", (), (), 1) for n in range(3)]
    assert codes(*easy, Lesson("H", (), (), 9)) == [816]
