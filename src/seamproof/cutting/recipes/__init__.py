"""How units are made: one module per family, found through one tuple."""

from __future__ import annotations

from seamproof.cutting.recipes import geese, half_square, hourglass
from seamproof.cutting.recipes.making import Method

METHODS: tuple[Method, ...] = (
    half_square.TwoAtATime(),
    half_square.FromTriangles(),
    hourglass.TwoAtATime(),
    hourglass.FromTriangles(),
    geese.FourAtATime(),
    geese.FromTriangles(),
)
"""Every method. Of those that suit a unit and its count the first is chosen."""
