"""What ``quilt.yaml`` says about pressing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from seamproof.length.exact import CM
from seamproof.pressing.model import WISHES, PressSettings
from seamproof.project.fields import Fields
from seamproof.project.yaml_tree import Node

PRESS_KEYS = ("most layers", "thickest", "cloth thickness", "wishes")

MM = CM / 10
MOST_LAYERS = 100
"""More layers than any machine sews."""

THINNEST, THICKEST = MM / 100, CM * 2
"""Cloth is not thinner than a hundredth of a millimetre; no foot rises 2 cm."""


def press_settings(fields: Fields, values: Mapping[str, Node]) -> PressSettings:
    """What the preferences of a project say about pressing, the rest as is usual.

    Raises InputError at the place of whatever cannot be read.
    """
    found = PressSettings()
    if "most layers" in values:
        most = fields.whole(values["most layers"], "the layers", MOST_LAYERS)
        found = replace(found, limit=most)
    if "thickest" in values:
        found = replace(found, limit_mm=_mm(fields, values["thickest"], "the thickest place"))
    if "cloth thickness" in values:
        thick = _mm(fields, values["cloth thickness"], "the thickness of the cloth")
        found = replace(found, cloth_mm=thick)
    if "wishes" in values:
        mend = f"write each on a line, of {', '.join(WISHES)}"
        items = fields.items(values["wishes"], "wishes", len(WISHES), mend)
        words = {name: name for name in WISHES}
        wishes = [fields.word(item, "a wish", words) for item in items]
        for number, item in enumerate(items):
            if wishes[number] in wishes[:number]:
                what = f'the wish "{wishes[number]}" is there twice'
                raise fields.refusal(item, what, "keep one")
        found = replace(found, wishes=tuple(wishes))
    return found


def _mm(fields: Fields, node: Node, what: str) -> float:
    length: Fraction = fields.length(node, what, THINNEST, THICKEST)
    return float(length / MM)
