"""How files name units, and the key `method`: which units are made in which way."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping
from fractions import Fraction
from typing import get_args

from seamproof.cutting.naming import units_named
from seamproof.draft.model import Written
from seamproof.length.notation import Measure, exactly
from seamproof.piecing.model import UnitKind
from seamproof.plane.model import Point
from seamproof.project import limits
from seamproof.project.fields import Fields
from seamproof.project.yaml_tree import Node, Scalar

KINDS: Mapping[str, UnitKind] = {
    **{kind: kind for kind in get_args(UnitKind)},
    "hst": "half-square triangle",
    "qst": "hourglass",
    "geese": "flying geese",
    "half-rectangle": "half-rectangle triangle",
    "square in a square": "square-in-a-square",
}
"""Trade names of units as they may be written in a file, and the kind each means."""

_UNITS = re.compile(r"(?P<names>\D*?)(?:\s+(?P<size>\d.*))?", re.DOTALL)
_TIMES = re.compile(r"\s+[x×]\s+")
_LETTERS = re.compile("[a-z]{1,2}")


def methods(fields: Fields, node: Node) -> tuple[tuple[str, Written], ...]:
    """Pairs of units and method, the method as written, with its place.

    Units are a kind, a kind and the letters of its fabrics, or either with a finished size:
    "half-square triangle a b", "flying geese 1 1/2 x 3". They are told as `units_named` has them.
    """
    found: dict[str, Written] = {}
    for key, value in fields.named(node, "method", limits.METHODS):
        units = _units(fields, key)
        if units in found:
            raise fields.refusal(key, f"the method of {key.text} is given twice", "keep one")
        found[units] = Written(fields.text(value, "a method"), fields.where(value))
    return tuple(found.items())


def written_units(units: str, measure: Measure) -> str:
    """Units as `methods` tells them, as a file of this measure names them.

    >>> written_units("hourglass a b 5/2 x 5/2", "in"), written_units("four-patch", "cm")
    ('hourglass a b 2 1/2 x 2 1/2', 'four-patch')
    """
    names, size = _parted(units)
    if size is None:
        return names
    return f"{names} {' x '.join(exactly(Fraction(side), measure) for side in size)}"


def unit_kind(fields: Fields, key: Scalar) -> UnitKind:
    """The kind of unit that a key names."""
    return fields.word(key, "a unit's name", KINDS)


def _units(fields: Fields, key: Scalar) -> str:
    names, size = _parted(key.text.strip())
    words = names.split()
    count = len(words)
    while count > 1 and names not in KINDS and _LETTERS.fullmatch(words[count - 1]):
        count -= 1
    kind = unit_kind(fields, _with(key, " ".join(words[:count])))
    return units_named(kind, words[count:], None if size is None else _size(fields, key, size))


def _size(fields: Fields, key: Scalar, sides: list[str]) -> Point:
    if len(sides) > 2:
        raise fields.refusal(
            key, "a unit has one size or two", "write 3, or 1 1/2 x 3, after its name"
        )
    wide, high = sides[0], sides[-1]
    return (
        fields.length(_with(key, wide), "a unit's size"),
        fields.length(_with(key, high), "a unit's size"),
    )


def _parted(units: str) -> tuple[str, list[str] | None]:
    """The words of a name, and the sizes that follow it, as texts."""
    found = _UNITS.fullmatch(units)
    if found is None or found["size"] is None:
        return units, None
    return found["names"], _TIMES.split(found["size"])


def _with(key: Scalar, text: str) -> Scalar:
    return dataclasses.replace(key, text=text)
