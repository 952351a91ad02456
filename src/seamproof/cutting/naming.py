"""The names by which a maker picks units out when naming a method."""

from __future__ import annotations

from collections.abc import Iterable

from seamproof.cutting.model import CuttingSettings
from seamproof.piecing.model import Unit
from seamproof.plane.model import Point


def units_named(kind: str, letters: Iterable[str] = (), size: Point | None = None) -> str:
    """The units of a kind, or only those of some fabrics, or of one finished size in inches
    whichever way they are turned.

    >>> from fractions import Fraction
    >>> units_named("flying geese", "ea", (Fraction(3), Fraction(3, 2)))
    'flying geese a e 3/2 x 3'
    >>> units_named("hourglass")
    'hourglass'
    """
    sides = [] if size is None else [" x ".join(map(str, sorted(size)))]
    return " ".join([kind, *sorted(set(letters)), *sides])


def names_of(unit: Unit) -> tuple[str, ...]:
    """Every name that picks out a unit, from the closest to the widest.

    >>> from fractions import Fraction
    >>> names_of(Unit(0, "half-square triangle", Fraction(3), Fraction(3), (("first", "b"),)))
    ('half-square triangle b 3 x 3', 'half-square triangle 3 x 3', 'half-square triangle b', \
'half-square triangle')
    >>> names_of(Unit(0, "pieced unit", Fraction(3), Fraction(3)))[0]
    'pieced unit 3 x 3'
    """
    letters = {fabric for _, fabric in unit.roles}
    size = (unit.width, unit.height)
    every = (
        units_named(unit.kind, letters, size),
        units_named(unit.kind, (), size),
        units_named(unit.kind, letters),
        unit.kind,
    )
    return tuple(dict.fromkeys(every))


def method_named(unit: Unit, settings: CuttingSettings) -> str | None:
    """The method that the maker names for a unit: that of the closest of the names that pick it
    out. None if there is none.

    >>> from fractions import Fraction
    >>> unit = Unit(0, "hourglass", Fraction(3), Fraction(3), (("first", "a"), ("second", "b")))
    >>> ways = {"hourglass": "from triangles", "hourglass a b": "two at a time"}
    >>> method_named(unit, CuttingSettings(methods=ways)), method_named(unit, CuttingSettings())
    ('two at a time', None)
    """
    named = (settings.methods.get(name) for name in names_of(unit))
    return next((method for method in named if method is not None), None)
