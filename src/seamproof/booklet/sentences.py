"""The sentences that a teacher can replace, by name, with the places of what is filled in.

A sentence of the booklet that reads like the default under a name gets the teacher's words in its
stead; what stood at the places in braces (sizes, counts, names) goes to the same places of hers. So
numbers stay those of the stages, whatever the words.
"""

from __future__ import annotations

import dataclasses
import functools
import re
from collections.abc import Mapping
from typing import Any, TypeVar

from seamproof.booklet.model import BookletModel
from seamproof.drawing.scene import Paint, Scene

Anything = TypeVar("Anything")

SENTENCES: Mapping[str, str] = {
    "read-first": ("Read everything once before you cut."),
    "test-block": "Then cut and sew one block, measure it, and only then cut the rest.",
    "seam-width": "Seams are {seam} wide.",
    "scant": ("Sew them scant, a thread narrower: the fold of the cloth takes up the rest."),
    "usable-width": "Amounts are for cloth with a usable width of {width}.",
    "amounts": "Amounts are rounded up as shops cut.",
    "lay": "Lay {pieces} on {under}, right sides together.",
    "draw-diagonal": "Draw the diagonal on the wrong side.",
    "draw-diagonal-each": "Draw the diagonal on the wrong side of each.",
    "sew-both-sides": "Sew {seam} from it on both sides.",
    "sew-on-line": "Sew on the line.",
    "sew-on-lines": "Sew on the lines.",
    "cut-on-line": "Cut apart on the line.",
    "cut-off-corner": "Cut off the corner {seam} outside the stitching.",
    "cut-off-corners": "Cut off the corners {seam} outside the stitching.",
    "set-and-press": "Press the seam as sewn, then open {what} and press {way}.",
    "set-and-press-open": "Press the seam as sewn, then open {what} and press the seam open.",
    "open-and-press": "Open and press {way}.",
    "press-open": "Press it open.",
    "press-open-plain": "Press open.",
    "press-towards": "Press towards {side}.",
    "press-as-shown": "Press as the arrow shows.",
    "press-as-arrows-show": "Press as the arrows show.",
    "spin": "Spin the crossing: from the back its allowances turn {turn}.",
    "trim-to": "Trim to {size}.",
    "ruler-on-diagonal": "Lay the ruler's diagonal line on the seam.",
    "trim-two-sides": "Trim two sides, turn, trim the other two.",
    "beyond-point": "Leave {seam} beyond the point.",
    "trim-all-sides": "Trim all sides.",
    "match-edges": "Match the {edges} as shown and sew {seam} from them.",
    "square-up": "Square up one end of {strips}.",
    "slices": "From there cut {count} slices, {width} wide each.",
    "it-measures": "It should measure {size}.",
    "each-measures": "Each should measure {size}.",
    "block-measures": "The block should measure {size}.",
    "face-each-other": "Sew the edges that face each other, right sides together.",
    "sew-to": "Sew {first} to {second}.",
    "sew-two": "Sew two of {pieces} to each other.",
    "make": "Make {count}.",
    "mark-dot": "Mark a dot at the corner, {seam} from both edges, on both pieces.",
    "mark-dots": "Mark dots at the corners, {seam} from both edges, on both pieces.",
    "layout": "Lay everything out in this order before you sew it together.",
    "blade": "Close the blade each time you lay it down.",
    "away": "Cut away from the body.",
    "iron": (
        "Iron and steam burn: keep fingers clear of both, and stand the iron up whenever you let "
        "go of it."
    ),
    "measure-three": (
        "Measure the top from edge to edge at three places, left, in the middle and right, and "
        "take the mean of the three: never cut a border by the printed size alone."
    ),
    "press-top": (
        "Press every seam towards the sashing or the plain strip: then rows and columns nest."
    ),
}
"""Defaults by name. Each is one sentence that the booklet may hold."""

KEPT = frozenset({"blade", "away", "iron"})
"""Cautions: they can be said in other words, and never be left out."""

_BRACES = re.compile(r"\{([^{}]*)\}")
_ENDS = re.compile(r"(?<=[.!?]) (?=[A-Z])")


def places_in(text: str) -> frozenset[str]:
    """The names in braces in a text.

    >>> sorted(places_in("Trim to {size}, {size} again.")), places_in("")
    (['size'], frozenset())
    """
    return frozenset(_BRACES.findall(text))


def reworded(model: BookletModel, own: Mapping[str, str]) -> BookletModel:
    """The booklet with the sentences of `own` for those of the program, by name."""
    if not own:
        return model
    chosen = tuple(sorted(own.items()))
    return _in(model, chosen)


def said_anew(text: str, own: Mapping[str, str]) -> str:
    """One text with the sentences of `own`.

    >>> said_anew("Sew on the line. Trim to 4 × 4 in.", {"trim-to": "Trim all to {size}."})
    'Sew on the line. Trim all to 4 × 4 in.'
    >>> said_anew("", {"trim-to": "Trim all to {size}."})
    ''
    """
    return " ".join(_sentence(one, tuple(sorted(own.items()))) for one in _ENDS.split(text))


def _in(value: Anything, own: tuple[tuple[str, str], ...]) -> Anything:
    found: Any = value
    if isinstance(value, str):
        found = " ".join(_sentence(one, own) for one in _ENDS.split(value))
    elif isinstance(value, tuple):
        found = tuple(_in(item, own) for item in value)
    elif dataclasses.is_dataclass(value) and not isinstance(value, Scene | Paint | type):
        changes = {
            field.name: _in(getattr(value, field.name), own) for field in dataclasses.fields(value)
        }
        found = dataclasses.replace(value, **changes)
    return found  # type: ignore[no-any-return]


def _sentence(text: str, own: tuple[tuple[str, str], ...]) -> str:
    for name, words in own:
        found = _pattern(name).fullmatch(text)
        if found is not None:
            return _filled(words, found.groupdict())
    return text


def _filled(words: str, kept: Mapping[str, str]) -> str:
    return _BRACES.sub(lambda place: kept.get(place[1], place[0]), words)


@functools.cache
def _pattern(name: str) -> re.Pattern[str]:
    """What a sentence of that name reads like."""
    parts = _BRACES.split(SENTENCES[name])
    return re.compile(
        "".join(f"(?P<{part}>.+?)" if i % 2 else re.escape(part) for i, part in enumerate(parts))
    )
