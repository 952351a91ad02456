"""The printed booklet of the demo against its model, by place: every cell of every table stands in
its row and under its heading, every step beside its number, every line in its section."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Sequence

import numpy as np
import pypdfium2
import pytest

from seamproof.booklet.model import (
    Beside,
    Cautions,
    Chapter,
    CuttingTables,
    Edition,
    Facts,
    Heading,
    HelpBox,
    Key,
    Listed,
    Notes,
    Part,
    Picture,
    Pictures,
    Section,
    Table,
    Templates,
    TurnedOver,
    Words,
)
from seamproof.booklet.page_looks import look_of
from seamproof.booklet.printing import print_booklet
from tests.booklet import demo
from tests.booklet.reading_back import Printed, bare, boxes_of, meeting

NEAR = 1.5
"""Points: what lies closer is on one line."""
FABRIC_TALLER = 4.0
"""Points that the letter of a fabric, being larger, may stand above its first line."""
NUMBER_TALLER = 13.0
"""Points that the number of a step, being larger, may stand above its text."""


@functools.cache
def printed() -> Printed:
    look = look_of(Edition())
    return Printed(demo.pdf(), look.top, look.bottom)


def spans() -> Iterator[tuple[Section, int, int]]:
    """Each section with the characters from its title to the next one's."""
    starts = printed().starts()
    ends = [*starts[1:], len(printed().text)]
    yield from zip(demo.model().sections, starts, ends, strict=True)


def parts() -> Iterator[tuple[Section, Part, int, int]]:
    """Each part, besides those side by side with others, and where its section lies."""
    for section, start, end in spans():
        for part in section.parts:
            if isinstance(part, Beside):
                yield section, part.picture, start, end
                yield section, part.table, start, end
            else:
                yield section, part, start, end


def test_sections_are_complete_and_in_order() -> None:
    assert [title for title, _ in printed().titles] == [s.title for s in demo.model().sections]
    assert printed().starts() == sorted(printed().starts())
    for section, start, _ in spans():
        page, _, top, _ = printed().at[start]
        if section.opens:
            assert top < look_of(Edition()).top + 30, section.title
            assert start == 0 or printed().at[start - 1][0] == page - 1, section.title


def rows_in(
    start: int, end: int, heads: list[str], rows: list[list[str]], loose: Sequence[str] = ()
) -> tuple[list[list[int]], list[int]]:
    """Where each cell of a table begins, -1 for an empty one; its rows follow each other with
    nothing between them but the headings, which a new page repeats, and the `loose` cells, which
    reach over several rows; and where those begin."""
    text = printed().text
    head, free = "".join(map(bare, heads)), [bare(cell) for cell in loose]
    opening = head if loose else head + "".join(map(bare, rows[0]))
    cursor = text.index(opening, start, end) + len(head)
    found, beside = [], []
    for row in rows:
        cells = [bare(cell) for cell in row]
        told = "".join(cells)
        while not text.startswith(told, cursor):
            if free and text.startswith(free[0], cursor):
                beside.append(cursor)
                cursor += len(free.pop(0))
                continue
            assert text.startswith(head, cursor), (row, text[cursor : cursor + 80])
            assert printed().at[cursor][0] == printed().at[cursor - 1][0] + 1, row
            cursor += len(head)
        places = []
        for cell in cells:
            places.append(cursor if cell else -1)
            cursor += len(cell)
        found.append(places)
    assert free == []
    return found, beside


def below(one: int, other: int) -> bool:
    """Whether a character lies on a later line or page than another."""
    (page, _, top, _), (before, _, above, _) = printed().at[one], printed().at[other]
    return page == before + 1 or (page == before and top > above + NEAR)


def on_one_line(places: list[int]) -> bool:
    tops = [printed().at[i] for i in places]
    return all(p[0] == tops[0][0] and abs(p[2] - tops[0][2]) < NEAR for p in tops)


def test_every_cell_of_every_table_stands_in_its_row_under_its_heading() -> None:
    walked = 0
    for section, table, start, end in parts():
        if not isinstance(table, Table):
            continue
        heads, rows = list(table.columns), [list(row) for row in table.rows]
        found, _ = rows_in(start, end, heads, rows)
        begins = found[0][next(i for i, cell in enumerate(rows[0]) if cell)]
        head = begins - sum(len(bare(name)) for name in heads)
        columns = []
        for name in heads:
            columns.append((printed().at[head][1], printed().at[head + len(bare(name)) - 1][3]))
            head += len(bare(name))
        for i, (row, places) in enumerate(zip(rows, found, strict=True)):
            there = [at for at in places if at >= 0]
            assert on_one_line(there), (section.key, table.name, row)
            for j, at in enumerate(places):
                if at < 0:
                    continue
                if j in table.right:
                    edge = printed().at[at + len(bare(row[j])) - 1][3]
                    assert abs(edge - columns[j][1]) < NEAR, (section.key, table.name, row, j)
                else:
                    left = printed().at[at][1]
                    assert abs(left - columns[j][0]) < NEAR, (section.key, table.name, row, j)
                walked += 1
            if i:
                last = next(at for at in found[i - 1] if at >= 0)
                assert below(there[0], last), (section.key, table.name, row)
    assert walked > 1000


def test_every_line_of_every_cutting_table_stands_with_its_fabric_and_its_mark() -> None:
    walked = 0
    for section, part, start, end in parts():
        if not isinstance(part, CuttingTables):
            continue
        rows, fabrics, first = [], [], []
        for table in part.tables:
            fabrics.append(f"{table.fabric.paint.letter} {table.fabric.name}")
            first.append(len(rows))
            for row in table.rows:
                what = ", ".join(word for word in (row.what, row.split) if word)
                purpose = row.purpose if row.letter else ""
                rows.append([row.letter, str(row.count or ""), what, purpose])
        heads = ["Fabric", "Mark", "Cut", "Size, width × length", "For"]
        found, beside = rows_in(start, end, heads, rows, fabrics)
        lefts: dict[int, set[int]] = {}
        for row, places in zip(rows, found, strict=True):
            assert on_one_line([at for at in places if at >= 0]), (section.key, row)
            for j, at in enumerate(places):
                if at >= 0 and j in {0, 3}:
                    lefts.setdefault(j, set()).add(round(printed().at[at][1]))
            walked += 1
        assert all(max(some) - min(some) <= 1 for some in lefts.values()), (section.key, lefts)
        for at, row_number in zip(beside, first, strict=True):
            cell = next(place for place in found[row_number] if place >= 0)
            assert abs(printed().at[at][2] - printed().at[cell][2]) < FABRIC_TALLER, section.key
            assert printed().at[at][0] == printed().at[cell][0], section.key
    assert walked > 60


def test_every_step_stands_beside_its_number_with_what_it_should_measure() -> None:
    walked = 0
    for section, part, start, end in parts():
        if not isinstance(part, Chapter):
            continue
        cursor = printed().text.index(bare(part.title), start, end)
        for i, step in enumerate(part.steps):
            told = bare(f"{step.number}{step.text}{step.measure}")
            at = printed().text.find(told, cursor, end)
            if at < 0 and step.shows and i:
                continue  # left out where it would stand alone
            assert at >= 0, (section.key, part.title, step.number)
            number, text = printed().at[at], printed().at[at + len(str(step.number))]
            assert number[0] == text[0], (section.key, part.title, step.number)
            assert number[3] <= text[1] + NEAR, (section.key, part.title, step.number)
            assert abs(number[2] - text[2]) < NUMBER_TALLER, (section.key, part.title, step.number)
            pages = {place[0] for place in printed().at[at : at + len(told)]}
            assert len(pages) == 1, (section.key, part.title, step.number)
            cursor = at + len(told)
            walked += 1
    assert walked > 150


def said_in(part: Part) -> Iterator[str]:
    """Each text of a part that is no table, as it must stand in one run."""
    if isinstance(part, Words):
        yield from part.paragraphs
    elif isinstance(part, Facts):
        yield from (f"{fact.name} {fact.text}" for fact in part.facts)
    elif isinstance(part, Picture):
        yield part.caption
    elif isinstance(part, Pictures):
        yield from (one.caption for one in part.pictures)
    elif isinstance(part, Key):
        yield from (f"{row.paint.letter} {row.name} {row.value}" for row in part.fabrics)
    elif isinstance(part, Cautions):
        yield from (f"{one.title} {one.text}" for one in part.cautions)
    elif isinstance(part, Notes):
        for note in part.notes:
            yield from (one[:1].upper() + one[1:].rstrip(".") for one in (note.text, note.mend))
    elif isinstance(part, Templates):
        yield from (one.title for one in part.templates)
    elif isinstance(part, HelpBox):
        yield part.title
        for column in part.columns:
            yield " ".join((column.title, *column.texts))
    elif isinstance(part, Heading):
        yield f"{part.title} {part.lead}"
    elif isinstance(part, Listed):
        yield from (f"{i} {item}" for i, item in enumerate(part.items, start=1))
    elif isinstance(part, Chapter):
        yield f"{part.title} "
        yield part.lead
        yield from (one.text for one in (*part.variants, *part.signs))
    elif isinstance(part, TurnedOver):
        yield f"{part.layers} {part.layers_say}"
        yield from (part.title, part.back_says, part.close_says, *part.said)
        yield from (one[:1].upper() + one[1:].rstrip(".") for one in part.reasons)
    else:
        assert isinstance(part, Table | CuttingTables), type(part)


def test_every_other_line_stands_in_its_section() -> None:
    walked = 0
    for section, part, start, end in parts():
        for text in said_in(part):
            where = printed().text[start:end]
            assert bare(text) in where, (section.key, text)
            walked += bool(text)
    for section, start, end in spans():
        assert bare(section.lead) in printed().text[start:end], section.key
    assert walked > 500


def test_a_number_in_the_wrong_row_would_be_found() -> None:
    """The check itself: two cells of one column change places."""
    found = [part for _, part, *_ in parts() if isinstance(part, Table)]
    table = next(t for t in found if t.name == "materials")
    start, end = next((s, e) for one, s, e in spans() if one.key == "materials")
    rows = [list(row) for row in table.rows]
    assert rows_in(start, end, list(table.columns), rows)
    rows[2][4], rows[4][4] = rows[4][4], rows[2][4]
    assert rows[2][4] != rows[4][4]
    with pytest.raises(AssertionError):
        rows_in(start, end, list(table.columns), rows)


def test_no_two_texts_meet_on_any_page() -> None:
    with pypdfium2.PdfDocument(demo.pdf()) as document:
        assert [(n, meeting(boxes_of(page))) for n, page in enumerate(document, start=1)] == [
            (n, []) for n in range(1, len(document) + 1)
        ]


def test_a_text_over_another_would_be_found() -> None:
    with pypdfium2.PdfDocument(demo.pdf()) as document:
        there = boxes_of(document[2])
    planted = np.add(there[100:101], 1.0)
    assert meeting(there) == []
    assert (100, len(there)) in meeting(np.vstack([there, planted]))


def test_the_demo_is_printed_alike_twice_and_as_accessible_pdf() -> None:
    assert print_booklet(demo.model(), Edition()) == demo.pdf()
    assert b"pdfuaid" in demo.pdf()
