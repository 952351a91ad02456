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

from seamproof.booklet.making_sentences import OF_MAKING
from seamproof.booklet.model import BookletModel
from seamproof.booklet.sentence_list import (
    OF_THE_BACK,
    OF_THE_CLOTH,
    OF_THE_FRONT,
    OF_THE_TOP,
)
from seamproof.drawing.scene import Paint, Scene

Anything = TypeVar("Anything")

SENTENCES: Mapping[str, str] = {
    **OF_THE_FRONT,
    **OF_THE_CLOTH,
    **OF_MAKING,
    **OF_THE_BACK,
    **OF_THE_TOP,
}
"""Defaults by name. Each is one sentence that the booklet may hold."""

KEPT = frozenset(
    {"blade", "away", "iron", "other-hand", "pins-out", "needle", "sprays"}
    | {"iron-in-help", "trim-safely"}
)
"""Cautions: they can be said in other words, and never be left out."""

NAMED = 8192
"""Sentences whose names are kept; a large booklet has two thousand."""

_STOPS = (".", "!", "?", ")")
_BRACES = re.compile(r"\{([^{}]*)\}")
_ENDS = re.compile(r"(?<=[.!?]) (?=[A-Z(])")


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
    words = dict(own)
    name = name_of(text)
    if name not in words:
        return text
    found = _pattern(name).fullmatch(_whole(text))
    assert found is not None  # it was named by it
    said = _filled(words[name], found.groupdict())
    return said if _whole(text) == text or text[-1] in _STOPS else said.rstrip(".")


@functools.lru_cache(maxsize=NAMED)
def name_of(text: str) -> str:
    """The name of the default that a sentence reads like, "" if it reads like none. Of several it
    is the one that says most itself.

    >>> name_of("Trim to 4 × 4 in."), name_of("Set 2 at the machine"), name_of("Good morning.")
    ('trim-to', 'set', '')
    """
    whole = _whole(text)
    fitting = [name for name in SENTENCES if _pattern(name).fullmatch(whole)]
    return max(fitting, key=lambda name: len(_BRACES.sub("", SENTENCES[name])), default="")


def _whole(text: str) -> str:
    """A text as a sentence: with a capital and a stop, which leads and captions may lack."""
    return text[:1].upper() + text[1:] + ("" if text[-1:] in _STOPS else ".")


def _filled(words: str, kept: Mapping[str, str]) -> str:
    return _BRACES.sub(lambda place: kept.get(place[1], place[0]), words)


@functools.cache
def _pattern(name: str) -> re.Pattern[str]:
    """What a sentence of that name reads like."""
    parts = _BRACES.split(SENTENCES[name])
    return re.compile(
        "".join(f"(?P<{part}>.+?)" if i % 2 else re.escape(part) for i, part in enumerate(parts))
    )
