"""The words of a printed sheet: everything that stands on it, before any layout.

Sentences are finished text in which sizes are written ``4 7/8``; print builds the fractions.
Figures are scenes; at which scale they are drawn is a matter of layout.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.drawing.scene import Paint, Scene
from seamproof.length.notation import Measure

Paper = Literal["letter", "a4"]

Extent = tuple[Fraction, Fraction]
"""Width and height in inches."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing worth knowing before anything else: "Finished", "12 × 12 in"."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class KeyRow:
    """A fabric in the key of the sheet."""

    paint: Paint
    name: str
    value: str


@dataclass(frozen=True, slots=True)
class CuttingRow:
    """One line of the cutting table: `count` alike pieces, marked `letter`.

    `what` is what is cut and its size ("squares, 4 × 4 in"), `split` how it is parted afterwards,
    `purpose` what it is for. A line without a letter is a strip; the lines `under` it are cut from
    it. Its count is 0 if it is not told.
    """

    letter: str
    count: int
    what: str
    split: str
    purpose: str
    under: bool = False


@dataclass(frozen=True, slots=True)
class FabricCutting:
    """All that is cut from one fabric, the largest first."""

    fabric: KeyRow
    rows: tuple[CuttingRow, ...]


@dataclass(frozen=True, slots=True)
class PrintedStep:
    """One numbered step: its text, its picture, and what the maker should measure after it.
    `set` numbers the set at the machine it belongs to, 0 if it belongs
    to none; `begins` names the set that starts with it. A step with a second picture, `sewn`,
    takes the whole width: what is marked, and beside it what is sewn. One that only `shows` what
    the last step gave may be left out where it would stand alone."""

    number: int
    text: str
    figure: Scene
    measure: str = ""
    begins: str = ""
    sewn: Scene | None = None
    set: int = 0
    shows: bool = False


@dataclass(frozen=True, slots=True)
class Variant:
    """One of several units that are made in the same way: how many, from what, how it looks."""

    text: str
    figure: Scene


@dataclass(frozen=True, slots=True)
class SignShown:
    """A press sign and what it means."""

    text: str
    figure: Scene


@dataclass(frozen=True, slots=True)
class Chapter:
    """Steps under one title, with a line about them. Its figures share one scale. `variants` are
    the units it tells of, with their press signs; `signs` explains these."""

    title: str
    lead: str
    steps: tuple[PrintedStep, ...]
    variants: tuple[Variant, ...] = ()
    signs: tuple[SignShown, ...] = ()


@dataclass(frozen=True, slots=True)
class TurnedOver:
    """The block from the back, and how thick it lies: the greatest count of `layers`, the place
    where they are, `scale` of the map. `said` are sentences about it, `reasons` tell why seams do
    not lie as is usual."""

    title: str
    back: Scene
    back_says: str
    layers: int
    layers_say: str
    close: Scene
    close_says: str
    scale: Scene
    said: tuple[str, ...]
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Template:
    """A shape to be cut round, printed at true size."""

    title: str
    figure: Scene


@dataclass(frozen=True, slots=True)
class Caution:
    """How not to be hurt."""

    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Note:
    """What the checks found, in a maker's words: how it is and what can be done."""

    text: str
    mend: str
    grave: bool = False


@dataclass(frozen=True, slots=True)
class SheetModel:
    """The sheet of one block: one to three pages.

    `units` are the chapters on units; `assembly` puts the block together, None if a recipe makes
    it whole. `turned` is None for a block without a press plan.
    """

    name: str
    quilt: str
    facts: tuple[Fact, ...]
    picture: Scene
    fabrics: tuple[KeyRow, ...]
    cutting_title: str
    cutting_lead: str
    cutting: tuple[FabricCutting, ...]
    cutter: Caution
    units: tuple[Chapter, ...]
    assembly: Chapter | None
    templates: tuple[Template, ...]
    iron: Caution
    notes: tuple[Note, ...]
    edition: str
    measure: Measure
    turned: TurnedOver | None = None
