"""Blocks with rows of diamonds in them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from seamproof.draft.model import Block
from tests.cutting.recipes.proving import ROOT2, drawn


def row(fabrics: str, angle: int, *, width: float = 2, lean: int = 1) -> Block:
    """Diamonds of this angle, one below the other, that run to the right (1) or to the left (-1);
    and two triangles that make a block of them. `width` is a diamond's side."""
    high = len(fabrics) * width * math.sin(math.radians(angle))
    way = lean * high / math.tan(math.radians(angle))
    left, right = max(0.0, -way), max(width, width + way)

    def at(x: float, share: float) -> tuple[float, float]:
        """A point of the row: along its upper side, and down by a share of its height."""
        return max(0.0, -way) + x + way * share, high * share

    patches: list[tuple[str, list[tuple[float, float]]]] = []
    for k, fabric in enumerate(fabrics):
        top, bottom = k / len(fabrics), (k + 1) / len(fabrics)
        corners = [at(0, top), at(width, top), at(width, bottom), at(0, bottom)]
        patches.append((fabric, corners))
    end = left + right if lean < 0 else right
    if lean > 0:
        patches.append(("z", [(0, 0), at(0, 1), (0, high)]))
        patches.append(("z", [at(width, 0), (end, 0), at(width, 1)]))
    else:
        patches.append(("z", [(0, 0), at(0, 0), at(0, 1)]))
        patches.append(("z", [at(width, 0), (at(width, 0)[0], high), at(width, 1)]))
    return drawn(patches)


def star(rows: Sequence[str], size: float = 16, turn: Fraction = Fraction(0)) -> Block:
    """A star of eight points, each of as many rows of diamonds as are written, the innermost
    first."""
    n, m = len(rows), size / 2
    reach = size / (2 + ROOT2)
    ways = [(math.cos(k * math.pi / 4), math.sin(k * math.pi / 4)) for k in range(10)]
    patches: list[tuple[str, list[tuple[float, float]]]] = []

    def at(k: int, i: float, j: float) -> tuple[float, float]:
        """A point in tip k, by its place along the tip's two inner sides."""
        (ux, uy), (vx, vy) = ways[k], ways[k + 1]
        return round(m + reach * (ux * i + vx * j), 9), round(m + reach * (uy * i + vy * j), 9)

    for k in range(8):
        for i, fabrics in enumerate(rows):
            for j, fabric in enumerate(fabrics):
                places = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)]
                patches.append((fabric, [at(k, a / n, b / n) for a, b in places]))
        x, y = ways[k + 1]
        between = [at(k, 0, 1), at(k, 1, 1), at(k + 1, 1, 1)]
        if k % 2 == 0:
            corner = (size if x > 0 else 0.0, size if y > 0 else 0.0)
            between = [between[0], between[1], corner, between[2]]
        patches.append(("y", between))
    return drawn(patches, turn)
