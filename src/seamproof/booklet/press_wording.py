"""Sentences about pressing: which way a seam goes, what the signs mean, how thick the block lies.

The tests hold these sentences to the words that are not printed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from seamproof.booklet.wording import count_word, listed, units_of
from seamproof.length.notation import Measure, with_unit

Turn = Literal["clockwise", "anticlockwise"]
"""Which way allowances go round a spun crossing."""

TITLE = "The back of the block"
OPEN, SIDE, SPUN = (
    "Press the seam open.",
    "Press both allowances the way the arrow points.",
    "Spin: lay the allowances round the crossing, as the hook turns.",
)
"""What the three signs mean."""

BACK = "The back, as it lies when it is pressed."
USUAL = "Every seam is pressed as is usual."


def close_said(measure: Measure) -> str:
    """Under the map of the thickest place."""
    across = "2 in" if measure == "in" else "about 5 cm"
    return f"The thickest place, from the front: {across} across, with the layers counted."


def open_up() -> str:
    """All runs of a seam open."""
    return "Press it open."


def towards(name: str) -> str:
    """All runs of a seam to one side.

    >>> towards("unit 1")
    'Press towards unit 1.'
    """
    return f"Press towards {name}."


def as_shown(count: int = 1) -> str:
    """A seam whose sides have no names of their own, or whose runs lie differently."""
    return "Press as the arrow shows." if count == 1 else "Press as the arrows show."


def spin(where: Turn) -> str:
    """A crossing that is spun; `where` it turns is as seen from the back.

    >>> spin("clockwise")
    'Spin the crossing: from the back its allowances turn clockwise.'
    """
    return f"Spin the crossing: from the back its allowances turn {where}."


def whole_unit(how: str) -> str:
    """How the seams of a whole unit lie, beside its picture: open, towards a fabric, or as shown.

    >>> whole_unit("open"), whole_unit("B"), whole_unit("shown")
    ('Press open.', 'Press towards B.', 'Press as the signs show.')
    """
    if how == "open":
        return "Press open."
    return "Press as the signs show." if how == "shown" else f"Press towards {how}."


def set_and_open(count: int, how: str) -> str:
    """Set the seam of a unit that has one seam, open the unit, press it.

    >>> set_and_open(1, "B")
    'Press the seam as sewn, then open it and press towards B.'
    """
    what = "it" if count == 1 else "each"
    way = {"open": "press the seam open", "shown": "press as the signs show"}
    return f"Press the seam as sewn, then open {what} and {way.get(how, f'press towards {how}')}."


def open_briefly(how: str) -> str:
    """The same in short, where there is more to tell.

    >>> open_briefly("B"), open_briefly("open")
    ('Open and press towards B.', 'Press open.')
    """
    return "Press open." if how == "open" else f"Open and p{whole_unit(how)[1:]}"


def most_layers(layers: int) -> str:
    """Under the one big number.

    >>> most_layers(1), most_layers(8)
    ('layer of cloth everywhere', 'layers of cloth at the thickest place')
    """
    return "layer of cloth everywhere" if layers == 1 else "layers of cloth at the thickest place"


def where_it_is(at: tuple[Fraction, Fraction], measure: Measure) -> str:
    """Where the thickest place is.

    >>> where_it_is((Fraction(6), Fraction(3)), "in")
    'It is 6 in from the left and 3 in from the top, seen from the front.'
    >>> where_it_is((Fraction(3), Fraction(0)), "in")
    'It is 3 in from the left and on the upper edge, seen from the front.'
    """
    across, down = (max(length, Fraction(0)) for length in at)
    x, y = with_unit(across, measure), with_unit(down, measure)
    if not down:
        return f"It is {x} from the left and on the upper edge, seen from the front."
    if not across:
        return f"It is on the left edge and {y} from the top, seen from the front."
    return f"It is {x} from the left and {y} from the top, seen from the front."


def nesting(nested: int, crossings: int) -> str:
    """That all crossings lock; what does not is said among what could not be had.

    >>> nesting(1, 1), nesting(4, 4), nesting(3, 4)
    ('The one crossing nests.', 'All four crossings nest.', '')
    """
    if not crossings or nested < crossings:
        return ""
    return (
        "The one crossing nests."
        if crossings == 1
        else f"All {count_word(crossings)} crossings nest."
    )


_ALONG = re.compile(r" along [\d.]+ in of seam")
_LESS = re.compile(r"so that [\d.]+ sq in less of the block are")


def on_paper(text: str) -> str:
    """A sentence of the press plan without what nobody measures at the iron.

    >>> on_paper("Darker cloth lies behind lighter along 2.8 in of seam.")
    'Darker cloth lies behind lighter in places.'
    >>> on_paper("Open, so that 0.181 sq in less of the block are thick.")
    'Open, so that less of the block is thick.'
    """
    return _LESS.sub("so that less of the block is", _ALONG.sub(" in places", text))


def why(names: Sequence[str], reason: str) -> str:
    """Why some seams lie otherwise than is usual.

    >>> why(["step 3", "step 4"], "Open, because eight points meet here.")
    'Steps 3 and 4: open, because eight points meet here.'
    """
    said = reason[:1].lower() + reason[1:]
    return f"{_of(names)}: {said}"


def _of(names: Sequence[str]) -> str:
    units = [name for name in names if name.startswith("unit ")]
    steps = [name.removeprefix("step ") for name in names if name.startswith("step ")]
    said = []
    if units:
        said.append(units[0] if len(units) == 1 else units_of(units))
    if steps:
        said.append(f"step {steps[0]}" if len(steps) == 1 else f"steps {listed(steps)}")
    whole = listed(said)
    return whole[:1].upper() + whole[1:]
