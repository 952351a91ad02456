"""Pages: their sizes, columns, and how high pictures may be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from seamproof.booklet.model import Edition, Paper
from seamproof.drawing.inks import PRINT, Medium

INCH = 72.0
CM = INCH / 2.54

LARGE_TYPE = 18 / 11
"""How much larger everything that is read is set in large print: 18 points for 11."""


@dataclass(frozen=True, slots=True)
class Density:
    """How high, in points, the pictures of steps may be: `step` at the least scale of a chapter,
    `grown` for a row that is drawn larger than it need be, `wide` for a step that takes the whole
    width. `rows` and `chapters` are what lies between those."""

    step: float
    grown: float
    wide: float
    rows: float
    chapters: float


DENSITIES = (
    Density(108.0, 84.0, 144.0, 13.0, 26.0),
    Density(92.0, 70.0, 124.0, 11.0, 22.0),
    Density(74.0, 62.0, 104.0, 9.0, 18.0),
)
"""From roomy to close; the roomiest of those that take the fewest pages is printed."""

OF_A_BOOKLET = Density(92.0, 80.0, 124.0, 9.0, 18.0)
"""Pictures as high as press signs need that stand side by side on seams an inch apart, and the
least between them."""

OF_LARGE_PRINT = Density(170.0, 150.0, 210.0, 20.0, 36.0)


@dataclass(frozen=True, slots=True)
class PageLook:
    """A page in points: the text block is 7 in wide on Letter and as wide as the same margins
    leave on A4; three columns, or two halves."""

    width: float
    height: float
    left: float = 0.875 * INCH
    right: float = 0.625 * INCH
    top: float = 0.83 * INCH
    bottom: float = 1.15 * INCH
    column_gap: float = 0.19 * INCH
    half_gap: float = 0.23 * INCH
    indent: float = 24.0
    columns: int = 3
    type: float = 1.0

    @property
    def text(self) -> float:
        """Width of the text block."""
        return self.width - self.left - self.right

    @property
    def room_for_template(self) -> float:
        """Height that is left for one template under its headings."""
        return self.height - self.top - self.bottom - 1.5 * INCH

    @property
    def column(self) -> float:
        """Width of one of the columns that steps stand in."""
        return (self.text - (self.columns - 1) * self.column_gap) / self.columns

    @property
    def half(self) -> float:
        """Width of one of two columns."""
        return (self.text - self.half_gap) / 2


PAPERS: dict[Paper, PageLook] = {
    "letter": PageLook(8.5 * INCH, 11 * INCH),
    "a4": PageLook(21.0 * CM, 29.7 * CM),
}


def look_of(edition: Edition) -> PageLook:
    """The page of an edition: large print has two columns for steps."""
    look = PAPERS[edition.paper]
    if not edition.large:
        return look
    return replace(look, columns=2, type=LARGE_TYPE, indent=38.0, bottom=1.3 * INCH)


def common_look(edition: Edition) -> PageLook:
    """What figures are drawn for: the width of A4 and the height of Letter, so that those of one
    paper fit on the other and are drawn once."""
    narrow = look_of(replace(edition, paper="a4"))
    return replace(narrow, height=PAPERS["letter"].height)


def density_of(edition: Edition) -> Density:
    """How high pictures are in a booklet."""
    return OF_LARGE_PRINT if edition.large else OF_A_BOOKLET


def medium_of(edition: Edition) -> Medium:
    """What pictures are drawn with: in large print labels and signs grow with the type, line art is
    white cloth with its hatch in full ink."""
    medium = replace(PRINT, plain=edition.line_art)
    if not edition.large:
        return medium
    names = ("small", "large", "disc", "sign", "clear", "tick", "gap", "arrow")
    return replace(medium, **{name: getattr(PRINT, name) * LARGE_TYPE for name in names})
