"""Sentences of the printed pages, and words that are not printed."""

from __future__ import annotations

import inspect
import re
from fractions import Fraction

import pytest

from seamproof.booklet import (
    book_wording,
    finishing_wording,
    lesson_wording,
    press_wording,
    seam_wording,
    unit_wording,
    wording,
)
from seamproof.booklet.model import SheetModel
from seamproof.booklet.sheets import sheet
from seamproof.cutting.model import CuttingSettings
from seamproof.findings import Finding, Where
from seamproof.length.rounding import Size
from seamproof.setting.model import BorderMade, Frame
from tests import by_hand

NEVER = re.compile(
    r"\b(sessions?|joins?|chordless|cycles?|percentiles?|linearised|canonical|stock|ledger|recipe"
    r"|leaf|part \d|E\d{3})\b",
    re.IGNORECASE,
)
NOTE = Finding(310, "note", Where(), "the squares are off the ruler", "cut them at 4 7/8 in")


def printed(model: SheetModel) -> str:
    """Every sentence of a sheet."""
    said = [model.name, model.quilt, model.cutting_lead, model.cutter.text, model.iron.text]
    said += [model.edition, *(fact.name for fact in model.facts)]
    said += [f"{row.what} {row.split} {row.purpose}" for t in model.cutting for row in t.rows]
    for chapter in (*model.units, *([model.assembly] if model.assembly else [])):
        said += [chapter.title, chapter.lead]
        said += [f"{step.text} {step.measure} {step.begins}" for step in chapter.steps]
    said += [f"{note.text} {note.mend}" for note in model.notes]
    return "\n".join(said)


def model(*, proved: bool = True) -> SheetModel:
    return sheet(
        by_hand.block(),
        by_hand.FABRICS,
        by_hand.piecing(),
        by_hand.cutting(),
        settings=CuttingSettings(),
        proved=proved,
        findings=(NOTE,),
    )


def test_no_word_of_the_code_is_printed() -> None:
    assert not NEVER.search(printed(model()))


def test_no_sentence_holds_a_word_of_the_code() -> None:
    modules = (wording, unit_wording, seam_wording, press_wording, book_wording, finishing_wording)
    modules = (*modules, lesson_wording)
    source = "\n".join(map(inspect.getsource, modules))
    sentences = re.findall(r'"((?:[^"\\]|\\.)*)"', source)
    texts = [re.sub(r"\{[^}]*\}", "", s) for s in sentences if " " in s and "\n" not in s]
    assert len(texts) > 40
    assert [s for s in texts if NEVER.search(s)] == []


def test_the_check_of_words_can_fail() -> None:
    assert NEVER.search("4 sessions")


def test_the_sheet_tells_what_it_is_about() -> None:
    sheet_ = model()
    assert [fact.text for fact in sheet_.facts] == [
        "12 × 12 in",
        "12 1/2 × 12 1/2 in",
        "6",
        "4",
        "4",
    ]
    assert [chapter.title for chapter in sheet_.units] == ["Unit 1: make two half-square triangles"]


def test_steps_say_what_lies_on_what_and_how_it_is_sewn() -> None:
    first, second, third = model().units[0].steps
    assert first.text == (
        "Lay square Ba on square Aa, right sides together. Draw the diagonal on the wrong side. "
        "Sew 1/4 in from it on both sides."
    )
    assert second.text.startswith("Cut apart on the line.")
    assert third.text.startswith("Trim to 6 1/2 × 6 1/2 in. Lay the ruler's diagonal line on")


def test_the_block_is_put_together_in_sets() -> None:
    assembly = model().assembly
    assert assembly is not None
    assert [(step.number, step.begins != "", step.set) for step in assembly.steps] == [
        (1, True, 1),
        (2, False, 1),
        (3, True, 2),
    ]
    assert assembly.steps[2].text == "Sew the piece from step 1 to the piece from step 2. Press."
    assert assembly.steps[2].measure == "The block should measure 12 1/2 × 12 1/2 in."
    assert {assembly.steps[0].text, assembly.steps[1].text} == {
        "Sew unit 1 to square Ca. Press.",
        "Sew square Ca to unit 1. Press.",
    }


def test_a_sheet_claims_a_proof_only_if_there_is_one() -> None:
    assert "Proved by calculation, not sewn" in model().edition
    assert "Proved" not in model(proved=False).edition


def test_notes_carry_no_code_numbers() -> None:
    (note,) = model().notes
    assert (note.text, note.mend) == (NOTE.what, NOTE.mend)


@pytest.mark.parametrize("kind", ["hourglass", "flying geese", "nine-patch", "log cabin"])
def test_units_are_named_for_one_and_for_many(kind: str) -> None:
    assert wording.named(kind, 1) != wording.named(kind, 2)


def test_sizes_are_written_width_first() -> None:
    assert wording.extent((Fraction(13, 2), Fraction(9, 2)), "in") == "6 1/2 × 4 1/2 in"


def test_a_plain_strip_that_a_border_needs_on_two_sides_only_is_cut_for_these() -> None:
    inch = Fraction(1)
    size, cut = (45 * inch, 61 * inch), Size(62 * inch, 62.0)
    spacer = Frame("d", 0 * inch, inch, size, (45 * inch, 63 * inch))
    made = BorderMade(
        *("pieced", ("a",), 3 * inch, size, (51 * inch, 69 * inch), cut, cut),
        along=(21, 15),
        spacer=spacer,
    )
    (first, _) = finishing_wording.border_steps(made, inch / 4, "in")
    assert first.startswith("First plain strips on two sides, so that the units fit")
    assert first.endswith("cut 1 1/2 in wide for above and below.")
