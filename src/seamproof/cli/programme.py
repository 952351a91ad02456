"""How a programme looks in the terminal: days, needs, pieces to save, orders, the course."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from seamproof.answers.programme import NeedLine, ProgrammeAnswer, SavedLine
from seamproof.cli.telling import say, show_notes, show_table
from seamproof.length.notation import Measure, inches, number
from seamproof.programme.model import StepName

_WORDS: dict[Measure, str] = {"in": "inches", "cm": "centimetres"}
_STEPS: tuple[StepName, ...] = ("draft", "test", "order", "cut", "post")


def show_programme(answer: ProgrammeAnswer) -> None:
    """One line a release, then what it takes, fabric by fabric."""
    say(f"{answer.name}: {_counted(len(answer.releases), 'release')}, {_kits(answer)}", "")
    _days(answer)
    if answer.totals:
        say("", f"What one quilt needs, bare, in {_WORDS[answer.work.measure]}")
        _needs(answer)
        _saves(answer)
    if answer.orders:
        say(
            "",
            f"Cloth to order for {_counted(answer.kits, 'kit')}, in {_WORDS[answer.work.measure]}",
        )
        _orders(answer)
    say("", "The year as a course")
    _course(answer)
    if answer.calendar is not None:
        c = answer.calendar
        counts = ((c.new, "new"), (c.changed, "changed"), (c.cancelled, "cancelled"))
        told = ", ".join(f"{count} {word}" for count, word in counts if count)
        say("", f"wrote {c.file}: {told or 'nothing changed'}")
    for file in answer.files:
        say(f"wrote {file}")
    if answer.forms:
        say(f"wrote {len(answer.forms) - 1} forms and {answer.forms[-1]}")
    sources = {work.drawing.name: work.source.lines for work in answer.work.works}
    show_notes([note for note in answer.findings if note.where.block not in sources])
    for name, lines in sources.items():
        show_notes([note for note in answer.findings if note.where.block == name], lines)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"


def _kits(answer: ProgrammeAnswer) -> str:
    told = _counted(answer.kits, "kit")
    if answer.kits > answer.people:
        told += f" for {answer.people} people"
    return told


def _days(answer: ProgrammeAnswer) -> None:
    by = {(step.release, step.step): step for step in answer.steps}
    rows = []
    for line in answer.releases:
        done = [by[line.number, step].ends for step in _STEPS]
        what = ", ".join((*line.blocks, *line.parts))
        rows.append((str(line.number), line.day, *done, what))
    heads = ("Release", "On", "Draft by", "Test by", "Order by", "Cut by", "Post by", "What")
    show_table(heads, rows, right=("Release",))


def _needs(answer: ProgrammeAnswer) -> None:
    letters = [total.fabric for total in answer.totals]
    by = {(need.release, need.fabric): need for need in answer.needs}
    heads = ["Release", *(letter.upper() for letter in letters)]
    rows = []
    for line in answer.releases:
        cells = [by.get((line.number, letter)) for letter in letters]
        rows.append([str(line.number), *(_cell(need) for need in cells)])
    rows.append(["All, exact", *(total.exact for total in answer.totals)])
    rows.append(["Buy", *(_bought(total.buy, total.unit) for total in answer.totals)])
    show_table(heads, rows, right=heads[1:])
    for need in answer.needs:
        if need.fixed:
            say(f"Release {need.release}: {', '.join(need.fixed)} of {need.fabric.upper()}")
    alone = (f"{t.fabric.upper()} {_length(answer, t.alone_in)}" for t in answer.totals)
    say(f"Saving nothing, every release cut by itself: {', '.join(alone)}")


def _cell(need: NeedLine | None) -> str:
    if need is None:
        return ""
    if not need.length_in:
        return "saved" if need.take else "0"
    return need.exact


def _length(answer: ProgrammeAnswer, value: float) -> str:
    return number(Fraction(value).limit_denominator(1 << 16), answer.work.measure)


def _bought(amount: float, unit: str) -> str:
    if unit == "yd":
        return f"{inches(Fraction(amount).limit_denominator(8))} yd"
    return f"{amount:g} {unit}"


def _saves(answer: ProgrammeAnswer) -> None:
    for line in answer.releases:
        save = [one for n in answer.needs if n.release == line.number for one in n.save]
        take = [one for n in answer.needs if n.release == line.number for one in n.take]
        if save or take:
            say("", f"Release {line.number}")
        for used in sorted({one.used for one in save}):
            say(f"  save for {used}: {_saved(one for one in save if one.used == used)}")
        for cut in sorted({one.cut for one in take}):
            say(f"  take from {cut}: {_saved(one for one in take if one.cut == cut)}")


def _saved(some: Iterable[SavedLine]) -> str:
    return "; ".join(f"{one.count} {one.piece}, {one.size}" for one in some)


def _orders(answer: ProgrammeAnswer) -> None:
    rows = [
        (
            order.by,
            str(order.release) if not order.one_lot else "all",
            order.fabric.upper(),
            order.name,
            _length(answer, order.exact_in),
            _bought(order.buy, order.unit),
            _length(answer, order.left_in),
            "one dye lot: reserve" if order.one_lot else "",
        )
        for order in answer.orders
    ]
    heads = ("By", "For", "Fabric", "Name", "Exact", "Order", "Left", "")
    show_table(heads, rows, right=("For", "Exact", "Order", "Left"))


def _course(answer: ProgrammeAnswer) -> None:
    rows = [
        (
            str(line.number),
            str(line.hardness) if line.hardness else "",
            ", ".join(line.new_techniques),
            ", ".join(line.known_techniques),
            ", ".join(line.new_tools),
        )
        for line in answer.releases
    ]
    heads = ("Release", "Hardness", "New", "Known by now", "Have ready from here on")
    show_table(heads, rows, right=("Release", "Hardness"))
