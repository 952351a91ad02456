"""How measurements, a diagnosis and the log of test copies look in the terminal."""

from __future__ import annotations

from fractions import Fraction

from seamproof.answers.copying import CopiesAnswer
from seamproof.answers.diagnosing import DiagnoseAnswer
from seamproof.answers.measuring import MeasureAnswer
from seamproof.cli.telling import say, show_notes, show_table
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, number

_MEASURED = {"strips": "Strip test", "units": "Units", "blocks": "Blocks"}


def show_measured(answer: MeasureAnswer) -> None:
    """What was found, in sentences, and where it was written."""
    seams = f", {answer.seams} seams" if answer.seams else ""
    say(f"{_MEASURED[answer.measured]}{seams}", "")
    say(*answer.says)
    if answer.written:
        say("", f"wrote {answer.written}")
        if answer.profile is not None:
            say(
                f"What was not measured is as for {answer.profile.like} makers, which is an "
                "assumption."
            )
    show_notes(answer.findings)


def show_diagnosis(answer: DiagnoseAnswer) -> None:
    """The likely causes in their order, how to save the block, and what not to do."""
    say(answer.name)
    if answer.says is not None:
        say(answer.says)
    if answer.first:
        say("", "First", f"  {answer.first}")
    for number_, cause in enumerate(answer.causes or (), start=1):
        say("", f"{number_}. {cause.say}")
        say(f"   Why: {cause.why}", f"   Test: {cause.test}")
    if answer.save:
        say("", "To save this block", *(f"  - {way}" for way in answer.save))
    if answer.never:
        say("", "Not", *(f"  - {way}" for way in answer.never))
    show_notes(answer.findings, answer.work.source.lines)


def show_copies(answer: CopiesAnswer) -> None:
    """The log as a table, then what each copy says."""
    assumed = " (an assumption)" if answer.assumed else ""
    say(f"Test copies beside the forecast for the maker {answer.maker}{assumed}", "")
    unit = answer.measure
    right = (f"Measured, {unit}", f"Planned, {unit}", f"Forecast, {unit}", "Minutes")
    show_table(
        ("Block", "Pressed", *right, "Notes"),
        [
            (
                copy.block,
                copy.pressed or "as planned",
                _size(copy.width, unit),
                _size(copy.planned, unit),
                _size(copy.forecast, unit),
                "–" if copy.minutes is None else str(copy.minutes),
                copy.notes,
            )
            for copy in answer.copies
        ],
        right=right,
    )
    say("")
    for copy in answer.copies:
        say(f"{copy.block}, {copy.pressed or 'as planned'}: {copy.say}")
    show_notes(answer.findings, answer.lines)


def _size(value: float | None, measure: Measure) -> str:
    """To a mark of 1/32 in if it lies on one, else to the hundredth."""
    if value is None:
        return "–"
    if measure == "cm":
        return f"{value / float(CM):.2f}"
    mark = Fraction(round(value * 32), 32)
    return number(mark) if abs(float(mark) - value) < 1e-6 else f"{value:.2f}"
