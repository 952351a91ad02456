"""What goes out when, and what it takes: the answer of ``seamproof programme``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.answers.spreadsheets import csv_text
from seamproof.cloth.pooling import Kind
from seamproof.length.notation import Measure, number, with_unit
from seamproof.pipeline.programme import ProgrammeWork
from seamproof.programme.calendar import days_of
from seamproof.programme.kits import Ordered, how_many
from seamproof.programme.model import Level, Need, Saved, StepName


@dataclass(frozen=True, slots=True)
class ReleaseLine:
    """One release: its day, what it holds, and what it teaches."""

    number: int
    day: str
    blocks: tuple[str, ...]
    parts: tuple[str, ...]
    new_techniques: tuple[str, ...]
    known_techniques: tuple[str, ...]
    new_tools: tuple[str, ...]
    hardness: int


@dataclass(frozen=True, slots=True)
class EntryLine:
    """One step of one release, from `begins` to `ends`, both included."""

    key: str
    release: int
    step: StepName
    begins: str
    ends: str
    title: str


@dataclass(frozen=True, slots=True)
class SavedLine:
    """Pieces of one kind, cut with release `cut` and sewn in release `used`."""

    piece: str
    size: str
    count: int
    cut: int
    used: int


@dataclass(frozen=True, slots=True)
class ScrapLine:
    """`count` ends of strips that are left over. Nothing that comes later relies on them."""

    height_in: float
    length_in: float
    count: int


@dataclass(frozen=True, slots=True)
class NeedLine:
    """One fabric in one release of one quilt. `exact` is the length in the measure of the quilt."""

    release: int
    fabric: str
    pieces: int
    area_sq_in: float
    length_in: float
    exact: str
    fixed: tuple[str, ...]
    save: tuple[SavedLine, ...]
    take: tuple[SavedLine, ...]
    scraps: tuple[ScrapLine, ...]


@dataclass(frozen=True, slots=True)
class TotalLine:
    """One fabric of one whole quilt: the sum of its releases, exact, and rounded once to `buy`.
    `alone_in` is what it would take to cut every release by itself, saving nothing."""

    fabric: str
    name: str
    pieces: int
    area_sq_in: float
    length_in: float
    exact: str
    buy: float
    unit: Literal["yd", "m"]
    alone_in: float


@dataclass(frozen=True, slots=True)
class OrderLine:
    """What is ordered `by` a day for all kits; `one_lot`: for all releases at once."""

    by: str
    release: int
    fabric: str
    name: str
    exact_in: float
    buy: float
    unit: Literal["yd", "m"]
    one_lot: bool
    left_in: float


@dataclass(frozen=True, slots=True)
class CalendarFile:
    """The calendar that was written, and what became of its events."""

    file: str
    new: int
    changed: int
    cancelled: int
    kept: int


@dataclass(frozen=True, kw_only=True)
class ProgrammeAnswer(Answer):
    """A programme, release by release."""

    command: ClassVar[str] = "programme"

    name: str
    people: int
    kits: int
    level: Level
    releases: tuple[ReleaseLine, ...]
    steps: tuple[EntryLine, ...]
    needs: tuple[NeedLine, ...]
    totals: tuple[TotalLine, ...]
    orders: tuple[OrderLine, ...]
    gentlest: tuple[str, ...]
    calendar: CalendarFile | None
    files: tuple[str, ...]
    forms: tuple[str, ...]
    work: Annotated[ProgrammeWork, HIDDEN] = field(repr=False, compare=False)


def programme_answer(
    work: ProgrammeWork,
    orders: Mapping[str, tuple[Ordered, ...]],
    gentle: Sequence[str],
    alone: Mapping[str, Fraction],
    *,
    calendar: CalendarFile | None = None,
    files: Sequence[str] = (),
) -> ProgrammeAnswer:
    """What there is to say about a programme; `orders` go by the letter of the fabric, and so does
    `alone`, the length if every release is cut by itself."""
    asked = work.asked
    return ProgrammeAnswer(
        findings=noted(work.findings),
        name=work.project.name,
        people=asked.people,
        kits=how_many(asked.people, asked.spares),
        level=asked.level,
        releases=tuple(_releases(work)),
        steps=tuple(
            EntryLine(e.key, e.release, e.step, str(e.begins), str(e.ends), e.title)
            for e in work.entries
        ),
        needs=tuple(_need(work, need) for need in work.needs if need.pieces or need.length),
        totals=tuple(_totals(work, alone)),
        orders=tuple(_orders(work, orders)),
        gentlest=tuple(gentle),
        calendar=calendar,
        files=tuple(files),
        forms=(),
        work=work,
    )


def _releases(work: ProgrammeWork) -> list[ReleaseLine]:
    found = []
    for term, day in zip(work.course, days_of(work.asked), strict=True):
        blocks = work.asked.releases[term.release - 1].blocks
        found.append(
            ReleaseLine(
                number=term.release,
                day=str(day),
                blocks=blocks,
                parts=work.holds(term.release)[len(blocks) :],
                new_techniques=term.new,
                known_techniques=term.known,
                new_tools=term.tools,
                hardness=max((lesson.hardness for lesson in term.lessons), default=0),
            )
        )
    return found


def _need(work: ProgrammeWork, need: Need) -> NeedLine:
    kinds = kinds_of(work)
    return NeedLine(
        release=need.release,
        fabric=need.fabric,
        pieces=sum(count for _, count in need.pieces),
        area_sq_in=float(need.area),
        length_in=float(need.length),
        exact=number(need.length, work.measure),
        fixed=tuple(f"{count} × {name}" for name, count in need.fixed),
        save=tuple(_saved(one, kinds, work.measure) for one in need.save),
        take=tuple(_saved(one, kinds, work.measure) for one in need.take),
        scraps=tuple(ScrapLine(float(h), float(w), count) for h, w, count in need.scraps),
    )


def _saved(one: Saved, kinds: Mapping[str, Kind], measure: Measure) -> SavedLine:
    return SavedLine(one.piece, size_of(kinds[one.piece], measure), one.count, one.cut, one.used)


def _totals(work: ProgrammeWork, alone: Mapping[str, Fraction]) -> list[TotalLine]:
    found = []
    for one in work.cloth.fabrics:
        needs = [need for need in work.needs if need.fabric == one.fabric.letter]
        length = sum((need.length for need in needs), Fraction(0))
        found.append(
            TotalLine(
                fabric=one.fabric.letter,
                name=one.fabric.name,
                pieces=sum(count for need in needs for _, count in need.pieces),
                area_sq_in=float(sum((need.area for need in needs), Fraction(0))),
                length_in=float(length),
                exact=number(length, work.measure),
                buy=0.0 if one.purchase is None else _amount(work, one.purchase.buy),
                unit=work.buying.unit,
                alone_in=float(alone.get(one.fabric.letter, 0)),
            )
        )
    return found


def _orders(work: ProgrammeWork, orders: Mapping[str, tuple[Ordered, ...]]) -> list[OrderLine]:
    by = {entry.release: entry.ends for entry in work.entries if entry.step == "order"}
    names = {one.fabric.letter: one.fabric.name for one in work.cloth.fabrics}
    found = [
        OrderLine(
            by=str(by[order.release]),
            release=order.release,
            fabric=letter,
            name=names[letter],
            exact_in=round(float(order.exact), 6),
            buy=_amount(work, order.buy),
            unit=work.buying.unit,
            one_lot=letter in work.asked.one_lot,
            left_in=round(float(order.left), 6),
        )
        for letter, some in orders.items()
        for order in some
    ]
    return sorted(found, key=lambda line: (line.by, line.fabric))


def _amount(work: ProgrammeWork, length: Fraction) -> float:
    return round(float(work.buying.amount(length)), 6)


def kinds_of(work: ProgrammeWork) -> dict[str, Kind]:
    """What is cut, by the name of its kind."""
    return {name: kind for one in work.cloth.fabrics for name, kind in one.kinds.items()}


def size_of(kind: Kind, measure: Measure) -> str:
    """How large a kind of piece is cut, with its trade name."""
    short, long = kind.sides
    return f"{number(short, measure)} × {with_unit(long, measure)} {kind.shape}"


# Lists --------------------------------------------------------------------------------------------


def needs_csv(answer: ProgrammeAnswer) -> str:
    """What one quilt needs: a line for each fabric in each release, then the whole quilt's."""
    rows: list[Sequence[object]] = [
        ("release", "day", "fabric", "name", "pieces", "cut area sq in", "length in", "exact in")
    ]
    days = {line.number: line.day for line in answer.releases}
    names = {total.fabric: total.name for total in answer.totals}
    for need in answer.needs:
        letter = need.fabric
        head = (need.release, days[need.release], letter.upper(), names[letter], need.pieces)
        rows.append((*head, need.area_sq_in, need.length_in, need.exact))
    for total in answer.totals:
        whole = ("all", "", total.fabric.upper(), total.name, total.pieces)
        rows.append((*whole, total.area_sq_in, total.length_in, total.exact))
    return csv_text(rows)


def saved_csv(answer: ProgrammeAnswer) -> str:
    """The pieces to save: where they are cut, where they are sewn."""
    rows: list[Sequence[object]] = [
        ("cut with release", "sewn in release", "fabric", "piece", "size", "count")
    ]
    rows += [
        (one.cut, one.used, need.fabric.upper(), one.piece, one.size, one.count)
        for need in answer.needs
        for one in need.save
    ]
    return csv_text(rows)


def orders_csv(answer: ProgrammeAnswer) -> str:
    """What is ordered when, for the kits of all people."""
    rows: list[Sequence[object]] = [
        ("order by", "for release", "fabric", "name", "exact in", "buy", "unit", "one dye lot")
    ]
    rows += [
        (o.by, o.release, o.fabric.upper(), o.name, o.exact_in, f"{o.buy:g}", o.unit, _yes(o))
        for o in answer.orders
    ]
    return csv_text(rows)


def _yes(order: OrderLine) -> str:
    return "yes" if order.one_lot else "no"
