"""A quilt that is given out release by release: its calendar, and what is cut early and saved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from seamproof.booklet import cloth_wording, release_wording, wording
from seamproof.booklet.matter import Matter, Year
from seamproof.booklet.model import Note, Notes, Section, Table, Words
from seamproof.cloth.pooling import Kind
from seamproof.programme.model import Need, Saved


def calendar(year: Year, *, opens: bool) -> Section:
    """Which release is which day, what it holds, and what is new in it; on a page of its own if
    nothing stands before it."""
    rows = tuple(
        (
            str(n),
            release_wording.day_said(release.day),
            wording.listed(release.holds),
            wording.listed(release.new),
        )
        for n, release in enumerate(year.releases, start=1)
    )
    columns = ("Release", "Day", "What it holds", "New in it")
    table = Table("calendar", columns, rows, (3, 8, 14, 12))
    return Section(
        "calendar",
        release_wording.CALENDAR,
        (table,),
        lead=release_wording.calendar_lead(len(rows)),
        opens=opens,
    )


def saving(matter: Matter) -> Section | None:
    """What is cut with one release and sewn in another; None if nothing is, or all goes out at
    once."""
    if matter.year is None:
        return None
    pairs = sorted({(s.cut, s.used) for need in matter.year.needs for s in need.save})
    if not pairs:
        return None
    kinds = _kinds(matter)
    rows = tuple(
        (str(cut), str(used), _pieces(matter.year.needs, cut, used, kinds)) for cut, used in pairs
    )
    table = Table("saved", ("Cut with", "Save for", "Pieces"), rows, (3, 3, 30))
    words = Words((release_wording.BAG, release_wording.MARKS_OF_THE_CLOTH), small=True)
    return Section(
        "saving",
        release_wording.SAVING,
        (words, table),
        lead=release_wording.SAVING_LEAD,
    )


def with_the_block(matter: Matter, block: str) -> Notes | None:
    """What the makers of a release save and take, told with its first block; None for others, and
    without releases."""
    if matter.year is None:
        return None
    for n, release in enumerate(matter.year.releases, start=1):
        if release.blocks[:1] == (block,):
            lines = tuple(Note(text, "") for text in _lines(matter, matter.year, n))
            return Notes(release_wording.release_said(n, release.day), lines)
    return None


def _lines(matter: Matter, year: Year, release: int) -> Iterator[str]:
    kinds = _kinds(matter)
    there = [s for need in year.needs for s in need.save]
    for cut in sorted({s.cut for s in there if s.used == release}):
        yield release_wording.take_said(cut, _pieces(year.needs, cut, release, kinds))
    for used in sorted({s.used for s in there if s.cut == release}):
        yield release_wording.save_said(used, _pieces(year.needs, release, used, kinds))
    if any(release in (s.cut, s.used) for s in there):
        yield release_wording.MARKS_OF_THE_CLOTH
    else:
        yield release_wording.NOTHING_SAVED


def _kinds(matter: Matter) -> dict[str, Kind]:
    return {name: kind for cloth in matter.cloths for name, kind in cloth.kinds.items()}


def _pieces(needs: Sequence[Need], cut: int, used: int, kinds: Mapping[str, Kind]) -> str:
    """What is cut with one release for another, cloth by cloth, by the marks of the diagrams."""
    found: dict[str, list[Saved]] = {}
    for need in needs:
        for one in need.save:
            if (one.cut, one.used) == (cut, used):
                found.setdefault(need.fabric, []).append(one)
    return "; ".join(
        release_wording.of_cloth(
            letter, cloth_wording.pieces_of([(s.piece, s.count) for s in saved], dict(kinds))
        )
        for letter, saved in found.items()
    )
