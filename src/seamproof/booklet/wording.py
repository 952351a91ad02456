"""Sentences and words of the printed pages that several chapters share; the others stand in
`unit_wording` and `seam_wording`.

Words of the trade, and of somebody who explains a thing at a table. Sizes are written ``4 7/8``;
print builds the fractions. The tests hold these sentences to the words that are not printed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Literal

from seamproof.length.notation import Measure, number, with_unit

Split = Literal["whole", "once", "twice"]

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

_PLURALS = {
    "square": "squares",
    "rectangle": "rectangles",
    "strip": "strips",
    "triangle": "triangles",
    "diamond": "diamonds",
    "parallelogram": "parallelograms",
    "trapezoid": "trapezoids",
    "kite": "kites",
    "wedge": "wedges",
    "hexagon": "hexagons",
    "piece": "pieces",
    "length": "lengths",
    "template": "pieces by template",
    "half-square triangle": "half-square triangles",
    "hourglass": "hourglass units",
    "flying geese": "flying geese units",
    "split quarter square": "split quarter squares",
    "half-rectangle triangle": "half-rectangle triangles",
    "corner-square triangle": "corner-square triangles",
    "square-in-a-square": "square-in-a-square units",
    "economy patch": "economy patches",
    "snowball": "snowballs",
    "flipped-corner unit": "flipped-corner units",
    "four-patch": "four-patches",
    "nine-patch": "nine-patches",
    "checkerboard": "checkerboards",
    "rail": "rail units",
    "diamond row": "rows of diamonds",
    "log cabin": "log cabins",
    "pieced unit": "pieced units",
}

_SINGULARS = {
    "template": "piece by template",
    "hourglass": "hourglass unit",
    "flying geese": "flying geese unit",
    "square-in-a-square": "square-in-a-square unit",
    "rail": "rail unit",
    "diamond row": "row of diamonds",
}

CUTTER_TITLE = "With the cutter"
CUTTER = (
    "Close the blade each time you lay it down. Cut away from the body. Keep the other hand flat "
    "on the ruler, fingers behind the edge."
)

IRON_TITLE = "With the iron"
IRON = (
    "Iron and steam burn: keep fingers clear of both, and stand the iron up whenever you let go of "
    "it. Take pins out before the needle or the iron reaches them."
)

CUTTING_TITLE = "Cutting"
ASSEMBLY_TITLE = "Making the block"
KEY_TITLE = "Fabrics"
NOTES_TITLE = "Notes"
HEADINGS = ("Fabric", "Mark", "Cut", "Size, width × length", "For")
RULER = {
    "in": "Six inches, if the page is printed at true size",
    "cm": "Fifteen centimetres, if the page is printed at true size",
}

PROVED = (
    "Every size was added up again from the cut cloth, and comes out. "
    "Proved by calculation, not sewn."
)
NOT_PROVED = "Not every size comes out yet: see the notes. Calculated, not sewn."


def at_places(what: str, count: int) -> str:
    """A note that holds for several places of the block.

    >>> at_places("no seam runs straight here", 8), at_places("the seam is open.", 1)
    ('at eight places: no seam runs straight here', 'the seam is open.')
    """
    return what if count == 1 else f"at {count_word(count)} places: {what}"


STEPS_SHOW = "The steps show how."
KEEP_SPARES = "Keep the rest for a test."
BETWEEN_MARKS = "Cut between the marks, or round a template."
STARCH = "Starch the cloth first, and press without pushing."


def of_several(marks: Sequence[str], what: str) -> str:
    """A note about one piece, said of several.

    >>> of_several(["Aa", "Ea"], "is cut up to 0.1 in larger than the sewing needs")
    'Aa and Ea are cut up to 0.1 in larger than the sewing needs'
    """
    for one, many in ((" it is ", " they are "), ("is ", "are "), ("has ", "have ")):
        what = what.replace(one, many) if one.startswith(" ") else _begin(what, one, many)
    return f"{listed(marks)} {what}"


def _begin(text: str, one: str, many: str) -> str:
    return many + text.removeprefix(one) if text.startswith(one) else text


def of_fabrics(kind: str, fabrics: Sequence[str], what: str) -> str:
    """A note about units of some fabrics, said of several.

    >>> of_fabrics("half-square triangle", ["A and D", "A and B"], "2 are made, 1 is needed")
    'half-square triangles of A and D, and of A and B: 2 are made, 1 is needed, of each'
    """
    return f"{named(kind)} of {', and of '.join(fabrics)}: {what}, of each"


def count_word(count: int) -> str:
    """A number in a sentence: in letters up to ten.

    >>> count_word(2), count_word(10), count_word(11)
    ('two', 'ten', '11')
    """
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def named(kind: str, count: int = 2) -> str:
    """A kind of piece or unit for so many of it; an unknown name stays as it is.

    >>> named("square", 1), named("square", 4), named("flying geese", 1), named("star point", 3)
    ('square', 'squares', 'flying geese unit', 'star point')
    """
    return _SINGULARS.get(kind, kind) if count == 1 else _PLURALS.get(kind, kind)


def method_named(number: int) -> str:
    """How a way to make units is referred to."""
    return f"Method {number}"


def extent(size: Sequence[Fraction], measure: Measure) -> str:
    """Width × length with the unit once.

    >>> extent((Fraction(13, 2), Fraction(9, 2)), "in")
    '6 1/2 × 4 1/2 in'
    """
    return f"{number(size[0], measure)} × {number(size[1], measure)} {measure}"


def listed(words: Iterable[str]) -> str:
    """Words in a row.

    >>> listed(["A", "B", "C"]), listed(["A"]), listed([])
    ('A, B and C', 'A', '')
    """
    *first, last = list(words) or [""]
    return f"{', '.join(first)} and {last}" if first else last


def counted(count: int, singular: str, plural: str) -> str:
    """``1 patch``, ``4 patches``."""
    return f"{count} {singular if count == 1 else plural}"


def pieces_fact(count: int) -> str:
    """How much is cut."""
    return counted(count, "piece", "pieces")


def steps_fact(count: int) -> str:
    """How much there is to do at the machine."""
    return counted(count, "step", "steps")


def copies_lead(copies: int) -> str:
    """What the cutting table is for."""
    return "For one block." if copies == 1 else f"For {count_word(copies)} blocks alike."


def split_text(split: Split, count: int, hand: str = "either") -> str:
    """How squares or rectangles are parted once they are cut. Rectangles that are parted have a
    `hand`: it says which diagonal.

    >>> split_text("once", 2), split_text("whole", 2)
    ('each cut once on the diagonal', '')
    >>> split_text("once", 1, "right")
    'cut once, lower left to upper right, long side level, right side up'
    """
    if split == "whole":
        return ""
    each = "cut" if count == 1 else "each cut"
    if split == "once":
        ends = {"left": "upper left to lower right", "right": "lower left to upper right"}
        if hand in ends:
            return f"{each} once, {ends[hand]}, long side level, right side up"
        return f"{each} once on the diagonal"
    return f"{each} twice on the diagonal"


def strips_of(count: int, width: Fraction, measure: Measure) -> str:
    """The line above what is cut from strips; how many is told in a column of its own.

    >>> strips_of(2, Fraction(5, 2), "in"), strips_of(1, Fraction(3), "in")
    ('strips across the cloth, 2 1/2 in wide', 'strip across the cloth, 3 in wide')
    """
    name = named("strip", count or 2)
    return f"{name} across the cloth, {with_unit(width, measure)} wide"


def of_strip(width: Fraction, measure: Measure) -> str:
    """Which strips a piece with slanted cuts comes from."""
    return f"from strips {with_unit(width, measure)} wide"


def slanted(name: str, shape: str, length: Fraction, angle: int | None, measure: Measure) -> str:
    """What is cut from a strip with slanted cuts: how far apart they are, or the longest side.

    >>> slanted("diamonds", "diamond", Fraction(3), 45, "in")
    'diamonds, cut every 3 in at 45°'
    """
    slant = "" if angle is None else f" at {angle}°"
    if shape in ("triangle", "trapezoid"):
        return f"{name}, longest side {with_unit(length, measure)}, cut{slant}"
    if shape == "wedge":
        return f"{name}, wide end {with_unit(length, measure)}, cut head to foot between marks"
    if shape == "kite":
        return f"{name}, {with_unit(length, measure)} long, cut between marks"
    return f"{name}, cut every {with_unit(length, measure)}{slant}"


def from_strips(count: int) -> str:
    """How many strips hold all of a piece."""
    return f"from {count_word(count)} {named('strip', count)}"


def template_text() -> str:
    """How the size of a piece by template is to be read."""
    return "width × height of its outline"


def purpose(marks: Sequence[str]) -> str:
    """What a piece is for: units by their marks, or nothing but the block.

    >>> purpose(["unit 1", "unit 2"]), purpose([])
    ('units 1 and 2', 'the block')
    """
    if not marks:
        return "the block"
    return marks[0] if len(marks) == 1 else units_of(marks)


def units_of(marks: Sequence[str]) -> str:
    """Several units by their marks.

    >>> units_of(["unit 1", "unit 3"])
    'units 1 and 3'
    """
    return f"units {listed(mark.removeprefix('unit ') for mark in marks)}"


def unit_mark(index: int) -> str:
    """What a unit is called on this sheet."""
    return f"unit {index}"


TEMPLATES_TITLE = "Templates"
TEMPLATES_LEAD = (
    "At true size, seam allowance included: check the rule at the foot of the page. Lay them on "
    "the right side of the cloth."
)
TOO_LARGE = "Larger than the page: draw it on paper of its size."


def template_title(pieces: Sequence[tuple[str, int, str]]) -> str:
    """What a template is for: marks, counts and fabrics.

    >>> template_title([("Ca", 4, "Shallows"), ("Da", 1, "Buoy")])
    'Ca: cut four, Shallows. Da: cut one, Buoy.'
    """
    return " ".join(f"{mark}: cut {count_word(n)}, {fabric}." for mark, n, fabric in pieces)


def press() -> str:
    """After a seam above the units."""
    return "Press."


def make(count: int) -> str:
    """How many."""
    return f"Make {count_word(count)}."


def should_measure(
    size: Sequence[Fraction], measure: Measure, count: int, *, about: bool = False
) -> str:
    """The size after a step; `about` if it lies between two marks of the ruler."""
    subject = "It" if count == 1 else "Each"
    return f"{subject} should measure {'about ' if about else ''}{extent(size, measure)}."


def step_name(number: int) -> str:
    """What something is called by the step that made it."""
    return f"step {number}"


def piece(shape: str, letter: str, count: int = 1) -> str:
    """A cut piece by its mark.

    >>> piece("square", "Aa"), piece("square", "Aa", 2)
    ('square Aa', 'two squares Aa')
    """
    name = f"{named(shape, count)} {letter}"
    return name if count == 1 else f"{count_word(count)} {name}"


def made_before(name: str, *, several: bool = False) -> str:
    """Something made before, by its name: "step 3" or the mark of a unit."""
    which = "the pieces" if several else "the piece"
    return f"{which} from {name}" if name.startswith("step ") else name
