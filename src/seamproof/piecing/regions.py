"""Regions of a block: sets of patches, when two of them are alike, and where one may be cut.

A *chord* of a region is a straight run of seam from edge to edge of the region. Cutting along any
chord is never worse for set-in points and partial seams (docs/explanation/piecing.md, "full chord
first").
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from seamproof.piecing.shapes import Edge, Layout
from seamproof.plane.subdivision import Dart

Region = frozenset[int]
"""Patch numbers; always one piece without holes."""

Root = tuple[int, int]
"""A patch of a region and one of its sides: together they fix how the region lies."""


def edge_of(a: int, b: int) -> Edge:
    """The edge between two vertices."""
    return (a, b) if a < b else (b, a)


class Half(NamedTuple):
    """One end of an edge: the half of it next to vertex `at`."""

    edge: Edge
    at: int


NOTHING: frozenset[Half] = frozenset()


@dataclass(frozen=True, slots=True)
class Seam:
    """A run of seam: the vertices of its edges in order. At `short` ends (first, last) it starts
    or stops in the middle of that edge. A *chord* is a straight one from edge to edge."""

    run: tuple[int, ...]
    short: tuple[bool, bool] = (False, False)

    def darts(self) -> Iterable[Dart]:
        """The edges of the run, walked from its first vertex to its last."""
        return zip(self.run, self.run[1:], strict=False)

    def edges(self) -> frozenset[Edge]:
        """The edges of the run."""
        return frozenset(edge_of(a, b) for a, b in self.darts())

    def halves(self) -> frozenset[Half]:
        """The half edges that are sewn in it."""
        found = set()
        last = len(self.run) - 2
        for i, (a, b) in enumerate(self.darts()):
            if not (i == 0 and self.short[0]):
                found.add(Half(edge_of(a, b), a))
            if not (i == last and self.short[1]):
                found.add(Half(edge_of(a, b), b))
        return frozenset(found)


def chords(layout: Layout, region: Region) -> list[Seam]:
    """All full chords of a region, each once, in a fixed order.

    Time is linear in the edges of the region plus the lengths of the runs that are walked.
    """
    face = layout.map.face
    inner: dict[int, list[int]] = {}
    edge_of_region: set[int] = set()
    for f in region:
        loop = layout.map.faces[f]
        before = loop[-1]
        for v in loop:
            other = face.get((v, before))
            if other is not None and other in region:
                inner.setdefault(before, []).append(v)
            else:
                edge_of_region.add(before)
                edge_of_region.add(v)
            before = v
    found: list[Seam] = []
    straight = layout.straight
    for start in sorted(edge_of_region):
        for first in sorted(inner.get(start, ())):
            run = [start, first]
            dart = (start, first)
            while dart[1] not in edge_of_region:
                onward = straight.get(dart)
                if onward is None:
                    break
                dart = onward
                run.append(dart[1])
            else:
                if run[0] < run[-1]:
                    found.append(Seam(tuple(run)))
    return found


def split(layout: Layout, region: Region, seams: Iterable[Seam]) -> list[Region]:
    """The pieces of a region once it is cut along some of its chords, in a fixed order."""
    barred = set()
    for chord in seams:
        for a, b in chord.darts():
            barred.add((a, b))
            barred.add((b, a))
    face = layout.map.face
    left = set(region)
    pieces = []
    for seed in sorted(region):
        if seed not in left:
            continue
        left.discard(seed)
        piece, queue = [seed], deque([seed])
        while queue:
            loop = layout.map.faces[queue.popleft()]
            before = loop[-1]
            for v in loop:
                if (before, v) not in barred:
                    other = face.get((v, before))
                    if other is not None and other in left:
                        left.discard(other)
                        piece.append(other)
                        queue.append(other)
                before = v
        pieces.append(frozenset(piece))
    return pieces


@dataclass(frozen=True, slots=True)
class Code:
    """What a region is, whichever way it lies.

    Two regions are alike exactly if their texts are equal. `orders` are the ways to read it so,
    each the patches in order; bringing the first patch of one region onto the first of the other,
    the second onto the second and so on turns one into the other. Several orders: the region is
    its own turned self.
    """

    text: tuple[int, ...]
    orders: tuple[tuple[int, ...], ...]


def code(layout: Layout, region: Region, open_: frozenset[Half] = NOTHING) -> Code:
    """The code of a region, in which the halves in `open_` are not sewn yet.

    Time is linear in its patches times those of its rarest sort.
    """
    best: tuple[int, ...] = ()
    orders: list[tuple[int, ...]] = []
    for root in _candidates(layout, region):
        text, order = _read(layout, region, root)
        if open_:
            text += _slit(layout, order, open_)
        if not orders or text < best:
            best, orders = text, [order]
        elif text == best:
            orders.append(order)
    return Code(best, tuple(orders))


def _slit(layout: Layout, order: tuple[int, ...], open_: frozenset[Half]) -> tuple[int, ...]:
    """Which half edges are open, said by the patches beside them."""
    number = {f: i for i, f in enumerate(order)}
    marks = []
    for (a, b), at in open_:
        i, j = number[layout.map.right_of((a, b))], number[layout.map.right_of((b, a))]
        # Seen from the patch read first, walking with it on the right.
        start = a if i < j else b
        marks.append((min(i, j), max(i, j), int(at != start)))
    return tuple(n for mark in sorted(marks) for n in (-1, *mark))


def _candidates(layout: Layout, region: Region) -> list[Root]:
    """The rarest sort of patch in the region gives the fewest roots to read from."""
    labels: dict[int, tuple[int, ...]] = {}
    for f in region:
        inside = sum(contact.face in region for contact in layout.contacts[f])
        labels[f] = (layout.shape[f], inside)
    count = Counter(labels.values())
    if min(count.values()) > _FEW:
        finer = {
            f: labels[f]
            + tuple(
                sorted(
                    layout.shape[contact.face]
                    for contact in layout.contacts[f]
                    if contact.face in region
                )
            )
            for f in region
        }
        labels, count = finer, Counter(finer.values())
    rarest = min(
        count,
        key=lambda label: (count[label] * _symmetry(layout, label[0]), label),
    )
    return [
        (f, base)
        for f in sorted(region)
        if labels[f] == rarest
        for base in range(0, layout.shapes[rarest[0]].sides, layout.shapes[rarest[0]].period)
    ]


_FEW = 8
"""With more equal patches than this it pays to look at their neighbours too."""


def _symmetry(layout: Layout, shape: int) -> int:
    return layout.shapes[shape].sides // layout.shapes[shape].period


def _read(layout: Layout, region: Region, root: Root) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The region read patch by patch, outward from a root: what it is, and in which order."""
    number = {root[0]: 0}
    bases = {root[0]: root[1]}
    queue = deque([root[0]])
    text: list[int] = [len(region)]
    sides, period = layout.sides, layout.period
    while queue:
        f = queue.popleft()
        base, count = bases[f], sides[f]
        text.append(layout.shape[f])
        contacts = layout.contacts[f]
        # Contacts are in order round the patch: begin with the first one at or after `base`.
        if base:
            begin = next((i for i, c in enumerate(contacts) if c.side >= base), 0)
            contacts = contacts[begin:] + contacts[:begin]
        for side, face, other, offset, fixed in contacts:
            if face not in region:
                continue
            known = number.get(face)
            if known is None:
                known = number[face] = len(number)
                bases[face] = other - other % period[face]
                queue.append(face)
            text += (known, (side - base) % count, (other - bases[face]) % sides[face])
            text += (offset, fixed)
    return tuple(text), tuple(number)
