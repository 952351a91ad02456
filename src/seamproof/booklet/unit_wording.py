"""Sentences of the chapters on units: laying, drawing, sewing, cutting, pressing, trimming.

The tests hold these sentences to the words that are not printed.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamproof.booklet.wording import count_word, extent, listed, named, units_of
from seamproof.length.notation import Measure, number, with_unit


def unit_title(mark: str, count: int, kind: str) -> str:
    """The title over the steps of a unit."""
    return f"{mark.capitalize()}: make {count_word(count)} {named(kind, count)}"


def units_title(marks: Sequence[str], kind: str) -> str:
    """The title over the steps of several units that are made alike.

    >>> units_title(["unit 1", "unit 2"], "hourglass")
    'Units 1 and 2: hourglass units'
    """
    return f"{units_of(marks).capitalize()}: {named(kind)}"


def variant(mark: str, made: int, letters: Sequence[str]) -> str:
    """One of several units that are made alike."""
    return f"{mark.capitalize()}: make {count_word(made)} from {listed(letters)}."


def units_lead(mark: str, gives: int) -> str:
    """A line about several units that are made alike."""
    lead = f"The pictures show {mark}; make the others in the same way."
    return f"{lead} {_one_round(gives)}" if gives > 1 else lead


def as_in_a_mirror(marks: Sequence[str]) -> str:
    """Units whose pictures are those of their mirror twin.

    >>> as_in_a_mirror(["unit 2"])
    'Unit 2 is of the other hand: lay, sew and trim it as you would see this in a mirror.'
    """
    alone = len(marks) == 1
    are, them = ("is", "it") if alone else ("are", "them")
    which = marks[0] if alone else units_of(marks)
    return (
        f"{which.capitalize()} {are} of the other hand: lay, sew and trim {them} as you "
        "would see this in a mirror."
    )


def unit_lead(fabrics: str, gives: int, spare: int) -> str:
    """A line about a unit: its fabrics, how many one round makes, what is left over."""
    parts = [f"{fabrics}."]
    if gives > 1:
        parts.append(_one_round(gives))
    if spare:
        parts.append(f"{count_word(spare).capitalize()} will be left over.")
    return " ".join(parts)


def _one_round(gives: int) -> str:
    return f"One round makes {count_word(gives)}."


def fabric_pair(letters: Sequence[str]) -> str:
    """The fabrics of a unit."""
    return f"Fabric {letters[0]}" if len(letters) == 1 else f"Fabrics {listed(letters)}"


def lay(upper: Sequence[str], lower: str) -> str:
    """Right sides together."""
    if len(upper) > 1:
        return f"Lay {listed(upper)} on {lower}, right sides together."
    return f"Lay {upper[0]} on {lower}, right sides together."


def lay_on_another(step: int, *, turned: bool) -> str:
    """Two of what one step gave, right sides together.

    >>> lay_on_another(2, turned=True)
    'Lay one piece from step 2 on another turned end for end, right sides together.'
    """
    other = "another turned end for end" if turned else "another"
    return lay([f"one piece from step {step}"], other)


def draw_diagonal(count: int = 1) -> str:
    """The line on the wrong side of what lies on top."""
    return "Draw the diagonal on the wrong side" + (" of each." if count > 1 else ".")


def draw_both_diagonals() -> str:
    """Two lines from corner to corner on the wrong side of what lies on top."""
    return "Draw both diagonals on the wrong side."


def draw_across_seam() -> str:
    """The line on the wrong side of something sewn."""
    return "Draw the diagonal that crosses the seam on the wrong side."


def draw_lines(count: int) -> str:
    """Lines that are not diagonals."""
    return "Draw the line as shown." if count == 1 else "Draw the lines as shown."


def sew_beside(seam: Fraction, measure: Measure, *, both: bool, lines: int = 1) -> str:
    """Stitching beside one or several drawn lines."""
    where = "on both sides" if both else "on one side"
    return f"Sew {with_unit(seam, measure)} from {'it' if lines == 1 else 'each line'} {where}."


def sew_all_round(seam: Fraction, measure: Measure) -> str:
    """Stitching along all edges."""
    return f"Sew {with_unit(seam, measure)} from the edge, all round."


def lay_crosswise() -> str:
    """How two rectangles lie on each other that are cut apart on their common diagonal."""
    return (
        "Turn it until its diagonal lies on the diagonal beneath, corner on corner: the rest lies "
        "crosswise."
    )


def tips_past(length: Fraction, measure: Measure) -> str:
    """How two triangles lie on each other whose sharp tips point opposite ways."""
    return (
        f"Slide them until the sharp tip of each sticks out {with_unit(length, measure)} beyond "
        "the other."
    )


def sew_on_line(count: int) -> str:
    """Stitching on a drawn line."""
    return "Sew on the line." if count == 1 else "Sew on the lines."


def sew_edge(seam: Fraction, measure: Measure, edge: str) -> str:
    """Stitching along an edge; `edge` is "long", "short" or ""."""
    side = f"{edge} edges" if edge else "edges"
    return f"Match the {side} as shown and sew {with_unit(seam, measure)} from them."


def sew_as_shown() -> str:
    """Stitching that no other sentence tells."""
    return "Sew as shown."


def as_before(step: int, *, drawn: bool, cut: bool) -> str:
    """Sewing that was told before.

    >>> as_before(1, drawn=True, cut=True), as_before(2, drawn=False, cut=False)
    ('Draw, sew, cut and press as in step 1.', 'Match, sew and press as in step 2.')
    """
    verbs = [*(["draw"] if drawn else ["match"]), "sew", *(["cut"] if cut else []), "press"]
    return f"{listed(verbs).capitalize()} as in step {step}."


def cut_apart(lines: int) -> str:
    """After sewing on both sides of a line."""
    return "Cut apart on the line." if lines == 1 else "Cut apart as shown."


def cut_in_eight(middle: Fraction, measure: Measure) -> str:
    """After sewing on both sides of both diagonals."""
    return (
        f"Without moving it, cut across the middle both ways, {with_unit(middle, measure)} from "
        "the edge, then on both lines."
    )


def draw_from_corners() -> str:
    """Two lines that part a square at either end of a rectangle."""
    return "Draw a line at 45° from each of two opposite corners, as shown."


def opposite_ways() -> str:
    """How two rows lie on each other that look alike upside down."""
    return "Turn one end for end: the squares lie at opposite ends."


def cut_between() -> str:
    """After sewing on two lines that run side by side."""
    return "Cut apart halfway between them."


def cut_on_diagonals() -> str:
    """After sewing all round."""
    return "Cut apart on both diagonals."


def cut_off(seam: Fraction, measure: Measure, count: int) -> str:
    """After sewing on a line."""
    what = "corner" if count == 1 else "corners"
    return f"Cut off the {what} {with_unit(seam, measure)} outside the stitching."


def fold_over(count: int) -> str:
    """After sewing on a line, if nothing is cut."""
    square = "the square over the" if count == 1 else "each square over its"
    return f"Fold {square} stitching to the corner, and press. Leave in what is behind."


def tips_stick_out() -> str:
    """How a triangle lies on a side that is shorter than its own."""
    return "The tips stick out as far at either end."


def bonus(count: int, size: Fraction, seam: Fraction, measure: Measure) -> str:
    """What can be sewn of the corners that are cut off, before they are."""
    units = f"{'a' if count == 1 else count_word(count)} {named('half-square triangle', count)}"
    return (
        f"What is cut off makes {units} of {extent((size, size), measure)} besides, if you sew "
        f"once more {with_unit(2 * seam, measure)} outside the stitching and cut between the two "
        f"seams."
    )


def open_and_press(count: int) -> str:
    """Set the seam, open, press."""
    what = "it" if count == 1 else "each"
    return f"Press the seam as sewn, then open {what} and press again."


def open_briefly() -> str:
    """The same once more."""
    return "Open and press."


def finished_unit(kind: str) -> str:
    """The unit as it is when nothing is trimmed."""
    return f"The {named(kind, 1)} is as it should be: nothing is trimmed."


def make_pairs(count: int) -> str:
    """How many to lay together and sew."""
    return f"Make {count_word(count)} like this."


def cut_step(pieces: int) -> str:
    """A cut through something on the table."""
    return f"Cut as shown, into {count_word(pieces)}." if pieces > 1 else "Cut as shown."


def sub_cut(
    what: str, slices: int, width: Fraction, measure: Measure, *, total: int | None = None
) -> str:
    """Cutting a strip set across; `total` is how many slices all of them give together.

    >>> sub_cut("the piece from step 2", 8, Fraction(3, 2), "in")
    'Square up one end of the piece from step 2. From there cut eight slices, 1 1/2 in wide each.'
    """
    cut = f"cut {count_word(slices)} slices, {with_unit(width, measure)} wide each"
    if slices == 1:
        cut = f"cut one slice, {with_unit(width, measure)} wide"
    told = f"Square up one end of {what}. From there {cut}."
    return told if total is None or total == slices else f"{told} All of them give {total}."


def sub_cut_aslant(
    what: str,
    slices: int,
    width: Fraction,
    angle: int,
    measure: Measure,
    *,
    total: int | None = None,
) -> str:
    """Cutting a strip set into rows of diamonds; `angle` in degrees from the seams.

    >>> sub_cut_aslant("it", 1, Fraction(3, 2), 45, "in").partition(". ")[0]
    "Lay the ruler's 45° line on a seam and cut one end of it aslant, as shown"
    """
    cut = f"cut {count_word(slices)} slices, {with_unit(width, measure)} wide each"
    if slices == 1:
        cut = f"cut one slice, {with_unit(width, measure)} wide"
    told = (
        f"Lay the ruler's {angle}° line on a seam and cut one end of {what} aslant, as shown. From "
        f"there {cut}; look at the {angle}° line again before every cut."
    )
    if total is not None and total != slices:
        told = f"{told} All of them give {total}."
    return f"{told} The new edges stretch: lift them, do not pull."


def step_on(length: Fraction, measure: Measure) -> str:
    """How a strip lies on the one before, if the strip set is cut aslant."""
    return f"Let it begin {with_unit(length, measure)} farther along, as shown."


def should_measure_across(height: Fraction, measure: Measure, *, about: bool = False) -> str:
    """The size of a strip set whose ends are steps."""
    told = f"{'about ' if about else ''}{with_unit(height, measure)}"
    return f"Across the strips it should measure {told}."


def trim_to(size: Sequence[Fraction], measure: Measure, *, about: bool = False) -> str:
    """Cutting down to the exact size; `about` if it lies between two marks of the ruler."""
    return f"Trim to {'about ' if about else ''}{extent(size, measure)}."


def trim_tips() -> str:
    """Cutting off what would be in the way of the next seam."""
    return "Trim off the tips that stick out, along the edge."


def ruler_on_diagonal() -> str:
    """How the ruler lies on a unit with one seam from corner to corner."""
    return "Lay the ruler's diagonal line on the seam. Trim two sides, turn, trim the other two."


def ruler_on_crossing(size: Sequence[Fraction], measure: Measure) -> str:
    """How the ruler lies on a unit whose seams cross in the middle."""
    half = (size[0] / 2, size[1] / 2)
    return (
        f"Lay the ruler's diagonal line on one seam and its {number(half[0], measure)} and "
        f"{number(half[1], measure)} lines over the crossing. Trim two sides, turn, trim the other "
        f"two."
    )


def ruler_beyond_point(seam: Fraction, measure: Measure) -> str:
    """How the ruler lies on a unit whose seams run to a point inside its edge."""
    return f"Leave {with_unit(seam, measure)} beyond the point. Trim all sides."


def ruler_beyond_points(seam: Fraction, measure: Measure) -> str:
    """How the ruler lies on a unit with a point towards every side."""
    return f"Leave {with_unit(seam, measure)} beyond each of the four points. Trim all sides."


def ruler_inside_corners(seam: Fraction, measure: Measure) -> str:
    """How the ruler lies on a half-rectangle triangle."""
    return (
        f"Turn the ruler until the seam runs through the points {with_unit(seam, measure)} inside "
        "two opposite corners, not into these corners. Trim two sides, turn, trim the other two."
    )


def other_hand() -> str:
    """Before what is done with the mirror twins of a unit."""
    return "Those of the other hand:"


def mirrored_mark(mark: str) -> str:
    """What the mirror twin of a unit is called on this sheet."""
    return f"{mark}, mirrored"


def twins_made(count: int, spare: int) -> str:
    """How many mirror twins come out besides.

    >>> twins_made(4, 0)
    'They come with four of the other hand.'
    >>> twins_made(4, 1)
    'They come with four of the other hand, one of them to spare.'
    """
    text = f"They come with {count_word(count)} of the other hand"
    return f"{text}, {count_word(spare)} of them to spare." if spare else f"{text}."


def ruler_plain() -> str:
    """How the ruler lies on any other unit."""
    return "Lay the ruler so that as much comes off on either side. Trim all sides."


def from_step(step: int) -> str:
    """Something made before, in the same chapter."""
    return f"the piece from step {step}"
