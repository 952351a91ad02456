"""The eight-pointed star, at any size."""

from __future__ import annotations

import math

from seamproof.draft.model import Block
from tests.cutting.recipes.proving import ROOT2, drawn


def star(size: float) -> Block:
    """An eight-pointed star with its squares and triangles."""
    d = size / (2 + ROOT2)
    m, e = size / 2, size - d
    inner = [
        (m + d * math.cos(a), m + d * math.sin(a)) for a in (math.pi / 4 * i for i in range(8))
    ]
    patches: list[tuple[str, list[tuple[float, float]]]] = []
    for i, (a, b) in enumerate(zip(inner, [*inner[1:], inner[0]], strict=True)):
        patches.append(("de"[i % 2], [(m, m), a, (a[0] + b[0] - m, a[1] + b[1] - m), b]))
    patches += [
        ("a", [(x, y), (x + d, y), (x + d, y + d), (x, y + d)]) for x in (0.0, e) for y in (0.0, e)
    ]
    patches += [
        ("c", [(d, 0), (e, 0), (m, m - d)]),
        ("c", [(e, size), (d, size), (m, m + d)]),
        ("c", [(0, e), (0, d), (m - d, m)]),
        ("c", [(size, d), (size, e), (m + d, m)]),
    ]
    return drawn(patches)
