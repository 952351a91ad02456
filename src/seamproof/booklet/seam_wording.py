"""Sentences of the chapter on the block: sets, seams, corners set in, seams left open.

The tests hold these sentences to the words that are not printed.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from seamproof.booklet.wording import extent
from seamproof.length.notation import Measure, with_unit


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
