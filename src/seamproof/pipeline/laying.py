"""The cloth of some blocks and their top: pooled, laid fabric by fabric, each lay remembered."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.buying import Buying, Purchase, bought
from seamproof.cloth.leftovers import leftovers
from seamproof.cloth.model import EFFORT, Cloth, Demand, Fixed, Laid, Lay
from seamproof.cloth.model import Settings as Cutting
from seamproof.cloth.ordering import measures
from seamproof.cloth.pooling import Kind, Pool, Source, pooled
from seamproof.cloth.replaying import faults
from seamproof.cloth.reserving import joined_to, reserved
from seamproof.cloth.standing import stood
from seamproof.cloth.tops import LOOSE, Asked, asked_by, backing_cloth, binding_cloth
from seamproof.draft.model import Fabric
from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure
from seamproof.pipeline.cloth_remarks import cloth_notes
from seamproof.pipeline.cloth_there import ClothWishes, cloth_for, strip_width
from seamproof.pipeline.memory import Memory, Stage
from seamproof.pipeline.model import BlockWork, Stop
from seamproof.project.model import Project, fabrics_for
from seamproof.setting.model import Top

UNNAMED = "#DAD7CF"
"""The colour of cloth for which the setting names no fabric: unbleached."""

_Told = tuple[Cloth, tuple[Demand, ...], Cutting]

CLOTH: Stage[_Told, Laid] = Stage("cloth", takes=_Told, gives=Laid, stands_on=("highspy", "numpy"))


@dataclass(frozen=True, slots=True)
class Laying:
    """How far it has come: fabric `number`, counted from 0, of `count`, by its letter; `rounds` of
    bettering are done of `of`, and the best lay so far takes `length` inches of yardage, to be told
    in `measure`."""

    letter: str
    number: int
    count: int
    rounds: int = 0
    of: int = 0
    length: Fraction | None = None
    measure: Measure = "in"


ClothProgress = Callable[[Laying], None]
"""Told before each fabric is laid, and after each round of bettering it."""


@dataclass(frozen=True, slots=True)
class FabricCloth:
    """One fabric: what is cut from it, how it lies, and what to buy. `laid` is None if it cannot
    be laid at all. `shortest` is the lay without the wish for few strip widths, `kept` what is
    left over and worth keeping."""

    fabric: Fabric
    pool: Pool
    cloth: Cloth
    laid: Laid | None
    purchase: Purchase | None
    price: Fraction | None = None
    shortest: Laid | None = None
    kept: tuple[Fixed, ...] = ()

    def from_shelf(self, lay: Lay) -> bool:
        """Whether a lay is of a piece that is there already."""
        return lay.cloth == "fixed" and lay.stock in {piece.name for piece in self.cloth.shelf}

    @property
    def fixed_used(self) -> tuple[tuple[Fixed, bool], ...]:
        """The pieces of fixed size that are used, counted, those of one size together; and whether
        they are from the shelf."""
        counts: dict[tuple[str, Fraction, Fraction, bool], int] = {}
        for lay in () if self.laid is None else self.laid.lays:
            if lay.cloth == "fixed":
                key = (lay.stock, lay.width, lay.length, self.from_shelf(lay))
                counts[key] = counts.get(key, 0) + lay.times
        return tuple((Fixed(*key[:3], count), key[3]) for key, count in counts.items())

    @property
    def kinds(self) -> dict[str, Kind]:
        """What is cut, by the names of the lay."""
        return {kind.demand.name: kind for kind in self.pool.kinds}


@dataclass(frozen=True, slots=True)
class ClothWork:
    """The cloth of some blocks, and of the top that they are set into. `findings` are those about
    the cloth."""

    project: Project
    works: tuple[BlockWork, ...]
    wishes: ClothWishes
    buying: Buying
    fabrics: tuple[FabricCloth, ...]
    findings: tuple[Finding, ...]
    top: Top | None = None

    @property
    def measure(self) -> Measure:
        """What lengths are written in."""
        return self.project.preferences.measure


def lay_cloth(
    project: Project,
    works: Sequence[BlockWork],
    wishes: ClothWishes | None = None,
    *,
    top: Top | None = None,
    only: Collection[str] | None = None,
    memory: Memory | None = None,
    progress: ClothProgress | None = None,
    stop: Stop | None = None,
) -> ClothWork:
    """How all cloth for some blocks is cut, and how much of it to buy; with `top`, also for its
    sashing, borders, binding and backing. `only` names the sources that are cut: blocks, and what
    the top asks for; None is all of them.

    Blocks that could not be worked out are left out; they have said why. Once `stop` says so, the
    best lay so far is taken for the fabric that is being laid, and the first good one for those
    after it; none of these is remembered.
    """
    wishes, memory = wishes or ClothWishes(), memory or Memory()
    fabrics = _fabrics(project, works, top)
    cloths = {letter: cloth_for(project, fabric, wishes) for letter, fabric in fabrics.items()}
    pools = _pools(project, works, wishes, top, fabrics, cloths, only)
    found: list[FabricCloth] = []
    findings: list[Finding] = []
    cutting = Cutting(
        stages=3 if wishes.third_cut else 2,
        simple=wishes.simple,
        step=project.preferences.cutting().step,
        effort=0 if wishes.quick else EFFORT,
    )
    measure, buying = project.preferences.measure, project.preferences.buying
    place = project.setting.where if project.setting is not None else Where()
    for n, pool in enumerate(pools):
        tell = _Teller(progress, Laying(pool.fabric, n, len(pools), measure=measure))
        fabric = fabrics[pool.fabric]
        cloth, said = cloths[pool.fabric]
        findings += said
        if cloth is None:
            nothing = Cloth(fabric.letter, Fraction(0))
            found.append(FabricCloth(fabric, pool, nothing, None, None))
            continue
        laid = _laid(cloth, pool, cutting, memory, tell, stop)
        if wishes.third_cut and not wishes.simple:  # which saves nothing for some fabrics
            two = _laid(cloth, pool, replace(cutting, stages=2), memory, tell, stop)
            laid = min(two, laid, key=_length)
        shortest = laid
        if wishes.simple and not wishes.quick:
            shortest = _laid(cloth, pool, replace(cutting, simple=False), memory, tell, stop)
            laid = min(laid, shortest, key=_settings)
        findings += cloth_notes(fabric, pool, cloth, laid, works, measure, place)
        purchase = bought(laid, buying, pool.first)
        found.append(
            FabricCloth(
                fabric,
                pool,
                cloth,
                laid,
                purchase,
                project.supply(fabric.letter).price,
                shortest,
                leftovers(laid, purchase, buying),
            )
        )
    return ClothWork(project, tuple(works), wishes, buying, tuple(found), tuple(findings), top)


def _fabrics(project: Project, works: Sequence[BlockWork], top: Top | None) -> dict[str, Fabric]:
    """Every fabric that something is cut from, by letter."""
    found = {f.letter: f for work in works for f in work.fabrics}
    if top is None or project.setting is None:
        return found
    asked = {piece.fabric for piece in top.pieces}
    loose = {binding_cloth(top): project.preferences.cutting().usable_width}
    backing = backing_cloth(top, project.setting)
    loose[backing] = top.backing.usable
    found |= {f.letter: f for f in fabrics_for({*found, *asked, *loose} - {*LOOSE}, project)[0]}
    for letter in LOOSE:
        if letter in loose:
            found[letter] = Fabric(
                letter, letter.capitalize(), UNNAMED, "medium", usable_width=loose[letter]
            )
    return found


def _pools(
    project: Project,
    works: Sequence[BlockWork],
    wishes: ClothWishes,
    top: Top | None,
    fabrics: Mapping[str, Fabric],
    cloths: Mapping[str, tuple[Cloth | None, list[Finding]]],
    only: Collection[str] | None,
) -> tuple[Pool, ...]:
    """What is cut from each fabric, equal pieces of all blocks and the top together."""
    settings = project.preferences.cutting()
    directional = {letter for letter, fabric in fabrics.items() if fabric.directional}
    sources = [
        Source(work.drawing.name, stood(work.cutting.pieces, work.piecing, directional))
        for work in works
        if work.cutting is not None and work.piecing is not None
    ]
    usable = {
        letter: settings.usable_width if cloth is None else strip_width(cloth)
        for letter, (cloth, _) in cloths.items()
    }
    asked = Asked()
    if top is not None and project.setting is not None:
        asked = asked_by(
            top,
            project.setting,
            usable,
            seam=settings.seam,
            step=settings.step,
            directional=directional,
        )
    return pooled(
        [s for s in (*sources, *asked.sources) if only is None or s.name in only],
        joined=[s for s in asked.joined if only is None or s.name in only],
        usable=usable,
        directional=directional,
        kits=wishes.kits,
        step=settings.step,
    )


class _CutShort(Exception):
    """Carries a lay past the memory; nobody else sees it."""

    def __init__(self, laid: Laid) -> None:
        self.laid = laid


def _length(laid: Laid) -> tuple[int, Fraction]:
    """What makes one lay better than another: pieces for which no cloth is left, length."""
    return sum(count for _, count in laid.unmet), laid.length


def _settings(laid: Laid) -> tuple[int, int, Fraction]:
    """What makes one lay simpler than another: pieces for which no cloth is left, settings of the
    ruler, length."""
    return sum(count for _, count in laid.unmet), measures(laid.lays).settings, laid.length


@dataclass(frozen=True, slots=True)
class _Teller:
    """Tells how far the laying of one fabric has come, if anybody listens."""

    progress: ClothProgress | None
    begun: Laying

    def __post_init__(self) -> None:
        if self.progress is not None:
            self.progress(self.begun)

    def __call__(self, rounds: int, of: int, length: Fraction) -> None:
        if self.progress is not None:
            self.progress(replace(self.begun, rounds=rounds, of=of, length=length))


def _laid(
    cloth: Cloth,
    pool: Pool,
    cutting: Cutting,
    memory: Memory,
    tell: _Teller,
    stop: Stop | None,
) -> Laid:
    """One fabric: what comes first is set aside, and the rest laid, as remembered. Every lay goes
    through the cutter that knows only straight cuts; RuntimeError if one cannot be cut, which is
    our mistake."""
    first = [
        kind.demand
        for kind in pool.kinds
        if kind.first and cloth.yardage and kind.demand.width <= cloth.width
    ]
    reserve = reserved(cloth, first)
    rest = tuple(demand for demand in pool.demands if demand not in first)
    laid = _remembered(reserve.rest, rest, cutting, memory, tell, stop)
    whole = joined_to(reserve, laid, pool.demands)
    if wrong := faults(whole, pool.demands):
        raise RuntimeError(f"fabric {pool.fabric.upper()} cannot be cut as laid: {wrong[0]}")
    return whole


def _remembered(
    cloth: Cloth,
    demands: tuple[Demand, ...],
    cutting: Cutting,
    memory: Memory,
    tell: _Teller,
    stop: Stop | None,
) -> Laid:
    def made() -> Laid:
        from seamproof.cloth.laying import lay

        laid = lay(cloth, demands, cutting, stop=stop, progress=tell)
        if laid.stopped:
            raise _CutShort(laid)  # what was stopped is never remembered as the last word
        return laid

    try:
        return memory.recall(CLOTH, (cloth, demands, cutting), made)
    except _CutShort as short:
        return short.laid
