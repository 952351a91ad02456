"""Small blocks written as cells, and what is cut for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingList, CuttingSettings, Piece, Recipe
from seamproof.draft.model import Block, Cells, Drawing, Written
from seamproof.findings import Finding, Where
from seamproof.piecing.planning import plan
from tests.cast import understood

EXACT = replace(CuttingSettings(), sizes="exact")
TRIMMED = CuttingSettings()

Length = Fraction | int | str


def block_of(rows: str, width: Length, height: Length | None = None) -> Block:
    """A block from rows of cells, one row a line; square unless a height is given."""
    cells = tuple(
        tuple(Written(text, Where()) for text in row.split()) for row in rows.strip().splitlines()
    )
    finished = (Fraction(width), Fraction(width if height is None else height))
    return understood(Drawing("test", finished, Cells(cells)))


def cut(
    block: Block, settings: CuttingSettings = TRIMMED, copies: int = 1
) -> tuple[CuttingList, tuple[Finding, ...]]:
    """The cutting list of a block that has a plan."""
    its_plan, _ = plan(block)
    assert its_plan is not None
    return cutting_list(block, its_plan, copies=copies, settings=settings)


def listed(block: Block, settings: CuttingSettings = TRIMMED, copies: int = 1) -> CuttingList:
    """The same without what there is to say about it."""
    return cut(block, settings, copies)[0]


def rows_of(made: CuttingList) -> list[tuple[str, str, str, str, int]]:
    """Letter, width, height, split and count of every row of the table."""
    return [
        (p.letter, str(p.width.ruler), str(p.height.ruler), p.split, p.count) for p in made.pieces
    ]


def recipe_for(made: CuttingList, kind: str) -> Recipe:
    """The only recipe for a kind of unit."""
    (recipe,) = [recipe for recipe in made.recipes if recipe.kind == kind]
    return recipe


def piece_of(made: CuttingList, fabric: str, unit: str | None = None) -> Piece:
    """The only row of a fabric (for a kind of unit)."""
    (piece,) = [p for p in made.pieces if p.fabric == fabric and (unit is None or p.unit == unit)]
    return piece


def hst(finished: Length) -> Block:
    """Two half-square triangles side by side: alike but for a turn."""
    side = Fraction(finished)
    return block_of("a/b b/a", 2 * side, side)


def hourglass(finished: Length, fabrics: Sequence[str] = "abab") -> Block:
    """One hourglass, fabrics clockwise from the top."""
    return block_of(".".join(fabrics), finished)


def geese(width: Length, height: Length, count: int = 4) -> Block:
    """Geese above one another; sky a, goose b."""
    w, h = Fraction(width), Fraction(height)
    return block_of("\n".join(["a/b b=\\a"] * count), w, h * count)


def nine_patch(finished: Length) -> Block:
    """Five squares of a and four of b."""
    return block_of("a b a\nb a b\na b a", finished)
