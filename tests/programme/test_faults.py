"""What does not hold together in a programme."""

from __future__ import annotations

from datetime import date

import pytest

from seamproof.programme.calendar import entries_of
from seamproof.programme.faults import day_faults, release_faults
from seamproof.programme.model import Asked, Lead, ReleaseAsked, Rhythm

BLOCKS = {"Lit Window", "Capstan", "Dinghy"}


def asked(*releases: ReleaseAsked, **more: object) -> Asked:
    return Asked(date(2027, 1, 9), releases, **more)  # type: ignore[arg-type]


def codes(programme: Asked, in_top: dict[str, int] | None) -> list[int]:
    return [finding.code for finding in release_faults(programme, BLOCKS, in_top)]


@pytest.mark.parametrize(
    ("releases", "in_top", "expected"),
    [
        ([ReleaseAsked(("Capstan",))], None, []),
        ([ReleaseAsked(("Capstan",))], {"Capstan": 3}, []),
        ([ReleaseAsked(("Capston",))], None, [801]),
        ([ReleaseAsked(("Capstan",)), ReleaseAsked(("Capstan",))], None, [802]),
        ([ReleaseAsked((), ("binding",)), ReleaseAsked((), ("binding",))], None, [802]),
        ([ReleaseAsked(("Capstan",))], {"Capstan": 1, "Dinghy": 1}, [803]),
        ([ReleaseAsked(("Capstan", "Dinghy"))], {"Capstan": 1}, [811]),
    ],
)
def test_what_is_released(
    releases: list[ReleaseAsked], in_top: dict[str, int] | None, expected: list[int]
) -> None:
    assert codes(asked(*releases), in_top) == expected


def test_a_name_that_comes_near_is_proposed() -> None:
    (found,) = release_faults(asked(ReleaseAsked(("Capston",))), BLOCKS, None)
    assert found.mend == 'did you mean "Capstan"?'


def test_a_day_that_is_too_early_and_leads_that_overlap() -> None:
    weekly = Rhythm(1, "week")
    programme = asked(
        ReleaseAsked(("Capstan",)),
        ReleaseAsked(("Dinghy",), on=date(2027, 1, 2)),
        rhythm=weekly,
        leads=(("test", Lead(70, 14)),),
    )
    found = list(day_faults(programme, entries_of(programme, ["x", "y"])))
    assert [finding.code for finding in found] == [804, 805]
    assert "2027-01-02" in found[0].what
