"""Whether strips, borders and triangles can be sewn: their cloth, and if they come out even."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure, with_unit
from seamproof.plane.model import Point
from seamproof.setting import checks
from seamproof.setting.borders import divided, spacer_for, unit_of
from seamproof.setting.faults import WIDEST_SASH
from seamproof.setting.habits import HABITS
from seamproof.setting.model import Available, BorderAsked, Setting

Named = tuple[str, str | None, Where]
"""What needs cloth: what it is called, its fabric's letter, and where it is written."""


def cloth_faults(setting: Setting, letters: frozenset[str] | None) -> Iterator[Finding]:
    """Strips without a fabric, and letters that the quilt does not have."""
    for what, letter, where in _wanted(setting):
        if letter is None:
            yield checks.NO_CLOTH.found(
                f"{what} has no fabric", mend="name one, for instance fabric: a", where=where
            )
        elif letters is not None and letter not in letters:
            known = ", ".join(sorted(letters))
            yield checks.UNKNOWN_CLOTH.found(
                f'{what} is of a fabric "{letter}" that the quilt does not have',
                mend=f"the quilt has {known}; correct the letter, or add the fabric",
                where=where,
            )


def _wanted(setting: Setting) -> Iterator[Named]:
    for row in setting.rows:
        for cell in row:
            if cell.plain:
                yield "a plain piece", cell.name, cell.where
    for coping in setting.coping:
        for strip in coping.frames:
            yield f"coping of {coping.block}", strip.fabric, strip.where
    if setting.sashing is not None:
        yield "the sashing", setting.sashing.fabric, setting.sashing.where
    if setting.cornerstones is not None:
        yield "a cornerstone", setting.cornerstones, setting.where
    if setting.way == "on point":
        yield "a setting triangle", setting.triangles, setting.where
    for number, border in enumerate(setting.borders, start=1):
        yield from _of_border(border, number)
    for what, letter, where in (
        ("the binding", setting.binding.fabric, setting.binding.where),
        ("the backing", setting.backing.fabric, setting.backing.where),
    ):
        if letter is not None:
            yield what, letter, where
    if setting.sleeve is not None:
        yield "the sleeve", setting.sleeve.fabric, setting.sleeve.where
    if setting.label is not None:
        yield "the label", setting.label.fabric, setting.label.where


def _of_border(border: BorderAsked, number: int) -> Iterator[Named]:
    what = f"border {number}"
    if border.units:
        for cell in border.units:
            if cell.plain:
                yield f"a unit of {what}", cell.name, cell.where
        yield f"the corner squares of {what}", border.squares or border.fabric, border.where
    else:
        yield what, border.fabric, border.where
        if border.corners == "squares":
            yield f"the corner squares of {what}", border.squares, border.where
    if border.spacer is not None:
        yield f"the spacer of {what}", border.spacer, border.where


def border_faults(
    border: BorderAsked, inner: Point, blocks: Mapping[str, Available], measure: Measure
) -> Iterator[Finding]:
    """A pieced border whose units do not divide the sides, and blocks that do not fit into it."""
    if not border.units:
        return
    unit = unit_of(border)
    for cell in border.units:
        block = blocks.get(cell.name)
        if cell.plain or block is None:
            continue
        size = (block.width, block.height)
        if (size if cell.quarters % 2 == 0 else size[::-1]) != (unit, border.width):
            yield checks.UNIT_SIZE.found(
                f"{cell.name} finishes {with_unit(size[0], measure)} × "
                f"{with_unit(size[1], measure)}, a unit of the border "
                f"{with_unit(unit, measure)} × {with_unit(border.width, measure)}",
                mend="give the border the block's height as width, and its width as unit",
                where=cell.where,
            )
    if divided(inner, border) is not None or border.spacer is not None:
        return
    fit = spacer_for(inner, border, HABITS[measure].narrowest)
    assert fit is not None
    off = [side for side in inner if side % unit]
    sides = " and ".join(with_unit(side, measure) for side in dict.fromkeys(off))
    verb = "sides of" if len(off) > 1 else "a side of"
    wide = {
        "at the sides": with_unit(fit.beside, measure) if fit.beside else "",
        "above and below": with_unit(fit.above, measure) if fit.above else "",
    }
    strips = (
        with_unit(fit.beside, measure)
        if fit.beside == fit.above
        else " and ".join(f"{width} {where}" for where, width in wide.items() if width)
    )
    yield checks.DOES_NOT_DIVIDE.found(
        f"units of {with_unit(unit, measure)} do not divide {verb} {sides}",
        mend=f"put a plain strip inside, {strips} finished, with spacer: and its fabric"
        + _other_unit(inner, unit, measure),
        where=border.where,
    )


def _other_unit(inner: Point, unit: Fraction, measure: Measure) -> str:
    """A unit near the one asked for that divides both sides, if there is one on the ruler."""
    step = Fraction(1, 8)
    for n in range(1, 9):
        for near in (unit - n * step, unit + n * step):
            if near > 0 and not any(side % near for side in inner):
                return f"; or make the units {with_unit(near, measure)}"
    return ""


def sash_faults(setting: Setting, cell: Point, measure: Measure) -> Iterator[Finding]:
    """Sashing so wide that it outweighs the blocks."""
    sash = setting.sashing
    if sash is not None and sash.width > min(cell) * WIDEST_SASH:
        yield checks.WIDE_SASH.found(
            f"sashing of {with_unit(sash.width, measure)} is wider than a quarter of the block",
            mend=f"up to {with_unit(min(cell) * WIDEST_SASH, measure)} the blocks stay what is "
            "seen first; keep it if you like it so",
            where=sash.where,
        )
