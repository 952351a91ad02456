"""Layers the slow way: fold every sheet of a block, lay all of them over each other at once.

An independent judge: it knows neither windows nor tables. A sheet is a convex outline and what is
done to it in order: a *fold* mirrors what lies beyond a line, a *trim* cuts off what lies outside
an outline. Only three things are taken from the model: which sheets a seam folds when it is pressed
open or to a side, that a cut piece is its patch pushed out by the seam allowance, and that dog ears
go before the next seam.
"""

from __future__ import annotations

import csv
import functools
import json
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np
import shapely

from tests.reference import TABLES

SEAM = 0.25
GRID = 1e-9
TOUCH = 1e-9
"""Beyond a line by less is not beyond it."""

Spot = tuple[float, float]
Convex = tuple[Spot, ...]

OPEN, FIRST, SECOND = range(3)
"""How a seam is pressed: open, towards its first part, towards its second."""


@dataclass(frozen=True)
class Fold:
    """Folds over the line from `at` along `along` if choice number `choice` is one of `when`; what
    lies on the side of `kept` stays."""

    choice: int
    at: Spot
    along: Spot
    kept: Spot
    when: frozenset[int]


@dataclass(frozen=True)
class Trim:
    """Cuts off what lies outside a convex outline."""

    outline: Convex


@dataclass(frozen=True)
class Sheet:
    outline: Convex
    done: tuple[Fold | Trim, ...]


@dataclass(frozen=True)
class Tree:
    """A block with the order of its seams, and which of them are pressed alike."""

    name: str
    sheets: tuple[Sheet, ...]
    choices: int
    window: Convex = ()
    """What is looked at: the finished block. () means all of it, raw edges included."""


def _beyond(spot: Spot, fold: Fold) -> float:
    """How far a spot lies beyond the line of a fold; negative on the side that stays."""

    def off(p: Spot) -> float:
        return fold.along[0] * (p[1] - fold.at[1]) - fold.along[1] * (p[0] - fold.at[0])

    length = math.hypot(*fold.along)
    return -math.copysign(1.0, off(fold.kept)) * off(spot) / length


def divided(piece: Convex, height: Callable[[Spot], float]) -> tuple[Convex, Convex]:
    """The parts of a convex piece with height ≤ 0 and ≥ 0; () for a part without area."""
    heights = [height(p) for p in piece]
    low: list[Spot] = []
    high: list[Spot] = []
    for i, p in enumerate(piece):
        q, hp, hq = piece[(i + 1) % len(piece)], heights[i], heights[(i + 1) % len(piece)]
        if hp <= TOUCH:
            low.append(p)
        if hp >= -TOUCH:
            high.append(p)
        if (hp > TOUCH and hq < -TOUCH) or (hp < -TOUCH and hq > TOUCH):
            t = hp / (hp - hq)
            cut = (p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]))
            low.append(cut)
            high.append(cut)
    below = any(h < -TOUCH for h in heights)
    above = any(h > TOUCH for h in heights)
    return (tuple(low) if below else (), tuple(high) if above else ())


def mirrored(piece: Convex, fold: Fold) -> Convex:
    length = math.hypot(*fold.along)
    ux, uy = fold.along[0] / length, fold.along[1] / length
    found = []
    for x, y in piece:
        dx, dy = x - fold.at[0], y - fold.at[1]
        along = dx * ux + dy * uy
        found.append((fold.at[0] + 2 * along * ux - dx, fold.at[1] + 2 * along * uy - dy))
    return tuple(found)


def folded(piece: Convex, fold: Fold) -> list[Convex]:
    """What becomes of a convex piece: what stays, and what is turned back onto it."""
    stays, goes = divided(piece, lambda p: _beyond(p, fold))
    return [half for half in (stays, mirrored(goes, fold) if goes else ()) if half]


def trimmed(piece: Convex, outline: Convex) -> Convex:
    """What of a convex piece lies inside a convex outline."""
    middle = (sum(p[0] for p in outline) / len(outline), sum(p[1] for p in outline) / len(outline))
    for i, at in enumerate(outline):
        to = outline[(i + 1) % len(outline)]
        line = Fold(-1, at, (to[0] - at[0], to[1] - at[1]), middle, frozenset())
        piece = divided(piece, partial(_beyond, fold=line))[0]
        if not piece:
            return ()
    return piece


def laid(tree: Tree, plan: Sequence[int]) -> list[Convex]:
    """All cloth of a block pressed by a plan, in convex pieces of one layer each."""
    found: list[Convex] = []
    for sheet in tree.sheets:
        pieces: list[Convex] = [sheet.outline]
        for step in sheet.done:
            if isinstance(step, Trim):
                pieces = [kept for p in pieces if (kept := trimmed(p, step.outline))]
            elif plan[step.choice] in step.when:
                pieces = [half for p in pieces for half in folded(p, step)]
        found += pieces
    return found


def overlaid(pieces: Sequence[Convex]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The faces that pieces cut each other into: their areas, a spot inside each, shape (n, 2), and
    pairs (face, piece) that says which pieces cover which face, shape (2, m)."""
    polygons = shapely.set_precision(_polygons(pieces), GRID)
    lines = shapely.union_all(shapely.boundary(polygons), grid_size=GRID)
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
    inside = shapely.point_on_surface(faces)
    pairs = shapely.STRtree(polygons).query(inside, predicate="within")
    return shapely.area(faces), shapely.get_coordinates(inside), pairs


def _polygons(pieces: Sequence[Convex]) -> np.ndarray:
    return np.array([shapely.Polygon(p) for p in pieces], dtype=object)


def areas_of(tree: Tree, plan: Sequence[int]) -> np.ndarray:
    """Square inches under exactly k layers in place k. AssertionError if cloth is lost."""
    pieces = laid(tree, plan)
    if tree.window:
        pieces = [kept for p in pieces if (kept := trimmed(p, tree.window))]
    areas, _, (face, _) = overlaid(pieces)
    layers = np.bincount(face, minlength=len(areas))
    cloth = shapely.area(_polygons(pieces)).sum()
    assert abs(float(layers @ areas) - cloth) < 1e-6, "cloth was lost in the overlay"
    return np.bincount(layers, weights=areas)


def worst(areas: np.ndarray, dust: float = 1e-7) -> int:
    """The greatest count of layers on more than dust."""
    return int(max(np.nonzero(areas > dust)[0], default=0))


# The blocks of the table --------------------------------------------------------------------------


def pushed_out(polygon: Sequence[Spot], by: float = SEAM) -> Convex:
    """A convex polygon with every side moved out, corners mitred."""
    count = len(polygon)
    doubled = sum(
        polygon[i - 1][0] * polygon[i][1] - polygon[i][0] * polygon[i - 1][1] for i in range(count)
    )
    loop = list(polygon) if doubled > 0 else list(reversed(polygon))
    lines = []
    for i, (x, y) in enumerate(loop):
        nx, ny = loop[(i + 1) % count]
        length = math.hypot(nx - x, ny - y)
        ux, uy = (nx - x) / length, (ny - y) / length
        lines.append(((x + uy * by, y - ux * by), (ux, uy)))
    found = []
    for i in range(count):
        (px, py), (ux, uy) = lines[i - 1]
        (qx, qy), (vx, vy) = lines[i]
        t = ((qx - px) * vy - (qy - py) * vx) / (ux * vy - uy * vx)
        found.append((px + t * ux, py + t * uy))
    return tuple(found)


def _true(polygon: Sequence[Spot]) -> list[Spot]:
    """Without the corners at which it runs straight on."""
    found = []
    for i, (x, y) in enumerate(polygon):
        (px, py), (nx, ny) = polygon[i - 1], polygon[(i + 1) % len(polygon)]
        if abs((x - px) * (ny - y) - (y - py) * (nx - x)) > 1e-7:
            found.append((x, y))
    return found


def raw(patches: Iterable[Sequence[Spot]]) -> Convex:
    """The raw outline of a convex sewn part: its finished outline pushed out. () if not convex."""
    spots = [p for patch in patches for p in patch]
    hull = shapely.convex_hull(shapely.multipoints(spots))
    whole = shapely.area(_polygons([tuple(p) for p in patches])).sum()
    if abs(shapely.area(hull) - whole) > 1e-6:
        return ()
    return pushed_out(_true([(x, y) for x, y in shapely.get_coordinates(hull)[:-1]]))


@functools.cache
def table_patches(name: str) -> tuple[Convex, ...]:
    """The patches of a block of trade_tables/blocks.json, 12 in wide, from (0, 0)."""
    for entry in json.loads((TABLES / "blocks.json").read_text(encoding="utf-8")):
        if entry["name"] == name:
            patches = [polygon for _, polygon in entry["patches"]]
            xs = [x for polygon in patches for x, _ in polygon]
            low = (min(xs), min(y for polygon in patches for _, y in polygon))
            scale = 12 / (max(xs) - low[0])
            return tuple(
                tuple(((x - low[0]) * scale, (y - low[1]) * scale) for x, y in polygon)
                for polygon in patches
            )
    raise KeyError(name)


@functools.cache
def table_trees() -> dict[str, Any]:
    found: dict[str, Any] = json.loads((TABLES / "press_trees.json").read_text(encoding="utf-8"))
    return found


@functools.cache
def table_tree(key: str) -> Tree:
    """A tree of trade_tables/press_trees.json. Pieces of a unit end where the unit is trimmed."""
    name = key.split("|", maxsplit=1)[0]
    patches = table_patches(name)
    corners = [p for patch in patches for p in patch]
    done: list[list[Fold | Trim]] = [[] for _ in patches]
    joins: list[dict[str, Any]] = table_trees()[key]["joins_in_sewing_order"]
    for join in joins:
        at, along = _exact(corners, join["point"], join["direction"])
        first: list[int] = join["part1"]
        second: list[int] = join["part2"]
        for side, way in ((first, FIRST), (second, SECOND)):
            for k in side:
                middle = tuple(np.mean(patches[k], axis=0))
                when = frozenset({OPEN, way})
                done[k].append(Fold(int(join["class"]), at, along, middle, when))
    cut = [pushed_out(_true(p)) for p in patches]
    for unit in table_trees()[key]["units"]:
        outline = raw([patches[k] for k in unit])
        for k in unit:
            cut[k] = trimmed(cut[k], outline) if outline else cut[k]
    sheets = tuple(Sheet(c, tuple(d)) for c, d in zip(cut, done, strict=True))
    spots = shapely.multipoints(corners)
    finished = shapely.get_coordinates(shapely.convex_hull(spots))[:-1]
    choices = 1 + max(int(join["class"]) for join in joins)
    return Tree(key, sheets, choices, tuple((x, y) for x, y in finished))


def _exact(corners: Sequence[Spot], at: Spot, along: Spot) -> tuple[Spot, Spot]:
    """A line that the table gives to six decimals, through the two corners that it runs through."""
    on = [p for p in corners if abs(along[0] * (p[1] - at[1]) - along[1] * (p[0] - at[0])) < 1e-4]
    on.sort(key=lambda p: along[0] * p[0] + along[1] * p[1])
    return on[0], (on[-1][0] - on[0][0], on[-1][1] - on[0][1])


@functools.cache
def table_optima() -> dict[str, dict[str, str]]:
    """The rows of trade_tables/press_optima.csv that have values, by the key of their tree."""
    with (TABLES / "press_optima.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {f"{row['block']}|{row['class_rule']}": row for row in rows if row["least_max_layers"]}
