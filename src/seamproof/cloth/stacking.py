"""How many layers are cut at once.

More layers save cuts; too many slip, and the lowest come out another size than the upper. What the
trade does: four to six layers for squares, two for long strips, one where edges are on the bias
(common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from seamproof.cloth.pooling import Kind

Handling = Literal["short", "long", "bias"]
"""Short pieces, strips from selvage to selvage, pieces with edges on the bias."""

USUAL: dict[Handling, int] = {"short": 4, "long": 2, "bias": 1}
"""Layers under the ruler (common practice, no source)."""

MOST: dict[Handling, int] = {"short": 6, "long": 2, "bias": 1}
"""Layers at most: so many if that saves another stack (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Stacks:
    """`count` stacks of up to `layers` layers; the last may have fewer."""

    count: int
    layers: int


def handling(kind: Kind) -> Handling:
    """How a kind of piece is handled when it is cut out of its strip."""
    if kind.outline == "strip":
        return "long"
    return "short" if kind.outline == "box" else "bias"


def stacked(alike: int, how: Handling) -> Stacks:
    """How `alike` strips or pieces are stacked to be cut at once.

    >>> stacked(63, "short"), stacked(5, "short")
    (Stacks(count=16, layers=4), Stacks(count=1, layers=5))
    >>> stacked(3, "long"), stacked(0, "bias")
    (Stacks(count=2, layers=2), Stacks(count=0, layers=0))
    """
    if alike <= 0:
        return Stacks(0, 0)
    if alike <= MOST[how]:
        return Stacks(1, alike)
    return Stacks(-(-alike // USUAL[how]), USUAL[how])
