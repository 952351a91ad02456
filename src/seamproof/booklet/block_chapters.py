"""The section on one block: its front, cutting, units, making, back, layout card and help box."""

from __future__ import annotations

import functools
from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from seamproof.accuracy.student_help import Help, usual_help
from seamproof.booklet import book_wording, wording
from seamproof.booklet.layout_card import layout_card
from seamproof.booklet.matter import BlockMatter, Matter
from seamproof.booklet.model import (
    Cautions,
    CuttingTables,
    Facts,
    Heading,
    HelpBox,
    HelpColumn,
    Key,
    Notes,
    Part,
    Picture,
    Section,
    SheetModel,
    Templates,
    Words,
)
from seamproof.booklet.recipe_chapter import ToldOnce, Way, by_recipe, used_by
from seamproof.booklet.releases_chapter import with_the_block
from seamproof.booklet.sheets import sheet
from seamproof.figures.cloth import paints as paints_of

FRONT_WIDTH, FRONT_HEIGHT = 0.48, 2.6
"""Room for the picture of a block: share of the text's width, and inches."""

KEPT = 256
"""Sections that are kept while the program runs."""

MOST_HELP = 1
"""Likely causes that the help box of a page tells; more would not be read."""


def block_key(slug: str) -> str:
    """The key of a block's section."""
    return f"block:{slug}"


@dataclass(frozen=True)
class _Asked:
    """One block of a quilt. `key` is everything that its section is made of, so that a section is
    made again only when that changes."""

    key: tuple[Hashable, ...]
    matter: Matter = field(compare=False)
    one: BlockMatter = field(compare=False)
    used: tuple[ToldOnce, ...] | None = field(compare=False, default=None)
    saved: Notes | None = None


def block_section(
    matter: Matter, one: BlockMatter, told: Mapping[Way, ToldOnce] | None = None
) -> Section:
    """A block: cutting on its first page, then how it is made. Its units refer to the recipes
    `told` elsewhere; without them every step is told here."""
    used = used_by(one, told) if told else None
    photos = tuple(photo for photo in matter.own.photos if photo.block == one.name)
    parts = (one.block, one.fabrics, one.piecing, one.cutting, one.pressed, one.pressing)
    key = (
        *(one.slug, *parts, one.findings, one.copies, repr(one.settings)),
        *(matter.name, matter.measure, matter.proved, matter.own.block(one.name), photos),
        *((known.number, known.chapter.title, *_texts(known)) for known in used or ()),
        used is None,
    )
    return _section(_Asked(key, matter, one, used, with_the_block(matter, one.name)))


def _texts(known: ToldOnce) -> tuple[str, ...]:
    return tuple(step.text for step in known.chapter.steps)


@functools.lru_cache(maxsize=KEPT)
def _section(asked: _Asked) -> Section:
    matter, one = asked.matter, asked.one
    paints = paints_of(one.fabrics)
    made = sheet_of(matter, one)
    own = matter.own.block(one.name)
    front: list[Part] = [Facts(made.facts)]
    if own.intro:
        front.append(Words(own.intro))
    front += [
        Picture(made.picture, width=FRONT_WIDTH, height=FRONT_HEIGHT),
        Key(wording.KEY_TITLE, made.fabrics),
    ]
    front += matter.own.photos_at("finished", one.name)
    if made.notes:
        front.append(Notes(wording.NOTES_TITLE, made.notes))
    front.append(Heading(made.cutting_title, made.cutting_lead))
    front += [Cautions((made.cutter, made.iron)), CuttingTables(made.cutting)]
    if asked.saved is not None:
        front.append(asked.saved)
    units = made.units
    if asked.used is not None:
        units = tuple(by_recipe(units, one, asked.used, matter.measure))
    making: list[Part] = [*units]
    making += matter.own.photos_at("step-out", one.name)
    card = layout_card(one, paints)
    if card:
        making += card
    if made.assembly is not None:
        making.append(replace(made.assembly, signs=()) if asked.used is not None else made.assembly)
    if made.turned is not None:
        making.append(made.turned)
    making += matter.own.photos_at("wrong side", one.name)
    box = help_box(one, matter, own=asked.used is not None)
    if box.columns:
        making.append(box)
    if made.templates:
        making += [
            Heading(wording.TEMPLATES_TITLE, wording.TEMPLATES_LEAD),
            Templates(made.templates),
        ]
    key = block_key(one.slug)
    return Section(
        key,
        one.name,
        (*front, *making),
        lead=book_wording.need_said(one.copies),
        opens=True,
        rule=True,
    )


def sheet_of(matter: Matter, one: BlockMatter) -> SheetModel:
    """The block as its own sheet tells it."""
    return sheet(
        *(one.block, one.fabrics, one.piecing, one.cutting),
        settings=one.settings,
        proved=matter.proved,
        findings=one.findings,
        quilt=matter.name,
        measure=matter.measure,
        pressed=one.pressed,
        pressing=one.pressing,
    )


def help_box(one: BlockMatter, matter: Matter, *, own: bool = False) -> HelpBox:
    """What to do if the block is too small, too large, or has a unit the wrong way round; only what
    is its `own`, where the rest stands elsewhere in the same booklet."""
    columns = []
    if len(one.piecing.parts) > 1:
        columns = [
            HelpColumn(title, _own(help_) if own else _told(help_))
            for title, help_ in _helps(one, matter)
        ]
    if not own:
        columns.append(HelpColumn(book_wording.TURNED, book_wording.TURNED_HELP))
    return HelpBox(book_wording.HELP_TITLE, tuple(columns))


def help_for_all(matter: Matter) -> Section:
    """What holds for every block that came out wrong."""
    first: dict[str, list[str]] = {}
    for one in matter.blocks:
        if len(one.piecing.parts) < 2:
            continue
        for title, help_ in _helps(one, matter):
            tests = (cause.test for cause in help_.causes[:MOST_HELP])
            first.setdefault(title, []).extend((help_.first, *tests))
    columns = [HelpColumn(title, tuple(dict.fromkeys(some))) for title, some in first.items()]
    columns.append(HelpColumn(book_wording.TURNED, book_wording.TURNED_HELP))
    box = HelpBox(book_wording.HELP_FIRST, tuple(columns))
    return Section("help", book_wording.HELP_FOR_ALL, (box,), lead=book_wording.HELP_FOR_ALL_LEAD)


def _helps(one: BlockMatter, matter: Matter) -> Iterator[tuple[str, Help]]:
    small, large = usual_help(
        one.piecing, one.cutting, seam=one.settings.seam, measure=matter.measure
    )
    yield book_wording.TOO_SMALL, small
    yield book_wording.TOO_LARGE, large


def _own(help_: Help) -> tuple[str, ...]:
    """A mistake has no reckoning of its own: of that it is said what it may be."""
    causes = help_.causes[:MOST_HELP]
    return (*(c.say if c.name == "mistake" else c.why for c in causes), *help_.save[:1])


def _told(help_: Help) -> tuple[str, ...]:
    causes = [f"{cause.why} {cause.test}" for cause in help_.causes[:MOST_HELP]]
    return (help_.first, *causes, *help_.save[:1])
