"""What changed between two booklets, line by line and by place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from seamproof.booklet.model import BookletModel
from seamproof.booklet.reading import lines_of


@dataclass(frozen=True, slots=True)
class Change:
    """One line that differs: the key of its section, its place there, and what it said and says;
    one of the two is "" for a line that came or went."""

    section: str
    place: str
    before: str
    after: str

    @property
    def what(self) -> Literal["new", "gone", "changed"]:
        """Whether the line came, went, or says something else."""
        return "new" if not self.before else "gone" if not self.after else "changed"


def redline(before: BookletModel, after: BookletModel) -> tuple[Change, ...]:
    """Every line that differs, in the order of the later booklet; lines that went come where they
    stood, after the last line before them that is still there.

    Lines are the same if they stand at the same place of the same section; places are names
    ("cutting A, Aa"), so that a line which comes in between makes no other differ.
    """
    old = _by_place(before)
    new = _by_place(after)
    order = list(new)
    at: tuple[str, str] | None = None
    for place in old:
        if place not in new:
            order.insert(0 if at is None else order.index(at) + 1, place)
        at = place
    return tuple(
        Change(*place[:2], old.get(place, ""), new.get(place, ""))
        for place in order
        if old.get(place, "") != new.get(place, "")
    )


def _by_place(model: BookletModel) -> dict[tuple[str, str], str]:
    """What stands at every place; several lines at one place one below the other."""
    found: dict[tuple[str, str], str] = {}
    for line in lines_of(model):
        key = (line.section, line.place)
        found[key] = f"{found[key]}\n{line.text}" if key in found else line.text
    return found
