"""A small block worked out by hand: a four-patch of 12 in with two half-square triangle units.

So that pictures and sheets can be tested without the stages that make cutting lists.
"""

from __future__ import annotations

from fractions import Fraction

from seamproof.cutting.model import CuttingList, Piece, Recipe, Step, Stock
from seamproof.cutting.recipes.making import part_name
from seamproof.draft.model import Block, Fabric
from seamproof.length.rounding import Size
from seamproof.piecing.model import Join, Leaf, PiecingPlan
from seamproof.piecing.planning import plan
from tests.cast import polygon_drawing, understood

FABRICS = (
    Fabric("a", "Sea mist", "#F2EFE6", "light"),
    Fabric("b", "Channel", "#26587D", "medium-dark"),
    Fabric("c", "Buoy", "#C9563B", "medium"),
)


def fabrics_for(some: Block) -> tuple[Fabric, ...]:
    """A fabric for each letter of a block, light and dark in turn."""
    letters = sorted({patch.fabric for patch in some.patches})
    colours = ("#F2EFE6", "#26587D", "#F2C250", "#141F3B", "#7AB0AD", "#C9563B")
    return tuple(
        Fabric(letter, f"Cloth {letter.upper()}", colours[i % len(colours)], "medium")
        for i, letter in enumerate(letters)
    )


def block() -> Block:
    """Two units of a over b, two squares of c."""
    return understood(
        polygon_drawing(
            "Half lamp",
            (12, 12),
            [
                ("a", [(0, 0), (6, 0), (0, 6)]),
                ("b", [(6, 0), (6, 6), (0, 6)]),
                ("c", [(6, 0), (12, 0), (12, 6), (6, 6)]),
                ("c", [(0, 6), (6, 6), (6, 12), (0, 12)]),
                ("a", [(6, 6), (12, 6), (6, 12)]),
                ("b", [(12, 6), (12, 12), (6, 12)]),
            ],
        )
    )


def piecing() -> PiecingPlan:
    """How it goes together."""
    made, _ = plan(block())
    assert made is not None
    return made


def leaves(made: PiecingPlan, part: int) -> list[str]:
    """Fabrics of the patches of a part."""
    way = made.parts[part].made
    if isinstance(way, Leaf):
        return [way.fabric]
    assert isinstance(way, Join)
    return leaves(made, way.left.part) + leaves(made, way.right.part)


def square(
    side: Fraction, x: Fraction = Fraction(0), y: Fraction = Fraction(0)
) -> tuple[tuple[Fraction, Fraction], ...]:
    """An upright square with its upper left corner at (x, y)."""
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def size(value: Fraction | int, need: float | None = None) -> Size:
    """A size on the ruler."""
    return Size(Fraction(value), float(value) if need is None else need)


def cutting() -> CuttingList:
    """7 in squares of a and b, two at a time, trimmed to 6 1/2 in; 6 1/2 in squares of c."""
    made = piecing()
    fabrics = [set(leaves(made, i)) for i in range(len(made.parts))]
    hst = fabrics.index({"a", "b"})
    half = fabrics.index({"c"})
    upper, lower = (
        i
        for i, part in enumerate(made.parts)
        if isinstance(part.made, Join) and i not in (hst, made.whole)
    )
    if made.parts[upper].made.right.part == hst:  # type: ignore[union-attr]
        upper, lower = lower, upper
    cut, trim = Fraction(7), Fraction(13, 2)
    need = 6 + 0.25 * (2 + 2**0.5)
    pieces = tuple(
        Piece(
            letter,
            fabric,
            "square",
            size(cut, need),
            size(cut, need),
            1,
            "whole",
            "length",
            "trimmed",
            hst,
            "half-square triangle",
            "two at a time",
            trim=(trim, trim),
        )
        for letter, fabric in (("Aa", "a"), ("Ba", "b"))
    )
    plain = Piece(
        "Ca",
        "c",
        "square",
        size(trim),
        size(trim),
        2,
        "whole",
        "length",
        "on the ruler",
        half,
        "square",
        "cut",
    )
    off = Fraction(1, 4) * Fraction(141421, 100000)
    stitched = (((cut - off, Fraction(0)), (Fraction(0), cut - off)), ((cut, off), (off, cut)))
    diagonal = ((cut, Fraction(0)), (Fraction(0), cut))
    opened = square(cut - off)
    sew = Step(
        "sew",
        (Stock("Aa", square(cut), 1), Stock("Ba", square(cut), 1, "down")),
        (Stock("unit", opened, 2),),
        drawn=(diagonal,),
        stitched=stitched,
        cuts=(diagonal,),
        measure=(size(cut - off), size(cut - off)),
    )
    inset = (cut - off - trim) / 2
    low, high = inset, inset + trim
    trimmed = Step(
        "trim",
        (Stock("unit", opened, 2),),
        (Stock(part_name(hst), square(trim, inset, inset), 2),),
        cuts=(
            ((low, Fraction(0)), (low, cut - off)),
            ((high, Fraction(0)), (high, cut - off)),
            ((Fraction(0), low), (cut - off, low)),
            ((Fraction(0), high), (cut - off, high)),
        ),
        measure=(size(trim), size(trim)),
    )
    recipe = Recipe(
        hst,
        "half-square triangle",
        "two at a time",
        2,
        2,
        0,
        pieces,
        (sew, trimmed),
        trim=(trim, trim),
        waste=0.14,
    )
    row = Fraction(25, 2)
    wide = ((Fraction(0), Fraction(0)), (row, Fraction(0)), (row, trim), (Fraction(0), trim))
    zero, edge = Fraction(0), trim - Fraction(1, 4)
    # Face down the corners run the other way round: each list begins at corner 0 of the thing.
    unit_on_its_face = ((trim, zero), (trim, trim), (zero, trim), (zero, zero))
    row_on_its_face = ((zero, trim), (zero, zero), (row, zero), (row, trim))
    side_by_side = (((edge, zero), (edge, trim)),)
    joins = (
        Step(
            "sew",
            (Stock(part_name(hst), square(trim), 1), Stock("Ca", square(trim), 1, "down")),
            (Stock(part_name(upper), wide, 1),),
            stitched=side_by_side,
            measure=(size(row), size(trim)),
        ),
        Step(
            "sew",
            (
                Stock("Ca", square(trim), 1),
                Stock(part_name(hst), unit_on_its_face, 1, "down"),
            ),
            (Stock(part_name(lower), wide, 1),),
            stitched=side_by_side,
            measure=(size(row), size(trim)),
        ),
        Step(
            "sew",
            (Stock(part_name(upper), wide, 1), Stock(part_name(lower), row_on_its_face, 1, "down")),
            (Stock(part_name(made.whole), square(row), 1),),
            stitched=(((zero, edge), (row, edge)),),
            measure=(size(row), size(row)),
        ),
    )
    singly = Recipe(half, "square", "as cut", 1, 2, 0, (plain,), ())
    return CuttingList(1, (*pieces, plain), (recipe, singly), (sew, trimmed, *joins))
