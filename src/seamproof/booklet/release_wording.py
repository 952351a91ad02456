"""Sentences about a quilt that is given out release by release."""

from __future__ import annotations

from datetime import date

from seamproof.booklet import wording
from seamproof.cloth.tops import LOOSE

CALENDAR = "The calendar"
SAVING = "Saved from release to release"
SAVING_LEAD = (
    "A strip is cut once, with the first release that needs it; what it gives for later is saved."
)
BAG = "Put what you save into a bag of its own and write the release on it."
MARKS_OF_THE_CLOTH = "Small letters are those of the cutting diagrams, cloth by cloth."
NOTHING_SAVED = "Nothing is saved for this release, and nothing in it for later."

MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July", "August", "September"),
    *("October", "November", "December"),
)


def calendar_lead(count: int) -> str:
    """How many releases there are.

    >>> calendar_lead(12), calendar_lead(1)
    ('The quilt goes out in 12 releases.', 'The quilt goes out in one release.')
    """
    return f"The quilt goes out in {wording.count_word(count)} release{'s' * (count != 1)}."


def day_said(day: date) -> str:
    """A day, the month as a word.

    >>> day_said(date(2027, 1, 9))
    '9 January 2027'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def release_said(release: int, day: date) -> str:
    """Which release a block goes out with."""
    return f"Release {release}, {day_said(day)}"


def take_said(release: int, pieces: str) -> str:
    """What was cut and saved before."""
    return f"Take from release {release}. {pieces}."


def save_said(release: int, pieces: str) -> str:
    """What is cut now for later."""
    return f"Save for release {release}. {pieces}."


def of_cloth(letter: str, pieces: str) -> str:
    """Pieces of one cloth, by their marks.

    >>> of_cloth("a", "2 squares k"), of_cloth("backing", "1 piece a")
    ('A: 2 squares k', 'Backing: 1 piece a')
    """
    return f"{letter.capitalize() if letter in LOOSE else letter.upper()}: {pieces}"
