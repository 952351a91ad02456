"""Everything that a booklet says, with the place where it stands: what checks, lists of changes and
of abbreviations read."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass

from seamproof.booklet.model import (
    Beside,
    BookletModel,
    Cautions,
    Chapter,
    CuttingTables,
    Facts,
    Heading,
    HelpBox,
    Key,
    Listed,
    Notes,
    Part,
    Photo,
    Picture,
    Pictures,
    Section,
    Table,
    Templates,
    TurnedOver,
    Words,
)

Line = tuple[str, str]
"""Where a line stands within its section, and what it says."""


@dataclass(frozen=True, slots=True)
class Said:
    """One line of a booklet: the key of its section, its place in that, and its text."""

    section: str
    place: str
    text: str


def lines_of(model: BookletModel) -> tuple[Said, ...]:
    """Every line in order. Places are names that stay when lines before them come or go."""
    found: list[Said] = []
    if model.cover is not None:
        cover = model.cover
        lines = [("above", cover.above), ("title", cover.title), ("below", cover.below)]
        lines += [(fact.name, fact.text) for fact in cover.facts]
        lines += [(f"aside {i}", text) for i, text in enumerate(cover.aside, start=1)]
        found += [Said("cover", place, text) for place, text in lines if text]
    for section in model.sections:
        found += [Said(section.key, place, text) for place, text in section_lines(section)]
    return tuple(found)


def section_lines(section: Section) -> Iterator[Line]:
    """The lines of one section with their places."""
    yield "title", section.title
    if section.lead:
        yield "lead", section.lead
    under = ""
    for part in section.parts:
        if isinstance(part, Heading):
            under = part.title
        elif isinstance(part, Chapter | TurnedOver | HelpBox):
            under = ""
        for place, text in part_lines(part):
            if text:
                yield (f"{under}: {place}" if under else place), text


def texts_of(section: Section) -> Iterator[str]:
    """What one section says, line by line."""
    return (text for _, text in section_lines(section))


@functools.singledispatch
def part_lines(part: Part) -> Iterator[Line]:
    """The lines of a part with their places in it."""
    raise TypeError(f"{type(part).__name__} is no part of a booklet")


@part_lines.register
def _(part: Words) -> Iterator[Line]:
    for i, text in enumerate(part.paragraphs, start=1):
        yield f"paragraph {i}", text


@part_lines.register
def _(part: Facts) -> Iterator[Line]:
    for fact in part.facts:
        yield fact.name, fact.text


@part_lines.register
def _(part: Table) -> Iterator[Line]:
    for i, row in enumerate(part.rows, start=1):
        for column, cell in zip(part.columns, row, strict=True):
            yield f"table {part.name}, line {i}, {column}", cell


@part_lines.register
def _(part: Picture) -> Iterator[Line]:
    yield "caption", part.caption


@part_lines.register
def _(part: Pictures) -> Iterator[Line]:
    for i, one in enumerate(part.pictures, start=1):
        yield f"caption {i}", one.caption


@part_lines.register
def _(part: Beside) -> Iterator[Line]:
    yield "caption", part.picture.caption
    yield from part_lines(part.table)


@part_lines.register
def _(part: Photo) -> Iterator[Line]:
    yield "photograph", part.caption


@part_lines.register
def _(part: Key) -> Iterator[Line]:
    for row in part.fabrics:
        yield f"fabric {row.paint.letter}", f"{row.name}, {row.value}"


@part_lines.register
def _(part: CuttingTables) -> Iterator[Line]:
    for table in part.tables:
        strip = 0
        for row in table.rows:
            if not row.letter:
                strip += 1
            place = row.letter or f"strip {strip}"
            what = ", ".join(word for word in (row.what, row.split) if word)
            count = f"{row.count} " if row.count else ""
            yield f"cutting {table.fabric.paint.letter}, {place}", count + what
            yield f"cutting {table.fabric.paint.letter}, {place}, for", row.purpose


@part_lines.register
def _(part: Cautions) -> Iterator[Line]:
    for caution in part.cautions:
        yield caution.title, caution.text


@part_lines.register
def _(part: Notes) -> Iterator[Line]:
    for i, note in enumerate(part.notes, start=1):
        yield f"note {i}", ". ".join(t.rstrip(".") for t in (note.text, note.mend) if t)


@part_lines.register
def _(part: Templates) -> Iterator[Line]:
    for i, template in enumerate(part.templates, start=1):
        yield f"template {i}", template.title


@part_lines.register
def _(part: HelpBox) -> Iterator[Line]:
    for column in part.columns:
        for i, text in enumerate(column.texts, start=1):
            yield f"{part.title} {column.title} {i}", text


@part_lines.register
def _(part: Heading) -> Iterator[Line]:
    yield "heading", part.title
    yield "lead", part.lead


@part_lines.register
def _(part: Listed) -> Iterator[Line]:
    for i, text in enumerate(part.items, start=1):
        yield f"point {i}", text


@part_lines.register
def _(part: Chapter) -> Iterator[Line]:
    yield part.title, part.lead
    for i, variant in enumerate(part.variants, start=1):
        yield f"{part.title}, picture {i}", variant.text
    for sign in part.signs:
        yield f"{part.title}, sign", sign.text
    for step in part.steps:
        place = f"{part.title}, step {step.number}"
        yield f"{place}, set", step.begins
        yield place, step.text
        yield f"{place}, measure", step.measure


@part_lines.register
def _(part: TurnedOver) -> Iterator[Line]:
    yield part.title, f"{part.layers} {part.layers_say}"
    yield f"{part.title}, below", part.back_says
    for i, text in enumerate((*part.said, part.close_says, *part.reasons), start=1):
        yield f"{part.title}, {i}", text
