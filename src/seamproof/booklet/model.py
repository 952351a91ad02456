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


@dataclass(frozen=True, slots=True)
class Edition:
    """How a booklet is printed: in `large` type, for a `left`-handed maker, as `line_art` without
    colour."""

    paper: Paper = "letter"
    large: bool = False
    left: bool = False
    line_art: bool = False


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
    the units it tells of, with their press signs; `signs` explains these.

    One that is a `recipe` of the whole quilt has its number. One that goes `by` a recipe has only
    what is its own in the words of its steps, and shows no pictures of them. 0 is neither."""

    title: str
    lead: str
    steps: tuple[PrintedStep, ...]
    variants: tuple[Variant, ...] = ()
    signs: tuple[SignShown, ...] = ()
    recipe: int = 0
    by: int = 0


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


# The booklet --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Words:
    """Paragraphs. `small` is set smaller, for what is looked up."""

    paragraphs: tuple[str, ...]
    small: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and sizes on one ruled line."""

    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table that is also written as CSV, as `name`. `right` are the columns set to the right;
    `shares` the widths of the columns, to each other; `swatches` a fabric for each row, () if
    there are none."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[int, ...]
    right: tuple[int, ...] = ()
    swatches: tuple[Paint | None, ...] = ()


@dataclass(frozen=True, slots=True)
class Picture:
    """A figure with its caption. It is drawn as large as fits into so many shares of the text's
    width and `height` inches, or exactly to `scale` (inches on paper to the inch of cloth). `fine`
    is drawn with the pens of a whole top; what is `steady` is laid out for its labels, so that in
    large print it is enlarged as a whole."""

    figure: Scene
    caption: str = ""
    width: float = 1.0
    height: float = 6.0
    scale: float | None = None
    fine: bool = False
    steady: bool = False


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph: its file's bytes, whether they are "png" or "jpg", its size in dots, what it
    shows."""

    data: bytes
    format: Literal["png", "jpg"]
    width: int
    height: int
    caption: str
    alt: str


@dataclass(frozen=True, slots=True)
class Pictures:
    """Pictures side by side."""

    pictures: tuple[Picture, ...]


@dataclass(frozen=True, slots=True)
class Beside:
    """A picture, and beside it a table; beneath it where it leaves no room."""

    picture: Picture
    table: Table


@dataclass(frozen=True, slots=True)
class Key:
    """The fabrics with their swatches, under a title."""

    title: str
    fabrics: tuple[KeyRow, ...]


@dataclass(frozen=True, slots=True)
class CuttingTables:
    """The cutting table of one block."""

    tables: tuple[FabricCutting, ...]


@dataclass(frozen=True, slots=True)
class Cautions:
    """Cautions side by side."""

    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class Notes:
    """What the checks found, under a title."""

    title: str
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Templates:
    """Templates at true size."""

    templates: tuple[Template, ...]


@dataclass(frozen=True, slots=True)
class HelpColumn:
    """One case of the help box: "Too small?" and what to do."""

    title: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HelpBox:
    """What to do when a block came out wrong."""

    title: str
    columns: tuple[HelpColumn, ...]


@dataclass(frozen=True, slots=True)
class Heading:
    """A title inside a section, with a line about what follows."""

    title: str
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Listed:
    """Numbered steps in words."""

    items: tuple[str, ...]


Part = (
    Words
    | Facts
    | Table
    | Picture
    | Pictures
    | Beside
    | Photo
    | Key
    | CuttingTables
    | Cautions
    | Notes
    | Templates
    | HelpBox
    | Heading
    | Listed
    | Chapter
    | TurnedOver
)
"""What a section is made of."""


@dataclass(frozen=True, slots=True)
class Section:
    """A section under its title. `key` tells what it is: "cover", "materials", "block:lamp-room".
    `opens` begins a new page; `rule` puts the true rule at the foot of its pages, since something
    is measured by them."""

    key: str
    title: str
    parts: tuple[Part, ...]
    lead: str = ""
    opens: bool = False
    rule: bool = False


@dataclass(frozen=True, slots=True)
class Cover:
    """The front page: a line above the title, the title, who made it, facts, the picture, and
    `aside` what stands beside it."""

    above: str
    title: str
    below: str
    facts: tuple[Fact, ...]
    picture: Picture
    aside: tuple[str, ...]
    photo: Photo | None = None


@dataclass(frozen=True, slots=True)
class BookletModel:
    """A whole pattern, or a lesson: everything that is said and shown, in order."""

    title: str
    version: str
    measure: Measure
    cover: Cover | None
    sections: tuple[Section, ...]
