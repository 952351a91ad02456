"""What a booklet must be right in, checked on the model before it is set: letters, abbreviations,
sections, and words that go by the hand."""

from __future__ import annotations

import re
from collections.abc import Iterator

from seamproof.booklet.book import ALWAYS, ORDER, keys
from seamproof.booklet.book_wording import ABBREVIATIONS
from seamproof.booklet.model import (
    BookletModel,
    Chapter,
    CuttingTables,
    Edition,
    Section,
    Table,
)
from seamproof.booklet.reading import lines_of, part_lines, section_lines
from seamproof.drawing.scene import Label, Letter, Scene
from seamproof.findings import Finding, Kind, Where

LETTER_NOT_SHOWN = Kind(951, "error", "A letter of a cutting list is in no picture or step")
LETTER_NOT_CUT = Kind(952, "error", "A letter in a step is in no cutting list")
NOT_DEFINED = Kind(953, "error", "An abbreviation that is not explained")
SECTION_MISSING = Kind(954, "error", "A section that is missing or in the wrong place")
FOR_ONE_HAND = Kind(955, "error", "A word for one hand in the edition for the other")
UNKNOWN_NUMBER = Kind(956, "error", "Braces in your own words that nothing fills in")
NUMBER_LEFT_OUT = Kind(957, "warning", "A sentence of your own that leaves a number out")
UNKNOWN_SENTENCE = Kind(958, "error", "A sentence of your own for none of the booklet's")
UNKNOWN_BLOCK = Kind(959, "error", "Own words about a block that is not there")
UNKNOWN_MINUTES = Kind(960, "warning", "Minutes for a line that the lesson does not have")

_MARK = re.compile(r"(?<![\w-])([A-Z]{1,2}[a-z])(?![\w-])")
_WORDS = "Am An As At Be By Do Go He If In Is It Me My No Of On Or So To Up Us We"
WORDS_LIKE_MARKS = frozenset(_WORDS.split())
"""Words that look like the letters of a piece; they count as such only where a list holds them."""
_SHORT = re.compile(r"\d[\u00a0 ]([a-z]{1,2}(?: [a-z]{2})?)(?![\w])")
_HANDED = re.compile(r"\b(left|right|clockwise|anticlockwise|leftmost|rightmost)\b", re.IGNORECASE)

OF_THE_CLOTH = (
    r"right sides? (?:together|up)",
    r"right side of",
    r"wrong sides?",
    r"(?:be|is|are|was|what is) left(?: over| open| in| half)?",
    r"left over",
    r"(?:if it is|is|are|seam is|comes? out) right\b",
    r"is what is left",
    r"right:",
    r"a hand's length",
)
"""Phrases in which such a word tells nothing of a side."""

OF_THE_BLOCK = (
    r"from the left(?: and)?[^.]*(?:top|front)",
    r"(?:upper|lower) (?:left|right)",
    r"(?:a quarter|°) (?:anti)?clockwise",
    r"\d+° clockwise",
    r"turn (?:anti)?clockwise",
    r"from the left × from the top",
    r"at three places, left, in the middle and right",
)
"""Phrases about where something lies in the block or the quilt, which is the same for both hands:
the block is never turned over for the hand."""


OF_THE_OTHER_HAND = (
    r"starts at the right end of each diagram",
    r"would change hands: cutting starts at its left end",
)
"""What a left-handed maker is told where others read "left", and of a diagram that stays."""


def check(model: BookletModel, edition: Edition | None = None) -> tuple[Finding, ...]:
    """What is wrong with a booklet; nothing if it can be printed."""
    found = [*_letters(model), *_abbreviations(model), *_order(model)]
    if edition is not None and edition.left:
        found += _handed(model)
    return tuple(found)


def _letters(model: BookletModel) -> Iterator[Finding]:
    """Every letter of a cutting list is in a picture or a step of its section, and the other way
    round."""
    for section in model.sections:
        listed = {
            row.letter
            for part in section.parts
            if isinstance(part, CuttingTables)
            for table in part.tables
            for row in table.rows
            if row.letter
        }
        if not listed:
            continue
        shown = set(_marks_shown(section))
        where = Where(block=section.title)
        for letter in sorted(listed - shown):
            yield LETTER_NOT_SHOWN.found(
                f"{letter} is cut for {section.title}, and no step or picture uses it",
                mend="this is a mistake of the program: report it",
                where=where,
            )
        for letter in sorted(shown - listed - WORDS_LIKE_MARKS):
            yield LETTER_NOT_CUT.found(
                f"{letter} is used in {section.title}, and its cutting list does not hold it",
                mend="this is a mistake of the program: report it",
                where=where,
            )


def _marks_shown(section: Section) -> Iterator[str]:
    for part in section.parts:
        if isinstance(part, CuttingTables) or (
            isinstance(part, Table) and not part.name.startswith("layout")
        ):
            continue
        for _, text in part_lines(part):
            yield from _MARK.findall(text)
        for scene in _scenes(part):
            for shape in scene.shapes:
                if isinstance(shape, Letter | Label):
                    yield from _MARK.findall(shape.text)


def _scenes(part: object) -> Iterator[Scene]:
    if isinstance(part, Chapter) and not part.by:
        for step in part.steps:
            yield step.figure
            if step.sewn is not None:
                yield step.sewn


def _abbreviations(model: BookletModel) -> Iterator[Finding]:
    """Every unit behind a number is explained in the list of abbreviations."""
    explained = {
        row[0]
        for section in model.sections
        if section.key == "abbreviations"
        for part in section.parts
        if isinstance(part, Table)
        for row in part.rows
    }
    known = {short for short, _ in ABBREVIATIONS}
    for line in lines_of(model):
        for short in _SHORT.findall(line.text):
            if short in known and short not in explained:
                yield NOT_DEFINED.found(
                    f'"{short}" in {line.section}, {line.place}, is not explained',
                    mend="this is a mistake of the program: report it",
                    where=Where(),
                )


def _order(model: BookletModel) -> Iterator[Finding]:
    found = keys(model)
    missing = sorted(
        (ALWAYS - {"materials", "swatches"} if model.cover is None else ALWAYS) - {*found}
    )
    if missing or list(found) != sorted(found, key=ORDER.index):
        yield SECTION_MISSING.found(
            f"sections are missing or out of order: {', '.join(missing or found)}",
            mend="this is a mistake of the program: report it",
            where=Where(),
        )


def _handed(model: BookletModel) -> Iterator[Finding]:
    """What is left of such words once phrases of the cloth and of the block are taken out."""
    harmless = re.compile(
        "|".join((*OF_THE_CLOTH, *OF_THE_BLOCK, *OF_THE_OTHER_HAND)), re.IGNORECASE
    )
    for section in model.sections:
        for place, text in section_lines(section):
            rest = harmless.sub("", text)
            for word in _HANDED.findall(rest):
                yield FOR_ONE_HAND.found(
                    f'"{word}" in {section.title}, {place}: {text}',
                    mend="say it by the block, or by the hand that holds the cutter",
                    where=Where(),
                )
