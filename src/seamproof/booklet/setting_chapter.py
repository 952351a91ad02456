"""Setting the blocks together: the layout, what is cut for it, in which order it is sewn; borders;
backing, batting and binding; and the page for the longarm quilter."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from seamproof.booklet import finishing_wording, wording
from seamproof.booklet.matter import Matter
from seamproof.booklet.model import (
    Beside,
    Caution,
    Cautions,
    Heading,
    Listed,
    Part,
    Picture,
    Section,
    Table,
    Words,
)
from seamproof.booklet.top_order import order_of
from seamproof.drawing.scene import Paint
from seamproof.figures.cloth import Paints
from seamproof.figures.press_signs import press_signs
from seamproof.figures.top import quilter_scene, top_scene
from seamproof.figures.top_order import Sewn, fitting_scale, top_order_scene
from seamproof.length.notation import with_unit
from seamproof.length.rounding import nearest
from seamproof.plane.predicates import placed
from seamproof.setting.model import Top

_SPLITS = {"whole": "", "once": "once corner to corner", "twice": "twice corner to corner"}


APART_ROOM = (6.9, 7.0)
"""Inches for the top apart, beneath its heading."""


def setting_sections(matter: Matter, paints: Paints) -> Iterator[Section]:
    """Everything after the blocks; nothing without a top."""
    top = matter.top
    if top is None:
        return
    yield _setting(matter, top, paints)
    if top.borders:
        yield _borders(matter, top)
    yield _finishing(matter, top)
    yield _hand_over(matter, top, paints)


def _setting(matter: Matter, top: Top, paints: Paints) -> Section:
    measure = matter.measure
    scene = top_scene(top, matter.drawn, paints, scale=5.4 / float(top.height), measure=measure)
    parts: list[Part] = [
        Picture(scene, finishing_wording.LAYOUT, height=6.2, fine=True, steady=True),
        _layout(matter, top),
        Heading(finishing_wording.TO_CUT, finishing_wording.TO_CUT_LEAD),
        Cautions(
            (
                Caution(wording.CUTTER_TITLE, wording.CUTTER),
                Caution(wording.IRON_TITLE, wording.IRON),
            )
        ),
        _pieces(matter, top, paints),
    ]
    if top.coped:
        parts += [
            Heading(finishing_wording.COPING, finishing_wording.COPING_LEAD),
            _coping(matter, top),
        ]
    parts.append(Heading(finishing_wording.ORDER, finishing_wording.ORDER_LEAD))
    parts += _order(matter, top, paints)
    return Section("setting", finishing_wording.SETTING, tuple(parts), opens=True, rule=True)


def _order(matter: Matter, top: Top, paints: Paints) -> Iterator[Part]:
    """Every step in its order, and the top apart in that order; with press signs, if it is known
    how the blocks are pressed."""
    sewn, drawn = matter.sewn, matter.drawn
    scale = fitting_scale(top, *APART_ROOM)
    if sewn is None:
        yield Words((finishing_wording.PRESS_TOP,))
        lines = order_of(top, matter.measure)
        plain = {name: Sewn(block) for name, block in drawn.items()}
        scene = top_order_scene(top, (), plain, paints, scale=scale)
    else:
        yield Words((finishing_wording.PRESS_AS_TOLD,))
        lines = order_of(sewn.top, matter.measure, sewn.called, sewn.presses)
        plans = {one.name: one.piecing for one in matter.blocks}
        kinds = {
            kind.name: Sewn(
                drawn[kind.block],
                press_signs(plans[kind.block], plans[kind.block].whole, kind.presses),
            )
            for kind in sewn.kinds
        }
        scene = top_order_scene(sewn.top, sewn.presses, kinds, paints, scale=scale)
    caption = finishing_wording.APART if sewn is None else finishing_wording.APART_PRESSED
    yield Picture(scene, caption, scale=scale, fine=True, steady=True)
    yield Table(
        "order",
        ("Round", "Step", "Sew", "To", "Press", "Gives", "Times"),
        tuple(
            (
                *(str(line.round), str(line.step), line.first, line.second, line.press or ""),
                *(line.gives.partition(" (step")[0], str(line.times)),
            )
            for line in lines
        ),
        (3, 3, 10, 10, 7, 8, 3),
        right=(0, 1, 6),
    )


def _layout(matter: Matter, top: Top) -> Table:
    """Which block lies where: rows from the top, columns from the left, by the middles of blocks,
    for smaller ones lie further down in their cells."""
    drawn = matter.drawn
    by_row: dict[Fraction, list[tuple[Fraction, str]]] = {}
    for block in top.blocks:
        turned = f", {_turn(block.turn)}" if block.turn else ""
        of = drawn[block.name]
        middle = (of.width / 2 * block.scale[0], of.height / 2 * block.scale[1])
        x, y = placed(middle, block.turn, block.at)
        by_row.setdefault(y, []).append((x, block.name + turned))
    rows = [[name for _, name in sorted(some)] for _, some in sorted(by_row.items())]
    most = max(map(len, rows))
    return Table(
        "layout",
        ("Row", *(f"Column {i}" for i in range(1, most + 1))),
        tuple((str(i), *row, *([""] * (most - len(row)))) for i, row in enumerate(rows, start=1)),
        (2, *([6] * most)),
    )


def _turn(turn: Fraction) -> str:
    return f"turned {round(float(turn) * 360)}°"


def _pieces(matter: Matter, top: Top, paints: Paints) -> Table:
    measure = matter.measure
    rows: list[tuple[str, ...]] = []
    swatches: list[Paint | None] = []
    for piece in top.pieces:
        rows.append(
            (
                piece.fabric.upper(),
                str(piece.count),
                finishing_wording.piece_name(piece.name, piece.count),
                wording.extent((piece.width.ruler, piece.height.ruler), measure),
                ", ".join(
                    word
                    for word in (
                        _SPLITS[piece.split],
                        "along the cloth" if piece.grain == "length" else "",
                        "may be joined" if piece.may_join else "",
                    )
                    if word
                ),
            )
        )
        swatches.append(paints.get(piece.fabric))
    return Table(
        "setting-pieces",
        ("Fabric", "Cut", "Piece", "Size, width × length", "How"),
        tuple(rows),
        (4, 3, 9, 12, 12),
        right=(1,),
        swatches=tuple(swatches),
    )


def _coping(matter: Matter, top: Top) -> Table:
    measure, seams = matter.measure, 2 * matter.settings.seam
    rows = []
    for coped in top.coped:
        for number, frame in enumerate(coped.frames, start=1):
            beside = (frame.beside + seams, frame.inner[1] + seams)
            above = (frame.above + seams, frame.outer[0] + seams)
            outer = (frame.outer[0] + seams, frame.outer[1] + seams)
            rows.append(
                (
                    coped.block if number == 1 else "",
                    frame.fabric.upper(),
                    f"2 of {wording.extent(beside, measure)}",
                    f"2 of {wording.extent(above, measure)}",
                    wording.extent(outer, measure),
                )
            )
    return Table(
        "frames",
        ("Block", "Fabric", "Cut for the sides", "Cut for above and below", "Should measure"),
        tuple(rows),
        (8, 4, 10, 10, 9),
    )


def _borders(matter: Matter, top: Top) -> Section:
    parts: list[Part] = []
    for number, border in enumerate(top.borders, start=1):
        steps = finishing_wording.border_steps(border, matter.settings.seam, matter.measure)
        title = finishing_wording.border_title(number, len(top.borders), border)
        outer = _marks(border.outer, matter)
        parts += [
            Heading(title, finishing_wording.border_size(outer, matter.measure)),
            Listed(steps),
        ]
    return Section("borders", finishing_wording.BORDERS, tuple(parts), opens=True, rule=True)


def _finishing(matter: Matter, top: Top) -> Section:
    measure = matter.measure
    batting = wording.extent((top.batting.width, top.batting.height), measure)
    said = [
        finishing_wording.backing_ways(top.backing, matter.buying, measure),
        finishing_wording.backing_said(top.backing, measure),
        finishing_wording.BACKING_PRESS,
        f"Batting: {batting}. {finishing_wording.BATTING}",
    ]
    parts: list[Part] = [
        Words(tuple(said)),
        Heading("Binding", finishing_wording.binding_said(top.binding, measure)),
        Listed(finishing_wording.BINDING_STEPS),
    ]
    if top.sleeve is not None:
        parts.append(
            Words((f"A hanging sleeve is {with_unit(top.sleeve.ruler, measure)} long, hemmed.",))
        )
    return Section("finishing", finishing_wording.FINISHING, tuple(parts), rule=True)


def _hand_over(matter: Matter, top: Top, paints: Paints) -> Section:
    measure = matter.measure
    batting = wording.extent((top.batting.width, top.batting.height), measure)
    square = "sq in" if measure == "in" else "sq cm"
    area = float(top.width * top.height) * (1.0 if measure == "in" else 2.54**2)
    scene = quilter_scene(top, matter.drawn, paints, (), measure=measure)
    lines = finishing_wording.quilter_lines(
        top.backing,
        batting,
        pieced_edge=matter.pieced_edge,
        area=f"{area:,.0f} {square}",
        measure=measure,
    )
    thick = [one for one in matter.blocks if one.pressed is not None]
    table = Table(
        "thickest",
        ("Block", "Layers at most", "From the left × from the top"),
        tuple(
            (
                one.name,
                str(one.pressed.layers.most),
                wording.extent(
                    [
                        nearest(max(Fraction(v), Fraction(0)), matter.settings.step)
                        for v in one.pressed.layers.most_at
                    ],
                    measure,
                ),
            )
            for one in thick
            if one.pressed is not None
        ),
        (9, 6, 9),
        right=(1,),
    )
    picture = Picture(scene, width=0.56, height=5.0, fine=True, steady=True)
    return Section(
        "hand-over",
        finishing_wording.HAND_OVER,
        (
            Beside(picture, table) if thick else picture,
            Listed((*lines, finishing_wording.PINNED)),
        ),
        opens=True,
    )


def _marks(size: tuple[Fraction, Fraction], matter: Matter) -> tuple[Fraction, Fraction]:
    step = matter.settings.step
    return (nearest(size[0], step), nearest(size[1], step))
