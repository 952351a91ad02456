"""Split quarter squares, drawn."""

from __future__ import annotations

from fractions import Fraction

from seamproof.draft.model import Block
from tests.cutting.recipes.proving import drawn

F = Fraction


def units(hands: str, fabrics: str = "cab", side: int = 3, turn: Fraction = F(0)) -> Block:
    """Units in a row, L as the pattern lies, R its mirror twin; fabrics of the half, of the quarter
    at the top and of the one at the side."""
    half, top, quarter = tuple(fabrics)
    f, m = F(side), F(side) / 2
    patches = []
    for k, hand in enumerate(hands):
        own = [
            (half, [(f, F(0)), (f, f), (F(0), f)]),
            (top, [(F(0), F(0)), (f, F(0)), (m, m)]),
            (quarter, [(F(0), F(0)), (m, m), (F(0), f)]),
        ]
        for fabric, corners in own:
            seen = [(x if hand == "L" else f - x, y) for x, y in corners]
            patches.append((fabric, [(x + k * f, y) for x, y in seen]))
    return drawn(patches, turn)
