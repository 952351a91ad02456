"""How units are made: one module per family, found through one tuple."""

from __future__ import annotations

from seamproof.cutting.recipes.half_square import FromTriangles, TwoAtATime
from seamproof.cutting.recipes.making import Method

METHODS: tuple[Method, ...] = (
    TwoAtATime(),
    FromTriangles(),
)
"""Every method. Of those that suit a unit and its count the first is chosen."""
