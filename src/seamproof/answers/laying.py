"""How the cloth is cut and how much of it to buy: the answer of ``seamproof cloth``."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.booklet import cloth_wording
from seamproof.cloth.model import Cut, Lay
from seamproof.cloth.ordering import counted, measures
from seamproof.cloth.pooling import Kind
from seamproof.cloth.stacking import handling, stacked
from seamproof.drawing.svg import svg
from seamproof.figures.cloth import paints
from seamproof.figures.lays import drawings, lay_scale, lay_scene
from seamproof.length.notation import Measure, number, with_unit
from seamproof.pipeline.laying import ClothWork, FabricCloth
from seamproof.setting.model import Top


@dataclass(frozen=True, slots=True)
class CutLine:
    """A rectangle of cloth and what becomes of it: see the reference page. Lengths in inches."""

    width: float
    height: float
    along: Literal["across", "length"] | None
    parts: tuple[CutLine, ...]
    times: int
    piece: str | None
    pieces: int
    turned: bool
    slope: float | None


@dataclass(frozen=True, slots=True)
class LayLine:
    """One length of cloth, `times` over. `cloth` is yardage, a fixed piece by its name, or a piece
    from the shelf."""

    times: int
    cloth: str
    width: float
    length: float
    cut: CutLine


@dataclass(frozen=True, slots=True)
class UseLine:
    """Pieces of a kind that a block asks for, under the letter of its own table."""

    block: str
    letter: str
    count: int


@dataclass(frozen=True, slots=True)
class KindLine:
    """Pieces that are cut alike. `layers` are cut at once, in `stacks` stacks."""

    piece: str
    shape: str
    width: str
    width_in: float
    height: str
    height_in: float
    count: int
    layers: int
    stacks: int
    uses: tuple[UseLine, ...]


@dataclass(frozen=True, slots=True)
class FixedLine:
    """`count` pieces of a fixed size that are used up; with `shelf` they are there already."""

    name: str
    width_in: float
    length_in: float
    count: int
    shelf: bool


@dataclass(frozen=True, slots=True)
class KeptLine:
    """`count` pieces of cloth that are left over and worth keeping."""

    width_in: float
    length_in: float
    count: int


@dataclass(frozen=True, slots=True)
class FabricClothLine:
    """One fabric. What could not be worked out is null; so are bounds of what is not bought by
    length."""

    letter: str
    name: str
    width_in: float
    bare_in: float | None
    straightening_in: float | None
    shrinkage_in: float | None
    buy: float | None
    unit: Literal["yd", "m"]
    spare_in: float | None
    buy_spare: float | None
    cost: float | None
    bound_in: float | None
    area_bound_in: float | None
    proved: bool | None
    strip_widths: int | None
    settings: int | None
    shortest_in: float | None
    fixed: tuple[FixedLine, ...]
    pieces: tuple[KindLine, ...]
    lays: tuple[LayLine, ...]
    kept: tuple[KeptLine, ...]
    pictures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BattingLine:
    """What lies between top and backing; `package` is the smallest that holds it, if one does."""

    width_in: float
    height_in: float
    package: str | None


@dataclass(frozen=True, kw_only=True)
class ClothAnswer(Answer):
    """The cloth of a block or a quilt, for `kits` of everything."""

    command: ClassVar[str] = "cloth"

    name: str
    kits: int
    fabrics: tuple[FabricClothLine, ...]
    batting: BattingLine | None
    cutting_list: str | None
    cutting_order: str | None
    shopping_list: str | None
    work: Annotated[ClothWork, HIDDEN] = field(repr=False, compare=False)

    def diagrams(self) -> Iterator[tuple[str, str, str]]:
        """For each distinct lay of each fabric, in order: the fabric's letter, a name for a file,
        and the diagram as an SVG document."""
        for one in self.work.fabrics:
            lays = () if one.laid is None else one.laid.lays
            drawn = [(lay, part) for lay in lays for part in drawings(lay, one.pool.first)]
            for n, (lay, part) in enumerate(drawn, start=1):
                which = f"-{n}" if len(drawn) > 1 else ""
                letter = one.fabric.letter
                yield letter, f"cutting-{letter}{which}", diagram(self.work, one, lay, part)


def cloth_answer(
    work: ClothWork,
    name: str,
    *,
    pictures: dict[str, tuple[str, ...]] | None = None,
    cutting_list: str | None = None,
    cutting_order: str | None = None,
    shopping_list: str | None = None,
) -> ClothAnswer:
    """What there is to say about the cloth of some blocks. `pictures` are the files written, by
    letter of the fabric."""
    findings = [finding for block in work.works for finding in block.findings]
    return ClothAnswer(
        findings=noted([*findings, *work.findings]),
        name=name,
        kits=work.wishes.kits,
        fabrics=tuple(
            _fabric(work, one, (pictures or {}).get(one.fabric.letter, ())) for one in work.fabrics
        ),
        batting=_batting(work.top),
        cutting_list=cutting_list,
        cutting_order=cutting_order,
        shopping_list=shopping_list,
        work=work,
    )


def _fabric(work: ClothWork, one: FabricCloth, pictures: tuple[str, ...]) -> FabricClothLine:
    laid, buy, unit = one.laid, one.purchase, work.buying.unit
    lays = () if laid is None else laid.lays
    best = laid if one.shortest is None else one.shortest  # whose bounds hold for all strips
    yardage = next((lay for lay in (best.lays if best else ()) if lay.cloth == "yardage"), None)
    shortest = laid is not None and best is not None and laid.length == best.length

    def amount(length: Fraction) -> float:
        return round(float(work.buying.amount(length)), 6)

    return FabricClothLine(
        letter=one.fabric.letter,
        name=one.fabric.name,
        width_in=float(one.cloth.width),
        bare_in=None if buy is None else float(buy.bare),
        straightening_in=None if buy is None else float(buy.straightening),
        shrinkage_in=None if buy is None else round(float(buy.shrinkage), 6),
        buy=None if buy is None else amount(buy.buy),
        unit=unit,
        spare_in=None if buy is None else float(buy.bare + buy.spare),
        buy_spare=None if buy is None else amount(buy.buy_spare),
        cost=None
        if buy is None or one.price is None
        else money(work.buying.amount(buy.buy) * one.price),
        bound_in=None if yardage is None else yardage.bound,
        area_bound_in=None if yardage is None else yardage.area_bound,
        proved=None if yardage is None else yardage.proved and shortest,
        strip_widths=None if laid is None else measures(lays).strips,
        settings=None if laid is None else measures(lays).settings,
        shortest_in=None if one.shortest is None else float(one.shortest.length),
        fixed=tuple(
            FixedLine(piece.name, float(piece.width), float(piece.length), piece.count or 0, shelf)
            for piece, shelf in one.fixed_used
        ),
        pieces=tuple(_kind(kind, work.measure) for kind in one.pool.kinds),
        lays=tuple(_lay(lay) for lay in lays),
        kept=tuple(
            KeptLine(float(piece.width), float(piece.length), piece.count or 0)
            for piece in one.kept
        ),
        pictures=pictures,
    )


def money(amount: Fraction) -> float:
    """To the nearest hundredth, halves up, as a till rounds."""
    return math.floor(amount * 100 + Fraction(1, 2)) / 100


def _batting(top: Top | None) -> BattingLine | None:
    if top is None:
        return None
    batting = top.batting
    return BattingLine(float(batting.width), float(batting.height), batting.package)


def _kind(kind: Kind, measure: Measure) -> KindLine:
    stacks = stacked(kind.count, handling(kind))
    short, long = kind.sides
    return KindLine(
        piece=kind.demand.name,
        shape=kind.shape,
        width=number(short, measure),
        width_in=float(short),
        height=number(long, measure),
        height_in=float(long),
        count=kind.count,
        layers=stacks.layers,
        stacks=stacks.count,
        uses=tuple(UseLine(use.source, use.letter, use.count) for use in kind.uses),
    )


def _lay(lay: Lay) -> LayLine:
    return LayLine(
        times=lay.times,
        cloth=lay.stock or lay.cloth,
        width=float(lay.width),
        length=float(lay.length),
        cut=_cut(lay.cut),
    )


def _cut(cut: Cut) -> CutLine:
    return CutLine(
        width=float(cut.width),
        height=float(cut.height),
        along=cut.along,
        parts=tuple(_cut(part) for part in cut.parts),
        times=cut.times,
        piece=cut.piece,
        pieces=cut.pieces,
        turned=cut.turned,
        slope=cut.slope,
    )


# Pictures -----------------------------------------------------------------------------------------


def diagram(work: ClothWork, one: FabricCloth, lay: Lay, part: Lay | None = None) -> str:
    """The cutting diagram of one lay, or of the `part` of it that has a drawing of its own, as SVG,
    with its title and the key to its letters."""
    measure = work.measure
    part = part or lay
    bought = _bought(one, lay, part)
    scale = lay_scale(part, bought)
    counts = counted((part,))
    scene = lay_scene(
        part,
        one.kinds,
        paints([one.fabric])[one.fabric.letter],
        measure,
        scale=scale,
        bought=bought,
        title=_title(work, one, lay, part),
        key=[
            (kind.mark, cloth_wording.kind_line(kind, measure, counts[kind.demand.name]))
            for kind in one.pool.kinds
            if kind.demand.name in counts
        ],
    )
    return svg(scene, scale)


def _bought(one: FabricCloth, lay: Lay, part: Lay) -> Fraction | None:
    """The length that is bought, as far as it lies in this part of a lay: the last has the rest."""
    if one.purchase is None or lay.cloth == "fixed":
        return None
    if part.cut.parts[-1:] != lay.cut.parts[-1:]:
        return None
    return one.purchase.buy - (lay.length - part.length)


def _title(work: ClothWork, one: FabricCloth, lay: Lay, part: Lay) -> str:
    measure, name = work.measure, cloth_wording.heading(one.fabric.letter, one.fabric.name)
    if lay.cloth == "fixed":
        return f"{name}: {cloth_wording.stock(lay, measure, shelf=one.from_shelf(lay))}"
    told = f"{with_unit(lay.length, measure)} bare"
    if one.purchase is not None:
        told += f", buy {work.buying.told(one.purchase.buy)}"
    if part.length == lay.length:
        return f"{name}: {told}"
    length = with_unit(part.length, measure)
    if _bought(one, lay, part) is None:
        begins = part.cut.parts[:1] == lay.cut.parts[:1]
        return f"{name}: the {'first' if begins else 'next'} {length}"
    return f"{name}: the last {length}; in all {told}"
