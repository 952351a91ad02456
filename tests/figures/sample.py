"""A small block worked out by hand: a four-patch of 12 in with two half-square triangle units.

So that pictures and sheets can be tested without the stages that make cutting lists.
"""

from __future__ import annotations

from fractions import Fraction as F

from seamproof.cutting.model import CuttingList, Piece, Recipe, Step, Stock
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


def square(side: F, x: F = F(0), y: F = F(0)) -> tuple[tuple[F, F], ...]:
    """An upright square with its upper left corner at (x, y)."""
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def size(value: F | int, need: float | None = None) -> Size:
    """A size on the ruler."""
    return Size(F(value), float(value) if need is None else need)


def cutting() -> CuttingList:
    """7 in squares of a and b, two at a time, trimmed to 6 1/2 in; 6 1/2 in squares of c."""
    made = piecing()
    fabrics = [set(leaves(made, i)) for i in range(len(made.parts))]
    hst = fabrics.index({"a", "b"})
    half = fabrics.index({"c"})
    cut, trim = F(7), F(13, 2)
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
    off = F(1, 4) * F(141421, 100000)
    stitched = (((cut - off, F(0)), (F(0), cut - off)), ((cut, off), (off, cut)))
    diagonal = ((cut, F(0)), (F(0), cut))
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
        (Stock("half-square triangle", square(trim, inset, inset), 2),),
        cuts=(
            ((low, F(0)), (low, cut - off)),
            ((high, F(0)), (high, cut - off)),
            ((F(0), low), (cut - off, low)),
            ((F(0), high), (cut - off, high)),
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
    row = F(25, 2)
    joins = (
        Step(
            "sew",
            (Stock("half-square triangle", square(trim), 2), Stock("Ca", square(trim), 2, "down")),
            (Stock("row", ((F(0), F(0)), (row, F(0)), (row, trim), (F(0), trim)), 2),),
            stitched=(((trim - F(1, 4), F(0)), (trim - F(1, 4), trim)),),
            measure=(size(row), size(trim)),
        ),
        Step(
            "sew",
            (
                Stock("row", ((F(0), F(0)), (row, F(0)), (row, trim), (F(0), trim)), 1),
                Stock("row", ((F(0), F(0)), (row, F(0)), (row, trim), (F(0), trim)), 1, "down"),
            ),
            (Stock("block", square(row), 1),),
            stitched=(((F(0), trim - F(1, 4)), (row, trim - F(1, 4))),),
            measure=(size(row), size(row)),
        ),
    )
    return CuttingList(1, (*pieces, plain), (recipe,), (sew, trimmed, *joins))
