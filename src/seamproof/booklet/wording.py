"""Every sentence of the printed pages, in one place.

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
    "log cabin": "log cabins",
    "pieced unit": "pieced units",
}

_SINGULARS = {
    "template": "piece by template",
    "hourglass": "hourglass unit",
    "flying geese": "flying geese unit",
    "square-in-a-square": "square-in-a-square unit",
    "rail": "rail unit",
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
    return marks[0] if len(marks) == 1 else _units(marks)


def _units(marks: Sequence[str]) -> str:
    return f"units {listed(mark.removeprefix('unit ') for mark in marks)}"


def unit_mark(index: int) -> str:
    """What a unit is called on this sheet."""
    return f"unit {index}"


def unit_title(mark: str, count: int, kind: str) -> str:
    """The title over the steps of a unit."""
    return f"{mark.capitalize()}: make {count_word(count)} {named(kind, count)}"


def units_title(marks: Sequence[str], kind: str) -> str:
    """The title over the steps of several units that are made alike.

    >>> units_title(["unit 1", "unit 2"], "hourglass")
    'Units 1 and 2: hourglass units'
    """
    return f"{_units(marks).capitalize()}: {named(kind)}"


def variant(mark: str, made: int, letters: Sequence[str]) -> str:
    """One of several units that are made alike."""
    return f"{mark.capitalize()}: make {count_word(made)} from {listed(letters)}."


def units_lead(mark: str, gives: int) -> str:
    """A line about several units that are made alike."""
    lead = f"The pictures show {mark}; make the others in the same way."
    return f"{lead} {_one_round(gives)}" if gives > 1 else lead


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


def press() -> str:
    """After a seam above the units."""
    return "Press."


def make(count: int) -> str:
    """How many."""
    return f"Make {count_word(count)}."


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


def should_measure(
    size: Sequence[Fraction], measure: Measure, count: int, *, about: bool = False
) -> str:
    """The size after a step; `about` if it lies between two marks of the ruler."""
    subject = "It" if count == 1 else "Each"
    return f"{subject} should measure {'about ' if about else ''}{extent(size, measure)}."


def block_measures(
    size: Sequence[Fraction], measure: Measure, count: int, *, about: bool = False
) -> str:
    """The size after the last step."""
    subject = "The block" if count == 1 else "Each block"
    return f"{subject} should measure {'about ' if about else ''}{extent(size, measure)}."


def set_title(index: int) -> str:
    """What can be sewn without leaving the machine."""
    return f"Set {index} at the machine"


def assembly_lead(*, chained: bool, marked: bool = False) -> str:
    """How to read the pictures of the block, and how a set is sewn."""
    lead = "Sew the edges that face each other, right sides together."
    if marked:
        lead += " Where dots are marked, the pictures show the seam allowance too."
    if chained:
        lead += " Steps of one set can be chain pieced."
    return lead


def step_name(number: int) -> str:
    """What something is called by the step that made it."""
    return f"step {number}"


def join(left: str, right: str) -> str:
    """Two things sewn together."""
    return f"Sew two of {left} to each other." if left == right else f"Sew {left} to {right}."


def mark_dots(count: int, seam: Fraction, measure: Measure) -> str:
    """What is marked before a seam that does not run from edge to edge."""
    away = with_unit(seam, measure)
    if count == 1:
        return f"Mark a dot at the corner, {away} from both edges, on both pieces."
    return f"Mark dots at the corners, {away} from both edges, on both pieces."


def clip_corner() -> str:
    """An inner corner of one single patch."""
    return "Clip the inner corner to just short of the dot."


def fold_back() -> str:
    """What lies behind a seam that was left open."""
    return "Fold the loose end of the open seam out of the way."


def sew_run(begins: str, ends: str) -> str:
    """One straight run: from "edge", "dot" or "stop" to another.

    >>> sew_run("dot", "edge"), sew_run("dot", "dot")
    ('Sew from the dot to the edge.', 'Sew from dot to dot.')
    """
    return f"Sew {_way(begins, ends)}."


def first_run(begins: str, ends: str) -> str:
    """The first of several runs, up to the corner."""
    return f"Sew run 1 {_way(begins, ends)}; leave the needle down."


def next_run(number: int, begins: str, ends: str, *, last: bool) -> str:
    """A run after a corner. After the second the sentence about turning is known."""
    turn = "Turn, match the next edges and" if number == 2 else "Turn again and"
    return f"{turn} sew run {number} {_way(begins, ends)}{'' if last else '; needle down'}."


def _way(begins: str, ends: str) -> str:
    if begins == ends == "dot":
        return "from dot to dot"
    where = {"edge": "the edge", "dot": "the dot", "stop": "the cross"}
    return f"from {where[begins]} to {where[ends]}"


def stop_at(length: Fraction, measure: Measure, since: Literal["edge", "dot", "crossing"]) -> str:
    """Where a run stops that is left open.

    >>> stop_at(Fraction(13, 4), "in", "edge")
    'Stop at the cross, 3 1/4 in from the edge where you began; take two stitches back.'
    """
    whence = {
        "edge": "from the edge where you began",
        "dot": "from the dot",
        "crossing": "past the last crossing",
    }[since]
    return f"Stop at the cross, {with_unit(length, measure)} {whence}; take two stitches back."


def left_open(finished_in: str) -> str:
    """What becomes of the rest of a seam."""
    return f"The rest stays open until {finished_in or 'later'}."


def finish(begun_in: str) -> str:
    """The second go of a partial seam."""
    return f"Finish the seam that was begun in {begun_in}."


def sew_open() -> str:
    """A seam between pieces that hang together already."""
    return "Sew the seam that is still open."


def go_on(begins: str, ends: str) -> str:
    """How the second go is sewn."""
    return f"Sew {_way(begins, ends)}, over the last stitches of the first part."


def piece(shape: str, letter: str, count: int = 1) -> str:
    """A cut piece by its mark.

    >>> piece("square", "Aa"), piece("square", "Aa", 2)
    ('square Aa', 'two squares Aa')
    """
    name = f"{named(shape, count)} {letter}"
    return name if count == 1 else f"{count_word(count)} {name}"


def from_step(step: int) -> str:
    """Something made before, in the same chapter."""
    return f"the piece from step {step}"


def made_before(name: str, *, several: bool = False) -> str:
    """Something made before, by its name: "step 3" or the mark of a unit."""
    which = "the pieces" if several else "the piece"
    return f"{which} from {name}" if name.startswith("step ") else name
