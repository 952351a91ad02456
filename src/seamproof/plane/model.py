"""The words of the plane: a point, a polygon, a line, and a part put in its place."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

Point = tuple[Fraction, Fraction]
"""x to the right, y downwards, inches."""

Polygon = tuple[Point, ...]
"""Corners in order, clockwise as seen, the first not repeated at the end."""

Line = tuple[Point, Point]
"""A directed straight line from one point to another."""


@dataclass(frozen=True, slots=True)
class Placed:
    """Part number `part`, turned and then moved: point p comes to lie at turned(p) + `at`.

    `turn` is the share of a full turn, clockwise as seen, 0 ≤ turn < 1. Never a mirror: cloth has
    a right side.
    """

    part: int
    turn: Fraction
    at: Point
