"""The cover, what is said before anything is cut, and the tools this very quilt needs."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction

from seamproof.booklet import book_wording, wording
from seamproof.booklet.matter import BlockMatter, Matter
from seamproof.booklet.model import (
    Caution,
    Cautions,
    Cover,
    Fact,
    Listed,
    Picture,
    Section,
    Table,
    Words,
)
from seamproof.cloth.ordering import strips_of
from seamproof.cloth.tops import LOOSE
from seamproof.figures.block import block_scene
from seamproof.figures.cloth import Paints
from seamproof.figures.top import top_scene
from seamproof.length.exact import CM
from seamproof.length.notation import with_unit
from seamproof.length.rounding import nearest

COVER_WIDTH, COVER_HEIGHT = 0.7, 5.9
"""Room for the picture on the cover: share of the text's width, and inches."""


def cover(matter: Matter, paints: Paints) -> Cover:
    """The front page."""
    own, top, measure = matter.own, matter.top, matter.measure
    count = len(top.blocks) if top is not None else sum(one.copies for one in matter.blocks)
    facts = []
    if top is not None:
        size = (top.width, top.height)
        facts.append(Fact("Quilt", wording.extent(_on_marks(size, matter), measure)))
    sizes = sorted({(b.block.width, b.block.height) for b in matter.blocks}, reverse=True)
    facts += [
        Fact("Blocks", f"{book_wording.block_sizes(sizes, measure)} finished"),
        Fact("Seam allowance", with_unit(matter.settings.seam, measure)),
        Fact("Usable width", with_unit(matter.settings.usable_width, measure)),
    ]
    if own.skill:
        facts.append(Fact("Skill", own.skill))
    aside = [book_wording.PROVED_ASIDE if matter.proved else book_wording.NOT_PROVED_ASIDE]
    if own.version:
        aside.append(book_wording.version_said(own.version))
    aside.append(book_wording.corrections_said(own.corrections))
    scene = (
        top_scene(top, matter.drawn, paints, scale=1.0)
        if top is not None
        else block_scene(matter.blocks[0].block, paints, lettered=False)
    )
    photos = own.photos_at("cover")
    return Cover(
        above=own.above or book_wording.quilt_of(count),
        title=matter.name,
        below=own.by,
        facts=tuple(facts),
        picture=Picture(scene, width=COVER_WIDTH, height=COVER_HEIGHT, fine=top is not None),
        aside=tuple(aside),
        photo=photos[0] if photos else None,
    )


def _on_marks(size: tuple[Fraction, Fraction], matter: Matter) -> tuple[Fraction, Fraction]:
    return (nearest(size[0], matter.settings.step), nearest(size[1], matter.settings.step))


def story(matter: Matter) -> Section | None:
    """What the teacher tells about the quilt; None if she tells nothing."""
    if not matter.own.story:
        return None
    photos = matter.own.photos_at("finished")
    return Section("story", "About this quilt", (Words(matter.own.story), *photos), opens=True)


def before_you_begin(matter: Matter) -> Section:
    """What holds for the whole quilt, and the cautions."""
    settings, measure = matter.settings, matter.measure
    side = CM * 5 if measure == "cm" else Fraction(2)
    said = (
        book_wording.TEST_FIRST,
        book_wording.seams_said(settings.seam, measure),
        book_wording.test_seam(side, settings.seam, measure),
        book_wording.CUT_SIZES,
        book_wording.width_said(settings.usable_width, measure),
        book_wording.MARKS,
        book_wording.TELL_APART,
        *matter.own.notes,
    )
    cautions = Cautions(
        (
            Caution(wording.CUTTER_TITLE, wording.CUTTER),
            Caution(wording.IRON_TITLE, wording.IRON),
            Caution("At the machine", book_wording.NEEDLE),
            Caution("With sprays", book_wording.SPRAY),
        )
    )
    return Section("notes", book_wording.BEFORE, (Words(said), cautions), opens=True)


def abbreviations(texts: Iterable[str]) -> Section:
    """Every abbreviation that stands in `texts`, and the words that are used in a sense of their
    own, each once."""
    rows = [(short, means) for short, means in book_wording.ABBREVIATIONS if _used(short, texts)]
    rows += [(word, means) for word, means in book_wording.WORDS_USED if _used(word, texts)]
    table = Table("abbreviations", ("Here", "Means"), tuple(rows), (3, 8))
    return Section("abbreviations", book_wording.ABBREVIATED, (table,))


def _used(short: str, texts: Iterable[str]) -> bool:
    pattern = re.compile(
        rf"(?<![\w-]){re.escape(short)}(?![\w-])"
        if short[0].isupper()
        else rf"\d[\u00a0 ]{re.escape(short)}(?!\w)",
        re.IGNORECASE if short[0].isupper() else 0,
    )
    return any(pattern.search(text) for text in texts)


def tools(matter: Matter) -> Section:
    """The tools, with the sizes of rulers that this quilt really needs."""
    measure, settings = matter.measure, matter.settings
    largest = max(
        ((b.block.width, b.block.height) for b in matter.blocks), key=lambda size: size[0] * size[1]
    )
    unfinished = (largest[0] + 2 * settings.seam, largest[1] + 2 * settings.seam)
    strips = list(_strip_heights(matter))
    items = [
        book_wording.CUTTER_TOOL,
        book_wording.square_ruler(unfinished, _trimmed(matter.blocks), measure),
        *([book_wording.long_ruler(max(strips), measure)] if strips else []),
        book_wording.marks_needed(settings.step, measure),
    ]
    if any(step.drawn for b in matter.blocks for r in b.cutting.recipes for step in r.steps):
        items.append(book_wording.MARKER)
    if any(piece.shape == "template" for b in matter.blocks for piece in b.cutting.pieces):
        items.append(book_wording.TEMPLATE_TOOL)
    items.append(book_wording.USUAL_TOOLS)
    return Section("tools", book_wording.TOOLS, (Listed(tuple(items)),))


def _strip_heights(matter: Matter) -> Iterator[Fraction]:
    """How high the strips are that fabrics are cut into. Not those of what is cut first, along the
    whole cloth, nor of a backing: no ruler is as long."""
    for cloth in matter.cloths:
        if cloth.laid is None or cloth.fabric.letter in LOOSE:
            continue
        for lay in cloth.laid.lays:
            for strip in strips_of(lay):
                if any(name not in cloth.pool.first for name, _ in strip.pieces):
                    yield strip.height


def _trimmed(blocks: Iterable[BlockMatter]) -> list[Fraction]:
    return [
        side
        for block in blocks
        for recipe in block.cutting.recipes
        if recipe.trim is not None
        for side in recipe.trim
    ]
