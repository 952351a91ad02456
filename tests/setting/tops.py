"""Blocks and settings for the tests of the top, small enough to be read."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Fabric
from seamproof.findings import Finding
from seamproof.plane.model import Polygon
from seamproof.plane.predicates import area
from seamproof.setting.assembling import leaves_of, outline_at
from seamproof.setting.model import Available, SetCell, Setting, Strip, Top
from seamproof.setting.top import set_top

SETTINGS = CuttingSettings()
FABRICS = tuple(Fabric(letter, letter.upper(), "#808080", "medium") for letter in "abcdef")


def block(name: str, width: int | Fraction = 12, height: int | Fraction | None = None) -> Available:
    """A block of one fabric, made as often as anybody likes."""
    high = width if height is None else height
    shown = (("a", Fraction(width) * Fraction(high)),)
    return Available(name, Fraction(width), Fraction(high), copies=1000, fabrics=shown)


def rows(*lines: str) -> tuple[tuple[SetCell, ...], ...]:
    """A layout from lines such as ``Star Rail' plain-a``, each ' a quarter turn."""
    return tuple(tuple(_cell(word) for word in line.split()) for line in lines)


def _cell(word: str) -> SetCell:
    if word.startswith("plain-"):
        return SetCell(word.removeprefix("plain-"), plain=True)
    name = word.rstrip("'")
    return SetCell(name, len(word) - len(name))


def strip(width: int | Fraction | str, fabric: str | None = "b") -> Strip:
    return Strip(Fraction(width), fabric)


def straight(*lines: str, sash: int = 0, **more: object) -> Setting:
    """A straight setting, sashed all round with cornerstones if `sash` is not 0."""
    extra: dict[str, object] = {"rows": rows(*lines), **more}
    if sash:
        extra = {"sashing": strip(sash, "f"), "cornerstones": "b", **extra}
    return Setting(**extra)  # type: ignore[arg-type]


def on_point(*lines: str, **more: object) -> Setting:
    extra: dict[str, object] = {"rows": rows(*lines), "way": "on point", "triangles": "e", **more}
    return Setting(**extra)  # type: ignore[arg-type]


def worked(
    setting: Setting, *blocks: Available, fabrics: Sequence[Fabric] = FABRICS
) -> tuple[Top | None, tuple[Finding, ...]]:
    return set_top(setting, blocks, fabrics, SETTINGS)


def top_of(setting: Setting, *blocks: Available) -> Top:
    """The top, which must come out without an error."""
    top, found = worked(setting, *blocks)
    assert top is not None, found
    return top


def codes(setting: Setting, *blocks: Available) -> list[int]:
    """What is found, by code."""
    return sorted(finding.code for finding in worked(setting, *blocks)[1])


def outlines(top: Top) -> list[Polygon]:
    """Where every strip and block lies."""
    return [outline_at(top.plan, here) for _, here in leaves_of(top.plan, top.lying)]


def total_area(top: Top) -> Fraction:
    return sum((area(outline) for outline in outlines(top)), Fraction(0))
