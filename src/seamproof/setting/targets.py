"""Sizes to aim at, and the settings of given blocks that come nearest to them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings
from seamproof.errors import InputError
from seamproof.length.exact import CM
from seamproof.length.notation import Measure
from seamproof.plane.model import Point
from seamproof.setting import on_point, straight
from seamproof.setting.faults import WIDEST_SASH, cell_of
from seamproof.setting.habits import HABITS, Habits
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

METRIC_TARGETS: dict[str, Target] = {
    name: Target(name, width * CM, height * CM, "common practice, no source")
    for name, width, height in (("wall", 90, 90), ("throw", 130, 165))
}
"""What is habit, where one measures in centimetres. No metric table of bed quilts was found: those
of TARGETS are taken there, too."""

WIDEST_BORDER = Fraction(1, 2)
"""Borders of a proposed setting, all of them together, are no wider than this share of a cell."""

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


def target_of(name: str, measure: Measure = "in") -> Target:
    """A target by name. Raises InputError if there is none of that name.

    >>> target_of("queen").mattress
    (Fraction(60, 1), Fraction(80, 1))
    """
    if name not in TARGETS:
        raise InputError(
            f'there is no size called "{name}"', mend=f"there are {', '.join(TARGETS)}"
        )
    own = METRIC_TARGETS if measure == "cm" else TARGETS
    return own.get(name, TARGETS[name])


def nearest(
    setting: Setting,
    blocks: Sequence[Available],
    names: Iterable[str],
    settings: CuttingSettings,
    measure: Measure = "in",
) -> tuple[Nearest, ...]:
    """For each target the settings of these blocks that come nearest to it, side by side.

    Raises InputError for a target that does not exist.
    """
    targets = [target_of(name, measure) for name in names]
    cell = cell_of(setting, {block.name: block for block in blocks})
    if cell is None:
        return tuple(Nearest(target, None, None, None, None) for target in targets)
    places = [place for row in setting.rows for place in row]
    once = list(_layouts(len(places)))
    many = [(c, r) for c in range(1, MOST_ACROSS) for r in range(1, MOST_ACROSS)]
    enough = [replace(block, copies=MANY) for block in blocks]
    known: dict[Setting, Top | None] = {}

    def told(made: Setting, target: Target) -> Proposal | None:
        if made not in known:
            known[made] = set_top(made, enough, (), settings, measure=measure)[0]
        top = known[made]
        return None if top is None else _told(top, target, made)

    def best(
        way: Way, layouts: Iterable[tuple[int, int]], target: Target, *, keep: bool
    ) -> Proposal | None:
        found = _best(setting, way, layouts, target, cell, HABITS[measure], keep=keep)
        return None if found is None else told(_changed(setting, places, way, *found), target)

    as_it_is = replace(setting, measured=())
    square = cell[0] == cell[1]
    return tuple(
        Nearest(
            target,
            told(as_it_is, target),
            best("straight", once, target, keep=False),
            best("straight", many, target, keep=True),
            best("on point", many, target, keep=True) if square else None,
        )
        for target in targets
    )


MANY = 10**6
"""As many copies of a block as another setting may want."""


def _layouts(count: int) -> Iterator[tuple[int, int]]:
    return ((c, count // c) for c in range(1, count + 1) if not count % c)


def _best(
    setting: Setting,
    way: Way,
    layouts: Iterable[tuple[int, int]],
    target: Target,
    cell: Point,
    habits: Habits,
    *,
    keep: bool,
) -> tuple[int, int, Fraction, Fraction] | None:
    """Columns, rows, sash and border of the setting whose size lies nearest to the target; of
    equally near ones the one with the narrower border and fewer blocks. `keep`: the sashing stays
    as it is."""
    now = setting.sashing.width if setting.sashing else Fraction(0)
    sashes = [now] if keep else _steps(now, min(cell) * WIDEST_SASH, habits)
    widest = int(min(cell) * WIDEST_BORDER / habits.whole)
    borders = [n * habits.whole for n in range(widest + 1)]
    rated = []
    for columns, rows in layouts:
        count = columns * rows if way == "straight" else blocks_in(columns, rows)
        for sash in sashes:
            width, height = (
                straight.size_of(columns, rows, cell, sash, outer=setting.outer)
                if way == "straight"
                else on_point.size_of(columns, rows, cell[0], sash, Fraction(0))
            )
            lacks = float(target.width - width), float(target.height - height)
            for border in borders:
                off = sum(abs(lack - 2 * float(border)) for lack in lacks)
                rated.append((round(off, 6), border, count, abs(sash - now), columns, rows, sash))
    if not rated:
        return None
    _, border, _, _, columns, rows, sash = min(rated)
    return columns, rows, sash, border


def _steps(now: Fraction, most: Fraction, habits: Habits) -> list[Fraction]:
    if not now:
        return [now]
    least, step = habits.least_sash, habits.sash_step
    return sorted({now, *(least + n * step for n in range(int((most - least) / step) + 1))})


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
