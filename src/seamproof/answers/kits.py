"""Kits for many people: the answer of ``seamproof kits``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.answers.spreadsheets import csv_text
from seamproof.booklet import cloth_wording
from seamproof.booklet.kit_pages import InBag
from seamproof.length.notation import number, with_unit
from seamproof.pipeline.kits import KitFabric, KitsWork
from seamproof.programme.kits import Across, BoltUse
from seamproof.programme.model import Level


@dataclass(frozen=True, slots=True)
class AcrossLine:
    """`times` equal strips that are cut across the cloth, `layers` at once in `stacks` stacks, and
    what each is cut into; nothing if it goes into the bag as it is."""

    height_in: float
    times: int
    layers: int
    stacks: int
    into: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BoltLine:
    """`times` bolts cut alike: how many strips of which height, and the end that is left."""

    length_in: float
    times: int
    strips: tuple[tuple[float, int], ...]
    end_in: float


@dataclass(frozen=True, slots=True)
class KitFabricLine:
    """One fabric for all kits. `bare_in` and `exact` are before rounding, `best_in` is the shortest
    lay that was found, null but for cut pieces. `makes`: how many kits the bolts that are there
    give, null if none were named."""

    fabric: str
    name: str
    bare_in: float
    exact: str
    best_in: float | None
    buy: float
    unit: Literal["yd", "m"]
    cost: float | None
    across: tuple[AcrossLine, ...]
    bolts: tuple[BoltLine, ...]
    fixed: tuple[str, ...]
    short_in: float
    makes: int | None


@dataclass(frozen=True, slots=True)
class BagLine:
    """Something that lies in every bag: `count` of it, for a block or a part of the finishing."""

    fabric: str
    name: str
    letter: str
    what: str
    count: int
    source: str


@dataclass(frozen=True, slots=True)
class CostLine:
    """The money of the run: what is bought, what cutting takes, what comes into the bags, what is
    spent once; what a kit costs each person and is sold for; how many must be sold."""

    cloth: float
    cutting_hours: float
    cutting: float
    bags: float
    once: float
    each: float
    price: float
    break_even: int | None
    left: float


@dataclass(frozen=True, kw_only=True)
class KitsAnswer(Answer):
    """Kits of a block, of a quilt, or of one release of it."""

    command: ClassVar[str] = "kits"

    name: str
    release: int | None
    people: int
    kits: int
    level: Level
    fabrics: tuple[KitFabricLine, ...]
    bag: tuple[BagLine, ...]
    costs: CostLine
    files: tuple[str, ...]
    work: Annotated[KitsWork, HIDDEN] = field(repr=False, compare=False)

    def bag_pages(self) -> tuple[InBag, ...]:
        """The bag as it is printed."""
        return tuple(
            InBag(line.source, line.letter, line.name, line.what, line.count) for line in self.bag
        )


def kits_answer(work: KitsWork, files: Sequence[str] = ()) -> KitsAnswer:
    """What there is to say about some kits."""
    return KitsAnswer(
        findings=noted(work.findings),
        name=work.name,
        release=work.release,
        people=work.people,
        kits=work.kits,
        level=work.level,
        fabrics=tuple(
            _fabric(work, one) for one in work.fabrics if one.kit.across or one.kit.fixed
        ),
        bag=tuple(bag_lines(work)),
        costs=_costs(work),
        files=tuple(files),
        work=work,
    )


def _fabric(work: KitsWork, one: KitFabric) -> KitFabricLine:
    kit = one.kit
    amount = work.buying.amount(one.buy)
    return KitFabricLine(
        fabric=one.fabric.letter,
        name=one.fabric.name,
        bare_in=float(kit.bare),
        exact=number(kit.bare, work.measure),
        best_in=None if kit.best is None else float(kit.best),
        buy=round(float(amount), 6),
        unit=work.buying.unit,
        cost=None if one.price is None else round(float(amount * one.price), 2),
        across=tuple(_across(work, one, across) for across in kit.across),
        bolts=tuple(_bolt(use) for use in one.bolts),
        fixed=tuple(f"{count} × {name}" for name, count in kit.fixed),
        short_in=float(sum((height * count for height, count in one.short), Fraction(0))),
        makes=one.makes,
    )


def _across(work: KitsWork, one: KitFabric, across: Across) -> AcrossLine:
    kinds = {kind.demand.name: kind for kind in one.pool.kinds}
    into = tuple(
        f"{count} {kinds[name].demand.name}, {cloth_wording.size_of(kinds[name], work.measure)}"
        for name, count in across.pieces
    )
    return AcrossLine(float(across.height), across.times, across.layers, across.stacks, into)


def _bolt(use: BoltUse) -> BoltLine:
    strips = tuple((float(height), count) for height, count in use.strips)
    return BoltLine(float(use.length), use.times, strips, float(use.end))


def _costs(work: KitsWork) -> CostLine:
    money = work.costing
    return CostLine(
        cloth=round(float(money.cloth), 2),
        cutting_hours=round(float(money.hours), 2),
        cutting=round(float(money.cutting), 2),
        bags=round(float(money.bags), 2),
        once=round(float(money.once), 2),
        each=round(float(money.each), 2),
        price=round(float(money.price), 2),
        break_even=money.break_even,
        left=round(float(money.left(work.people)), 2),
    )


def bag_lines(work: KitsWork) -> Iterator[BagLine]:
    """What lies in one bag, fabric by fabric; cut pieces by the block they are for."""
    for one in work.fabrics:
        letter, name, bag = one.fabric.letter, one.fabric.name, one.kit.bag
        if bag.length:
            told = f"{with_unit(bag.length, work.measure)} by the width of the cloth"
            yield BagLine(letter, name, letter.upper(), told, 1, "")
        for strip in bag.strips:
            told = f"strip {with_unit(strip.height, work.measure)} high, from selvage to selvage"
            yield BagLine(letter, name, letter.upper(), told, strip.times, "")
        for stock, count in bag.fixed:
            yield BagLine(letter, name, letter.upper(), stock, count, "")
        if work.level == "patches":
            for kind in one.pool.kinds:
                shape = f"{kind.shape} {cloth_wording.size_of(kind, work.measure)}"
                for use in kind.uses:
                    yield BagLine(
                        fabric=letter,
                        name=name,
                        letter=use.letter or kind.demand.name,
                        what=shape,
                        count=use.count // work.kits,
                        source=use.source,
                    )


# Lists --------------------------------------------------------------------------------------------


def bag_csv(answer: KitsAnswer) -> str:
    """The bag list: a line for everything that lies in every bag."""
    rows: list[Sequence[object]] = [
        ("for", "letter", "fabric", "name", "what", "in each bag", "in all bags")
    ]
    rows += [
        (b.source, b.letter, b.fabric.upper(), b.name, b.what, b.count, b.count * answer.kits)
        for b in sorted(answer.bag, key=lambda b: (b.source, b.fabric))
    ]
    return csv_text(rows)


def bolts_csv(answer: KitsAnswer) -> str:
    """What is cut from which bolt, in cutting order, and what is left of it."""
    rows: list[Sequence[object]] = [
        ("fabric", "name", "bolts", "length in", "strips", "strip height in", "end in")
    ]
    for line in answer.fabrics:
        first = 1
        for bolt in line.bolts:
            last = first + bolt.times - 1
            which = str(first) if first == last else f"{first} to {last}"
            rows += [
                (line.fabric.upper(), line.name, which, bolt.length_in, n, height, bolt.end_in)
                for height, n in bolt.strips
            ]
            first = last + 1
    return csv_text(rows)
