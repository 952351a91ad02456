"""How the ways to make a unit look in the terminal: a table for each unit."""

from __future__ import annotations

from seamproof.answers.comparing import CompareAnswer, WaysLine
from seamproof.booklet import wording
from seamproof.cli.telling import say, show_table
from seamproof.length.exact import CM
from seamproof.length.notation import Measure

_HANDS = {"either": "", "left": "left", "right": "right", "pair": "one of each"}


def show_ways(answer: CompareAnswer) -> None:
    """Unit by unit the methods that fit; the one of the cutting list is marked."""
    if answer.units == ():
        say("", "It has no unit that can be made in more than one way.")
    for unit in answer.units or ():
        fabrics = wording.listed(letter.upper() for letter in unit.fabrics)
        say("", f"{unit.count} {wording.named(unit.unit, unit.count)} of {fabrics}")
        _table(unit, answer.work.measure)
    if answer.units:
        say("", "Marked with * is the way of the cutting list. To take another, name it in the")
        say("block's file, for instance  method: {nine-patch: single patches}")


def _table(unit: WaysLine, measure: Measure) -> None:
    whole = float(CM) ** 2 if measure == "cm" else 1.0
    numbers = (
        f"Cloth, sq {measure}",
        "Pieces",
        "Steps",
        "Seams",
        "Machine",
        "Iron",
        "Mat",
        "Bias edges",
        "Left over",
    )
    show_table(
        ("", "Method", *numbers, "Hands"),
        [
            (
                "*" if way.chosen else "",
                way.method,
                f"{way.cloth / whole:.0f}",
                *map(str, (way.pieces, way.steps, way.seams, way.machine, way.iron, way.mat)),
                str(way.bias_edges),
                str(way.left_over),
                _HANDS[way.hand],
            )
            for way in unit.ways
        ],
        right=numbers,
    )
