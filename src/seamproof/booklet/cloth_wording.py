"""Sentences about cloth: what is cut from it, how well it is used, what to buy."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from seamproof.booklet import wording
from seamproof.cloth.model import Fixed, Lay
from seamproof.cloth.ordering import Measures
from seamproof.cloth.pooling import Kind
from seamproof.cloth.sold import sold
from seamproof.cloth.tops import LOOSE
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, number, with_unit
from seamproof.length.rounding import INCH_STEP, METRIC_STEP

LEAST = Fraction(1, 16)
"""Inches: distances below this are none to anybody with a rotary cutter."""

STACKING = (
    "Up to four layers of squares and short pieces are cut at once, two of long strips; slanted "
    "cuts one layer at a time, for their edges stretch."
)


def heading(letter: str, name: str) -> str:
    """What stands above the cutting of a fabric.

    >>> heading("a", "Sea mist"), heading("backing", "Backing")
    ('Fabric A, Sea mist', 'Backing')
    """
    return name if letter in LOOSE else f"Fabric {letter.upper()}, {name}"


def mark_of(letter: str) -> str:
    """The fabric's letter in a table; a dash where the setting names no fabric."""
    return "–" if letter in LOOSE else letter.upper()


def size_of(kind: Kind, measure: Measure) -> str:
    """The size at which pieces of a kind are cut, with the unit: one side for a square."""
    short, long = kind.sides
    if kind.outline in ("slanted", "alternating"):
        slanted = wording.slanted("", kind.shape, long, kind.angle, measure).removeprefix(", ")
        return f"{slanted}, from strips {with_unit(short, measure)} wide"
    if short == long:
        return with_unit(short, measure)
    return f"{number(short, measure)} × {with_unit(long, measure)}"


def kind_line(kind: Kind, measure: Measure, count: int | None = None) -> str:
    """How many of a piece, its shape and size, and what is done to it next.

    With `count` only so many of them are meant. Pieces that are parted on the diagonal are counted
    if they are not all of them.
    """
    if count is not None and count != kind.count:
        name = wording.named(_shape(kind), kind.count)
        told = f"{count} of {kind.count} {name} {size_of(kind, measure)}"
        return ", ".join([told, *purposes(kind)][:2])
    parts = [f"{kind.count} {wording.named(_shape(kind), kind.count)} {size_of(kind, measure)}"]
    for split in ("once", "twice"):
        parted = sum(use.count for use in kind.uses if use.split == split)
        if parted == kind.count:
            parts.append(f"{split} corner to corner")
        elif parted:
            parts.append(f"{parted} of them {split} corner to corner")
    return ", ".join([*parts, *_grain(kind), *purposes(kind)])


def _grain(kind: Kind) -> list[str]:
    """Which way a rectangle lies that may not be turned."""
    demand = kind.demand
    if kind.outline != "box" or demand.may_turn or kind.sides[0] == kind.sides[1]:
        return []
    return ["along the selvage" if demand.height > demand.width else "across the cloth"]


def purposes(kind: Kind) -> list[str]:
    """What of the top some pieces are for: "for sashes", or how many of them are."""
    counts: dict[str, int] = {}
    for use in kind.uses:
        if not use.letter:
            counts[use.source] = counts.get(use.source, 0) + use.count
    if list(counts.values()) == [kind.count]:
        (name,) = counts
        return [f"for {_several(name, kind.count)}"]
    return [f"{count} for {_several(name, count)}" for name, count in counts.items()]


def _several(name: str, count: int) -> str:
    """Pieces of the top by the name they go by there.

    >>> _several("sash", 17), _several("binding strip", 6), _several("cornerstone", 1)
    ('sashes', 'the binding', 'a cornerstone')
    """
    if name in _ONE:
        return _ONE[name]
    if count == 1:
        return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"
    return name + ("es" if name.endswith("sh") else "s")


_ONE = {
    "binding strip": "the binding",
    "binding square": "the binding",
    "backing": "the backing",
    "hanging sleeve": "the hanging sleeve",
    "label": "the label",
    "coping": "coping",
}


def _shape(kind: Kind) -> str:
    if kind.outline == "box" and kind.shape != "kite":
        return "square" if kind.sides[0] == kind.sides[1] else "rectangle"
    return kind.shape


def pieces_of(pieces: Iterable[tuple[str, int]], kinds: dict[str, Kind]) -> str:
    """What a strip is cut into, by marks."""
    return wording.listed(
        f"{count} {wording.named(_shape(kinds[name]), count)} {kinds[name].mark}"
        for name, count in pieces
    )


def cut_into(pieces: str, strips: int) -> str:
    """What is cut of each of some strips alike.

    >>> cut_into("1 strip b", 1), cut_into("1 strip b", 2)
    ('1 strip b', 'each: 1 strip b')
    """
    return f"each: {pieces}" if strips > 1 else pieces


def left(length: Fraction, measure: Measure) -> str:
    """What is left at the end of a strip, in whole marks of the ruler.

    >>> left(Fraction("3.059"), "in"), left(Fraction(0), "in")
    ('3 in', '')
    """
    step = INCH_STEP if measure == "in" else METRIC_STEP
    whole = length // step * step
    return with_unit(whole, measure) if whole else ""


def taken(length: Fraction, measure: Measure) -> str:
    """What is lost of a length, up to the next eighth or millimetre.

    >>> taken(Fraction("0.955"), "in"), taken(Fraction("0.955"), "cm")
    ('1', '2.5')
    """
    step = _step(measure)
    return number(-(-length // step) * step, measure)


def stock(lay: Lay, measure: Measure, *, shelf: bool) -> str:
    """Pieces of fixed size that are cut alike: how many, by their name or, if they have none, their
    size.

    >>> from seamproof.cloth.model import Cut
    >>> cut = Cut(Fraction(18), Fraction(21))
    >>> piece = Lay("b", "fixed", Fraction(18), Fraction(21), cut, 1, 0, 0, False, "18 x 21")
    >>> stock(piece, "in", shelf=True)
    '18 × 21 in, from the shelf'
    """
    told = fixed(lay.stock, lay.times, lay.width, lay.length, measure)
    return f"{told}, from the shelf" if shelf else told


def fixed(name: str, count: int, width: Fraction, length: Fraction, measure: Measure) -> str:
    """Pieces of fixed size, counted if they are more than one.

    >>> [fixed(name, 3, Fraction(5), Fraction(5), "in") for name in ("fat quarter", "5 in square")]
    ['3 fat quarters', '3 × 5 in squares']
    >>> fixed("18 x 21", 2, Fraction(18), Fraction(21), "in")
    '2 of 18 × 21 in'
    """
    if sold(name) is None:
        size = f"{number(width, measure)} × {with_unit(length, measure)}"
        return f"{count} of {size}" if count > 1 else size
    if count == 1:
        return name
    return f"{count} × {name}s" if name[0].isdigit() else f"{count} {name}s"


def how_good(bare: Fraction, least: float, area: float, measure: Measure, *, proved: bool) -> str:
    """How far a lay is from the least that straight strips allow, and what those cost. Where that
    least is no more than the area tells, only the area is spoken of. A lay that is proved to be the
    shortest is itself the least.

    >>> how_good(Fraction(64), 57.5, 54.0, "in", proved=False).split(". ")[1]
    'Straight strips take 3 1/2 in more than the pieces alone would fill.'
    >>> how_good(Fraction(64), 54.0, 54.0, "in", proved=False)
    '10 in more than the pieces alone would fill; how little straight strips need is not known.'
    >>> how_good(Fraction(60), 57.6, 57.6, "in", proved=True).split(". ")[1]
    'Straight strips take 2 3/8 in more than the pieces alone would fill.'
    """
    if not proved and Fraction(least) - Fraction(area) <= LEAST:
        over = _eighths(bare - Fraction(area), measure)
        if over > LEAST:
            return (
                f"{with_unit(over, measure)} more than the pieces alone would fill; "
                "how little straight strips need is not known."
            )
    told = distance(bare, least, measure, proved=proved)
    return f"{told} {price_of_strips(float(bare) if proved else least, area, measure)}"


def simplicity(few: Measures, dearer: Fraction, usual: Measures, measure: Measure) -> str:
    """What few settings of the ruler cost against the shortest lay, which has more of them.

    >>> simplicity(Measures(3, 5), Fraction(2), Measures(2, 13), "in")
    '3 strip widths and 5 other settings of the ruler, for 2 in more cloth than with 2 and 13.'
    >>> simplicity(Measures(3, 5), Fraction(0), Measures(3, 5), "in")
    '3 strip widths and 5 other settings of the ruler; the shortest lay needs as many.'
    """
    told = f"{few.strips} strip {'width' if few.strips == 1 else 'widths'} and {few.cuts} "
    told += f"other {'setting' if few.cuts == 1 else 'settings'} of the ruler"
    if dearer <= 0:
        if few == usual:
            return f"{told}; the shortest lay needs as many."
        return f"{told}, for no more cloth than with {usual.strips} and {usual.cuts}."
    more = with_unit(dearer, measure)
    return f"{told}, for {more} more cloth than with {usual.strips} and {usual.cuts}."


def distance(bare: Fraction, least: float, measure: Measure, *, proved: bool) -> str:
    """How far a lay is from the least that straight strips allow.

    >>> distance(Fraction("23.625"), 23.625, "in", proved=True)
    'No lay in straight strips is shorter.'
    >>> distance(Fraction(64), 57.5, "in", proved=False)
    '6 1/2 in more than the least that straight strips allow.'
    """
    over = _eighths(bare - Fraction(least), measure)
    if proved or over <= LEAST:
        return "No lay in straight strips is shorter."
    return f"{with_unit(over, measure)} more than the least that straight strips allow."


def price_of_strips(least: float, area: float, measure: Measure) -> str:
    """What straight strips cost against cloth used up to the last thread.

    >>> price_of_strips(57.5, 54.0, "in")
    'Straight strips take 3 1/2 in more than the pieces alone would fill.'
    >>> price_of_strips(54.0, 54.0, "in")
    'The pieces alone fill as much.'
    """
    over = _eighths(Fraction(least) - Fraction(area), measure)
    if over <= LEAST:
        return "The pieces alone fill as much."
    return f"Straight strips take {with_unit(over, measure)} more than the pieces alone would fill."


def _eighths(length: Fraction, measure: Measure) -> Fraction:
    """A distance that nobody measures, rounded to what can be said: eighths, or millimetres."""
    step = _step(measure)
    return round(max(length, Fraction(0)) / step) * step


def kept(pieces: Iterable[Fixed], measure: Measure) -> str:
    """What is left over and worth keeping, in whole marks of the ruler.

    >>> kept([Fixed("", Fraction(13), Fraction("52.01"), 2)], "in"), kept([], "in")
    ('Worth keeping: 2 of 13 × 52 in.', '')
    """
    step = INCH_STEP if measure == "in" else METRIC_STEP
    told = [
        fixed(
            "", piece.count or 0, piece.width // step * step, piece.length // step * step, measure
        )
        for piece in pieces
    ]
    return f"Worth keeping: {', '.join(told)}." if told else ""


def _step(measure: Measure) -> Fraction:
    return Fraction(1, 8) if measure == "in" else CM / 10
