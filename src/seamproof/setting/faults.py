"""Whether what was written about the top can be set: blocks, cells, coping and turns."""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from seamproof.draft.model import Fabric
from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure, with_unit
from seamproof.plane.model import Point
from seamproof.setting import checks
from seamproof.setting.cells import turned_size
from seamproof.setting.coping import missing
from seamproof.setting.habits import HABITS
from seamproof.setting.model import Available, SetCell, Setting, Strip
from seamproof.setting.on_point import columns_of

WIDEST_SASH = Fraction(1, 4)
"""Sashing up to this share of the block (trade tables, sashing)."""


def layout_faults(setting: Setting, blocks: Mapping[str, Available]) -> Iterator[Finding]:
    """Rows of unlike length, unknown blocks, blocks set more or less often than they are made."""
    yield from _holes(setting)
    cells = [cell for row in setting.rows for cell in row if not cell.plain]
    cells += [cell for border in setting.borders for cell in border.units if not cell.plain]
    for cell in cells:
        if cell.name not in blocks:
            near = difflib.get_close_matches(cell.name, blocks, n=1)
            yield checks.UNKNOWN_BLOCK.found(
                f'there is no block "{cell.name}"',
                mend=f'did you mean "{near[0]}"?'
                if near
                else f"the quilt has {', '.join(blocks)}; a plain piece is written: plain a",
                where=cell.where,
            )
    layout = [cell for row in setting.rows for cell in row if not cell.plain]
    yield from _counts(layout, blocks, free={cell.name for cell in cells} - set(_names(layout)))


def _names(cells: Iterable[SetCell]) -> Iterator[str]:
    return (cell.name for cell in cells)


def _holes(setting: Setting) -> Iterator[Finding]:
    if setting.way == "on point":
        if columns_of(setting.rows) is None:
            columns = len(setting.rows[0])
            for number, row in enumerate(setting.rows):
                want = columns if columns == 1 else columns - number % 2
                if len(row) != want:
                    yield _hole(row, number, want)
                    return
            yield checks.HOLE.found(
                "the layout on point ends with one of its shorter rows",
                mend=f"end with a row of {columns}, as the first is",
                where=setting.rows[-1][-1].where,
            )
        return
    usual = Counter(map(len, setting.rows)).most_common(1)[0][0]
    for number, row in enumerate(setting.rows):
        if len(row) != usual:
            yield _hole(row, number, usual)


def _hole(row: tuple[SetCell, ...], number: int, want: int) -> Finding:
    has = len(row)
    return checks.HOLE.found(
        f"row {number + 1} has {has} {'block' if has == 1 else 'blocks'} where {want} belong",
        mend="set a block in every place; a plain piece is written: plain a"
        if has < want
        else "take out what is too much, or put it into the other rows, too",
        where=row[-1].where if row else Where(),
    )


def _counts(
    cells: list[SetCell], blocks: Mapping[str, Available], free: set[str]
) -> Iterator[Finding]:
    counted = Counter(_names(cells))
    seen: Counter[str] = Counter()
    for cell in cells:
        seen[cell.name] += 1
        block = blocks.get(cell.name)
        if block is not None and seen[cell.name] == block.copies + 1:
            again = "twice" if counted[cell.name] == 2 else f"{counted[cell.name]} times"
            made = "one is made" if block.copies == 1 else f"{block.copies} are made"
            yield checks.SET_TOO_OFTEN.found(
                f"{cell.name} is set {again}, but {made}",
                mend=f"write copies: {counted[cell.name]} into its file, or set another block here",
                where=cell.where,
            )
    for name, block in blocks.items():
        if not counted[name] and name not in free:
            yield checks.NOT_SET.found(
                f"{name} is not in the layout",
                mend="set it, or leave it out of the quilt if it is only another way to sew one",
                where=Where(file=block.file, block=name),
            )
        elif 0 < counted[name] < block.copies:
            yield checks.MADE_TOO_OFTEN.found(
                f"{block.copies} of {name} are made, {counted[name]} are set",
                mend=f"write copies: {counted[name]} into its file, or keep the rest",
                where=Where(file=block.file, block=name),
            )


def cell_of(setting: Setting, blocks: Mapping[str, Available]) -> Point | None:
    """The size of a cell: as written, else as large as the largest block in the layout; None if
    there is no block to take it from."""
    if setting.cell is not None:
        return setting.cell
    sizes = [
        size
        for row in setting.rows
        for cell in row
        if (size := turned_size(cell, blocks)) is not None
    ]
    if not sizes:
        return None
    return max(w for w, _ in sizes), max(h for _, h in sizes)


def coping_faults(
    setting: Setting, blocks: Mapping[str, Available], cell: Point, measure: Measure
) -> Iterator[Finding]:
    """Blocks that do not fill their cell, and coping that is narrow or not needed."""
    asked = {coping.block: coping for coping in setting.coping}
    turned: dict[str, SetCell] = {}
    for row in setting.rows:
        for place in row:
            if not place.plain and place.name in blocks:
                turned.setdefault(place.name, place)
    for name, place in turned.items():
        size = turned_size(place, blocks)
        assert size is not None
        coping = asked.get(name)
        strips: tuple[Strip, ...] = coping.frames if coping else ()
        gap = missing(size, strips, cell)
        where = coping.where if coping else place.where
        if any(side < cell_side for side, cell_side in zip(cell, size, strict=True)):
            yield checks.TOO_LARGE.found(
                f"{name} finishes {_size(size, measure)}, its cell {_size(cell, measure)}",
                mend="make the cell as large as the largest block",
                where=place.where,
            )
        elif coping and not any(missing(size, (), cell)):
            yield checks.UNUSED_COPING.found(
                f"{name} fills its cell without coping",
                mend="take its coping out",
                where=coping.where,
            )
        elif any(gap):
            yield checks.NOT_FILLED.found(
                f"{name} finishes {_size(size, measure)}"
                + (" with its coping too " if coping else ", too ")
                + ("small" if max(gap) > 0 else "large")
                + f" for a cell of {_size(cell, measure)}",
                mend=_filled_by(name, size, strips, cell, measure),
                where=where,
            )
        for strip in strips:
            if strip.width < HABITS[measure].narrowest:
                yield checks.NARROW_COPING.found(
                    f"coping of {name} finishes {with_unit(strip.width, measure)} wide",
                    mend="narrow strips show every uneven seam and are hardly wider than their "
                    "allowances: make one frame of two, or the cell larger",
                    where=strip.where,
                )
    for coping in setting.coping:
        if coping.block not in turned:
            yield checks.UNUSED_COPING.found(
                f'coping for "{coping.block}", which is not in the layout',
                mend="correct the name, or take it out",
                where=coping.where,
            )


def _filled_by(
    name: str, size: Point, strips: tuple[Strip, ...], cell: Point, measure: Measure
) -> str:
    left = missing(size, strips[:-1], cell)
    if left[0] == left[1] and left[0] > 0:
        last = strips[-1].fabric if strips and strips[-1].fabric else "a"
        width = with_unit(left[0] / 2, measure)
        what = "make the outermost frame" if strips else f"give {name} coping of"
        return f"{what} {width}, for instance: {width} of {last}"
    return "no frame of one width fills it: make the cell or the block another size"


def turn_faults(
    setting: Setting, blocks: Mapping[str, Available], fabrics: Mapping[str, Fabric]
) -> Iterator[Finding]:
    """Blocks that are turned although they, or a print in them, have an upright way."""
    leaning = setting.way == "on point"
    for row in setting.rows:
        for place in row:
            block = blocks.get(place.name)
            if place.plain or block is None or not (place.quarters or leaning):
                continue
            doing = "is turned" if place.quarters else "leans on point"
            if block.upright:
                yield checks.UPRIGHT_TURNED.found(
                    f"{place.name} has an upright way and {doing}",
                    mend="set it upright, or leave the mark upright: yes out of its file",
                    where=place.where,
                )
            prints = [
                letter
                for letter, _ in block.fabrics
                if letter in fabrics and fabrics[letter].directional
            ]
            if prints and place.quarters:
                listed = ", ".join(letter.upper() for letter in prints)
                yield checks.PRINT_TURNED.found(
                    f"{place.name} is turned, and the print of {listed} with it",
                    mend="set it unturned, or cut its print another way round",
                    where=place.where,
                )


def _size(size: Point, measure: Measure) -> str:
    """Width × height, one number for a square."""
    first = with_unit(size[0], measure)
    return first if size[0] == size[1] else f"{first} × {with_unit(size[1], measure)}"
