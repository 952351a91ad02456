"""Which cuts: every region that can arise, the ways to cut it, and the choice among them.

Sewing is cutting read backwards: a region cut along a full chord is two parts joined by one
straight seam. The choice is the smallest set of *kinds* of region that makes the block, because
each kind is one thing to do at the machine, however many copies.
"""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass, field
from itertools import islice
from typing import Literal

from seamproof.length.rounding import SAME
from seamproof.piecing.cores import Passes, fewest_stops
from seamproof.piecing.lasts import apart, bends, bent_chords, sound, unwaited
from seamproof.piecing.regions import NOTHING, Code, Half, Region, Seam, chords, code, split
from seamproof.piecing.shapes import Edge, Layout

Breadth = Literal["every", "edges", "middle"]
"""Which seams are looked at: every one; those along an edge of the region before those across its
corners; or only the middle one of the widest family, upright or level before slanted."""

MOST_KINDS = 1500
"""Kinds of region looked at before the next smaller breadth is taken. With every chord, blocks of
the trade stay far below; an 8 x 8 grid of split squares turned at random would give over 6,000."""

MOST_LOOKS = 300_000
"""Patches of regions looked at, region by region and seam by seam, before the next smaller breadth
is taken. An eight-pointed star of 136 patches needs 246,000 and two seconds; a core of 140
rectangles would need far more and gain nothing by it."""


State = tuple[Region, frozenset[Half]]
"""A region, and the half edges in it that are not sewn yet."""


PARALLEL = 1e-4
"""Directions this close, in radians, are parallel: 1/1000 in over 10 in."""

CORE_EFFORT = 2_000
"""Nodes of the search for the fewest stops of a core (docs/explanation/piecing.md, "windmills")."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One way to take a kind of region apart: along `seam` of its specimen, into other kinds.

    `apart` are the two regions of the specimen, or the one with a slit that is left where a seam
    in two goes was finished; `kinds` number them. `odd` is 1 for a cut against the habit of the
    trade (units, then rows, then the block): it runs through a unit while units are still to be
    parted, or along the slant where an upright one would do. `late` is 2 if rows and columns are
    still to be parted and it does not part the block from edge to edge; 1 if it parts columns
    while rows are still to be parted, or if a longer seam of a core could be sewn last instead.
    `turns` is at how many corners it is set in.
    """

    seam: Seam
    apart: tuple[State, ...]
    kinds: tuple[int, ...]
    odd: int = 0
    late: int = 0
    turns: int = 0

    @property
    def habit(self) -> int:
        """What the cut costs in habit: a second corner set in within one seam more than a cut
        through a unit, that more than a column before a row."""
        return 6 * max(0, self.turns - 1) + 3 * self.odd + self.late


@dataclass
class Kind:
    """One kind of region, shown by its first specimen. `done` is how its core is sewn; `parted`
    remembers what seams of a core leave."""

    specimen: Region
    open: frozenset[Half]
    code: Code
    cuts: list[Cut] = field(default_factory=list)
    done: Passes | None = None
    parted: dict[Seam, tuple[State, ...]] = field(default_factory=dict)

    @property
    def size(self) -> tuple[int, int]:
        """Grows from what a region is made of to the region: patches, then what is sewn."""
        return len(self.specimen), -len(self.open)


@dataclass
class Kinds:
    """Every kind of region that can arise, number 0 being the whole block. `unmet` numbers the
    lines that the maker wants sewn last and that cannot be."""

    layout: Layout
    kinds: list[Kind] = field(default_factory=list)
    number: dict[tuple[int, ...], int] = field(default_factory=dict)
    known: dict[State, tuple[int, tuple[int, ...]]] = field(default_factory=dict)
    unmet: set[int] = field(default_factory=set)

    @property
    def cored(self) -> bool:
        """Whether some region has no straight seam from edge to edge: only there do seams turn, or
        stop half-way."""
        cuts = (cut for kind in self.kinds for cut in kind.cuts)
        return any(cut.turns or any(cut.seam.short) or len(cut.kinds) == 1 for cut in cuts)

    def kind(self, region: Region, open_: frozenset[Half] = NOTHING) -> tuple[int, tuple[int, ...]]:
        """The number of a region's kind, and its patches in the order of the kind's first order.

        A kind not met before gets a new number.
        """
        found = self.known.get((region, open_))
        if found is None:
            its = code(self.layout, region, open_)
            number = self.number.setdefault(its.text, len(self.kinds))
            if number == len(self.kinds):
                self.kinds.append(Kind(region, open_, its))
            found = self.known[(region, open_)] = (number, its.orders[0])
        return found


def survey(layout: Layout, grid: Grid, breadth: Breadth, region: Region) -> Kinds | None:
    """All kinds of region that cuts of this breadth lead to, or None if they are too many.

    Of each kind only those cuts are kept with which the fewest seams are sewn in two goes.
    """
    kinds = Kinds(layout)
    kinds.kind(region)
    queue = deque([0])
    looks = 0
    while queue:
        kind = kinds.kinds[queue.popleft()]
        # Of cuts into the same kinds the one most in the habit of the trade stands for all.
        best: dict[tuple[int, ...], Cut] = {}
        for seam, odd, late in _offered(layout, grid, breadth, kind, kinds.unmet):
            before = len(kinds.kinds)
            looks += len(kind.specimen)
            states = _taken_apart(layout, kind, seam)
            numbers = tuple(kinds.kind(*state)[0] for state in states)
            for new in range(before, len(kinds.kinds)):
                kinds.kinds[new].done = kind.done
                queue.append(new)
            cut = Cut(seam, states, numbers, odd, late, bends(layout, seam.run))
            key = tuple(sorted(numbers))
            if key not in best or cut.habit < best[key].habit:
                best[key] = cut
        kind.cuts = list(best.values())
        if breadth != "middle" and (len(kinds.kinds) > MOST_KINDS or looks > MOST_LOOKS):
            return None
    _keep_fewest_stops(kinds)
    return kinds


def _taken_apart(layout: Layout, kind: Kind, seam: Seam) -> tuple[State, ...]:
    if kind.done is None and not kind.open:
        return tuple((piece, NOTHING) for piece in split(layout, kind.specimen, [seam]))
    if seam not in kind.parted:
        kind.parted[seam] = apart(layout, kind.specimen, seam, kind.open)
    return kind.parted[seam]


def _keep_fewest_stops(kinds: Kinds) -> None:
    stops: dict[int, float] = {}
    for k in sorted(range(len(kinds.kinds)), key=lambda k: kinds.kinds[k].size):
        kind = kinds.kinds[k]
        if len(kind.specimen) == 1:
            stops[k] = 0
            continue
        price = {cut: sum(stops[j] for j in cut.kinds) + (len(cut.kinds) == 1) for cut in kind.cuts}
        stops[k] = min(price.values(), default=math.inf)
        kind.cuts[:] = [cut for cut in kind.cuts if price[cut] == stops[k]]


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


def axis(layout: Layout, chord: Seam) -> int | None:
    """0 for an upright chord, 1 for a level one, None for a slanted one."""
    a, b = layout.spots[chord.run[0]], layout.spots[chord.run[-1]]
    if abs(a[0] - b[0]) <= float(SAME):
        return 0
    return 1 if abs(a[1] - b[1]) <= float(SAME) else None


def _top_left(layout: Layout, region: Region) -> tuple[float, float]:
    lows = [layout.low[f] for f in region]
    return min(low[0] for low in lows), min(low[1] for low in lows)


def _offered(
    layout: Layout, grid: Grid, breadth: Breadth, kind: Kind, unmet: set[int]
) -> list[tuple[Seam, int, int]]:
    """The seams of a kind that may be sewn last: of those that this breadth looks at, the ones the
    maker asks for, if any. Each with `odd` and `late` of the cut."""
    if len(kind.specimen) == 1:
        return []
    for number, asked in enumerate(layout.asked_last):
        here = {
            (a, b)
            for a, b in asked
            if layout.map.right_of((a, b)) in kind.specimen
            and layout.map.right_of((b, a)) in kind.specimen
        }
        wanted = _seams_with(layout, kind, here)
        if wanted:
            return [(seam, 0, 0) for seam in wanted]
        if here:
            unmet.add(number)
    return _seen(layout, grid, breadth, kind)


def _seams_with(layout: Layout, kind: Kind, wanted: set[Edge]) -> list[Seam]:
    """The seams of a kind that may be sewn last and run over all the wanted edges."""
    if not wanted or kind.open:
        return []
    found = [c for c in chords(layout, kind.specimen) if wanted <= c.edges()]
    bent = bent_chords(layout, kind.specimen) or () if not found else ()
    return found or [seam for seam in bent if wanted <= seam.edges()]


def broken(layout: Layout, region: Region, seam: Seam) -> frozenset[int]:
    """The seam lines fixed by the maker (as numbers of fixings) that a seam of a region runs
    through, so that they could not be sewn as one seam any more."""
    edges = seam.edges()
    face = layout.map.face
    return frozenset(
        number
        for v in seam.run[1:-1]
        for number, *line in layout.kept_whole.get(v, ())
        if not edges.issuperset(line)
        and all(face.get((a, b)) in region and face.get((b, a)) in region for a, b in line)
    )


def _unbroken(layout: Layout, region: Region, seams: list[Seam]) -> list[Seam]:
    """Those seams that leave the lines fixed by the maker whole; all, if each breaks one."""
    if not layout.kept_whole:
        return seams
    return [seam for seam in seams if not broken(layout, region, seam)] or seams


def _seen(layout: Layout, grid: Grid, breadth: Breadth, kind: Kind) -> list[tuple[Seam, int, int]]:
    """The seams of a kind that this breadth looks at, each with `odd` and `late` of the cut."""
    region = kind.specimen
    found = chords(layout, region) if not kind.open else []
    if not found:
        return _longest_last(layout, _core_seams(layout, breadth, kind))
    found = _unbroken(layout, region, found)
    if breadth == "every" and not kind.open and kind.done is None:
        # A chord first is never worse for corners set in, but it may part what is made alike.
        bent = [s for s in bent_chords(layout, region) or () if bends(layout, s.run)]
        bent = [s for s in bent if not broken(layout, region, s)]
        return _straight(layout, grid, breadth, region, found) + [(s, 0, 0) for s in bent]
    return _straight(layout, grid, breadth, region, found)


def _straight(
    layout: Layout, grid: Grid, breadth: Breadth, region: Region, found: list[Seam]
) -> list[tuple[Seam, int, int]]:
    """The chords of a region that this breadth looks at, each with `odd` and `late` of the cut."""
    upright = [c for c in found if axis(layout, c) is not None]
    several = len({grid.cell[f] for f in region}) > 1
    between = [c for c in upright if several and _between_cells(layout, grid, c)]
    natural = between or upright or found
    if breadth == "middle":
        return [(_middle(layout, natural), 0, 0)]
    chosen = found if breadth == "every" else _along_edges(layout, region, found) or found
    liked = set(natural)
    rows = len({grid.cell[f][0] for f in region}) > 1
    columns = len({grid.cell[f][1] for f in region}) > 1

    def late(chord: Seam) -> int:
        if rows and columns and not layout.rim.issuperset((chord.run[0], chord.run[-1])):
            # A row turned is a column, so what counts is how the cut lies in the block.
            return 2
        return 1 if rows and axis(layout, chord) != 1 else 0

    return [(c, 0 if c in liked else 1, late(c)) for c in chosen]


def _core_seams(layout: Layout, breadth: Breadth, kind: Kind) -> list[Seam]:
    """The seams of a core that may be sewn last."""
    if kind.done is None:
        kind.done = fewest_stops(layout, kind.specimen, effort=CORE_EFFORT)
    if breadth == "every" and not kind.open and not kind.done.stops:
        bent = bent_chords(layout, kind.specimen)
        if bent is not None:
            bent = _unbroken(layout, kind.specimen, bent)
            # Its parts are looked at afresh: they need not follow this kind's choice.
            kind.done = None
            return bent
    last = (
        seam
        for seam in unwaited(layout, kind.specimen, kind.done, kind.open)
        if sound(layout, seam, _taken_apart(layout, kind, seam))
    )
    if breadth == "middle" and not layout.kept_whole:
        return list(islice(last, 1))
    found = _unbroken(layout, kind.specimen, list(last))
    return found[:1] if breadth == "middle" else found


def _longest_last(layout: Layout, seams: list[Seam]) -> list[tuple[Seam, int, int]]:
    """Among seams of a core that serve alike the longest is sewn last, so that small units stay
    whole: a corner of a square-in-a-square is not left for the end."""
    lengths = [
        sum(math.dist(layout.spots[a], layout.spots[b]) for a, b in seam.darts()) for seam in seams
    ]
    longest = max(lengths, default=0.0)
    return [
        (seam, 0, int(length < longest - float(SAME)))
        for seam, length in zip(seams, lengths, strict=True)
    ]


def _along_edges(layout: Layout, region: Region, found: list[Seam]) -> list[Seam]:
    """The chords that run parallel to an edge of the region: along the sides of a square or of a
    diamond, not across their corners."""
    ways: list[float] = []
    for f in region:
        loop = layout.map.faces[f]
        for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
            if layout.map.left_of((a, b)) not in region:
                way = _direction(layout, a, b)
                if not any(_parallel(way, other) for other in ways):
                    ways.append(way)
    return [
        c
        for c in found
        if any(_parallel(_direction(layout, c.run[0], c.run[-1]), way) for way in ways)
    ]


def _direction(layout: Layout, a: int, b: int) -> float:
    (ax, ay), (bx, by) = layout.spots[a], layout.spots[b]
    return math.atan2(by - ay, bx - ax) % math.pi


def _parallel(a: float, b: float) -> bool:
    apart = abs(a - b)
    return min(apart, math.pi - apart) < PARALLEL


def _between_cells(layout: Layout, grid: Grid, chord: Seam) -> bool:
    return all(
        grid.cell[layout.map.right_of(d)] != grid.cell[layout.map.left_of(d)] for d in chord.darts()
    )


def _middle(layout: Layout, found: list[Seam]) -> Seam:
    """The middle chord of the widest family of parallel chords."""
    families: dict[int, list[tuple[float, Seam]]] = {}
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
