"""A whole pattern, in the order in which it is used."""

from __future__ import annotations

from collections.abc import Iterator

from seamproof.booklet import book_wording, wording
from seamproof.booklet.block_chapters import block_section, help_for_all
from seamproof.booklet.cloth_chapters import colouring, cut_first, cutting, materials, swatch_card
from seamproof.booklet.front_matter import abbreviations, before_you_begin, cover, story, tools
from seamproof.booklet.matter import Matter
from seamproof.booklet.model import BookletModel, Section, Words
from seamproof.booklet.other_hand import turned_over
from seamproof.booklet.reading import texts_of
from seamproof.booklet.recipe_chapter import recipes, told_once
from seamproof.booklet.releases_chapter import calendar, saving
from seamproof.booklet.sentences import reworded
from seamproof.booklet.setting_chapter import setting_sections
from seamproof.figures.cloth import Paints, paints

ORDER = (
    "story",
    "calendar",
    "notes",
    "abbreviations",
    "tools",
    "materials",
    "swatches",
    "colouring",
    "cut-first",
    "cutting",
    "saving",
    "recipes",
    "block",
    "help",
    "setting",
    "borders",
    "finishing",
    "hand-over",
    "closing",
)
"""The sections of a pattern in order; a block's key goes on after a colon."""

ALWAYS = frozenset({"notes", "abbreviations", "tools", "materials", "swatches", "block", "closing"})
"""Sections that no pattern lacks."""


def book(matter: Matter, only: str | None = None, *, left: bool = False) -> BookletModel:
    """The booklet of a quilt; of the block named `only` alone, if one is named: its section with
    the pages that it cannot be sewn without. For a `left`-handed maker what goes by the hand is
    turned over.

    Raises ValueError if there is no such block.
    """
    shown = paints(matter.fabrics)
    if only is not None and only not in {one.name for one in matter.blocks}:
        raise ValueError(f"there is no block {only}")
    sections = tuple(_sections(matter, shown, only, left=left))
    if left:
        sections = tuple(map(turned_over, sections))
    told = [text for section in sections for text in texts_of(section)]
    words = abbreviations(told)
    at = 1 + next(i for i, section in enumerate(sections) if section.key == "notes")
    model = BookletModel(
        title=matter.name if only is None else f"{matter.name}: {only}",
        version=book_wording.version_said(matter.own.version) if matter.own.version else "",
        measure=matter.measure,
        cover=cover(matter, shown) if only is None else None,
        sections=(*sections[:at], words, *sections[at:]),
    )
    return reworded(model, dict(matter.own.sentences))


def _sections(matter: Matter, shown: Paints, only: str | None, *, left: bool) -> Iterator[Section]:
    whole = only is None
    if whole and (own := story(matter)) is not None:
        yield own
    if whole and matter.year is not None:
        yield calendar(matter.year, opens=not matter.own.story)
    yield before_you_begin(matter)
    yield tools(matter)
    if whole:
        yield materials(matter, shown)
        yield swatch_card(matter, shown)
        for section in (
            colouring(matter, shown),
            cut_first(matter, shown),
            cutting(matter, left=left),
            saving(matter),
        ):
            if section is not None:
                yield section
    told = told_once(matter) if whole else None
    if told and (once := recipes(matter, told)) is not None:
        yield once
    for one in matter.blocks:
        if whole or one.name == only:
            yield block_section(matter, one, told)
    if told:
        yield help_for_all(matter)
    if whole:
        yield from setting_sections(matter, shown)
    yield closing(matter)


def closing(matter: Matter) -> Section:
    """Where corrections are, how to report a mistake, what was proved, and the version."""
    own = matter.own
    said = [
        book_wording.corrections_said(own.corrections),
        book_wording.report_said(own.contact),
        wording.PROVED if matter.proved else wording.NOT_PROVED,
        *own.credits,
    ]
    if own.version:
        said.append(book_wording.version_said(own.version) + ".")
    return Section("closing", book_wording.CLOSING, (Words(tuple(said)),), opens=True)


def keys(model: BookletModel) -> tuple[str, ...]:
    """The keys of the sections in order, without the names of blocks."""
    return tuple(section.key.partition(":")[0] for section in model.sections)
