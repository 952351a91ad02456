"""A quilt of inches drafted anew in centimetres: 12 in become 30 cm, a 1/4 in seam 0.75 cm.

Nothing is multiplied by 2.54: an inch of the drawing becomes 2.5 cm, which twelve is divided by as
well as before, and every stage works it out again on a metric ruler.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any, TypeVar

from seamproof.findings import Where
from seamproof.length.exact import CM
from seamproof.project.model import Project, Source
from seamproof.project.reading import read_block

Anything = TypeVar("Anything")

FOR_AN_INCH = CM * 5 / 2
"""What becomes of an inch, in inches: 2.5 cm."""

USUAL_WIDTH = Fraction(40)
METRIC_WIDTH = CM * 100
"""The usable width that nobody chose, in inches and in centimetres."""


def in_centimetres(project: Project) -> Project:
    """The project drafted anew; one that is in centimetres stays as it is.

    Seam, ruler, oversizes and shop are then those that are usual there; blocks that were measured
    are of the other draft and left out.
    """
    if project.preferences.measure == "cm":
        return project
    preferences = replace(
        project.preferences,
        measure="cm",
        seam=None,
        ruler=None,
        bought=None,
        oversize=(),
        paper=project.preferences.paper,
    )
    fabrics = tuple(
        replace(
            fabric,
            usable_width=METRIC_WIDTH
            if fabric.usable_width == USUAL_WIDTH
            else fabric.usable_width,
        )
        for fabric in project.fabrics
    )
    setting = project.setting
    if setting is not None:
        setting = replace(scaled(setting), price=setting.price / FOR_AN_INCH**2, measured=())
    return replace(project, preferences=preferences, fabrics=fabrics, setting=setting)


def reader_of(project: Project) -> Callable[[Path], Source]:
    """Reads block files as `project`, drafted anew, has them."""

    def read(path: Path) -> Source:
        source = read_block(path)
        if source.project.preferences.measure == "cm":
            return source
        return replace(source, drawing=scaled(source.drawing), project=project)

    return read


def scaled(value: Anything) -> Anything:
    """Something with every length in it drafted anew; proportions stay what they are.

    >>> str(scaled(Fraction(12)) / CM), scaled("a")
    ('30', 'a')
    """
    found: Any = value
    if isinstance(value, Fraction):
        found = value * FOR_AN_INCH
    elif isinstance(value, tuple):
        found = tuple(scaled(item) for item in value)
    elif dataclasses.is_dataclass(value) and not isinstance(value, Where | type):
        fields = dataclasses.fields(value)
        found = replace(value, **{f.name: scaled(getattr(value, f.name)) for f in fields})
    return found  # type: ignore[no-any-return]
