"""How the blocks become a top, and what finishes it: the answer of ``seamproof top``."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import InstanceOf

from seamproof.answers.finishing import (
    BackingLine,
    BattingLine,
    BindingLine,
    backing_line,
    binding_line,
)
from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.answers.proposals import TargetLine
from seamproof.answers.shapes import size_text
from seamproof.answers.top_press import (
    LayersLine,
    PatternLine,
    SpotLine,
    layers_area,
    layers_line,
    pattern_line,
    spot,
    spot_lines,
    top_bulk_svg,
)
from seamproof.answers.top_sheet import sheet_svg
from seamproof.booklet.top_order import SewLine, order_of
from seamproof.drawing.scene import Scene
from seamproof.drawing.svg import svg
from seamproof.figures.cloth import Paints, paints
from seamproof.figures.top import MEDIUM, quilter_scene, top_scene
from seamproof.findings import Finding
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, number, with_unit
from seamproof.length.rounding import nearest
from seamproof.pipeline.setting import TopWork
from seamproof.pipeline.top_pressing import PressedTop
from seamproof.setting.model import Advice, BorderMade, Coped, Top, TopPiece

PICTURE = 8.0
"""The longer side of a picture of the top, in inches on the screen."""

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class PieceOfTop:
    """`count` alike pieces to cut besides those of the blocks. Sizes as cut, the shorter side
    first, as read on the ruler and in inches. `split`: squares that are cut once or twice corner to
    corner. `grain` is how the longer side lies, `may_join` whether it may be sewn from shorter
    pieces."""

    name: str
    fabric: str
    cut_width: str
    cut_width_in: float
    cut_height: str
    cut_height_in: float
    need_in: Pair
    count: int
    split: Literal["whole", "once", "twice"]
    grain: str
    may_join: bool


@dataclass(frozen=True, slots=True)
class FrameLine:
    """One frame round a block: `beside` and `above` are how wide it finishes, `cut` how its two
    side strips and its two strips above and below are cut."""

    fabric: str
    beside: float
    above: float
    cut_beside: str
    cut_above: str
    outer: Pair


@dataclass(frozen=True, slots=True)
class CopingLine:
    """The frames of one kind of block, from the block outwards."""

    block: str
    count: int
    frames: tuple[FrameLine, ...]


@dataclass(frozen=True, slots=True)
class BorderLine:
    """One border, finished `width`; `outer` is the finished size with it. `cut_sides` and
    `cut_ends` are the computed cut lengths in inches: measure the top at three places, and cut to
    the mean. A pieced border has `units` in a side and in an end, and perhaps a `spacer`, finished
    beside and above."""

    kind: Literal["butted", "mitred", "squares", "pieced"]
    fabrics: tuple[str, ...]
    width: float
    outer: Pair
    cut_width: str
    cut_sides: float
    cut_ends: float
    strips: Literal["across", "lengthwise"]
    units: tuple[int, int] | None
    spacer: Pair | None


@dataclass(frozen=True, slots=True)
class MeasuredLine:
    """A block that was measured, finished sizes: what to do about it."""

    block: str
    planned: Pair
    finished: Pair
    advice: str


@dataclass(frozen=True, slots=True)
class ResashLine:
    """Another way out for small blocks: trim all to `cell`, sashes `beside` and `above` as wide,
    finished."""

    cell: Pair
    beside: float
    above: float


@dataclass(frozen=True, slots=True)
class CountLine:
    """Sashes or cornerstones: how many, and the sizes they are cut to."""

    count: int
    fabric: str
    cut: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class TopAnswer(Answer):
    """The top. Everything is null or empty that could not be worked out.

    `fabrics` pairs each fabric's letter with its finished square inches. `press`, `thick_spots`,
    `max_layers` and what goes with them are null if a block cannot be pressed.
    """

    command: ClassVar[str] = "top"

    name: str
    width: float | None
    height: float | None
    finished: str | None
    way: Literal["straight", "on point"] | None
    cell: Pair | None
    layout: tuple[tuple[str, ...], ...]
    sashes: CountLine | None
    cornerstones: CountLine | None
    coping: tuple[CopingLine, ...]
    borders: tuple[BorderLine, ...]
    backing: BackingLine | None
    batting: BattingLine | None
    binding: BindingLine | None
    sleeve: float | None
    pieces: tuple[PieceOfTop, ...]
    fabrics: dict[str, float]
    order: tuple[SewLine, ...]
    measured: tuple[MeasuredLine, ...]
    resashing: ResashLine | None
    quilting_price: float | None
    press: PatternLine | None
    thick_spots: tuple[SpotLine, ...] | None
    max_layers: int | None
    max_at: Pair | None
    layers_area: dict[str, float] | None
    usual: LayersLine | None
    opened: LayersLine | None
    what_if: tuple[TargetLine, ...]
    picture: str | None
    bulk: str | None
    hand_off: tuple[str, ...]
    work: Annotated[TopWork, HIDDEN] = field(repr=False, compare=False)
    pressed: Annotated[InstanceOf[PressedTop] | None, HIDDEN] = field(
        default=None, repr=False, compare=False
    )

    def scene(self) -> tuple[Scene, float] | None:
        """The top from the front and the scale it is drawn at; None if it cannot be set."""
        top = self.work.top
        if top is None:
            return None
        scale = PICTURE / float(max(top.width, top.height))
        scene = top_scene(
            top, self.work.drawn, _paints(self.work), scale=scale, measure=self.work.measure
        )
        return scene, scale

    def svg(self) -> str | None:
        """The top as a picture, its longer side `PICTURE` long; None if it cannot be set."""
        made = self.scene()
        return None if made is None else svg(made[0], made[1], MEDIUM)

    def sheet_svg(self) -> str | None:
        """The top as a picture and, beside it, apart in its order of sewing; None if it cannot be
        set."""
        made = self.scene()
        return None if made is None else sheet_svg(*made, self.work, self.pressed)

    def bulk_svg(self) -> str | None:
        """The layers of the whole top as a picture; None if it is not pressed."""
        return None if self.pressed is None else top_bulk_svg(self.pressed)

    def quilter_svg(self) -> str | None:
        """The front view for the longarm quilter; None if the top cannot be set."""
        top = self.work.top
        if top is None:
            return None
        scale = PICTURE / float(max(top.backing.width, top.backing.height))
        scene = quilter_scene(
            top,
            self.work.drawn,
            _paints(self.work),
            self.quilter_says(),
            measure=self.work.measure,
        )
        return svg(scene, scale, MEDIUM)

    def quilter_says(self) -> tuple[str, ...]:
        """What stands below the picture for the longarm quilter; nothing if the top cannot be
        set."""
        top, work = self.work.top, self.work
        if top is None:
            return ()
        measure = work.measure
        width, height = (with_unit(n, measure) for n in (top.backing.width, top.backing.height))
        batting = size_text(top.batting.width, top.batting.height, measure)
        edge = (
            "seams run into it: stay-stitched {} from it".format(
                "1/8 in" if measure == "in" else "3 mm"
            )
            if work.pieced_edge
            else "one strip on every side"
        )
        rolled = "A backing sewn {} has its seams level with it."
        margin = with_unit(top.backing.margin, measure)
        return (
            f"Loaded by its top edge: {width} along the roller. " + rolled.format("across"),
            f"Loaded by a side: {height} along the roller. " + rolled.format("lengthwise"),
            f"Backing and batting stick out {margin} all round; batting {batting} {measure}.",
            f"Outer edge: {edge}. Top pressed, threads clipped, nothing sewn on.",
            f"{self.square()}: {self.quilting_price}",
        )

    def square(self) -> str:
        """The area of the top and what quilting so much costs, in the project's measure."""
        top, price = self.work.top, float(self.work.setting.price)
        area = 0.0 if top is None else float(top.width * top.height)
        if self.work.measure == "in":
            return f"{area:,.0f} square inches at {price:g}"
        return f"{area / float(CM**2):,.0f} square centimetres at {price * float(CM**2):.4g}"

    def _repr_svg_(self) -> str | None:
        """What a notebook shows."""
        return self.svg()


def top_answer(
    work: TopWork,
    aims: tuple[TargetLine, ...] = (),
    pressed: PressedTop | None = None,
    more: tuple[Finding, ...] = (),
) -> TopAnswer:
    """What there is to say about a top; `more` was found when it was pressed."""
    top, measure = work.top, work.measure
    return TopAnswer(
        findings=noted(work.findings + more),
        name=work.project.name,
        width=None if top is None else float(top.width),
        height=None if top is None else float(top.height),
        finished=None if top is None else _finished(top, work),
        way=None if top is None else top.way,
        cell=None if top is None else _pair(top.cell),
        layout=tuple(
            tuple(f"plain {c.name}" if c.plain else c.name + "'" * c.quarters for c in row)
            for row in work.setting.rows
        ),
        sashes=None if top is None else _counted(top, "sash", measure),
        cornerstones=None if top is None else _counted(top, "cornerstone", measure),
        coping=() if top is None else tuple(_coping(coped, work, measure) for coped in top.coped),
        borders=() if top is None else tuple(_border(b, work, measure) for b in top.borders),
        backing=None if top is None else backing_line(top.backing, work),
        batting=None
        if top is None
        else BattingLine(float(top.batting.width), float(top.batting.height), top.batting.package),
        binding=None if top is None else binding_line(top),
        sleeve=None if top is None or top.sleeve is None else float(top.sleeve.ruler),
        pieces=() if top is None else tuple(_piece(piece, measure) for piece in top.pieces),
        fabrics={} if top is None else {letter: float(area) for letter, area in top.fabrics},
        order=() if top is None else _order(top, pressed, measure),
        measured=() if top is None else tuple(_advice(advice) for advice in top.advice),
        resashing=None
        if top is None or top.resashing is None
        else ResashLine(
            _pair(top.resashing.cell), float(top.resashing.beside), float(top.resashing.above)
        ),
        quilting_price=None
        if top is None
        else round(float(work.setting.price * top.width * top.height), 2),
        press=None if pressed is None else pattern_line(pressed),
        thick_spots=None if pressed is None else spot_lines(pressed.layers.spots),
        max_layers=None if pressed is None else pressed.layers.most,
        max_at=None if pressed is None else spot(pressed.layers.most_at),
        layers_area=None if pressed is None else layers_area(pressed.layers.areas),
        usual=None if pressed is None else layers_line(pressed.usual),
        opened=None if pressed is None else layers_line(pressed.opened),
        what_if=aims,
        picture=None,
        bulk=None,
        hand_off=(),
        work=work,
        pressed=pressed,
    )


def _order(top: Top, pressed: PressedTop | None, measure: Measure) -> tuple[SewLine, ...]:
    if pressed is None:
        return order_of(top, measure)
    return order_of(pressed.top, measure, pressed.called, pressed.presses)


def _finished(top: Top, work: TopWork) -> str:
    """The finished size as people read it: on the marks, with "about" if it lies between them."""
    step = work.project.cutting().step
    on = (nearest(top.width, step), nearest(top.height, step))
    about = "" if on == (top.width, top.height) else "about "
    return about + size_text(*on, work.measure)


def _paints(work: TopWork) -> Paints:
    return paints(work.project.fabrics)


def _pair(pair: tuple[Fraction, Fraction]) -> Pair:
    return float(pair[0]), float(pair[1])


def _counted(top: Top, name: str, measure: Measure) -> CountLine | None:
    pieces = [piece for piece in top.pieces if piece.name == name]
    if not pieces:
        return None
    return CountLine(
        count=sum(piece.count for piece in pieces),
        fabric=pieces[0].fabric,
        cut=tuple(size_text(p.width.ruler, p.height.ruler, measure) for p in pieces),
    )


def _piece(piece: TopPiece, measure: Measure) -> PieceOfTop:
    return PieceOfTop(
        name=piece.name,
        fabric=piece.fabric,
        cut_width=number(piece.width.ruler, measure),
        cut_width_in=float(piece.width.ruler),
        cut_height=number(piece.height.ruler, measure),
        cut_height_in=float(piece.height.ruler),
        need_in=(piece.width.need, piece.height.need),
        count=piece.count,
        split=piece.split,
        grain=piece.grain,
        may_join=piece.may_join,
    )


def _coping(coped: Coped, work: TopWork, measure: Measure) -> CopingLine:
    seams = 2 * work.project.cutting().seam
    return CopingLine(
        block=coped.block,
        count=coped.count,
        frames=tuple(
            FrameLine(
                fabric=frame.fabric,
                beside=float(frame.beside),
                above=float(frame.above),
                cut_beside=size_text(frame.beside + seams, frame.inner[1] + seams, measure),
                cut_above=size_text(frame.above + seams, frame.outer[0] + seams, measure),
                outer=_pair(frame.outer),
            )
            for frame in coped.frames
        ),
    )


def _border(border: BorderMade, work: TopWork, measure: Measure) -> BorderLine:
    seams = 2 * work.project.cutting().seam
    spacer = border.spacer
    return BorderLine(
        kind=border.kind,
        fabrics=border.fabrics,
        width=float(border.width),
        outer=_pair(border.outer),
        cut_width=number(border.width + seams, measure),
        cut_sides=float(border.sides.ruler),
        cut_ends=float(border.ends.ruler),
        strips="lengthwise" if border.lengthwise else "across",
        units=border.along,
        spacer=None if spacer is None else (float(spacer.beside), float(spacer.above)),
    )


def _advice(advice: Advice) -> MeasuredLine:
    return MeasuredLine(advice.block, _pair(advice.planned), _pair(advice.measured), advice.what)
