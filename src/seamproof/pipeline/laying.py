"""The cloth of some blocks: pooled, laid fabric by fabric, each lay remembered."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.buying import Buying, Purchase, bought
from seamproof.cloth.checks import CUT_SHORT, NO_SIZE, NO_WIDTH, NOT_ENOUGH, ONE_WAY, TOO_LARGE
from seamproof.cloth.model import Cloth, Demand, Fixed, Laid, Lay
from seamproof.cloth.model import Settings as Cutting
from seamproof.cloth.pooling import Kind, Pool, Source, pooled
from seamproof.cloth.standing import stood
from seamproof.draft.model import Fabric
from seamproof.errors import Stopped
from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure, number, with_unit
from seamproof.pipeline.memory import Memory, Stage
from seamproof.pipeline.model import BlockWork, Stop
from seamproof.project.model import Project

_Told = tuple[Cloth, tuple[Demand, ...], Cutting]

CLOTH: Stage[_Told, Laid] = Stage("cloth", takes=_Told, gives=Laid, stands_on=("highspy", "numpy"))

ClothProgress = Callable[[str, int, int], None]
"""Told the letter of each fabric before it is laid, its number from 0, and how many there are."""

WIDE = Fraction(42)
"""Usable width of cloth that is not preshrunk and used from selvage to selvage (common practice,
no source): what some patterns count on."""


@dataclass(frozen=True, slots=True)
class ClothWishes:
    """What somebody asks for besides what the project says.

    `width` is the usable width of every fabric. `fixed` and `shelf` are pieces by the letter of
    their fabric, "" for every fabric; with `fixed` nothing is bought by length unless `yardage`.
    `kits` is how many times everything is cut.
    """

    width: Fraction | None = None
    fixed: tuple[tuple[str, Fixed], ...] = ()
    shelf: tuple[tuple[str, Fixed], ...] = ()
    yardage: bool = False
    kits: int = 1
    simple: bool = False


@dataclass(frozen=True, slots=True)
class FabricCloth:
    """One fabric: what is cut from it, how it lies, and what to buy. `laid` is None if it cannot
    be laid at all."""

    fabric: Fabric
    pool: Pool
    cloth: Cloth
    laid: Laid | None
    purchase: Purchase | None
    price: Fraction | None = None

    def from_shelf(self, lay: Lay) -> bool:
        """Whether a lay is of a piece that is there already."""
        return lay.cloth == "fixed" and lay.stock in {piece.name for piece in self.cloth.shelf}

    @property
    def kinds(self) -> dict[str, Kind]:
        """What is cut, by the names of the lay."""
        return {kind.demand.name: kind for kind in self.pool.kinds}


@dataclass(frozen=True, slots=True)
class ClothWork:
    """The cloth of some blocks. `findings` are those about the cloth."""

    project: Project
    works: tuple[BlockWork, ...]
    wishes: ClothWishes
    buying: Buying
    fabrics: tuple[FabricCloth, ...]
    findings: tuple[Finding, ...]

    @property
    def measure(self) -> Measure:
        """What lengths are written in."""
        return self.project.preferences.measure


def lay_cloth(
    project: Project,
    works: Sequence[BlockWork],
    wishes: ClothWishes | None = None,
    *,
    memory: Memory | None = None,
    progress: ClothProgress | None = None,
    stop: Stop | None = None,
) -> ClothWork:
    """How all cloth for some blocks is cut, and how much of it to buy.

    Blocks that could not be worked out are left out; they have said why. If `stop` says so while a
    fabric is laid, the best lay so far is taken for it, which is not remembered; before that,
    Stopped is raised.
    """
    wishes, memory = wishes or ClothWishes(), memory or Memory()
    fabrics = {f.letter: f for work in works for f in work.fabrics}
    step = project.preferences.cutting().step
    directional = {letter for letter, fabric in fabrics.items() if fabric.directional}
    sources = [
        Source(work.drawing.name, stood(work.cutting.pieces, work.piecing, directional))
        for work in works
        if work.cutting is not None and work.piecing is not None
    ]
    pools = pooled(
        sources,
        directional=directional,
        kits=wishes.kits,
        step=step,
    )
    found: list[FabricCloth] = []
    findings: list[Finding] = []
    cutting = Cutting(simple=wishes.simple, step=step)
    for n, pool in enumerate(pools):
        if stop is not None and stop():
            raise Stopped(f"stopped before fabric {pool.fabric.upper()} was laid")
        if progress is not None:
            progress(pool.fabric, n, len(pools))
        fabric = fabrics[pool.fabric]
        cloth, said = _cloth(project, fabric, wishes)
        findings += said
        if cloth is None:
            nothing = Cloth(fabric.letter, Fraction(0))
            found.append(FabricCloth(fabric, pool, nothing, None, None))
            continue
        laid = _laid(cloth, pool.demands, cutting, memory, stop)
        findings += _checked(fabric, pool, cloth, laid, works, project.preferences.measure)
        found.append(
            FabricCloth(
                fabric,
                pool,
                cloth,
                laid,
                bought(laid, project.preferences.buying),
                project.supply(fabric.letter).price,
            )
        )
    buying = project.preferences.buying
    return ClothWork(project, tuple(works), wishes, buying, tuple(found), tuple(findings))


class _CutShort(Exception):
    """Carries a lay past the memory; nobody else sees it."""

    def __init__(self, laid: Laid) -> None:
        self.laid = laid


def _laid(
    cloth: Cloth, demands: tuple[Demand, ...], cutting: Cutting, memory: Memory, stop: Stop | None
) -> Laid:
    def made() -> Laid:
        from seamproof.cloth.first_plan import lay

        laid = lay(cloth, demands, cutting, stop=stop)
        if laid.stopped:
            raise _CutShort(laid)  # what was stopped is never remembered as the last word
        return laid

    try:
        return memory.recall(CLOTH, (cloth, demands, cutting), made)
    except _CutShort as short:
        return short.laid


def _cloth(
    project: Project, fabric: Fabric, wishes: ClothWishes
) -> tuple[Cloth | None, list[Finding]]:
    """What there is to cut a fabric from, and what is wrong with it."""
    measure, letter = project.preferences.measure, fabric.letter
    supply = project.supply(letter)
    findings: list[Finding] = []
    width = fabric.usable_width if wishes.width is None else wishes.width
    if width <= 0:
        findings.append(
            NO_WIDTH.found(
                f"fabric {letter.upper()} has no width that can be used: "
                f"{with_unit(width, measure)}",
                mend="measure from selvage to selvage and take off both selvages; "
                "most quilting cloth leaves 40 in, or 100 cm",
            )
        )
        return None, findings
    asked = [(piece, Where()) for for_, piece in wishes.fixed if for_ in ("", letter)]
    fixed = asked or list(supply.fixed)
    shelf = [(piece, Where()) for for_, piece in wishes.shelf if for_ in ("", letter)]
    kept: dict[str, list[Fixed]] = {"fixed": [], "shelf": []}
    for what, pieces in (("fixed", fixed), ("shelf", [*shelf, *supply.shelf])):
        for piece, where in pieces:
            if piece.width > 0 and piece.length > 0:
                kept[what].append(piece)
                continue
            size = f"{number(piece.width, measure)} × {with_unit(piece.length, measure)}"
            findings.append(
                NO_SIZE.found(
                    f"a piece of fabric {letter.upper()} cannot measure {size}",
                    mend="measure it again: width × length, both more than nothing; "
                    "it is left out until then",
                    where=where,
                )
            )
    yardage = wishes.yardage if asked else supply.yardage
    return (
        Cloth(letter, width, yardage, _named_once(kept["fixed"]), _named_once(kept["shelf"])),
        findings,
    )


def _named_once(pieces: Sequence[Fixed]) -> tuple[Fixed, ...]:
    """Pieces of equal size together, so that every name is one size and every size one name."""
    found: dict[tuple[Fraction, Fraction], Fixed] = {}
    for piece in pieces:
        size = (piece.width, piece.length)
        if size not in found:
            found[size] = piece
            continue
        one, other = found[size].count, piece.count
        count = None if one is None or other is None else one + other
        found[size] = replace(found[size], count=count)
    return tuple(found.values())


def _checked(
    fabric: Fabric,
    pool: Pool,
    cloth: Cloth,
    laid: Laid,
    works: Sequence[BlockWork],
    measure: Measure,
) -> list[Finding]:
    """What is to be said about the lay of a fabric."""
    letter = fabric.letter.upper()
    findings = [
        _too_large(pool.named(name), fabric, cloth, works, measure) for name in laid.too_large
    ]
    lacking = [(name, count) for name, count in laid.unmet if name not in laid.too_large]
    if lacking:
        told = ", ".join(f"{count} of {name}" for name, count in lacking)
        findings.append(
            NOT_ENOUGH.found(
                f"what there is of fabric {letter} does not give all pieces: {told} are missing",
                mend="have more pieces of it, or let it be bought by length, too",
            )
        )
    sides = {kind.sides for kind in pool.kinds if kind.outline == "box"}
    if fabric.directional and any(short != long for short, long in sides):
        findings.append(
            ONE_WAY.found(
                f"the print of fabric {letter} has a direction, so no piece of it is turned to "
                "save cloth: rectangles are cut so that it stands upright in the block",
                mend="halves of squares and other triangles will show it both ways; if that "
                "matters there, take another fabric",
            )
        )
    if laid.stopped:
        findings.append(
            CUT_SHORT.found(
                f"the search for a shorter lay of fabric {letter} was stopped",
                mend="the lay is whole and can be cut; ask again for a shorter one",
            )
        )
    return findings


def _too_large(
    kind: Kind, fabric: Fabric, cloth: Cloth, works: Sequence[BlockWork], measure: Measure
) -> Finding:
    short, long = kind.sides
    size = f"{number(short, measure)} × {with_unit(long, measure)}"
    least = short if kind.demand.may_turn else kind.demand.width or short
    sources = {use.source for use in kind.uses}
    work = next((w for w in works if w.drawing.name in sources), None)
    where = Where() if work is None else Where(work.drawing.where.file, block=work.drawing.name)
    mend = "use wider cloth, or put a seam across the piece in the drawing"
    if cloth.yardage and cloth.width < least <= WIDE:
        mend = (
            f"it fits cloth of which {with_unit(least, measure)} can be used: "
            "say so as usable width in quilt.yaml, or with --width"
        )
    room = (
        f"the usable width is {with_unit(cloth.width, measure)}"
        if cloth.yardage
        else "no piece of it is large enough"
    )
    return TOO_LARGE.found(
        f"{kind.shape} {kind.demand.name} of fabric {fabric.letter.upper()} is cut {size}, "
        f"but {room}",
        mend=mend,
        where=where,
    )
