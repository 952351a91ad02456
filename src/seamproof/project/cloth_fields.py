"""What ``quilt.yaml`` says about cloth: how shops cut, what is on the shelf, what it costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from seamproof.cloth.buying import Buying, ShopCut
from seamproof.cloth.model import Fixed
from seamproof.errors import InputError
from seamproof.findings import Where
from seamproof.length.notation import Measure
from seamproof.project import limits
from seamproof.project.amounts import money, per_cent
from seamproof.project.cloth_pieces import cloth_piece
from seamproof.project.fields import Fields
from seamproof.project.model import Supply
from seamproof.project.yaml_tree import Node

SUPPLY_KEYS = ("cut from", "shelf", "price")
BUYING_KEYS = ("shop cut", "straightening", "shrinkage")

YARDAGE = "yardage"
"""The word for cloth by the yard or metre among what a fabric is cut from."""

WIDEST_STRAIGHTENING = Fraction(18)
MOST_SHRINKAGE = 25
"""Per cent. Loom-state cloth shrinks by up to a tenth (trade table, family "shrink")."""

SHOP_CUT_WORDS: Mapping[str, ShopCut] = {
    "1/8 yd": "1/8 yd",
    "1/4 yd": "1/4 yd",
    "10 cm": "10 cm",
}


def supply(fields: Fields, values: Mapping[str, Node]) -> Supply:
    """What there is of a fabric besides a bolt, and what it costs."""
    made = Supply()
    if "cut from" in values:
        fixed, yardage = _cut_from(fields, values["cut from"])
        made = replace(made, fixed=fixed, yardage=yardage)
    if "shelf" in values:
        pieces = fields.items(
            values["shelf"], "shelf", limits.PIECES_OF_CLOTH, "write each on a line: - 2 of 18 x 21"
        )
        shelf = [_piece(fields, item) for item in pieces]
        made = replace(
            made, shelf=tuple((replace(p, count=p.count or 1), where) for p, where in shelf)
        )
    if "price" in values:
        made = replace(made, price=money(fields, values["price"]))
    return made


def buying(fields: Fields, values: Mapping[str, Node], measure: Measure) -> Buying:
    """How cloth is bought; what is not said is as usual in the `measure`."""
    made = Buying.metric() if measure == "cm" else Buying()
    if "shop cut" in values:
        made = replace(made, shop_cut=fields.word(values["shop cut"], "shop cut", SHOP_CUT_WORDS))
    if "straightening" in values:
        length = fields.length(
            values["straightening"], "the straightening", Fraction(0), WIDEST_STRAIGHTENING
        )
        made = replace(made, straightening=length)
    if "shrinkage" in values:
        made = replace(
            made, shrinkage=per_cent(fields, values["shrinkage"], "the shrinkage", MOST_SHRINKAGE)
        )
    return made


def _cut_from(fields: Fields, node: Node) -> tuple[tuple[tuple[Fixed, Where], ...], bool]:
    found: list[tuple[Fixed, Where]] = []
    yardage = False
    mend = "write each on a line: - fat quarter"
    for item in fields.items(node, "cut from", limits.PIECES_OF_CLOTH, mend):
        if fields.text(item, "what it is cut from").lower() == YARDAGE:
            yardage = True
        else:
            found.append(_piece(fields, item))
    return tuple(found), yardage


def _piece(fields: Fields, node: Node) -> tuple[Fixed, Where]:
    text = fields.text(node, "a piece of cloth")
    try:
        return cloth_piece(text, fields.measure), fields.where(node)
    except InputError as problem:
        raise fields.document.placed(problem, node) from None
