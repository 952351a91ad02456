"""Hypothesis strategies for drawings. Each stage adds to this one file."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import numpy as np
from hypothesis import strategies as st

from seamproof.draft.model import Block, Cells, Drawing, DrawnPatch, Polygons, Written
from seamproof.findings import Where
from seamproof.length.exact import kept
from seamproof.length.rounding import SAME
from seamproof.plane.model import Point, Polygon
from seamproof.plane.predicates import area, box, corners_only
from tests import cast

FABRICS = "abcd"

letters = st.sampled_from(FABRICS)

# Cells --------------------------------------------------------------------------------------------

whole_cells = letters
split_cells = st.builds("{}{}{}".format, letters, st.sampled_from("/\\"), letters)
quarter_cells = st.builds("{}.{}.{}.{}".format, letters, letters, letters, letters)
plain_cells = st.one_of(whole_cells, split_cells, split_cells, quarter_cells)
unit_cells = st.builds(
    "{}{}".format, st.sampled_from(["S", "T2"]), st.sampled_from(["", "'", "''", "'''"])
)
joining_cells = st.sampled_from(
    ["a", "b", "a=", "a^", "a=^", "b^", "b=", "=", "^", "a/b", "a=/b", "a\\b^", "b^/a", "a^\\a="]
)
"""Cells that join their neighbours, whether these fit or not."""

any_cells = st.one_of(
    plain_cells,
    joining_cells,
    unit_cells,
    st.sampled_from(["=^", "", "ab", "S'", "U", "a/", "=/a", "a.b", "A", "a b", "é"]),
)
"""Cells of which some mean nothing."""

proportions = st.sampled_from([Fraction(1), Fraction(3, 2), Fraction(2), Fraction(3)])


@st.composite
def cell_grids(
    draw: st.DrawFn,
    cells: st.SearchStrategy[str] = plain_cells,
    units: tuple[tuple[str, Cells], ...] = (),
    most: int = 4,
) -> Cells:
    """Rows of cells, equal or unequal; row and column numbers stand for their place in a file."""
    width, height = draw(st.integers(1, most)), draw(st.integers(1, most))
    return Cells(
        cells=tuple(
            tuple(
                Written(draw(cells), Where(line=row + 1, column=column + 1))
                for column in range(width)
            )
            for row in range(height)
        ),
        columns=draw(st.none() | st.tuples(*[proportions] * width)),
        rows=draw(st.none() | st.tuples(*[proportions] * height)),
        units=units,
        where=Where(line=1),
    )


@st.composite
def cell_drawings(draw: st.DrawFn) -> Drawing:
    """Drawings of cells that are all fine: splits, units turned and scaled, unequal columns."""
    units = (
        ("S", draw(cell_grids(most=2))),
        ("T2", draw(cell_grids(most=2))),
    )
    grid = draw(cell_grids(st.one_of(plain_cells, plain_cells, unit_cells), units))
    return Drawing("random cells", draw(sizes()), grid)


@st.composite
def scrawled_cells(draw: st.DrawFn) -> Drawing:
    """Drawings of cells of which most are no block: joined anyhow, or written anyhow."""
    cells = draw(st.sampled_from([joining_cells, joining_cells, any_cells]))
    units = tuple(
        (unit, draw(cell_grids(st.one_of(plain_cells, cells), most=2))) for unit in ("S", "T2")
    )
    return Drawing("scrawled", draw(sizes()), draw(cell_grids(cells, units)))


@st.composite
def sizes(draw: st.DrawFn) -> Point:
    """Finished sizes large enough that no random cell is a sliver."""
    side_lengths = st.sampled_from([Fraction(n) for n in (12, 15, 18)] + [Fraction(25, 2)])
    return (draw(side_lengths), draw(side_lengths))


# Planted partitions -------------------------------------------------------------------------------

ROOM = 0.5
"""Inches that a planted vertex keeps from every other, and half of what it keeps from sides."""

TRIES = 60
"""Chords tried for one partition; most do not fit."""


@st.composite
def planted(draw: st.DrawFn, *, lattice: bool = True, most: int = 24) -> Drawing:
    """A rectangle cut by chord after chord, each from edge to edge of one piece, so that straight
    seams can sew it. On the lattice ends lie on whole inches, else anywhere."""
    die = draw(st.randoms(use_true_random=False))
    wanted = draw(st.integers(1, most))
    size = (Fraction(draw(st.integers(6, 12))), Fraction(draw(st.integers(6, 12))))
    zero = Fraction(0)
    pieces: list[Polygon] = [((zero, zero), (size[0], zero), size, (zero, size[1]))]
    known: set[Point] = set(pieces[0])
    for _ in range(TRIES):
        if len(pieces) >= wanted:
            break
        number = max(
            die.sample(range(len(pieces)), min(2, len(pieces))), key=lambda n: area(pieces[n])
        )
        spots = _lattice_spots(pieces[number]) if lattice else _free_spots(die, pieces[number])
        ends = [(i, p) for i, p in spots if p in known or _clear(p, known)]
        if len(ends) < 2:
            continue
        (i, p), (j, q) = sorted(die.sample(ends, 2))
        parts = _cut(pieces[number], i, p, j, q)
        if parts is not None and _roomy(parts, known | {p, q}):
            pieces[number : number + 1] = parts
            known |= {p, q}
    drawn = tuple(
        DrawnPatch(draw(letters), piece, Where(line=line + 1)) for line, piece in enumerate(pieces)
    )
    return Drawing("planted", size, Polygons(drawn, Where(line=1)))


def planted_blocks(*, lattice: bool = True, most: int = 24) -> st.SearchStrategy[Block]:
    """Planted partitions, understood."""
    return planted(lattice=lattice, most=most).map(cast.understood)


def _lattice_spots(piece: Polygon) -> list[tuple[int, Point]]:
    """Points with whole coordinates on the boundary, each with the number of its side."""
    spots = []
    for i, p in enumerate(piece):
        q = piece[(i + 1) % len(piece)]
        steps = math.gcd(int(q[0] - p[0]), int(q[1] - p[1]))
        spots += [
            (i, (p[0] + (q[0] - p[0]) * k / steps, p[1] + (q[1] - p[1]) * k / steps))
            for k in range(steps)
        ]
    return spots


def _free_spots(die: random.Random, piece: Polygon) -> list[tuple[int, Point]]:
    """The corners, and one point somewhere on each side."""
    spots = []
    for i, p in enumerate(piece):
        q = piece[(i + 1) % len(piece)]
        share = Fraction(die.randint(1, 999), 1000)
        spots += [
            (i, p),
            (i, (kept(p[0] + (q[0] - p[0]) * share), kept(p[1] + (q[1] - p[1]) * share))),
        ]
    return spots


def _clear(p: Point, known: set[Point]) -> bool:
    x, y = float(p[0]), float(p[1])
    return all(math.hypot(x - float(q[0]), y - float(q[1])) >= ROOM for q in known)


def _cut(piece: Polygon, i: int, p: Point, j: int, q: Point) -> list[Polygon] | None:
    """The two sides of the chord from p on side i to q on side j, or None if it cuts nothing."""
    if i == j or p == q:
        return None
    one = [p, *piece[i + 1 : j + 1], q]
    other = [q, *piece[j + 1 :], *piece[: i + 1], p]
    parts = []
    for loop in (one, other):
        clean = tuple(v for k, v in enumerate(loop) if v != loop[k - 1])
        if len(clean) < 3 or area(clean) < ROOM:
            return None
        parts.append(clean)
    return parts


def _roomy(parts: list[Polygon], known: set[Point]) -> bool:
    """Whether no vertex lies near a side that it is not on."""
    spots = np.array([(float(x), float(y)) for x, y in known])
    for part in parts:
        corners = np.array([(float(x), float(y)) for x, y in part])
        for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            (dx, dy), (px, py) = b - a, (spots - a).T
            along, length = px * dx + py * dy, np.hypot(dx, dy)
            beside = np.abs(dx * py - dy * px) / length
            close = (
                (along >= 0) & (along <= length**2) & (beside > float(SAME)) & (beside < ROOM / 2)
            )
            if close.any():
                return False
    return True


# Merged and tiled partitions ----------------------------------------------------------------------

LatticePoint = tuple[int, int]

seeds = st.integers(0, 2**32 - 1)
"""Seeds of a die. One number shrinks badly, but every number is another map: a drawn die prefers
its smallest answers, and so the plainest maps again and again."""


@st.composite
def merged(draw: st.DrawFn, *, fewest: int = 4, most: int = 10, across: int = 4) -> Drawing:
    """Squares of a lattice, some split, merged at random into fewer patches: bent ones too, and
    corners that must be set in. Every patch is one piece without a hole or a pinch."""
    die = random.Random(draw(seeds))
    wide, high = die.randint(2, across), die.randint(3, across)
    splits = die.choice([0.0, 0.2, 0.4])
    pieces: list[list[LatticePoint]] = []
    for y in range(high):
        for x in range(wide):
            a, b, c, d = (x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)
            if die.random() >= splits:
                pieces.append([a, b, c, d])
            elif die.random() < 0.5:
                pieces += [[a, b, c], [a, c, d]]
            else:
                pieces += [[a, b, d], [b, c, d]]
    wanted = die.randint(fewest, most)
    for _ in range(10 * TRIES):
        if len(pieces) <= wanted:
            break
        one = pieces.pop(die.randrange(len(pieces)))
        joined = [(i, both) for i, p in enumerate(pieces) if (both := _together(one, p))]
        if joined:
            i, both = die.choice(joined)
            pieces[i] = both
        else:
            pieces.insert(0, one)
    return _lattice_drawing("merged", die, pieces, (wide, high))


@st.composite
def tiled(draw: st.DrawFn, *, most: int = 9, across: int = 5, longest: int = 3) -> Drawing:
    """A lattice filled with rectangles at random: straight seams, windmills among them."""
    die = random.Random(draw(seeds))
    for _ in range(TRIES):
        wide, high = die.randint(3, across), die.randint(3, across)
        pieces = _tiles(die, wide, high, longest)
        if len(pieces) <= most:
            break
    return _lattice_drawing("tiled", die, pieces, (wide, high))


@st.composite
def windmills(draw: st.DrawFn, *, most: int = 16) -> Drawing:
    """Windmills of four blades round a square, either hand, in one another and side by side."""
    die = random.Random(draw(seeds))
    wide, high = die.randint(4, 9), die.randint(4, 9)
    pieces = [(0, 0, wide, high)]
    whole: list[tuple[int, int, int, int]] = []
    while pieces and len(pieces) + len(whole) + 4 <= most:
        left, top, right, low = pieces.pop(die.randrange(len(pieces)))
        if right - left < 3 or low - top < 3 or die.random() < 0.1:
            whole.append((left, top, right, low))
            continue
        x1, x2 = sorted(die.sample(range(left + 1, right), 2))
        y1, y2 = sorted(die.sample(range(top + 1, low), 2))
        pieces.append((x1, y1, x2, y2))
        if die.random() < 0.5:
            pieces += [(left, top, x2, y1), (x2, top, right, y2)]
            pieces += [(x1, y2, right, low), (left, y1, x1, low)]
        else:
            pieces += [(x1, top, right, y1), (x2, y1, right, low)]
            pieces += [(left, y2, x2, low), (left, top, x1, y2)]
    loops = [[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in [*whole, *pieces]]
    return _lattice_drawing("windmills", die, loops, (wide, high))


def _tiles(die: random.Random, wide: int, high: int, longest: int) -> list[list[LatticePoint]]:
    free = {(x, y) for y in range(high) for x in range(wide)}
    pieces = []
    for y in range(high):
        for x in range(wide):
            if (x, y) not in free:
                continue
            right = x + 1
            while right - x < longest and (right, y) in free and die.random() < 0.6:
                right += 1
            low = y + die.randint(1, min(longest, high - y))
            free -= {(i, j) for i in range(x, right) for j in range(y, low)}
            pieces.append([(x, y), (right, y), (right, low), (x, low)])
    return pieces


def _together(one: list[LatticePoint], other: list[LatticePoint]) -> list[LatticePoint] | None:
    """Two loops that share edges as one loop; None if that is no single simple loop."""
    darts = {
        (a, b) for loop in (one, other) for a, b in zip(loop, loop[1:] + loop[:1], strict=True)
    }
    onward = [(a, b) for a, b in sorted(darts) if (b, a) not in darts]
    follow = dict(onward)
    if len(onward) == len(darts) or len(follow) < len(onward):
        return None
    loop = [onward[0][0]]
    while follow[loop[-1]] != loop[0]:
        loop.append(follow[loop[-1]])
    return loop if len(loop) == len(onward) else None


def _lattice_drawing(
    name: str, die: random.Random, pieces: list[list[LatticePoint]], size: LatticePoint
) -> Drawing:
    unit = 2
    patches = tuple(
        DrawnPatch(
            die.choice(FABRICS),
            corners_only([(Fraction(unit * x), Fraction(unit * y)) for x, y in piece]),
            Where(line=line + 1),
        )
        for line, piece in enumerate(pieces)
    )
    finished = (Fraction(unit * size[0]), Fraction(unit * size[1]))
    return Drawing(name, finished, Polygons(patches, Where(line=1)))


# The same drawing, typed otherwise ----------------------------------------------------------------


def typed(drawing: Drawing, decimals: int) -> Drawing:
    """A drawing of polygons as somebody types it to so many decimals."""
    return moved(
        drawing,
        lambda p: (round(p[0], decimals), round(p[1], decimals)),
    )


def rotated(drawing: Drawing, angle: float, decimals: int) -> Drawing:
    """A drawing of polygons turned clockwise by an angle in radians about the origin, brought back
    to its bounding box, and typed to so many decimals."""
    c, s = math.cos(angle), math.sin(angle)
    turned = moved(
        drawing,
        lambda p: (
            Fraction(float(p[0]) * c - float(p[1]) * s),
            Fraction(float(p[0]) * s + float(p[1]) * c),
        ),
    )
    return typed(turned, decimals)


def moved(drawing: Drawing, move: Callable[[Point], Point]) -> Drawing:
    """A drawing of polygons with every point moved, brought back to its bounding box."""
    drawn = drawing.drawn
    assert isinstance(drawn, Polygons)
    patches = [replace(p, points=tuple(move(q) for q in p.points)) for p in drawn.patches]
    low, high = box([q for patch in patches for q in patch.points])
    return replace(
        drawing,
        finished=(high[0] - low[0], high[1] - low[1]),
        drawn=replace(
            drawn,
            patches=tuple(
                replace(p, points=tuple((x - low[0], y - low[1]) for x, y in p.points))
                for p in patches
            ),
        ),
    )


decimals = st.integers(2, 4)
angles = st.floats(0.0, 2 * math.pi, allow_nan=False)
