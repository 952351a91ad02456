"""What is printed for the cutting room: a sheet for each fabric and its bolts, the bag, labels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from seamproof.booklet import cloth_wording, wording
from seamproof.booklet.model import Caution
from seamproof.booklet.plain_pages import Label, PlainDocument, PlainPage, PlainTable
from seamproof.cloth.buying import Buying
from seamproof.cloth.pooling import Kind
from seamproof.draft.model import Fabric
from seamproof.figures.cloth import paints
from seamproof.length.notation import Measure, number, with_unit
from seamproof.programme.kits import (
    Across,
    BoltSheet,
    BoltUse,
    KitCloth,
    bolt_sheets,
    level_of,
)
from seamproof.programme.model import Level

ONE_LOT = "Every bolt must be of the dye lot that was reserved: look at the end of the bolt."

LABEL_LINES = 7
"""Lines that a label has room for."""


@dataclass(frozen=True, slots=True)
class Bolted:
    """One fabric: how it is cut for all kits, from which bolts."""

    fabric: Fabric
    kinds: tuple[Kind, ...]
    kit: KitCloth
    bolts: tuple[BoltUse, ...]


@dataclass(frozen=True, slots=True)
class InBag:
    """Something that lies in every bag, `count` of it."""

    source: str
    letter: str
    fabric: str
    what: str
    count: int


@dataclass(frozen=True, slots=True)
class Run:
    """The kits that are printed for. `what` says of what, such as "release 3: Slack Water".
    `one_lot` are the letters of fabrics of which dye lots may not be mixed."""

    quilt: str
    what: str
    kits: int
    level: Level
    measure: Measure
    buying: Buying
    one_lot: tuple[str, ...] = ()


def kit_document(run: Run, fabrics: Iterable[Bolted], bag: Sequence[InBag]) -> PlainDocument:
    """A page for each fabric and for each of its bolts, one for the bag, a label for every bag."""
    pages = [page for one in fabrics for page in _fabric_pages(run, one)]
    return PlainDocument(
        name=f"{run.kits} kits, {run.what}",
        quilt=run.quilt,
        pages=(*pages, _bag_page(run, bag)),
        labels=tuple(_labels(run, bag)),
    )


def _fabric_pages(run: Run, one: Bolted) -> Iterator[PlainPage]:
    if not one.kit.across:
        return
    kinds = {kind.demand.name: kind for kind in one.kinds}
    measure = run.measure
    pieces = PlainTable(
        ("Mark", "In all", "In a bag", "Piece", "For"),
        tuple(
            (
                kind.demand.name,
                str(kind.count),
                str(kind.count // run.kits),
                f"{kind.shape} {cloth_wording.size_of(kind, measure)}",
                ", ".join(f"{use.source} {use.letter}".strip() for use in kind.uses),
            )
            for kind in one.kinds
        ),
        right=(1, 2),
        title="What comes of it",
    )
    bolts = PlainTable(
        ("Bolt", "Length", "Strips to cut", f"Left, {measure}"),
        tuple(_bolt_rows(one.bolts, run)),
        right=(3,),
        title="From which bolt",
        wide=2,
    )
    bare = with_unit(one.kit.bare, measure)
    lead = f"For {run.kits} kits, {level_of(run.level)} in each. {bare} before rounding."
    title = cloth_wording.heading(one.fabric.letter, one.fabric.name)
    paint = paints([one.fabric])[one.fabric.letter]
    caution = Caution(wording.CUTTER_TITLE, f"{wording.CUTTER} {cloth_wording.STACKING}")
    lot = [ONE_LOT] if one.fabric.letter in run.one_lot else []
    what = [pieces] if run.level == "patches" else []
    sheets = bolt_sheets(one.kit.across, one.bolts)
    if len(sheets) == 1 and sheets[0].first == sheets[0].last:
        strips = _strips(sheets[0], kinds, measure)
        yield PlainPage(title, lead, (*lot, bolts, strips, *what, caution), paint)
        return
    yield PlainPage(title, lead, (*lot, bolts, *what), paint)
    for sheet in sheets:
        which = _which(sheet.first, sheet.last)
        end = with_unit(sheet.end, measure)
        told = f"{run.buying.told(sheet.length)} each; {end} are left."
        if sheet.first == sheet.last:
            told = f"{run.buying.told(sheet.length)}; {end} are left."
        parts = (_strips(sheet, kinds, measure), caution)
        yield PlainPage(f"{title}: {which}", told, parts, paint)


def _strips(sheet: BoltSheet, kinds: dict[str, Kind], measure: Measure) -> PlainTable:
    return PlainTable(
        ("Cut", f"High, {measure}", "Stacks", "Layers", "Cut each into"),
        tuple(_row(across, kinds, measure) for across in sheet.across),
        right=(0, 1, 2, 3),
        title="Across the cloth, highest first",
    )


def _which(first: int, last: int) -> str:
    return f"bolt {first}" if first == last else f"bolts {first} to {last}"


def _row(across: Across, kinds: dict[str, Kind], measure: Measure) -> tuple[str, ...]:
    into = cloth_wording.pieces_of(across.pieces, kinds) if across.pieces else "into the bag"
    stacks = str(across.stacks or across.times)
    return (str(across.times), number(across.height, measure), stacks, str(across.layers), into)


def _bolt_rows(bolts: Iterable[BoltUse], run: Run) -> Iterator[tuple[str, ...]]:
    first = 1
    for bolt in bolts:
        last = first + bolt.times - 1
        which = str(first) if first == last else f"{first} to {last}"
        strips = ", ".join(
            f"{count} of {with_unit(height, run.measure)}" for height, count in bolt.strips
        )
        end = number(bolt.end, run.measure)
        yield which, run.buying.told(bolt.length), strips, end
        first = last + 1


def _bag_page(run: Run, bag: Sequence[InBag]) -> PlainPage:
    rows = tuple(
        (one.letter, str(one.count), one.what, one.fabric, one.source)
        for one in sorted(bag, key=lambda one: (one.source, one.letter))
    )
    return PlainPage(
        title="In each bag",
        lead=f"{run.kits} bags, all alike. Count before you close.",
        parts=(PlainTable(("Letter", "Count", "What", "Fabric", "For"), rows, right=(1,), wide=2),),
    )


def _labels(run: Run, bag: Sequence[InBag]) -> Iterator[Label]:
    some = sorted(bag, key=lambda one: (one.source, one.letter))
    told = [f"{one.letter}: {one.count} × {one.what}" for one in some]
    if len(told) > LABEL_LINES:
        counts: dict[str, int] = {}
        for one in bag:
            counts[one.fabric] = counts.get(one.fabric, 0) + one.count
        told = [f"{fabric}: {count} pieces" for fabric, count in counts.items()]
    if len(told) > LABEL_LINES:
        told = [*told[: LABEL_LINES - 1], "and more: see the bag list"]
    for n in range(1, run.kits + 1):
        yield Label(
            run.what[:1].upper() + run.what[1:], f"{run.quilt} · kit {n} of {run.kits}", tuple(told)
        )
