"""Sentences and titles of the booklet around its blocks: before sewing, cloth, and a guide through.

The tests hold these sentences to the words that are not printed.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamproof.booklet.wording import count_word, extent, listed, method_named
from seamproof.length.notation import Measure, with_unit

ABBREVIATIONS = (
    ("in", "inches"),
    ("yd", "yards"),
    ("cm", "centimetres"),
    ("m", "metres"),
    ("sq in", "square inches"),
    ("sq cm", "square centimetres"),
)
"""Every abbreviation that may be printed, and what it means."""

BEFORE = "Before you begin"
ABBREVIATED = "Abbreviations and words"
TOOLS = "Tools"
MATERIALS = "Materials"
SWATCHES = "Swatch card"
SWATCHES_LEAD = "Glue a snippet of your own cloth beside each letter: then you can change colours."
COLOURING = "To colour in"
COLOURING_LEAD = "The top without its cloth. Copy this page before you colour it."
CUT_FIRST = "What to cut first"
CUT_FIRST_LEAD = (
    "Straighten the end of each cloth, then work down the list: the longest come first."
)
CUTTING = "Cutting, cloth by cloth"
CUTTING_LEAD = "The whole quilt at once. Whoever goes block by block uses the list in each block."
DIAGRAM_MARKS = (
    "The marks in these diagrams belong to this list alone. Under which letter a piece stands in "
    "its block is said beside it: tag the pieces with that."
)
CLOSING = "Corrections and version"
CONTENTS = "Contents"

WORDS_USED = (
    ("Finished", "the size once every seam round it is sewn"),
    ("Unfinished", "the finished size and a seam allowance on every side"),
    ("Right sides together", "the printed or better sides of two cloths face each other"),
    ("Usable width", "the width of the cloth without its woven edges and what shrinks"),
    ("Set at the machine", "what can be sewn one after the other without leaving the machine"),
    ("Nest", "two seams lock because their allowances lie opposite ways"),
)
"""Words that are used in a sense of their own, and what is meant."""

TEST_FIRST = (
    "Read everything once before you cut. Then cut and sew one block, measure it, and only then "
    "cut the rest."
)
CUT_SIZES = (
    "Sizes to cut include the seam allowances. They are given as width × length; what is sewn is "
    "measured as width × height, as it lies in its picture."
)
MARKS = (
    "A capital letter is a fabric; a capital and a small letter are one kind of piece of it. The "
    "letters in the pictures are the same."
)
TELL_APART = (
    "Every fabric has a hatch of its own besides its colour, so that the pictures can be read in "
    "grey."
)
SPRAY = (
    "Use starch and basting sprays in fresh air, away from flames and the hot iron, and let the "
    "cloth dry."
)
NEEDLE = "Take your foot off the pedal before your fingers go near the needle, and sew no pin over."


def seams_said(seam: Fraction, measure: Measure) -> str:
    """The seam allowance, once for all."""
    return (
        f"Seams are {with_unit(seam, measure)} wide. Sew them scant, a thread narrower: the fold "
        f"of the cloth takes up the rest. Everything is sewn right sides together."
    )


def width_said(width: Fraction, measure: Measure) -> str:
    """What cloth is reckoned with."""
    return f"Amounts are for cloth with a usable width of {with_unit(width, measure)}."


def test_seam(side: Fraction, seam: Fraction, measure: Measure) -> str:
    """How to find out whether a seam is right.

    >>> test_seam(Fraction(2), Fraction(1, 4), "in").rpartition(": ")[2]
    'they must measure 3 1/2 in across.'
    """
    across = 2 * side - 2 * seam
    return (
        f"Try your seam: sew two squares of {with_unit(side, measure)} together and press. "
        f"If it is right: they must measure {with_unit(across, measure)} across."
    )


NOT_TURNED = (
    "Not turned over, since slanted pieces would change hands: cutting starts at its left end."
)


def begins_at(*, left: bool) -> str:
    """Where cutting begins, for a right-handed or a `left`-handed maker."""
    return f"Cutting starts at the {'right' if left else 'left'} end of each diagram."


def quilt_of(blocks: int) -> str:
    """The line above the title.

    >>> quilt_of(12), quilt_of(1)
    ('A pieced quilt of 12 blocks', 'A pieced quilt of one block')
    """
    name = "block" if blocks == 1 else "blocks"
    return f"A pieced quilt of {count_word(blocks)} {name}"


def block_sizes(sizes: Sequence[tuple[Fraction, Fraction]], measure: Measure) -> str:
    """The finished sizes of the blocks, the largest first."""
    return listed([extent(size, measure) for size in sizes])


def square_ruler(size: Sequence[Fraction], units: Sequence[Fraction], measure: Measure) -> str:
    """The ruler that blocks and units are squared up with."""
    block = extent(size, measure)
    if not units:
        return f"A square ruler that reaches over {block}, to square up the blocks."
    largest, smallest = max(units), min(units)
    told = with_unit(largest, measure)
    if smallest != largest:
        told = f"{with_unit(smallest, measure)} to {told}"
    return (
        f"A square ruler with a line from corner to corner: units are trimmed to {told}, blocks "
        f"measure up to {block}."
    )


def long_ruler(width: Fraction, measure: Measure) -> str:
    """The ruler that strips are cut with."""
    return (
        f"A long ruler that is at least {with_unit(width, measure)} wide, or two side by side, for "
        f"the strips."
    )


def marks_needed(step: Fraction, measure: Measure) -> str:
    """How fine its marks must be."""
    return f"Rulers with marks every {with_unit(step, measure)}; use one make throughout."


CUTTER_TOOL = "A rotary cutter and a mat."
MARKER = "A pencil or pen that washes out, for lines on the wrong side of the cloth."
TEMPLATE_TOOL = "Firm paper or plastic for templates."
USUAL_TOOLS = "Pins, an iron and a board, thread, and a machine that sews a straight stitch."


def buy_said(backing: str) -> str:
    """Under the materials."""
    return (
        "Amounts hold what is lost in straightening the ends, and are rounded up as shops cut. "
        f"Where a second amount stands, it holds one spare cut of the highest strip. {backing}"
    ).strip()


def pages_of(name: str) -> str:
    """Under the picture of a whole block."""
    return f"{name}, finished."


def need_said(count: int) -> str:
    """How many of a block are made."""
    return "Make one." if count == 1 else f"Make {count_word(count)}."


METHODS = "Methods for units"
METHODS_LEAD = (
    "Each way to make a unit is told once. Sizes and letters here are those of an example: the "
    "pieces, sizes and counts of your unit, and how it is pressed, stand with its block."
)

PRESS_SIGNS = "Press signs"
PRESS_SIGNS_LEAD = "They stand on the seams in the pictures of units and blocks."


def method_title(number: int, kind: str, method: str) -> str:
    """The title of a way to make units; `kind` are its units.

    >>> method_title(2, "half-square triangles", "two at a time")
    'Method 2: half-square triangles, two at a time'
    """
    title = f"{method_named(number)}: {kind}"
    return f"{title}, {method}" if method else title


def method_lead(mark: str, block: str) -> str:
    """What the example of a way to make units is."""
    return f"The example is {mark} of {block}."


def go_by(number: int) -> str:
    """By which of them a unit is made."""
    return f"Make as in method {number}, with these pieces and sizes."


def steps_name(mark: str) -> str:
    """Whose pieces the lines about several units name."""
    return f"The steps name the pieces of {mark}; make the others in the same way."


LAYOUT_TITLE = "Layout card"
LAYOUT_LEAD = "Lay everything out in this order before you sew it together."
LAYOUT_CAPTION = (
    "The bar marks the edge of a unit that lies uppermost in the picture beside its title."
)
LAYOUT_COLUMNS = ("Place", "Unit", "Turn")
TURNS = {
    Fraction(0): "as shown",
    Fraction(1, 4): "a quarter clockwise",
    Fraction(1, 2): "upside down",
    Fraction(3, 4): "a quarter anticlockwise",
}


def turn_said(turn: Fraction) -> str:
    """How a unit is turned where it lies.

    >>> turn_said(Fraction(1, 2)), turn_said(Fraction(1, 8))
    ('upside down', '45° clockwise')
    """
    return TURNS.get(turn % 1, f"{round(float(turn % 1) * 360)}° clockwise")


def twins_beware(names: Sequence[str]) -> str:
    """Units that are mirror twins of each other."""
    return (
        f"{listed(names).capitalize()} are mirror twins: they look alike and are not. Check each "
        "against the picture."
    )


HELP_TITLE = "If it came out wrong"
TOO_SMALL, TOO_LARGE, TURNED = "Too small?", "Too large?", "Turned?"
HELP_FOR_ALL = "If a block came out wrong"
HELP_FOR_ALL_LEAD = "This holds for every block; what is its own stands with the block."
HELP_FIRST = "First of all"
TURNED_HELP = (
    "Lay the block beside its picture and compare unit by unit, with the layout card.",
    "Unpick only the seams round the unit that is wrong, turn it, and sew them again.",
    "Next time: lay everything out, take a photograph, and sew from that.",
)


def size_fact(size: Sequence[Fraction], measure: Measure) -> str:
    """A finished size on the cover."""
    return extent(size, measure)


PROVED_ASIDE = (
    "Every size in this booklet was added up again, patch to top, before it was printed. Proved by "
    "calculation, not sewn."
)
NOT_PROVED_ASIDE = "Not every size comes out yet: see the notes."


def version_said(version: str) -> str:
    """The version, on cover and last page."""
    return f"Version {version}"


def corrections_said(where: str) -> str:
    """Where corrections are found."""
    if where:
        return f"Corrections: {where}. Look there before you cut, and again before you bind."
    return "Ask whoever gave you this booklet whether there are corrections, before you cut."


def report_said(contact: str) -> str:
    """How to report a mistake."""
    to = f" to {contact}" if contact else ""
    return (
        f"Found something wrong? Write{to}: the version, the page, the piece or step, what the "
        "booklet says, and what you measured."
    )
