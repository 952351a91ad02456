"""Sizes to aim at, and the settings of given blocks that come nearest to them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings
from seamproof.errors import InputError
from seamproof.plane.model import Point
from seamproof.setting import on_point, straight
from seamproof.setting.faults import WIDEST_SASH, cell_of
from seamproof.setting.model import Available, BorderAsked, SetCell, Setting, Strip, Top, Way
from seamproof.setting.on_point import blocks_in
from seamproof.setting.top import set_top


@dataclass(frozen=True, slots=True)
class Target:
    """A size to aim at. `mattress` is that of the bed, None for what lies on no bed."""

    name: str
    width: Fraction
    height: Fraction
    source: str
    mattress: Point | None = None


def _bed(name: str, quilt: tuple[int, int], mattress: tuple[int, int], row: str) -> Target:
    return Target(
        name,
        Fraction(quilt[0]),
        Fraction(quilt[1]),
        f"published table of bed and quilt sizes ({row})",
        (Fraction(mattress[0]), Fraction(mattress[1])),
    )


def _free(name: str, width: int, height: int) -> Target:
    return Target(name, Fraction(width), Fraction(height), "common practice, no source")


TARGETS: dict[str, Target] = {
    target.name: target
    for target in (
        _free("wall", 36, 36),
        _bed("crib", (39, 54), (28, 52), "trade table F405"),
        _free("throw", 50, 65),
        _bed("twin", (65, 88), (39, 75), "trade table F406"),
        _bed("twin-xl", (65, 93), (39, 80), "trade table F411"),
        _bed("queen", (86, 93), (60, 80), "trade table F408"),
        _bed("king", (104, 93), (76, 80), "trade table F409"),
    )
}
"""Sizes in inches, width × height. Those of beds are published, writers differ by a few inches;
those of a wall quilt and a throw are habit."""

WIDEST_BORDER = Fraction(1, 2)
"""Borders of a proposed setting, all of them together, are no wider than this share of a cell."""

BORDER_STEP = Fraction(1)
SASH_STEP = Fraction(1, 2)
MOST_ACROSS = 20


@dataclass(frozen=True, slots=True)
class Proposal:
    """One setting of the blocks: `off` is its size less the target's. `border` is the width of one
    plain border that was added or changed; `copies` how many blocks are made in all, `setting` all
    of it."""

    way: Way
    columns: int
    rows: int
    sash: Fraction
    border: Fraction
    size: Point
    off: Point
    copies: int
    pieces: int
    cloth: Fraction
    seams: int
    setting: Setting


@dataclass(frozen=True, slots=True)
class Nearest:
    """A target with what comes nearest to it: `once` with as many blocks as there are, `more` with
    blocks repeated, `on_point` with the blocks on one corner. None if there is none."""

    target: Target
    as_set: Proposal | None
    once: Proposal | None
    more: Proposal | None
    on_point: Proposal | None


def target_of(name: str) -> Target:
    """A target by name. Raises InputError if there is none of that name.

    >>> target_of("queen").mattress
    (Fraction(60, 1), Fraction(80, 1))
    """
    if name not in TARGETS:
        raise InputError(
            f'there is no size called "{name}"', mend=f"there are {', '.join(TARGETS)}"
        )
    return TARGETS[name]


def nearest(
    setting: Setting,
    blocks: Sequence[Available],
    names: Iterable[str],
    settings: CuttingSettings,
) -> tuple[Nearest, ...]:
    """For each target the settings of these blocks that come nearest to it, side by side.

    Raises InputError for a target that does not exist.
    """
    targets = [target_of(name) for name in names]
    cell = cell_of(setting, {block.name: block for block in blocks})
    if cell is None:
        return tuple(Nearest(target, None, None, None, None) for target in targets)
    places = [place for row in setting.rows for place in row]
    found = []
    for target in targets:
        once = list(_layouts(len(places)))
        many = [(c, r) for c in range(1, MOST_ACROSS) for r in range(1, MOST_ACROSS)]
        square = cell[0] == cell[1]
        found.append(
            Nearest(
                target,
                _made(replace(setting, measured=()), target, blocks, settings),
                _best(setting, places, "straight", once, target, cell, blocks, settings),
                _best(setting, places, "straight", many, target, cell, blocks, settings, keep=True),
                _best(setting, places, "on point", many, target, cell, blocks, settings, keep=True)
                if square
                else None,
            )
        )
    return tuple(found)


def _layouts(count: int) -> Iterator[tuple[int, int]]:
    return ((c, count // c) for c in range(1, count + 1) if not count % c)


def _best(
    setting: Setting,
    places: Sequence[SetCell],
    way: Way,
    layouts: Iterable[tuple[int, int]],
    target: Target,
    cell: Point,
    blocks: Sequence[Available],
    settings: CuttingSettings,
    *,
    keep: bool = False,
) -> Proposal | None:
    """The layout, sash and border whose size lies nearest to the target; of equally near ones the
    one with the narrower border and fewer blocks. `keep`: the sashing stays as it is."""
    now = setting.sashing.width if setting.sashing else Fraction(0)
    sashes = [now] if keep else _steps(now, min(cell) * WIDEST_SASH)
    borders = [n * BORDER_STEP for n in range(int(min(cell) * WIDEST_BORDER / BORDER_STEP) + 1)]
    rated = []
    for columns, rows in layouts:
        for sash in sashes:
            inner = (
                straight.size_of(columns, rows, cell, sash, outer=setting.outer)
                if way == "straight"
                else on_point.size_of(columns, rows, cell[0], sash, Fraction(0))
            )
            for border in borders:
                off = [
                    abs(side + 2 * border - want)
                    for side, want in zip(inner, (target.width, target.height), strict=True)
                ]
                count = columns * rows if way == "straight" else blocks_in(columns, rows)
                rated.append((float(sum(off)), border, count, abs(sash - now), columns, rows, sash))
    if not rated:
        return None
    _, border, _, _, columns, rows, sash = min(rated)
    made = _changed(setting, places, way, columns, rows, sash, border)
    return _made(made, target, blocks, settings)


def _steps(now: Fraction, most: Fraction) -> list[Fraction]:
    if not now:
        return [now]
    return sorted({now, *(n * SASH_STEP for n in range(2, int(most / SASH_STEP) + 1))})


def _changed(
    setting: Setting,
    places: Sequence[SetCell],
    way: Way,
    columns: int,
    rows: int,
    sash: Fraction,
    border: Fraction,
) -> Setting:
    """The same blocks in turn, in another layout with another sash and one plain border."""
    if way == "straight":
        lengths = [columns] * rows
    elif columns == 1:
        lengths = [1] * rows
    else:
        lengths = [columns - n % 2 for n in range(2 * rows - 1)]
    turn = iter(places[n % len(places)] for n in range(sum(lengths)))
    layout = tuple(tuple(next(turn) for _ in range(length)) for length in lengths)
    cloth = _some_cloth(setting)
    strip = replace(setting.sashing, width=sash) if setting.sashing else None
    asked = BorderAsked(border, cloth)
    return replace(
        setting,
        rows=layout,
        way=way,
        sashing=strip,
        triangles=setting.triangles or cloth,
        floating=Fraction(0),
        borders=(asked,) if border else (),
        measured=(),
    )


def _some_cloth(setting: Setting) -> str:
    """A fabric for borders and triangles of a proposal: one that the setting names already."""
    strip: Strip | None = setting.sashing
    named = [border.fabric for border in setting.borders]
    named += [strip.fabric if strip else None, setting.binding.fabric]
    return next((letter for letter in named if letter), "a")


def _made(
    made: Setting,
    target: Target,
    blocks: Sequence[Available],
    settings: CuttingSettings,
) -> Proposal | None:
    enough = [replace(block, copies=10**6) for block in blocks]
    top, _ = set_top(made, enough, (), settings)
    return None if top is None else _told(top, target, made)


def _told(top: Top, target: Target, setting: Setting) -> Proposal:
    cloth = sum((p.width.ruler * p.height.ruler * p.count for p in top.pieces), Fraction(0))
    border = sum((b.width for b in top.borders), Fraction(0))
    return Proposal(
        way=top.way,
        columns=top.columns,
        rows=top.rows,
        sash=top.sashing,
        border=border,
        size=(top.width, top.height),
        off=(top.width - target.width, top.height - target.height),
        copies=len(top.blocks),
        pieces=sum(piece.count for piece in top.pieces),
        cloth=cloth,
        seams=top.plan.sessions,
        setting=setting,
    )
