"""Sentences of a lesson sheet.

The tests hold these sentences to the words that are not printed.
"""

from __future__ import annotations

from fractions import Fraction

from seamproof.booklet.wording import count_word, named

AIMS = "What is learnt"
SUPPLIES = "What everybody brings"
TIMES = "Time"
TIMES_LEAD = "Minutes are estimates until you have taught it once; write down your own."
STEP_OUTS = "Step-outs"
STEP_OUTS_LEAD = "One sample of each stage, to be passed round, and what is cut for all of them."
TALK = "What to say about pressing"
TALK_LEAD = "Lay a block with its back up beside these maps."
CUES = "Chapters of a film"
WELCOME = "Welcome, aims, safety"
CLOSING = "Measuring, questions, clearing up"
SAFETY = "Cutter and iron: show both cautions before anybody begins."
BROUGHT = "Rotary cutter, mat, ruler, pins, thread, and a machine in working order."


def title(block: str) -> str:
    """What stands over a lesson."""
    return f"Lesson: {block}"


def make_aim(kind: str, method: str) -> str:
    """A unit that is met.

    >>> make_aim("half-square triangle", "two at a time")
    'Make half-square triangles, two at a time.'
    """
    told = f"Make {named(kind)}"
    return f"{told}, {method}." if method else f"{told}."


def corners_aim(count: int) -> str:
    """Corners that are set in."""
    return f"Set in {count_word(count)} corner{'' if count == 1 else 's'}."


def crossings_aim(count: int) -> str:
    """Crossings that must meet."""
    return f"Match {count_word(count)} crossing{'' if count == 1 else 's'}, and say which nest."


def layers_aim(layers: int) -> str:
    """Where the block is thick."""
    return f"Feel where {count_word(layers)} layers meet, and say how they were spread."


def cloth_brought(count: int, letter: str, name: str) -> str:
    """One fabric a student brings."""
    pieces = "piece" if count == 1 else "pieces"
    return f"Fabric {letter}, {name}: {count} {pieces}, cut as the block's list says."


def minutes_said(minutes: Fraction) -> str:
    """A time in the table.

    >>> minutes_said(Fraction(7, 2)), minutes_said(Fraction(4))
    ('3.5', '4')
    """
    return f"{float(minutes):g}"


def step_name(chapter: str, number: int) -> str:
    """A step in the time table."""
    return f"{chapter}: step {number}"


def plans_compared(best: int, usual: int) -> str:
    """The two maps in a sentence."""
    if best == usual:
        return f"Both ways come to {count_word(best)} layers at most; look where they lie."
    return (
        f"As the booklet presses it: {count_word(best)} layers at most. By the usual rules alone: "
        f"{count_word(usual)}."
    )


HERE, USUALLY = "As in the booklet", "By the usual rules alone"
