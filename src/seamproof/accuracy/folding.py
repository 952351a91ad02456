"""What a fold takes up, and how far a point lies clear of the next seam."""

from __future__ import annotations

import math
from collections.abc import Callable

from seamproof.accuracy.lines import Array, Line, meet
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


def clearance(
    run: Line,
    left: bool,
    pair: tuple[Line, Line],
    off: Callable[[Line, float], Array],
    point: complex,
    edge: Array,
) -> Array:
    """The row of how far the point in which a pair of seams of one side meets lies clear of a line
    along `run` whose outward offset from that side is `edge`."""
    one, other = pair
    x, y = meet(one, off(one, one.place(point)), other, off(other, other.place(point)))
    sign = 1 if left else -1
    n = run.normal * sign  # into the side that carries the point
    row: Array = n.real * x + n.imag * y + edge
    return row
