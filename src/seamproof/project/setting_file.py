"""What ``quilt.yaml`` says about the top: its ``setting``."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Literal

from seamproof.errors import LengthError
from seamproof.length.exact import CM
from seamproof.length.notation import parse
from seamproof.project import limits
from seamproof.project.fields import Fields
from seamproof.project.yaml_tree import Items, Keys, Node, Scalar, shortened
from seamproof.setting.habits import HABITS, Habits
from seamproof.setting.model import (
    BackingAsked,
    BindingAsked,
    BorderAsked,
    Coping,
    LabelAsked,
    Measured,
    SetCell,
    Setting,
    Strip,
    Way,
)

SETTING_KEYS = (
    *("way", "rows", "cell", "coping", "coping trim", "sashing", "cornerstones", "outer sashing"),
    *("triangles", "floating", "borders", "binding", "backing", "batting", "sleeve", "label"),
    *("measured", "quilting price"),
)
BORDER_KEYS = (*("width", "fabric", "corners", "corner squares", "cut", "units", "unit", "spacer"),)
BINDING_KEYS = ("fabric", "width", "way", "extra")
BACKING_KEYS = ("fabric", "width", "margin", "seam")
LABEL_KEYS = ("width", "height", "fabric")

WAYS: Mapping[str, Way] = {"straight": "straight", "on point": "on point"}
CORNERS: Mapping[str, Literal["butted", "mitred", "squares"]] = {
    "butted": "butted",
    "mitred": "mitred",
    "squares": "squares",
}
CUTS: Mapping[str, Literal["across", "lengthwise"]] = {
    "across": "across",
    "lengthwise": "lengthwise",
}
BINDING_WAYS: Mapping[str, Literal["cross-grain", "bias"]] = {
    "cross-grain": "cross-grain",
    "bias": "bias",
}

MOST_BORDERS = 20
"""Borders round one top."""

_NOTHING = Fraction(0)
_PLAIN = re.compile("plain +([a-z]{1,2})")
_OF = re.compile(r"(.*\S) +of +(\S+)")
_PRICE = re.compile("[0-9]{1,6}([.,][0-9]{1,4})?")
_ROW = "write each row on a line: - [Lamp Room, Lit Window]"
_STRIP = "write its finished width and its fabric: 1 1/2 of a"


def setting_of(fields: Fields, node: Node) -> Setting:
    """What the file says about the top, the rest as is usual.

    Raises InputError at the place of whatever cannot be read. Whether it can be set is asked later.
    """
    values = fields.keys(node, "the setting", SETTING_KEYS, required=("rows",))
    usual = HABITS[fields.measure]
    return Setting(
        rows=_rows(fields, values["rows"]),
        way=fields.word(values["way"], "the way", WAYS) if "way" in values else "straight",
        cell=_size(fields, values["cell"], "the cell") if "cell" in values else None,
        coping=_coping(fields, values["coping"]) if "coping" in values else (),
        trim=_up_to(fields, values, "coping trim", limits.WIDEST_SEAM),
        sashing=_strip(fields, values["sashing"], "the sashing") if "sashing" in values else None,
        cornerstones=_fabric(fields, values, "cornerstones"),
        outer="outer sashing" not in values or fields.yes(values["outer sashing"], "outer sashing"),
        triangles=_fabric(fields, values, "triangles"),
        floating=_up_to(fields, values, "floating", limits.LARGEST),
        borders=_borders(fields, values["borders"]) if "borders" in values else (),
        binding=_binding(fields, values.get("binding"), usual),
        backing=_backing(fields, values.get("backing"), usual),
        batting=_up_to(fields, values, "batting", limits.LARGEST, usual.margin),
        sleeve=_strip(fields, values["sleeve"], "the sleeve") if "sleeve" in values else None,
        label=_label(fields, values["label"]) if "label" in values else None,
        measured=_measured(fields, values["measured"]) if "measured" in values else (),
        price=_price(fields, values["quilting price"])
        if "quilting price" in values
        else usual.price,
        where=fields.where(node),
    )


def _rows(fields: Fields, node: Node) -> tuple[tuple[SetCell, ...], ...]:
    rows = fields.items(node, "rows", limits.SIDE, _ROW)
    return tuple(_cells(fields, row, "a row", limits.SIDE, _ROW) for row in rows)


def _cells(fields: Fields, node: Node, what: str, most: int, mend: str = "") -> tuple[SetCell, ...]:
    return tuple(_cell(fields, item) for item in fields.items(node, what, most, mend))


def _cell(fields: Fields, node: Node) -> SetCell:
    """A block's name, each ' behind it a quarter turn; or ``plain`` and a fabric."""
    text = fields.text(node, "a place in the layout", limits.NAME_LENGTH + 4)
    plain = _PLAIN.fullmatch(text)
    if plain:
        return SetCell(plain[1], plain=True, where=fields.where(node))
    name = text.rstrip("'")
    quarters = len(text) - len(name)
    if quarters > 3:
        raise fields.refusal(node, "four quarter turns are a whole one", "leave out all of them")
    if not name.strip():
        raise fields.refusal(node, "a turn without a block", "write the block's name before it")
    return SetCell(name.strip(), quarters, where=fields.where(node))


def _size(fields: Fields, node: Node, what: str) -> tuple[Fraction, Fraction]:
    """One length for both, or [width, height]."""
    if isinstance(node, Items):
        if len(node.items) != 2:
            raise fields.refusal(node, f"{what} is not two lengths", "write it as [width, height]")
        width, height = (fields.length(item, what) for item in node.items)
        return width, height
    side = fields.length(node, what)
    return side, side


def _strip(fields: Fields, node: Node, what: str) -> Strip:
    """``1 1/2 of a``: a finished width and a fabric. The fabric may be missing: that is said when
    the top is worked out, with everything else that lacks one."""
    text = fields.text(node, what)
    found = _OF.fullmatch(text)
    width = found[1] if found else text
    letter = found[2] if found else None
    try:
        length = parse(width, unit=fields.measure)
    except LengthError as problem:
        raise fields.document.placed(LengthError(problem.what, mend=_STRIP), node) from None
    if not limits.SMALLEST <= length <= limits.LARGEST:
        raise fields.refusal(node, f"{what} cannot be {shortened(width)} wide", "check the number")
    if letter is not None and not re.fullmatch("[a-z]{1,2}", letter):
        raise fields.refusal(
            node, f'"{shortened(letter)}" is not one or two small letters for a fabric', _STRIP
        )
    return Strip(length, letter, fields.where(node))


def _coping(fields: Fields, node: Node) -> tuple[Coping, ...]:
    found = []
    for key, value in fields.named(node, "coping", limits.BLOCKS):
        what = f"coping of {shortened(key.text)}"
        items: Sequence[Node] = (
            (value,)
            if isinstance(value, Scalar)
            else fields.items(value, what, MOST_BORDERS, _STRIP)
        )
        strips = tuple(_strip(fields, item, what) for item in items)
        found.append(Coping(key.text, strips, fields.where(key)))
    return tuple(found)


def _borders(fields: Fields, node: Node) -> tuple[BorderAsked, ...]:
    mend = "write each as - {width: 4, fabric: a}, the innermost first"
    return tuple(
        _border(fields, item) for item in fields.items(node, "borders", MOST_BORDERS, mend)
    )


def _border(fields: Fields, node: Node) -> BorderAsked:
    values = fields.keys(node, "a border", BORDER_KEYS, required=("width",))
    squares = _fabric(fields, values, "corner squares")
    units = _cells(fields, values["units"], "units", limits.SIDE) if "units" in values else ()
    unit = fields.length(values["unit"], "the unit") if "unit" in values else None
    if unit is not None and not units:
        raise fields.refusal(values["unit"], "a unit without units", "list the units, in turn")
    corners = (
        fields.word(values["corners"], "the corners", CORNERS)
        if "corners" in values
        else ("squares" if squares is not None or units else "butted")
    )
    if units and corners != "squares":
        raise fields.refusal(
            values["corners"], "a pieced border has corner squares", "leave corners: out"
        )
    if "spacer" in values and not units:
        raise fields.refusal(
            values["spacer"], "only a pieced border needs a spacer", "add a border of its own"
        )
    return BorderAsked(
        width=fields.length(values["width"], "the border"),
        fabric=_fabric(fields, values, "fabric"),
        corners=corners,
        squares=squares,
        lengthwise="cut" in values and fields.word(values["cut"], "cut", CUTS) == "lengthwise",
        units=units,
        unit=unit,
        spacer=_fabric(fields, values, "spacer"),
        where=fields.where(node),
    )


def _binding(fields: Fields, node: Node | None, usual: Habits) -> BindingAsked:
    if node is None:
        return BindingAsked(width=usual.binding, extra=usual.extra)
    if isinstance(node, Scalar):
        strip = _strip(fields, node, "the binding")
        return BindingAsked(strip.fabric, strip.width, extra=usual.extra, where=strip.where)
    values = fields.keys(node, "the binding", BINDING_KEYS)
    width = (
        fields.length(values["width"], "the binding", Fraction(1, 2), Fraction(20))
        if "width" in values
        else usual.binding
    )
    return BindingAsked(
        fabric=_fabric(fields, values, "fabric"),
        width=width,
        way=fields.word(values["way"], "the way", BINDING_WAYS)
        if "way" in values
        else "cross-grain",
        extra=_up_to(fields, values, "extra", limits.LARGEST, usual.extra),
        where=fields.where(node),
    )


def _backing(fields: Fields, node: Node | None, usual: Habits) -> BackingAsked:
    if node is None:
        return BackingAsked(margin=usual.margin, seam=usual.backing_seam)
    values = fields.keys(node, "the backing", BACKING_KEYS)
    width = (
        fields.length(values["width"], "the width", Fraction(10), limits.WIDEST_CLOTH)
        if "width" in values
        else None
    )
    return BackingAsked(
        fabric=_fabric(fields, values, "fabric"),
        width=width,
        margin=_up_to(fields, values, "margin", limits.LARGEST, usual.margin),
        seam=_up_to(fields, values, "seam", limits.WIDEST_SEAM, usual.backing_seam),
        where=fields.where(node),
    )


def _label(fields: Fields, node: Node) -> LabelAsked:
    values = fields.keys(node, "the label", LABEL_KEYS, required=("width", "height"))
    return LabelAsked(
        fields.length(values["width"], "the label"),
        fields.length(values["height"], "the label"),
        _fabric(fields, values, "fabric"),
        fields.where(node),
    )


def _measured(fields: Fields, node: Node) -> tuple[Measured, ...]:
    found = []
    for key, value in fields.named(node, "measured", limits.BLOCKS):
        if isinstance(value, Keys):
            raise fields.refusal(value, "a measured size is one length or two", "[12 1/2, 12 3/8]")
        width, height = _size(fields, value, f"the size of {shortened(key.text)}")
        found.append(Measured(key.text, width, height, fields.where(key)))
    return tuple(found)


def _fabric(fields: Fields, values: Mapping[str, Node], key: str) -> str | None:
    return fields.fabric(values[key]) if key in values else None


def _up_to(
    fields: Fields,
    values: Mapping[str, Node],
    key: str,
    most: Fraction,
    usual: Fraction = _NOTHING,
) -> Fraction:
    """A length that may be nothing."""
    return fields.length(values[key], key, _NOTHING, most) if key in values else usual


def _price(fields: Fields, node: Node) -> Fraction:
    """A price for a square inch, written for one, or for a square centimetre."""
    text = fields.text(node, "the price")
    if not _PRICE.fullmatch(text):
        raise fields.refusal(
            node, f'"{shortened(text)}" is not a price', "write a number such as 0.02"
        )
    square = 1 if fields.measure == "in" else CM**2
    return Fraction(text.replace(",", ".")) / square
