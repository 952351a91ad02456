"""What a fold takes up."""

from __future__ import annotations

import math

from seamproof.pressing.model import Way


def fold_share(way: Way, left: bool) -> float:
    """What one side of a seam loses in its fold, in radii of the fold: pressed open both lose the
    same; pressed to one side, the side that is overhung loses one radius and the other, on which
    the allowances lie, the rest of half a turn.

    >>> round(fold_share("left", True) + fold_share("left", False), 4), fold_share("right", True)
    (3.1416, 1.0)
    """
    if way == "open":
        return math.pi / 2 - 1
    return math.pi - 1 if (way == "left") == left else 1.0
