"""Which cuts: every region that can arise, the ways to cut it, and the choice among them.

Sewing is cutting read backwards: a region cut along a full chord is two parts joined by one
straight seam. The choice is the smallest set of *kinds* of region that makes the block, because
each kind is one thing to do at the machine, however many copies.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from typing import Literal

from seamproof.piecing.regions import Chord, Code, Region, chords, code, split
from seamproof.piecing.shapes import Layout
from seamproof.plane.predicates import same_length

Breadth = Literal["every", "axis", "middle"]
"""Which chords are looked at: every chord; upright and level ones before slanted ones; or of
those only the middle one of each direction."""

MOST_KINDS = 1500
"""Kinds of region looked at before the next smaller breadth is taken. With every chord, blocks of
the trade stay far below; an 8 x 8 grid of split squares turned at random would give over 6,000."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One way to cut a kind of region: along `chord` of its first specimen, into two kinds.

    `apart` are the two regions of the specimen. `odd` is 1 for a cut against the habit of the
    trade (units, then rows, then the block): it runs through a unit while units are still to be
    parted, or along the slant where an upright one would do. `late` is 1 if it parts columns while
    rows are still to be parted.
    """

    chord: Chord
    apart: tuple[Region, Region]
    kinds: tuple[int, int]
    odd: int
    late: int


@dataclass
class Kind:
    """One kind of region, shown by its first specimen."""

    specimen: Region
    code: Code
    cuts: list[Cut] = field(default_factory=list)


@dataclass
class Kinds:
    """Every kind of region that can arise, number 0 being the whole block."""

    layout: Layout
    kinds: list[Kind] = field(default_factory=list)
    number: dict[tuple[int, ...], int] = field(default_factory=dict)
    known: dict[Region, tuple[int, tuple[int, ...]]] = field(default_factory=dict)

    def kind(self, region: Region) -> tuple[int, tuple[int, ...]]:
        """The number of a region's kind, and its patches in the order of the kind's first order.

        A kind not met before gets a new number.
        """
        found = self.known.get(region)
        if found is None:
            its = code(self.layout, region)
            number = self.number.setdefault(its.text, len(self.kinds))
            if number == len(self.kinds):
                self.kinds.append(Kind(region, its))
            found = self.known[region] = (number, its.orders[0])
        return found


def survey(layout: Layout, grid: Grid, breadth: Breadth, region: Region) -> Kinds | None:
    """All kinds of region that cuts of this breadth lead to, or None if they are too many."""
    kinds = Kinds(layout)
    kinds.kind(region)
    queue = deque([0])
    while queue:
        number = queue.popleft()
        kind = kinds.kinds[number]
        seen: set[tuple[int, int]] = set()
        for chord, odd, late in _offered(layout, grid, breadth, kind.specimen):
            first, second = split(layout, kind.specimen, [chord])
            before = len(kinds.kinds)
            pair = (kinds.kind(first)[0], kinds.kind(second)[0])
            queue.extend(range(before, len(kinds.kinds)))
            if (min(pair), max(pair)) not in seen:
                seen.add((min(pair), max(pair)))
                kind.cuts.append(Cut(chord, (first, second), pair, odd, late))
        if breadth != "middle" and len(kinds.kinds) > MOST_KINDS:
            return None
    return kinds


# The grid of units --------------------------------------------------------------------------------


@dataclass(frozen=True)
class Grid:
    """The cells into which the block's own upright and level chords divide it, row by row.

    `rows` holds the regions; `cell[f]` is the (row, column) of patch f. A block that no chord
    crosses is one cell.
    """

    rows: tuple[tuple[Region, ...], ...]
    cell: dict[int, tuple[int, int]]


def grid_of(layout: Layout, region: Region) -> Grid:
    """The grid of a block. Rows from above, columns from the left."""
    axes = [c for c in chords(layout, region) if axis(layout, c) is not None]
    level = [c for c in axes if axis(layout, c) == 1]
    bands = sorted(split(layout, region, level), key=lambda r: _top_left(layout, r)[::-1])
    upright = [c for c in axes if axis(layout, c) == 0]
    columns = sorted(split(layout, region, upright), key=lambda r: _top_left(layout, r))
    rows = tuple(tuple(band & column for column in columns if band & column) for band in bands)
    cell = {f: (i, j) for i, row in enumerate(rows) for j, r in enumerate(row) for f in r}
    return Grid(rows, cell)


def axis(layout: Layout, chord: Chord) -> int | None:
    """0 for an upright chord, 1 for a level one, None for a slanted one."""
    a, b = layout.spots[chord.run[0]], layout.spots[chord.run[-1]]
    if same_length(a[0], b[0]):
        return 0
    return 1 if same_length(a[1], b[1]) else None


def _top_left(layout: Layout, region: Region) -> tuple[float, float]:
    lows = [layout.low[f] for f in region]
    return min(low[0] for low in lows), min(low[1] for low in lows)


def _offered(
    layout: Layout, grid: Grid, breadth: Breadth, region: Region
) -> list[tuple[Chord, int, int]]:
    """The chords of a region that this breadth looks at, each with `odd` and `late` of the cut."""
    found = chords(layout, region)
    if not found:
        return []
    upright = [c for c in found if axis(layout, c) is not None]
    several = len({grid.cell[f] for f in region}) > 1
    between = [c for c in upright if several and _between_cells(layout, grid, c)]
    natural = between or upright or found
    if breadth == "every":
        chosen = found
    else:
        chosen = upright or found
    if breadth == "middle":
        return [(_middle(layout, natural), 0, 0)]
    liked = set(natural)
    rows = len({grid.cell[f][0] for f in region}) > 1
    return [
        (c, 0 if c in liked else 1, 1 if rows and axis(layout, c) != 1 else 0) for c in chosen
    ]


def _between_cells(layout: Layout, grid: Grid, chord: Chord) -> bool:
    return all(
        grid.cell[layout.map.right_of(d)] != grid.cell[layout.map.left_of(d)]
        for d in chord.darts()
    )


def _middle(layout: Layout, found: list[Chord]) -> Chord:
    """The middle chord of the widest family of parallel chords."""
    families: dict[int, list[tuple[float, Chord]]] = {}
    for c in found:
        which = axis(layout, c)
        a, b = layout.spots[c.run[0]], layout.spots[c.run[-1]]
        place = (a[0] + b[0], a[1] + b[1])
        families.setdefault(2 if which is None else which, []).append(
            (place[which or 0] if which is not None else place[0] + place[1] / 1024, c)
        )
    widest = max(families.values(), key=len)
    widest.sort(key=lambda item: item[0])
    return widest[(len(widest) - 1) // 2][1]
