"""How units are made: one module per family, found through one tuple."""

from __future__ import annotations

from seamproof.cutting.recipes import (
    corner_square,
    flipped,
    geese,
    half_rectangle,
    half_square,
    hourglass,
    log_cabin,
    split_quarter,
    square_in_square,
    strip_sets,
)
from seamproof.cutting.recipes.making import Method

METHODS: tuple[Method, ...] = (
    half_square.EightAtATime(),
    half_square.TwoAtATime(),
    half_square.FromTriangles(),
    half_square.FourAtATime(),
    half_rectangle.FromTriangles(),
    half_rectangle.TwoAtATime(),
    corner_square.TwoAtATime(),
    hourglass.TwoAtATime(),
    hourglass.FromTriangles(),
    split_quarter.TwoAtATime(),
    split_quarter.FromTriangles(),
    geese.FourAtATime(),
    flipped.StitchAndFlip(geese.KIND),
    geese.FromTriangles(),
    flipped.StitchAndFlip(geese.KIND, flipped.LEFT_IN),
    flipped.StitchAndFlip(flipped.SNOWBALL),
    flipped.StitchAndFlip(flipped.SNOWBALL, flipped.LEFT_IN),
    flipped.StitchAndFlip(square_in_square.SQUARE_IN_SQUARE),
    flipped.StitchAndFlip(square_in_square.SQUARE_IN_SQUARE, flipped.LEFT_IN),
    square_in_square.FromTriangles(square_in_square.SQUARE_IN_SQUARE),
    square_in_square.FromTriangles(square_in_square.ECONOMY),
    log_cabin.CutToLength(),
    *(strip_sets.StripSets(kind) for kind in strip_sets.KINDS),
)
"""Every method. Of those that suit a unit and its count the first is chosen."""
