"""Kits of a block, of a quilt, or of one release of it, for many people."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from seamproof.cloth.buying import SHOP_CUTS, Buying, rounded
from seamproof.cloth.ordering import strips_of
from seamproof.cloth.pooling import Pool
from seamproof.cloth.tops import LOOSE
from seamproof.draft.model import Fabric
from seamproof.errors import InputError, Place
from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure, with_unit
from seamproof.pipeline.cloth_there import ClothWishes
from seamproof.pipeline.laying import ClothProgress, ClothWork, FabricCloth, lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, ProjectProgress, Stop
from seamproof.pipeline.programme import ProgrammeWork, work_programme
from seamproof.pipeline.working import work_block, work_project
from seamproof.programme.checks import BOLT_TOO_SHORT, CLOTH_SHORT, NO_PRICE, RESERVE
from seamproof.programme.costing import Costing, costing
from seamproof.programme.kits import (
    BoltUse,
    KitCloth,
    Ordered,
    from_bolts,
    how_many,
    off_bolts,
    ordered,
    patch_kits,
    strip_kits,
    yardage_kits,
)
from seamproof.programme.model import Asked, Costs, Level, StripCut
from seamproof.project.model import Project
from seamproof.project.reading import no_blocks, read_block, read_project


@dataclass(frozen=True, slots=True)
class KitWishes:
    """What somebody asks for besides what the project says; None is what the project says.

    `have` are the bolts that are there, by letter: their lengths in inches. `quick` takes the first
    good lays. `size` and `colourway` are named as in the quilt file.
    """

    people: int | None = None
    spares: Fraction | None = None
    level: Level | None = None
    release: int | None = None
    have: tuple[tuple[str, Fraction], ...] = ()
    width: Fraction | None = None
    quick: bool = False
    size: str | None = None
    colourway: str | None = None


@dataclass(frozen=True, slots=True)
class KitFabric:
    """One fabric for all kits: how it is cut, from which bolts, what to buy, what is short.

    `buy` is the bare length with straightening and shrinkage, rounded as shops cut; of a usual bolt
    at least what is taken off bolts, ends too short for a strip included. `short` are
    strips by height and count for which no bolt is left; `makes` how many whole kits the bolts that
    are there give, None if no bolts were named.
    """

    fabric: Fabric
    pool: Pool
    kit: KitCloth
    bolts: tuple[BoltUse, ...]
    buy: Fraction
    price: Fraction | None
    short: tuple[tuple[Fraction, int], ...] = ()
    makes: int | None = None


@dataclass(frozen=True, slots=True)
class KitsWork:
    """Kits that were worked out. `cloth` holds the pieces: of one kit, or at the level of patches
    of all kits together."""

    project: Project
    name: str
    people: int
    kits: int
    level: Level
    release: int | None
    works: tuple[BlockWork, ...]
    cloth: ClothWork
    fabrics: tuple[KitFabric, ...]
    costing: Costing
    costs: Costs
    findings: tuple[Finding, ...]

    @property
    def measure(self) -> Measure:
        """What lengths are written in."""
        return self.project.preferences.measure

    @property
    def buying(self) -> Buying:
        """How cloth is bought."""
        return self.project.preferences.buying


def work_kits(
    where: Path | str,
    wishes: KitWishes | None = None,
    *,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    laying: ClothProgress | None = None,
    stop: Stop | None = None,
) -> KitsWork:
    """Kits of the block in a file, of the quilt in a folder, or of one release of it.

    Raises InputError for what cannot be used: no such release, a fabric that is not there.
    """
    wishes, memory, path = wishes or KitWishes(), memory or Memory(), Path(where)
    made = _Basis.of(path, wishes, memory, progress, stop)
    asked = made.asked
    people = wishes.people or (asked.people if asked else 1)
    spares = wishes.spares if wishes.spares is not None else asked.spares if asked else Fraction(0)
    level: Level = wishes.level or (asked.level if asked else "patches")
    kits = how_many(people, spares)
    told = functools.partial(
        lay_cloth,
        *(made.project, made.works),
        top=made.programme.top if made.programme else None,
        only=made.only,
        memory=memory,
        progress=laying,
        stop=stop,
    )
    if level == "patches":
        cloth = told(ClothWishes(wishes.width, kits=kits, simple=True, quick=wishes.quick))
    else:
        cloth = told(ClothWishes(wishes.width, quick=wishes.quick))
    fabrics, findings = [], [*made.findings, *cloth.findings]
    for one in cloth.fabrics:
        if one.laid is not None and one.fabric.letter not in LOOSE:
            kit = kit_cloth(
                made.programme, one, level, kits, wishes.release, made.project.preferences.buying
            )
            if level == "patches" and one.shortest is not None:
                kit = replace(kit, best=min(kit.bare, one.shortest.length))
            fabric, said = _bolted(made, one, kit, kits, wishes)
            fabrics.append(fabric)
            findings += said
    costs = asked.costs if asked else Costs()
    if asked and wishes.release is not None:  # each release carries its share
        costs = replace(costs, once=costs.once / len(asked.releases))
    money = sum((_money(made.project, fabric) for fabric in fabrics), Fraction(0))
    unpriced = [f.fabric.letter.upper() for f in fabrics if f.price is None and f.buy]
    if unpriced and len(unpriced) < len(fabrics):
        findings.append(
            NO_PRICE.found(
                f"no price is given for {', '.join(unpriced)}, so the costs lack their cloth",
                mend="write price: into quilt.yaml for every fabric",
            )
        )
    return KitsWork(
        *(made.project, made.name, people, kits, level, wishes.release, made.works, cloth),
        tuple(fabrics),
        costing(costs, money, sum(fabric.kit.knife for fabric in fabrics), kits, people),
        costs,
        tuple(findings),
    )


@dataclass(frozen=True, slots=True)
class _Basis:
    """What kits are made of."""

    project: Project
    name: str
    asked: Asked | None
    programme: ProgrammeWork | None
    works: tuple[BlockWork, ...]
    only: frozenset[str] | None
    findings: tuple[Finding, ...]

    @classmethod
    def of(
        cls,
        path: Path,
        wishes: KitWishes,
        memory: Memory,
        progress: ProjectProgress | None,
        stop: Stop | None,
    ) -> _Basis:
        if not path.is_dir():
            source = read_block(path)
            told = None if progress is None else functools.partial(progress, path, 1)
            work = work_block(source, memory=memory, progress=told, stop=stop)
            _no_release(wishes, path)
            asked = source.project.programme
            return cls(
                *(source.project, source.drawing.name, asked, None, (work,), None), work.findings
            )
        project = in_edition(read_project(path), wishes)
        if project.programme is None:
            _no_release(wishes, path)
            works = work_project(project, memory=memory, progress=progress, stop=stop).blocks
            if not works:
                raise no_blocks(project)
            findings = tuple(finding for work in works for finding in work.findings)
            return cls(project, project.name, None, None, works, None, findings)
        whole = work_programme(
            project, quick=wishes.quick, memory=memory, progress=progress, stop=stop
        )
        n = wishes.release
        if n is not None and n > len(whole.asked.releases):
            raise InputError(
                f"there is no release {n}: the programme has {len(whole.asked.releases)}",
                mend="choose one of them",
                place=Place(str(path)),
            )
        there = whole.sources(n)
        works = tuple(work for work in whole.works if work.drawing.name in there)
        return cls(
            *(project, project.name, whole.asked, whole, works, there),
            tuple(finding for work in works for finding in work.findings),
        )


def in_edition(project: Project, wishes: KitWishes) -> Project:
    """The project in the size and colourway that is wished for. Raises InputError if it has none
    of that name."""
    sizes = {size.name: size for size in project.sizes}
    colourways = {colourway.name: colourway for colourway in project.colourways}
    for name, there, what in (
        (wishes.size, sizes, "size"),
        (wishes.colourway, colourways, "colourway"),
    ):
        if name is not None and name not in there:
            known = ", ".join(there) or "none"
            raise InputError(f'there is no {what} "{name}"', mend=f"there are: {known}")
    return project.edition(
        sizes[wishes.size] if wishes.size is not None else None,
        colourways[wishes.colourway] if wishes.colourway is not None else None,
    )


def reserved(work: ProgrammeWork, orders: Mapping[str, tuple[Ordered, ...]]) -> Iterator[Finding]:
    """What must be reserved before the first release, because dye lots may not be mixed."""
    names = {one.fabric.letter: one.fabric.name for one in work.cloth.fabrics}
    by = next(entry.ends for entry in work.entries if (entry.release, entry.step) == (1, "order"))
    for letter in work.asked.one_lot:
        whole = sum((order.buy for order in orders.get(letter, ())), Fraction(0))
        if whole:
            yield RESERVE.found(
                f"{work.buying.told(whole)} of {letter.upper()}, {names[letter]}, from one dye lot",
                mend=f"reserve it by {by}: it goes out with every release, and lots differ",
                where=work.asked.where,
            )
        elif letter not in names:
            yield RESERVE.found(
                f"one dye lot names fabric {letter.upper()}, of which nothing is cut",
                mend="correct the letter",
                where=work.asked.where,
            )


def _no_release(wishes: KitWishes, path: Path) -> None:
    if wishes.release is not None:
        raise InputError(
            "there is no programme, so there are no releases",
            mend="give a folder whose quilt.yaml has a programme:",
            place=Place(str(path)),
        )


def kit_cloth(
    programme: ProgrammeWork | None,
    one: FabricCloth,
    level: Level,
    kits: int,
    release: int | None,
    buying: Buying,
) -> KitCloth:
    """One fabric for all kits. Of a release the bag holds what is cut with it, pieces to save for
    later ones included; cut pieces are those that are sewn in it."""
    assert one.laid is not None
    letter = one.fabric.letter
    if level == "patches":
        return patch_kits(one.pool, one.laid, kits)
    strips = [
        StripCut(strip.height, strip.times * lay.times, strip.pieces)
        for lay in one.laid.lays
        if lay.cloth == "yardage"
        for strip in strips_of(lay)
    ]
    length = one.laid.length
    fixed = [(lay.stock, lay.times) for lay in one.laid.lays if lay.cloth == "fixed"]
    if programme is not None and release is not None:
        need = next(n for n in programme.needs if (n.fabric, n.release) == (letter, release))
        strips, length, fixed = list(need.strips), need.length, list(need.fixed)
    if level == "strips":
        return strip_kits(letter, strips, fixed, kits)
    return yardage_kits(letter, length, fixed, kits, buying.straightening)


def _bolted(
    made: _Basis, one: FabricCloth, kit: KitCloth, kits: int, wishes: KitWishes
) -> tuple[KitFabric, list[Finding]]:
    """The fabric with its bolts, and what is wrong with them."""
    buying, letter = made.project.preferences.buying, one.fabric.letter
    have = [length for for_, length in wishes.have if for_ == letter]
    usual = made.asked.bolt if made.asked is not None and not have else None
    if usual is None and not have:
        usual = bought_for(kit.bare, buying)
    bolts, short = from_bolts(kit.across, have, usual if kit.bare else None, buying.straightening)
    buy = bought_for(kit.bare, buying)
    if made.asked is not None and made.asked.bolt is not None and not have:
        buy = max(buy, rounded(off_bolts(bolts), buying.shop_cut))
    makes = _whole_kits(kit, kits, have, buying) if have else None
    findings = []
    measure = made.project.preferences.measure
    if short and have:
        lacking = sum((height * count for height, count in short), Fraction(0))
        told = ", ".join(f"{n} of {with_unit(h, measure)}" for h, n in short)
        findings.append(
            CLOTH_SHORT.found(
                f"the bolts of fabric {letter.upper()} make {makes} of {kits} kits; "
                f"{told} are lacking, {buying.told(rounded(lacking, buying.shop_cut))} in all",
                mend="find one more bolt of the same dye lot, or make fewer kits",
                where=Where(),
            )
        )
    elif short:
        high = max(height for height, _ in short)
        findings.append(
            BOLT_TOO_SHORT.found(
                f"a strip of fabric {letter.upper()} is {with_unit(high, measure)} high, and a "
                f"bolt only {with_unit(usual or Fraction(0), measure)} long",
                mend="correct bolt: in quilt.yaml",
                where=made.asked.where if made.asked else Where(),
            )
        )
    price = made.project.supply(letter).price
    return KitFabric(one.fabric, one.pool, kit, bolts, buy, price, short, makes), findings


def bought_for(bare: Fraction, buying: Buying) -> Fraction:
    """What to buy for a bare length: straightened, shrunk, rounded as shops cut, once."""
    if not bare:
        return bare
    return rounded((bare + buying.straightening) / (1 - buying.shrinkage), buying.shop_cut)


def _whole_kits(kit: KitCloth, kits: int, have: Sequence[Fraction], buying: Buying) -> int:
    """How many whole kits the bolts give, each kit taking its share of every strip."""
    low, high = 0, kits
    while low < high:
        tried = (low + high + 1) // 2
        across = [replace(one, times=-(-one.times * tried // kits)) for one in kit.across]
        if from_bolts(across, have, None, buying.straightening)[1]:
            high = tried - 1
        else:
            low = tried
    return low


def _money(project: Project, fabric: KitFabric) -> Fraction:
    buying = project.preferences.buying
    return Fraction(0) if fabric.price is None else buying.amount(fabric.buy) * fabric.price


def lengths_alone(
    work: ProgrammeWork, *, memory: Memory | None = None, stop: Stop | None = None
) -> Mapping[str, Fraction]:
    """The length of each fabric of one quilt if every release is cut by itself, saving nothing."""
    memory, found = memory or Memory(), dict[str, Fraction]()
    for n in range(1, len(work.asked.releases) + 1):
        for one in _of_release(work, n, ClothWishes(quick=True), memory, stop).fabrics:
            if one.laid is not None:
                letter = one.fabric.letter
                found[letter] = found.get(letter, Fraction(0)) + one.laid.length
    return found


def _of_release(
    work: ProgrammeWork, release: int, wishes: ClothWishes, memory: Memory, stop: Stop | None
) -> ClothWork:
    return lay_cloth(
        *(work.project, work.works, wishes),
        top=work.top,
        only=work.sources(release),
        memory=memory,
        stop=stop,
    )


def orders_of(
    work: ProgrammeWork,
    *,
    memory: Memory | None = None,
    stop: Stop | None = None,
) -> Mapping[str, tuple[Ordered, ...]]:
    """What is ordered of each fabric for the kits of all people, release by release.

    A cloth of which dye lots may not be mixed is ordered for all releases with the first.
    """
    memory, asked, buying = memory or Memory(), work.asked, work.buying
    kits = how_many(asked.people, asked.spares)
    wishes = ClothWishes(kits=kits, simple=True, quick=True)
    lengths: dict[str, list[Fraction]] = {
        one.fabric.letter: [Fraction(0)] * len(asked.releases)
        for one in work.cloth.fabrics
        if one.fabric.letter not in LOOSE
    }
    for n in range(1, len(asked.releases) + 1):
        cloth = work.cloth
        if asked.level == "patches":
            cloth = _of_release(work, n, wishes, memory, stop)
        for one in cloth.fabrics:
            if one.laid is None or one.fabric.letter in LOOSE:
                continue
            bare = kit_cloth(work, one, asked.level, kits, n, buying).bare
            if bare:
                exact = (bare + buying.straightening) / (1 - buying.shrinkage)
                lengths[one.fabric.letter][n - 1] = exact
    step = SHOP_CUTS[buying.shop_cut]
    return {
        letter: ordered(some, step, at_once=letter in asked.one_lot)
        for letter, some in lengths.items()
    }
