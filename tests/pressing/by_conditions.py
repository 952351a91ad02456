"""Tables for the chooser from the tests' own folding.

Every sheet with every set of its folds that matters, all laid over each other once, and each face
asked under which plans it has how many layers.

Slow and plain; `by_overlay.py` judges the plans that the chooser makes of it.
"""

from __future__ import annotations

import functools
from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from seamproof.pressing.tables import Table
from tests.pressing.by_overlay import Convex, Fold, Tree, folded, overlaid, table_tree, trimmed

When = tuple[tuple[int, frozenset[int]], ...]
"""Choices and the ways of them under which a piece lies as it does."""

ALL = frozenset(range(3))


@dataclass(frozen=True)
class Variant:
    piece: Convex
    when: When


def variants(tree: Tree) -> list[Variant]:
    """Every piece of cloth as it may come to lie, and when it does."""
    found: list[Variant] = []
    for sheet, outline in [(s, corner) for s in tree.sheets for corner in _corners(s.outline)]:
        now = [Variant(outline, ())]
        for step in sheet.done:
            after: list[Variant] = []
            for variant in now:
                if not isinstance(step, Fold):
                    kept = trimmed(variant.piece, step.outline)
                    after += [Variant(kept, variant.when)] if kept else []
                    continue
                halves = folded(variant.piece, step)
                if halves == [variant.piece]:
                    after.append(variant)
                    continue
                for pieces, ways in ((halves, step.when), ([variant.piece], ALL - step.when)):
                    when = dict(variant.when)
                    when[step.choice] = when.get(step.choice, ALL) & ways
                    if when[step.choice]:
                        after += [Variant(p, tuple(sorted(when.items()))) for p in pieces]
            now = after
        found += now
    if tree.window:
        found = [Variant(k, v.when) for v in found if (k := trimmed(v.piece, tree.window))]
    return found


def _corners(outline: Convex) -> list[Convex]:
    """A convex outline in pieces, one round each corner: far sides of a sheet are then no matter
    of each other."""
    count = len(outline)
    middle = (sum(p[0] for p in outline) / count, sum(p[1] for p in outline) / count)
    halves = [
        ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        for p, q in zip(outline, (*outline[1:], outline[0]), strict=True)
    ]
    return [(outline[i], halves[i], middle, halves[i - 1]) for i in range(count)]


def tables_of(tree: Tree) -> tuple[Table, ...]:
    """One table per set of choices that decides a face."""
    laid = variants(tree)
    areas, _, (face, piece) = overlaid([variant.piece for variant in laid])
    covering: dict[int, list[When]] = defaultdict(list)
    for f, p in zip(face.tolist(), piece.tolist(), strict=True):
        covering[f].append(laid[p].when)
    kinds: dict[tuple[When, ...], float] = defaultdict(float)
    for f, whens in covering.items():
        kinds[tuple(sorted(whens, key=repr))] += float(areas[f])
    by_scope: dict[tuple[int, ...], list[tuple[tuple[When, ...], float]]] = defaultdict(list)
    for kind, area in kinds.items():
        scope = tuple(sorted({choice for when in kind for choice, _ in when}))
        by_scope[scope].append((kind, area))
    found = []
    for scope, members in sorted(by_scope.items()):
        counts = np.array([sum(_lies(scope, when) for when in whens) for whens, _ in members])
        table = np.zeros((counts.shape[1], int(counts.max()) + 1))
        rows = np.arange(counts.shape[1])
        for k, (_, area) in enumerate(members):
            table[rows, counts[k]] += area
        # Slivers that the overlay leaves are not looked at.
        thick = np.where(table > 1e-7, np.arange(table.shape[1]), 0).max(axis=1)
        found.append(Table(scope, ((0, 1, 2),) * len(scope), thick.astype(np.int16), table))
    return tuple(found)


def _lies(scope: tuple[int, ...], when: When) -> np.ndarray:
    """For every plan of the choices of a scope, 1 if a piece lies so."""
    ways = dict(when)
    lies = np.ones(1, dtype=np.int16)
    for choice in scope:
        here = [way in ways.get(choice, ALL) for way in range(3)]
        lies = np.multiply.outer(lies, np.array(here, dtype=np.int16)).ravel()
    return lies


@functools.cache
def table_tables(key: str) -> tuple[Table, ...]:
    return tables_of(table_tree(key))
