"""The teacher's own words, checked and filled in with live numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from seamproof.booklet import checks, wording
from seamproof.booklet.block_chapters import sheet_of
from seamproof.booklet.book_wording import block_sizes
from seamproof.booklet.lesson import timed
from seamproof.booklet.matter import BlockMatter, Matter, Own, OwnBlock, PlacedPhoto
from seamproof.booklet.model import Photo
from seamproof.booklet.sentences import SENTENCES, places_in
from seamproof.findings import Finding, Where
from seamproof.length.notation import with_unit
from seamproof.length.rounding import nearest
from seamproof.project.words_file import OwnText, OwnWords

QUILT_NUMBERS = ("name", "quilt", "blocks", "block sizes", "seam", "usable width", "version")
"""Live numbers that may stand in braces anywhere in the teacher's own words."""

BLOCK_NUMBERS = ("block", "finished", "unfinished", "pieces", "steps", "layers")
"""And those that may stand in what she says of a block."""


def with_own_words(matter: Matter, words: OwnWords) -> tuple[Matter, tuple[Finding, ...]]:
    """The matter with the teacher's own words, and what is wrong with them: unknown names of
    sentences, of blocks and of numbers, and numbers that were left out."""
    found = tuple(_faults(matter, words))
    version = next((text.text for text in words.texts if text.path == ("version",)), "")
    live = _of_quilt(matter, version)
    one = {text.path[0]: _filled(text.text, live) for text in words.texts if len(text.path) == 1}
    several = {
        key: tuple(_filled(t.text, live) for t in words.texts if t.path == (key,))
        for key in ("story", "notes", "credits")
    }
    own = Own(
        above=one.get("above", ""),
        by=one.get("by", ""),
        skill=one.get("skill", ""),
        version=one.get("version", ""),
        corrections=one.get("corrections", ""),
        contact=one.get("contact", ""),
        blocks=tuple(
            (b.name, _of_block(b, words, {**live, **_numbers(b, matter)})) for b in matter.blocks
        ),
        photos=tuple(
            PlacedPhoto(
                photo.place,
                photo.block,
                Photo(
                    *(photo.data, photo.format, photo.width, photo.height),
                    *(photo.caption, photo.alt),
                ),
            )
            for photo in words.photos
        ),
        sentences=tuple(
            (text.path[1], text.text)
            for text in words.texts
            if text.path[0] == "sentences" and text.path[1] in SENTENCES
        ),
        **several,
    )
    return replace(matter, own=own), found


def _of_block(one: BlockMatter, words: OwnWords, live: Mapping[str, str]) -> OwnBlock:
    def said(key: str) -> tuple[str, ...]:
        path = ("blocks", one.name, key)
        return tuple(_filled(text.text, live) for text in words.texts if text.path == path)

    minutes = tuple((m.what, m.minutes) for m in words.minutes if m.block == one.name)
    return OwnBlock(said("intro"), said("aims"), minutes)


def _of_quilt(matter: Matter, version: str) -> dict[str, str]:
    top, measure, step = matter.top, matter.measure, matter.settings.step
    count = len(top.blocks) if top is not None else sum(one.copies for one in matter.blocks)
    sizes = sorted({(b.block.width, b.block.height) for b in matter.blocks}, reverse=True)
    found = {
        "name": matter.name,
        "blocks": str(count),
        "block sizes": block_sizes(sizes, measure),
        "seam": with_unit(matter.settings.seam, measure),
        "usable width": with_unit(matter.settings.usable_width, measure),
        "version": version,
    }
    if top is not None:
        size = (nearest(top.width, step), nearest(top.height, step))
        found["quilt"] = wording.extent(size, measure)
    return found


def _numbers(one: BlockMatter, matter: Matter) -> dict[str, str]:
    size = (one.block.width, one.block.height)
    unfinished = (size[0] + 2 * one.settings.seam, size[1] + 2 * one.settings.seam)
    found = {
        "block": one.name,
        "finished": wording.extent(size, matter.measure),
        "unfinished": wording.extent(unfinished, matter.measure),
        "pieces": str(sum(piece.count for piece in one.cutting.pieces)),
        "steps": str(one.piecing.sessions),
    }
    if one.pressed is not None:
        found["layers"] = str(one.pressed.layers.most)
    return found


def _filled(text: str, live: Mapping[str, str]) -> str:
    for name in places_in(text):
        if name in live:
            text = text.replace(f"{{{name}}}", live[name])
    return text


def _faults(matter: Matter, words: OwnWords) -> Iterator[Finding]:
    blocks = {one.name for one in matter.blocks}
    quilt = set(_of_quilt(matter, ""))
    for text in words.texts:
        if text.path[0] == "sentences":
            yield from _sentence_faults(text)
            continue
        known = set(quilt)
        if text.path[0] == "blocks":
            known |= {*BLOCK_NUMBERS}
            if text.path[1] not in blocks:
                yield _unknown_block(text.path[1], blocks, text.where)
        for name in sorted(places_in(text.text) - known):
            yield checks.UNKNOWN_NUMBER.found(
                f"nothing is called {{{name}}} here",
                mend=f"there are {', '.join(sorted(known))}",
                where=text.where,
            )
    for photo in words.photos:
        if photo.block and photo.block not in blocks:
            yield _unknown_block(photo.block, blocks, photo.where)
    for line in words.minutes:
        if line.block not in blocks:
            yield _unknown_block(line.block, blocks, line.where)
    yield from _minutes_faults(matter, words)


def _minutes_faults(matter: Matter, words: OwnWords) -> Iterator[Finding]:
    """Minutes for what no lesson tells would be lost without a word."""
    for one in matter.blocks:
        given = [line for line in words.minutes if line.block == one.name]
        if not given:
            continue
        there = [line.name for line in timed(matter, one, sheet_of(matter, one))]
        known = {what.casefold() for what in there}
        for line in given:
            if line.what.casefold() not in known:
                yield checks.UNKNOWN_MINUTES.found(
                    f'the lesson on {one.name} has no line "{line.what}"',
                    mend=f"there are {', '.join(there)}",
                    where=line.where,
                )


def _sentence_faults(text: OwnText) -> Iterator[Finding]:
    name = text.path[1]
    if name not in SENTENCES:
        yield checks.UNKNOWN_SENTENCE.found(
            f'there is no sentence "{name}"',
            mend="the names stand in docs/reference/words.md",
            where=text.where,
        )
        return
    wanted, there = places_in(SENTENCES[name]), places_in(text.text)
    for place in sorted(there - wanted):
        yield checks.UNKNOWN_NUMBER.found(
            f'{{{place}}} is not filled in in the sentence "{name}"',
            mend=f"there are {', '.join(sorted(wanted)) or 'none'}",
            where=text.where,
        )
    for place in sorted(wanted - there):
        yield checks.NUMBER_LEFT_OUT.found(
            f'the sentence "{name}" has lost {{{place}}}: nobody would read it there',
            mend=f"the default is: {SENTENCES[name]}",
            where=text.where,
        )


def _unknown_block(name: str, blocks: set[str], where: Where) -> Finding:
    return checks.UNKNOWN_BLOCK.found(
        f'there is no block "{name}" in this quilt',
        mend=f"there are {', '.join(sorted(blocks))}",
        where=where,
    )
