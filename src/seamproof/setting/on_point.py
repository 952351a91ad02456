"""On-point settings: blocks on one corner, sewn in diagonal rows, with triangles round them.

The field is laid in the frame of the blocks: u runs along the diagonal rows, v across them; the
top is that frame turned an eighth clockwise, x = (u - v)/√2, y = (u + v)/√2. There everything but
the way a setting floats is rational. A setting of C columns and R rows has C·R blocks and
(C - 1)·(R - 1) between them. With sashing the top's edge runs through the middle of the outermost
cornerstones, so that what fills the edge is the same as without.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from seamproof.length.exact import kept
from seamproof.length.rounding import Size, up
from seamproof.plane.model import Point, Polygon
from seamproof.plane.predicates import area, corners_only
from seamproof.setting.assembling import EIGHTH, ORIGIN, Builder, Lying, upright
from seamproof.setting.cells import Cells
from seamproof.setting.model import Role, SetCell, Setting

SQRT2 = math.sqrt(2)
SLIVER = Fraction(1, 1000)
"""Square inches below which what is left of a cell at the edge is nothing."""

HalfPlane = tuple[Fraction, Fraction, Fraction]
"""(a, b, c): all points with a·u + b·v ≤ c."""


def blocks_in(columns: int, rows: int) -> int:
    """Blocks of an on-point setting.

    >>> blocks_in(4, 5), blocks_in(1, 1)
    (32, 1)
    """
    return columns * rows + (columns - 1) * (rows - 1)


def triangles_in(columns: int, rows: int) -> int:
    """Setting triangles along its edges; the four at the corners come on top.

    >>> triangles_in(4, 5), triangles_in(1, 1)
    (14, 0)
    """
    return 2 * (columns + rows - 2)


def size_of(columns: int, rows: int, block: Fraction, sash: Fraction, floating: Fraction) -> Point:
    """Finished size of an on-point field, kept to the finest length.

    >>> [round(float(n), 3) for n in size_of(3, 4, Fraction(12), Fraction(0), Fraction(0))]
    [50.912, 67.882]
    """
    pitch = float(block + sash) * SQRT2
    width, height = (kept(n * pitch + 2 * float(floating)) for n in (columns, rows))
    return width, height


def setting_square(
    block: Fraction, seam: Fraction, step: Fraction, floating: Fraction = Fraction(0)
) -> Size:
    """The square that is cut twice, corner to corner, into four setting triangles: straight grain
    along the edge of the quilt. Need: block · √2 + seam · (2 + 2√2), and twice what it floats.

    >>> size = setting_square(Fraction(12), Fraction(1, 4), Fraction(1, 4))
    >>> str(size.ruler), round(size.need, 3)
    ('73/4', 18.178)
    """
    need = float(block) * SQRT2 + float(seam) * (2 + 2 * SQRT2) + 2 * float(floating)
    return Size(up(need, step), need)


def corner_square(
    block: Fraction, seam: Fraction, step: Fraction, floating: Fraction = Fraction(0)
) -> Size:
    """The square that is cut once, corner to corner, into two corner triangles: straight grain
    along both edges of the quilt. Need: block / √2 + seam · (2 + √2), and twice what it floats.

    >>> str(corner_square(Fraction(12), Fraction(1, 4), Fraction(1, 8)).ruler)
    '75/8'
    """
    need = float(block) / SQRT2 + float(seam) * (2 + SQRT2) + 2 * float(floating)
    return Size(up(need, step), need)


def columns_of(rows: tuple[tuple[SetCell, ...], ...]) -> tuple[int, int] | None:
    """Columns and rows of an on-point layout; None if its rows do not take turns.

    Rows of C and of C - 1 blocks take turns; a single column has no rows between.
    """
    columns = len(rows[0])
    if columns == 1:
        return (1, len(rows)) if all(len(row) == 1 for row in rows) else None
    turns = all(len(row) == columns - n % 2 for n, row in enumerate(rows))
    return (columns, (len(rows) + 1) // 2) if turns and len(rows) % 2 else None


@dataclass(frozen=True)
class _Lattice:
    """Where things lie in u and v: rows `pitch` apart, row m along v = m·pitch, its blocks at whole
    numbers of pitches along u."""

    columns: int
    rows: int
    block: Fraction
    sash: Fraction
    floating: Fraction

    @property
    def pitch(self) -> Fraction:
        return self.block + self.sash

    @property
    def edges(self) -> tuple[HalfPlane, ...]:
        """The edges of the top: left, right, upper, lower."""
        one, g = Fraction(1), kept(float(self.floating) * SQRT2)
        return (
            (-one, one, g),
            (one, -one, 2 * self.columns * self.pitch + g),
            (-one, -one, g),
            (one, one, 2 * self.rows * self.pitch + g),
        )

    def clipped(self, low: Point, high: Point) -> Polygon:
        """What of a rectangle lies in the top; () if next to nothing."""
        found: list[Point] = list(upright(low, high))
        for edge in self.edges:
            found = _cut(found, edge)
        return corners_only(found) if len(found) > 2 and area(found) > SLIVER else ()

    def row(self, m: int) -> range:
        """Where row m has blocks, in pitches along u: from the first to the last."""
        i0, i1 = max(0, -m), min(self.columns - 1, self.rows - 1 - m)
        return range(2 * i0 + m + 1, 2 * i1 + m + 2)

    def ends(self) -> tuple[Fraction, Fraction]:
        """Far enough out along u to be beyond the top on both sides."""
        far = 2 * (self.columns + self.rows) * self.pitch + 4 * self.floating + self.block
        return -far, far


def on_point_field(setting: Setting, cells: Cells, builder: Builder) -> Lying:
    """The sewn field, turned as it lies in the top: diagonal rows, each with its end triangles."""
    found = columns_of(setting.rows)
    assert found is not None
    assert setting.triangles is not None
    columns, rows = found
    sash = setting.sashing
    lattice = _Lattice(
        columns, rows, cells.size[0], sash.width if sash else Fraction(0), setting.floating
    )
    diagonal = _diagonals(setting)
    half, s, p = lattice.block / 2, lattice.sash, lattice.pitch
    far = lattice.ends()
    fabric = setting.triangles
    bands: list[list[Lying]] = []

    def plain(low: Point, high: Point, cloth: str, role: Role) -> list[Lying]:
        corners = lattice.clipped(low, high)
        return [builder.leaf(cloth, corners, role)] if corners else []

    def ended(inside: list[Lying], first: Fraction, last: Fraction, v: Point, role: Role) -> None:
        start = plain((far[0], v[0]), (first, v[1]), fabric, role)
        end = plain((last, v[0]), (far[1], v[1]), fabric, role)
        bands.append([*start, *inside, *end])

    def sash_band(m: int) -> None:
        """The sashing between rows m and m + 1."""
        if sash is None:
            return
        assert sash.fabric is not None
        v = (m * p + half, m * p + half + s)
        there = [k for n in (m, m + 1) if -columns < n < rows for k in lattice.row(n)]
        first, last = min(there) * p - half - s, max(there) * p + half + s
        if setting.cornerstones is None:
            inside = plain((first, v[0]), (last, v[1]), sash.fabric, "sash")
        else:
            inside = []
            for k in range(min(there), max(there) + 1):
                u = k * p - half
                inside += plain((u - s, v[0]), (u, v[1]), setting.cornerstones, "cornerstone")
                inside += plain((u, v[0]), (u + lattice.block, v[1]), sash.fabric, "sash")
            inside += plain((last - s, v[0]), (last, v[1]), setting.cornerstones, "cornerstone")
        ended(inside, first, last, v, "end piece")

    corner: list[Lying] = plain(
        (far[0], -far[1]), (far[1], -columns * p + half), fabric, "corner triangle"
    )
    bands.append(corner)
    sash_band(-columns)
    for m in range(1 - columns, rows):
        v = (m * p - half, m * p + half)
        where = lattice.row(m)
        inside = []
        if sash and sash.fabric:
            inside += plain(
                (where[0] * p - half - s, v[0]), (where[0] * p - half, v[1]), sash.fabric, "sash"
            )
        for k in where:
            u = k * p - half
            inside.append(cells.lay(builder, diagonal[m, k], (u, v[0])))
            if sash and sash.fabric:
                inside += plain((u + lattice.block, v[0]), (u + p, v[1]), sash.fabric, "sash")
        first, last = where[0] * p - half - s, where[-1] * p + half + s
        bands.append(
            [
                *plain((far[0], v[0]), (first, v[1]), fabric, _end(m == 0)),
                *inside,
                *plain((last, v[0]), (far[1], v[1]), fabric, _end(m == rows - columns)),
            ]
        )
        sash_band(m)
    bands.append(plain((far[0], rows * p - half), (far[1], far[1]), fabric, "corner triangle"))
    field = builder.chain([builder.chain(band) for band in bands if band])
    width, height = size_of(columns, rows, lattice.block, s, setting.floating)
    return builder.turned_whole(field, EIGHTH, upright(ORIGIN, (width, height)))


def _end(at_corner: bool) -> Role:
    return "corner triangle" if at_corner else "setting triangle"


def _diagonals(setting: Setting) -> dict[tuple[int, int], SetCell]:
    """Every cell of the layout by its diagonal row m and its place k along it."""
    return {(m, k): cell for m, k, _, _, cell in walked(setting)}


def walked(setting: Setting) -> Iterator[tuple[int, int, int, int, SetCell]]:
    """Every cell with its diagonal row and place there, and its row and column in the layout."""
    single = len(setting.rows[0]) == 1
    for r, row in enumerate(setting.rows):
        for c, cell in enumerate(row):
            if single:
                yield r, r + 1, r, c, cell
            elif r % 2 == 0:
                j = r // 2
                yield j - c, c + j + 1, r, c, cell
            else:
                i, j = c + 1, (r + 1) // 2
                yield j - i, i + j, r, c, cell


def _cut(polygon: list[Point], plane: HalfPlane) -> list[Point]:
    """A convex polygon on one side of a line."""
    a, b, c = plane
    off = [a * u + b * v - c for u, v in polygon]
    found: list[Point] = []
    for i, (u, v) in enumerate(polygon):
        d, e = off[i - 1], off[i]
        if (d < 0 < e) or (e < 0 < d):
            share = d / (d - e)
            x, y = polygon[i - 1]
            found.append((x + (u - x) * share, y + (v - y) * share))
        if e <= 0:
            found.append((u, v))
    return found
