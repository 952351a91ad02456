"""Cloth that is folded: sheets, folds, and where the cloth comes to lie.

A *sheet* is one cut piece of cloth in the block's front view, in convex pieces, with the folds that
sewing and pressing may lay into it, in sewing order. To *fold* is to mirror, over a line, what lies
beyond it. Whether a fold is made depends on how seams are pressed. Points are pairs of inches of
the finished block, as floats: folds at 45 degrees leave no fractions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

Spot = tuple[float, float]
Convex = tuple[Spot, ...]

TOUCH = 1e-9
"""Inches; cloth that lies beyond a line by less does not lie beyond it."""

When = tuple[tuple[int, frozenset[int]], ...]
"""Choices, each with some of its ways: all of them must hold. () holds always."""


@dataclass(frozen=True, slots=True)
class Fold:
    """What lies right of the line from `at` along `along` (a unit vector; right as seen from the
    front, y downwards) is turned over it, if `when` holds. `part` is what the seam gives: parts are
    numbered in sewing order."""

    at: Spot
    along: Spot
    when: When
    part: int = 0

    def beyond(self, p: Spot) -> float:
        """How far beyond the line a point lies; negative on the side that stays.

        >>> Fold((0.0, 0.0), (1.0, 0.0), ()).beyond((5.0, 0.25))
        0.25
        """
        return self.along[0] * (p[1] - self.at[1]) - self.along[1] * (p[0] - self.at[0])

    def turned(self, p: Spot) -> Spot:
        """Where a point comes to lie if it is turned over the line."""
        off = 2 * self.beyond(p)
        return (p[0] + off * self.along[1], p[1] - off * self.along[0])


@dataclass(frozen=True, slots=True)
class Sheet:
    """One cut piece of cloth: its fabric's letter, its convex pieces, its folds in sewing order,
    and the finished patch that it becomes (all of it, or a convex part)."""

    fabric: str
    pieces: tuple[Convex, ...]
    folds: tuple[Fold, ...]
    patch: Convex = ()


@dataclass(frozen=True, slots=True)
class Lying:
    """A convex piece of one layer of cloth as it lies. `turned` tells that its right side shows
    from the back. `when` says for which plans it lies so; () once a plan is settled. `sheet` is the
    number of its sheet, `fold` that of the fold that turned it last, -1 for none."""

    piece: Convex
    turned: bool
    sheet: int
    when: When = ()
    fold: int = -1


def holds(when: When, plan: Sequence[int]) -> bool:
    """Whether a condition is met by a plan: one way per choice.

    >>> holds(((1, frozenset({0, 2})),), [0, 2]), holds((), [])
    (True, True)
    """
    return all(plan[choice] in ways for choice, ways in when)


def laid(sheets: Sequence[Sheet], plan: Sequence[int]) -> list[Lying]:
    """All cloth as it lies when pressed by a plan, sheet by sheet.

    >>> square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    >>> fold = Fold((0.0, 1.5), (1.0, 0.0), ((0, frozenset({0})),))
    >>> for way in (0, 1):
    ...     print([lying.turned for lying in laid([Sheet("a", (square,), (fold,))], [way])])
    [False, True]
    [False]
    """
    found = []
    for number, sheet in enumerate(sheets):
        pieces = [Lying(piece, False, number) for piece in sheet.pieces]
        for k, fold in enumerate(sheet.folds):
            if holds(fold.when, plan):
                pieces = [part for lying in pieces for part in _folded(lying, fold, k)]
        found += pieces
    return found


def may_lie(sheets: Sequence[Sheet], ways: Sequence[Sequence[int]]) -> Iterator[Lying]:
    """Every piece of cloth as it may come to lie under any plan of the given `ways` per choice,
    each with the condition under which it does. For one plan just those of :func:`laid` hold.

    Sheets are divided along all their folds at first, so that what no fold reaches lies as it does
    whatever the plan.
    """
    every = [frozenset(known) for known in ways]
    for number, sheet in enumerate(sheets):
        pieces = [Lying(piece, False, number) for piece in _along_folds(sheet)]
        for k, fold in enumerate(sheet.folds):
            after: list[Lying] = []
            for lying in pieces:
                if all(fold.beyond(p) <= TOUCH for p in lying.piece):
                    after.append(lying)
                    continue
                for when, made in _cases(lying.when, fold.when, every):
                    told = Lying(lying.piece, lying.turned, number, when, lying.fold)
                    after += _folded(told, fold, k) if made else [told]
            pieces = after
        yield from pieces


@dataclass(frozen=True, slots=True)
class Seen:
    """A convex piece of cloth as it lies, as the back shows it. `part` is the part whose seam it is
    the allowance of, -1 for what is none. Later pieces in :func:`seen` lie nearer to whoever looks
    at the back."""

    piece: Convex
    turned: bool
    sheet: int
    part: int


def seen(sheets: Sequence[Sheet], plan: Sequence[int]) -> list[Seen]:
    """All cloth as it lies when pressed by a plan, from the front to the back.

    Where two allowances lie on one side, the one that is not turned over its seam lies behind the
    one that is; allowances of later seams lie behind those of earlier ones.

    >>> square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    >>> folds = (Fold((0.0, 1.5), (1.0, 0.0), ((0, frozenset({0})),), 3),)
    >>> [(s.turned, s.part) for s in seen([Sheet("a", (square,), folds)], [0])]
    [(False, -1), (True, 3)]
    >>> [(s.turned, s.part) for s in seen([Sheet("a", (square,), folds)], [1])]
    [(False, -1), (False, 3)]
    """
    found: list[tuple[tuple[int, bool], Seen]] = []
    for number, sheet in enumerate(sheets):
        # Each piece with whether it is turned, and the seams it is the turned and the flat
        # allowance of.
        pieces = [(cut, False, -1, -1) for cut in sheet.pieces]
        for fold in sheet.folds:
            after = []
            for piece, turned, part, flat in pieces:
                stays, goes = divided(piece, fold.beyond)
                if stays:
                    after.append((stays, turned, part, flat))
                if goes and holds(fold.when, plan):
                    over = tuple(fold.turned(p) for p in reversed(goes))
                    after.append((over, not turned, fold.part, flat))
                elif goes:
                    after.append((goes, turned, part, max(flat, fold.part)))
            pieces = after
        for piece, turned, part, flat in pieces:
            top = max(part, flat)
            found.append(((top, flat >= part), Seen(piece, turned, number, top)))
    return [one for _, one in sorted(found, key=lambda pair: pair[0])]


def _along_folds(sheet: Sheet) -> list[Convex]:
    pieces = list(sheet.pieces)
    for fold in sheet.folds:
        pieces = [half for piece in pieces for half in divided(piece, fold.beyond) if half]
    return pieces


def _cases(now: When, when: When, every: Sequence[frozenset[int]]) -> Iterator[tuple[When, bool]]:
    """The plans for which `now` holds, parted into those that make a fold and those that do not."""
    known = dict(now)
    for choice, ways in when:
        before = known.get(choice, every[choice])
        if others := before - ways:
            yield tuple(sorted({**known, choice: others}.items())), False
        if not before & ways:
            return
        known[choice] = before & ways
    yield tuple(sorted(known.items())), True


def _folded(lying: Lying, fold: Fold, number: int) -> list[Lying]:
    stays, goes = divided(lying.piece, fold.beyond)
    found = []
    if stays:
        found.append(Lying(stays, lying.turned, lying.sheet, lying.when, lying.fold))
    if goes:
        turned = tuple(fold.turned(p) for p in reversed(goes))
        found.append(Lying(turned, not lying.turned, lying.sheet, lying.when, number))
    return found


def divided(piece: Convex, height: Callable[[Spot], float]) -> tuple[Convex, Convex]:
    """The parts of a convex piece with height at most 0 and at least 0; () for one without area.

    >>> divided(((0.0, 0.0), (2.0, 0.0), (0.0, 2.0)), lambda p: p[0] - 3)[1]
    ()
    """
    heights = [height(p) for p in piece]
    if max(heights) <= TOUCH:
        return piece, ()
    if min(heights) >= -TOUCH:
        return (), piece
    low: list[Spot] = []
    high: list[Spot] = []
    for i, p in enumerate(piece):
        q, hp, hq = piece[i - 1], heights[i], heights[i - 1]
        if (hp > TOUCH and hq < -TOUCH) or (hp < -TOUCH and hq > TOUCH):
            t = hp / (hp - hq)
            cut = (p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]))
            low.append(cut)
            high.append(cut)
        if hp <= TOUCH:
            low.append(p)
        if hp >= -TOUCH:
            high.append(p)
    return tuple(low), tuple(high)
