"""The top: everything that was written about it, worked out in one go."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Fabric
from seamproof.findings import Finding, worst
from seamproof.length.notation import Measure, with_unit
from seamproof.length.rounding import Size, nearest
from seamproof.piecing.model import Leaf, PiecingPlan, Whole
from seamproof.plane.model import Placed, Point, Polygon
from seamproof.plane.predicates import area, box
from seamproof.plane.predicates import placed as put
from seamproof.setting import checks
from seamproof.setting.assembling import Builder, Lying, leaves_of, outline_at
from seamproof.setting.backing import YARD, backing_for, batting_for
from seamproof.setting.binding import binding_for
from seamproof.setting.borders import bordered, made_border, spacer_for
from seamproof.setting.cells import Cells, coped
from seamproof.setting.coping import frames_of
from seamproof.setting.faults import cell_of, coping_faults, layout_faults, turn_faults
from seamproof.setting.habits import HABITS, Habits
from seamproof.setting.measured import Sewn, measured_blocks, measured_faults, resashed
from seamproof.setting.model import (
    Available,
    BorderAsked,
    BorderMade,
    Frame,
    Role,
    SetBlock,
    Setting,
    Top,
    TopPiece,
)
from seamproof.setting.on_point import columns_of, on_point_field
from seamproof.setting.pieces import finishing_pieces, off_the_marks, top_pieces
from seamproof.setting.straight import straight_field
from seamproof.setting.strip_faults import border_faults, cloth_faults, sash_faults

SHOP_STEP = YARD / 8
"""Cloth is sold by the eighth of a yard unless the project says otherwise, in inches."""

MOST_PLACES = 10_000
"""Places of a layout, at most: a hundred blocks by a hundred."""


def set_top(
    setting: Setting,
    available: Iterable[Available],
    fabrics: Iterable[Fabric],
    settings: CuttingSettings,
    *,
    measure: Measure = "in",
    shop_step: Fraction = SHOP_STEP,
) -> tuple[Top | None, tuple[Finding, ...]]:
    """The top, and what there is to say about it; no top if something in it cannot be set.

    `fabrics` empty means that any letter is a fabric.
    """
    blocks, habits = {block.name: block for block in available}, HABITS[measure]
    by_letter = {fabric.letter: fabric for fabric in fabrics}
    sewn = measured_blocks(setting, blocks, settings.seam, habits)
    found = list(_faults(setting, blocks, sewn, by_letter, settings, measure))
    if worst(found) == "error":
        return None, tuple(found)
    cell = cell_of(setting, blocks)
    assert cell is not None
    builder = Builder()
    cells = Cells(cell, sewn.blocks, _frames(setting, sewn.blocks, cell))
    lying, numbers = _field(setting, cells, builder)
    layout = columns_of(setting.rows) if setting.way == "on point" else None
    columns, rows = layout or (len(setting.rows[0]), len(setting.rows))
    borders: list[BorderMade] = []
    for border in setting.borders:
        inner = borders[-1].outer if borders else _extent(lying)
        spacer = _spacer(inner, border, habits)
        found += border_faults(border, spacer.outer if spacer else inner, blocks, measure)
        if worst(found) == "error":
            return None, tuple(found)
        made = made_border(inner, border, settings.seam, settings.step, spacer)
        lying = bordered(builder, cells, lying, border, made)
        borders.append(made)
    plan, root = builder.plan(lying, numbers), _from_corner(lying)
    size = _extent(lying)
    roles = {n: role for n in range(len(plan.parts)) if (role := builder.role(n)) is not None}
    usable = settings.usable(setting.binding.fabric or "")
    binding = binding_for(size, setting.binding, usable, settings.seam, settings.step)
    sleeve = _sleeve(setting, size, settings.step, habits)
    pieces = (
        *top_pieces(plan, roles, setting, borders, cell[0], settings),
        *finishing_pieces(setting, binding, sleeve, settings),
    )
    backing_width = setting.backing.width or settings.usable(setting.backing.fabric or "")
    counts = Counter(place.name for row in setting.rows for place in row if not place.plain)
    batting = batting_for(size, setting.batting, habits.whole)
    found += _remarks(pieces, batting.package, measure)
    sash = setting.sashing.width if setting.sashing else Fraction(0)
    top = Top(
        width=size[0],
        height=size[1],
        way=setting.way,
        columns=columns,
        rows=rows,
        cell=cell,
        plan=plan,
        lying=root,
        blocks=_placed_blocks(plan, root, blocks, sewn),
        leaves=_placed_leaves(plan, root, roles),
        pieces=pieces,
        fabrics=_finished(plan, blocks),
        coped=coped(cells.frames, counts),
        borders=tuple(borders),
        backing=backing_for(size, setting.backing, backing_width, shop_step, settings.step),
        batting=batting,
        binding=binding,
        sashing=sash,
        floating=setting.floating,
        sleeve=sleeve,
        advice=sewn.advice,
        resashing=resashed(sewn.advice, cell, sash, (columns, rows), setting.outer),
        roles=tuple(roles.items()),
    )
    return top, tuple(found)


def _faults(
    setting: Setting,
    blocks: Mapping[str, Available],
    sewn: Sewn,
    fabrics: Mapping[str, Fabric],
    settings: CuttingSettings,
    measure: Measure,
) -> Iterator[Finding]:
    if sum(map(len, setting.rows)) > MOST_PLACES:
        yield checks.TOO_MUCH.found(
            f"the layout has more than {MOST_PLACES:,} places",
            mend="make the top in parts",
            where=setting.where,
        )
        return
    yield from layout_faults(setting, blocks)
    yield from cloth_faults(setting, frozenset(fabrics) or None)
    yield from turn_faults(setting, blocks, fabrics)
    yield from measured_faults(setting, blocks, sewn, settings.seam, measure)
    cell = cell_of(setting, blocks)
    if cell is None:
        yield checks.UNKNOWN_BLOCK.found(
            "no block of the layout has a size, so its cells have none",
            mend="give the setting a cell: or set a block",
            where=setting.where,
        )
        return
    if setting.way == "on point" and cell[0] != cell[1]:
        yield checks.NOT_SQUARE.found(
            f"a cell of {with_unit(cell[0], measure)} × {with_unit(cell[1], measure)} does not "
            "stand on its corner",
            mend="make the cell square, with coping round the blocks, or set them straight",
            where=setting.where,
        )
        return
    yield from coping_faults(setting, blocks, cell, measure)
    yield from sash_faults(setting, cell, measure)


def _frames(
    setting: Setting, blocks: Mapping[str, Available], cell: Point
) -> dict[str, tuple[Frame, ...]]:
    """The frames of every block that has some, for the block as it lies in its own frame."""
    asked = {coping.block: coping.frames for coping in setting.coping}
    found: dict[str, tuple[Frame, ...]] = {}
    for row in setting.rows:
        for place in row:
            if place.name in asked and not place.plain and place.name not in found:
                block = blocks[place.name]
                room = cell if place.quarters % 2 == 0 else (cell[1], cell[0])
                found[place.name] = frames_of((block.width, block.height), asked[place.name], room)
    return found


def _field(
    setting: Setting, cells: Cells, builder: Builder
) -> tuple[Lying, tuple[tuple[int, ...], ...]]:
    if setting.way == "on point":
        return on_point_field(setting, cells, builder), ()
    return straight_field(setting, cells, builder)


def _from_corner(lying: Lying) -> Placed:
    """How what lies in the field lies in a top whose upper left corner is (0, 0)."""
    (x, y), _ = box(lying.outline)
    at = lying.placed.at
    return replace(lying.placed, at=(at[0] - x, at[1] - y))


def _extent(lying: Lying) -> Point:
    low, high = box(lying.outline)
    return high[0] - low[0], high[1] - low[1]


def _spacer(inner: Point, border: BorderAsked, habits: Habits) -> Frame | None:
    if border.spacer is None or not border.units:
        return None
    fit = spacer_for(inner, border, habits.narrowest)
    if fit is None:
        return None
    outer = (inner[0] + 2 * fit.beside, inner[1] + 2 * fit.above)
    return Frame(border.spacer, fit.beside, fit.above, inner, outer)


def _sleeve(setting: Setting, size: Point, step: Fraction, habits: Habits) -> Size | None:
    if setting.sleeve is None:
        return None
    length = size[0] - habits.hem
    return Size(nearest(length, step), float(length))


def _placed_blocks(
    plan: PiecingPlan, root: Placed, blocks: Mapping[str, Available], sewn: Sewn
) -> tuple[SetBlock, ...]:
    """Every block where it lies, from the top down and from left to right."""
    found = []
    for number, here in leaves_of(plan, root):
        made = plan.parts[number].made
        if isinstance(made, Whole):
            drawn, real = blocks[made.block], sewn.blocks[made.block]
            scale = (real.width / drawn.width, real.height / drawn.height)
            found.append(SetBlock(made.block, here.turn, here.at, scale))
    return tuple(sorted(found, key=lambda b: _middle(b, sewn.blocks[b.name])))


def _middle(placed: SetBlock, block: Available) -> tuple[float, float]:
    x, y = put((block.width / 2, block.height / 2), placed.turn, placed.at)
    return round(float(y), 3), round(float(x), 3)


def _placed_leaves(
    plan: PiecingPlan, root: Placed, roles: Mapping[int, Role]
) -> tuple[tuple[Role, str, Polygon], ...]:
    found = []
    for number, here in leaves_of(plan, root):
        made = plan.parts[number].made
        if isinstance(made, Leaf):
            found.append((roles[number], made.fabric, outline_at(plan, here)))
    return tuple(found)


def _finished(
    plan: PiecingPlan, blocks: Mapping[str, Available]
) -> tuple[tuple[str, Fraction], ...]:
    """Finished square inches by fabric, the blocks' as drawn."""
    total: dict[str, Fraction] = defaultdict(Fraction)
    for part in plan.parts:
        match part.made:
            case Leaf(fabric, corners):
                total[fabric] += part.uses * area(corners)
            case Whole(name):
                for letter, inside in blocks[name].fabrics:
                    total[letter] += part.uses * inside
            case _:
                pass
    return tuple(sorted(total.items()))


def _remarks(
    pieces: Iterable[TopPiece], package: str | None, measure: Measure
) -> Iterator[Finding]:
    for piece in off_the_marks(pieces):
        off = max((piece.width, piece.height), key=lambda size: abs(size.surplus))
        yield checks.OFF_THE_MARKS.found(
            f"{piece.name} of {piece.fabric.upper()}: geometry asks for {off.need:.3f} in, the "
            f"nearest mark is {with_unit(off.ruler, measure)}",
            mend="cut between the marks, or give cell, sashing or border a size on the marks",
        )
    if package is None:
        yield checks.NO_PACKAGE.found(
            "no usual package of batting holds this quilt",
            mend="buy it by the yard, wide enough, or join two pieces edge to edge",
        )
