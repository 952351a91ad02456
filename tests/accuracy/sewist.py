"""A small make-believe sewing room: strips and units sewn with known faults and measured.

It shares nothing with the fitting: it adds up what is cut and what each seam takes, piece by piece.
"""

from __future__ import annotations

import math
import random


def strips(
    die: random.Random,
    *,
    count: int,
    width: float,
    seam: float,
    scatter: float,
    cut: float,
    fold: float,
    reading: float,
    places: int,
) -> dict[str, list[float]]:
    """One set of strips, sewn with an allowance of 1/4 + `seam`, and its measurements."""
    true = [die.gauss(width, cut) for _ in range(count)]
    allowances = [0.25 + seam + die.gauss(0, scatter) for _ in range(count - 1)]

    def across(lost: float) -> float:
        total = 0.0
        for number, strip in enumerate(true):
            total += strip
            total -= allowances[number - 1] if number else 0.0
            total -= allowances[number] if number < count - 1 else 0.0
        return total - lost * (count - 1)

    def read(value: float) -> float:
        return value + die.gauss(0, reading)

    side, opened = across(math.pi * fold), across((math.pi - 2) * fold)
    return {
        "cuts": [read(strip) for strip in true],
        "side": [read(side) for _ in range(places)],
        "open": [read(opened) for _ in range(places)],
        "inner": [
            read(true[i] - allowances[i - 1] - allowances[i] - math.pi * fold)
            for i in range(1, count - 1)
        ],
    }


def triangles(
    die: random.Random, *, count: int, cut: float, seam: float, scatter: float, error: float
) -> list[float]:
    """Raw sizes of half-square triangles from squares `cut`, with a cloth that has no thickness."""
    return [
        die.gauss(cut, error / math.sqrt(2))
        - 2 * (0.25 + seam + die.gauss(0, scatter)) / math.sqrt(2)
        for _ in range(count)
    ]
