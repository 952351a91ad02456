"""Every number of a cutting list, changed one at a time.

A number stands in several places of a list: a piece in its row and in its recipe, a step in its
recipe and in the list. Whoever gets it wrong gets it wrong everywhere, so all places are changed
alike; otherwise it would be found by comparing the two.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from typing import Any

from seamproof.cutting.model import CuttingList, Piece, Recipe, Step

SPLITS = ("whole", "once", "twice")

DRAWN = ("corners", "stitched", "cuts", "drawn", "sheets")
"""Fields whose numbers are coordinates: they are drawn, nobody reads them."""


def changes(cutting: CuttingList, step: Fraction) -> Iterator[tuple[str, CuttingList]]:
    """Where a number stands (without indices: ``piece.width.ruler``), and the list with it changed:
    a length by one step of the ruler either way, a count by one, a share by one in twenty, a split
    to any other."""
    for copies in (cutting.copies + 1, cutting.copies - 1):
        yield "copies", replace(cutting, copies=copies)
    for row in cutting.pieces:
        for where, other in _changed(row, "piece", step):
            yield where, _with_piece(cutting, row, other)
    for number, one in enumerate(cutting.steps):
        for where, other in _changed(one, "step", step):
            yield where, _with_step(cutting, number, other)
    for number, recipe in enumerate(cutting.recipes):
        bare = replace(recipe, pieces=(), steps=())
        for where, other in _changed(bare, "recipe", step):
            kept = replace(other, pieces=recipe.pieces, steps=recipe.steps)
            if where == "recipe.trim":
                trimmed = tuple(replace(piece, trim=other.trim) for piece in recipe.pieces)
                yield where, _with_recipe(cutting, number, replace(kept, pieces=trimmed))
            else:
                yield where, _with_recipe(cutting, number, kept)


def is_drawn(where: str) -> bool:
    """Whether a number is a coordinate of a picture."""
    return any(field in DRAWN for field in where.split("."))


def _changed(value: Any, path: str, step: Fraction) -> Iterator[tuple[str, Any]]:
    if is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            for where, other in _changed(getattr(value, field.name), f"{path}.{field.name}", step):
                yield where, replace(value, **{field.name: other})
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            for where, other in _changed(item, path, step):
                yield where, (*value[:index], other, *value[index + 1 :])
    elif value in SPLITS and path.endswith(".split"):
        yield from ((path, other) for other in SPLITS if other != value)
    elif isinstance(value, Fraction):
        yield from ((path, value + by) for by in (step, -step))
    elif isinstance(value, int) and not isinstance(value, bool):
        yield from ((path, value + by) for by in (1, -1))
    elif isinstance(value, float):
        by = 0.05 if path.endswith(".waste") else float(step)
        yield from ((path, value + sign * by) for sign in (1, -1))


def _with_piece(cutting: CuttingList, row: Piece, other: Piece) -> CuttingList:
    """A row changed, and the same piece in every recipe; a count in the first of them only."""
    more = other.count - row.count
    recipes: list[Recipe] = []
    for recipe in cutting.recipes:
        pieces = []
        for piece in recipe.pieces:
            if piece.letter != row.letter:
                pieces.append(piece)
                continue
            moved = other.part - row.part if piece.part == row.part else 0
            pieces.append(
                replace(other, count=piece.count + more, part=piece.part + moved, hand=piece.hand)
            )
            more = 0
        recipes.append(replace(recipe, pieces=tuple(pieces)))
    rows = tuple(other if piece is row else piece for piece in cutting.pieces)
    return replace(cutting, pieces=rows, recipes=tuple(recipes))


def _with_step(cutting: CuttingList, number: int, other: Step) -> CuttingList:
    """A step changed, in the list and in the recipe that it belongs to."""
    recipes, before = list(cutting.recipes), 0
    for index, recipe in enumerate(cutting.recipes):
        place = number - before
        if 0 <= place < len(recipe.steps):
            steps = (*recipe.steps[:place], other, *recipe.steps[place + 1 :])
            recipes[index] = replace(recipe, steps=steps)
        before += len(recipe.steps)
    steps = (*cutting.steps[:number], other, *cutting.steps[number + 1 :])
    return replace(cutting, steps=steps, recipes=tuple(recipes))


def _with_recipe(cutting: CuttingList, number: int, other: Recipe) -> CuttingList:
    recipes = (*cutting.recipes[:number], other, *cutting.recipes[number + 1 :])
    return replace(cutting, recipes=recipes)
