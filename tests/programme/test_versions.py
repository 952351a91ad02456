"""A redline lists exactly what differs: taken in, it makes the new version of the old one."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from seamproof.programme.versions import Fact, differences, is_number, rank, taken_in

short = st.sampled_from(["Star", "Moon", "release 1", "fabric A"])
facts = st.lists(
    st.builds(
        Fact, short, st.sampled_from("uvwxyz"), st.sampled_from(["1", "2", "3"]), st.booleans()
    ),
    max_size=12,
    unique_by=lambda fact: (fact.about, fact.what, fact.written),
)


@given(facts, facts)
def test_the_old_with_all_changes_is_the_new_and_no_change_is_idle(
    old: list[Fact], new: list[Fact]
) -> None:
    changes = differences(old, new)
    assert taken_in(old, changes) == frozenset(new)
    assert all(change.old != change.new for change in changes)
    for n in range(len(changes)):
        without = changes[:n] + changes[n + 1 :]
        assert taken_in(old, without) != frozenset(new), "each of them is needed"


@given(facts)
def test_nothing_differs_from_itself(some: list[Fact]) -> None:
    assert differences(some, reversed(some)) == ()


@given(facts, st.data())
def test_one_changed_number_is_one_change(some: list[Fact], data: st.DataObject) -> None:
    if not some:
        return
    n = data.draw(st.integers(0, len(some) - 1))
    fact = some[n]
    changed = [*some[:n], Fact(fact.about, fact.what, "4", fact.written), *some[n + 1 :]]
    (change,) = differences(some, changed)
    assert (change.about, change.what, change.old, change.new) == (
        *(fact.about, fact.what, fact.says, "4"),
    )
    assert change.kind == "changed"


@given(facts, facts)
def test_there_and_back(old: list[Fact], new: list[Fact]) -> None:
    there = {(c.about, c.what, c.old, c.new, c.written) for c in differences(old, new)}
    back = {(c.about, c.what, c.new, c.old, c.written) for c in differences(new, old)}
    assert there == back


def test_numbers_of_versions() -> None:
    assert sorted(["1.10", "1.9", "2", "1.0.1"], key=rank) == ["1.0.1", "1.9", "1.10", "2"]
    assert not any(map(is_number, ["", "1.", "a", "1.2.3.4", "../1", "1.0\n"]))
