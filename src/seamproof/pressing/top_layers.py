"""How many layers lie where in a whole top, counted once for everything that is alike.

Tiles with one key have the same layers, so of each key only the first tile is folded, and all those
are counted together.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

import numpy as np

from seamproof.piecing.model import Leaf, PiecingPlan
from seamproof.plane.model import Placed
from seamproof.plane.predicates import turned
from seamproof.pressing.choices import seen_along
from seamproof.pressing.convexes import Convexes
from seamproof.pressing.creases import Creases
from seamproof.pressing.folding import Spot
from seamproof.pressing.kinds import Kind, strip_kind, turned_kind
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.model import PressSettings
from seamproof.pressing.numbering import Floats, Ints, spread
from seamproof.pressing.repeats import Key, Repeats
from seamproof.pressing.repeats import turned as turned_by
from seamproof.pressing.sheets import Above, Seam, folds_of, leaves_above
from seamproof.pressing.tables import OPEN
from seamproof.pressing.tiles import Lying, Tiling, around, fills, spun
from seamproof.pressing.windows import Window, overlaid

STEPS = 64
"""The depth of tiles is rounded up to this part of an inch."""

KEPT = 1e-6
"""Square inches to the square inch of cloth that the tiles of a top may lose. Corners off the grid
of inches, as on point or in centimetres, are kept to 2^-20 in, so that neighbours miss each other
by a millionth of an inch along their edges (1.5e-7 on a metric quilt of four small blocks); on the
grid a thousand-millionth is not lost."""

NOWHERE = ((0.0, 0.0), 1.0)
"""A crease that turns nothing over: everything lies left of it."""


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """A whole top, divided: the windows, and where each lies: its number, quarter turns and middle
    in the field, which is turned `turn` (share of a full turn) in the top."""

    windows: tuple[Window, ...]
    places: tuple[tuple[int, int, Spot], ...]
    turn: Fraction
    areas: tuple[tuple[int, float], ...]
    made: int


@dataclass(eq=False)
class Known:
    """What was worked out before, for the next top: windows by key, and numbers of cloth that is
    alike."""

    cloth: dict[object, int] = field(default_factory=dict)
    windows: dict[Key, Window] = field(default_factory=dict)


def lay(
    plan: PiecingPlan,
    blocks: Mapping[str, Kind],
    ways: Sequence[int],
    settings: PressSettings,
    known: Known | None = None,
) -> Laid:
    """The layers of a top. `plan` has blocks as its leaves, `blocks` says how each lies by itself,
    `ways` how the seams of the setting are pressed, one way per choice of the plan.

    Raises ArithmeticError if cloth was lost on the way.
    """
    return _Top(plan, blocks, ways, settings, known or Known()).laid()


class _Top:
    def __init__(
        self,
        plan: PiecingPlan,
        blocks: Mapping[str, Kind],
        ways: Sequence[int],
        settings: PressSettings,
        known: Known,
    ) -> None:
        self.plan, self.blocks, self.ways = plan, blocks, ways
        self.settings, self.known = settings, known
        self.seam = float(settings.seam)
        self.kinds: list[Kind] = []
        self._numbers: dict[tuple[object, Fraction], int] = {}
        self._seams: dict[int, tuple[Seam, bool]] = {}

    def laid(self) -> Laid:
        found = list(leaves_above(self.plan, self.settings))
        self.turn = _field(self.plan, [here for here, _ in found])
        leaves = [self._lying(here, above) for here, above in found]
        deepest = max([self.seam, *(kind.beyond for kind in self.kinds)])
        self.depth = math.ceil(deepest * STEPS - NEAR) / STEPS
        outline = tuple(self._here(p) for p in self.plan.parts[self.plan.whole].outline)
        leaves += around(outline, self.depth)
        self.leaves = leaves
        tiling = Tiling(self.kinds, leaves, self.depth, self.seam)
        self.tiles = tiling.tiles()
        self.creases = Creases(leaves, self.depth, self.seam)
        self.repeats = Repeats(tiling, self.tiles, self.creases, self.known.cloth)
        first = self.repeats.first.tolist()
        keys = [self.repeats.key(tile) for tile in first]
        known = self.known.windows
        fresh = {key: tile for key, tile in zip(keys, first, strict=True) if key not in known}
        pieces, window = self._cloth(np.array(list(fresh.values()), dtype=np.int64))
        known |= zip(fresh, overlaid(pieces, window, len(fresh)), strict=True)
        windows = tuple(known[key] for key in keys)
        places = self._places()
        areas = _areas(windows, self.repeats.number)
        self._assert_kept(leaves, areas)
        return Laid(windows, places, self.turn, areas, len(fresh))

    def _places(self) -> tuple[tuple[int, int, Spot], ...]:
        """Number of the window, quarters and middle of every tile."""
        box = self.tiles.box
        middles = ((box[:, :2] + box[:, 2:]) / 2).tolist()
        told = zip(
            self.repeats.number.tolist(), self.repeats.quarters.tolist(), middles, strict=True
        )
        return tuple((number, quarters, (x, y)) for number, quarters, (x, y) in told)

    # Leaves ---------------------------------------------------------------------------------------

    def _here(self, p: tuple[Fraction, Fraction]) -> Spot:
        """A point of the top in the field."""
        x, y = turned(p, -self.turn % 1)
        return float(x), float(y)

    def _lying(self, here: Placed, above: Above) -> Lying:
        turn = (here.turn - self.turn) % 1
        quarters, rest = divmod(turn, Fraction(1, 4))
        number = self._kind(here.part, rest)
        kind, at = self.kinds[number], self._here(here.at)

        def there(p: Spot) -> Spot:
            x, y = spun(p, int(quarters))
            return x + at[0], y + at[1]

        outline = tuple(map(there, kind.outline))
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        box = (min(xs), min(ys), max(xs), max(ys))
        active, alone = [], False
        for seam, side in above:
            moved, pressed = self._moved(seam, side)
            if pressed:
                active.append((moved, side))
                alone = alone or not all(seam.raw)
        return Lying(
            number,
            int(quarters),
            at,
            box,
            outline,
            tuple(active),
            alone,
            fills(outline, box),
        )

    def _kind(self, part: int, rest: Fraction) -> int:
        made = self.plan.parts[part].made
        key: tuple[object, Fraction] = (part, rest)
        if key not in self._numbers:
            if isinstance(made, Leaf):
                kind = strip_kind(made.corners, self.settings.seam)
            else:
                kind = self.blocks[made.block]  # type: ignore[union-attr]
            self._numbers[key] = len(self.kinds)
            self.kinds.append(turned_kind(kind, rest) if rest else kind)
        return self._numbers[key]

    def _moved(self, seam: Seam, side: int) -> tuple[Seam, bool]:
        """A seam in the field, and whether it folds what lies on one of its sides."""
        key = id(seam)
        if key not in self._seams:
            angle = -float(self.turn) * 2 * math.pi
            cos, sin = math.cos(angle), math.sin(angle)
            if not self.turn:
                cos, sin = 1.0, 0.0
            a, b = ((x * cos - y * sin, x * sin + y * cos) for x, y in (seam.a, seam.b))
            self._seams[key] = (replace(seam, a=a, b=b), False)
        moved = self._seams[key][0]
        way = self.ways[seam.run.choice]
        return moved, way == OPEN or way == seen_along(side, seam.run.against)

    # Cloth ----------------------------------------------------------------------------------------

    def _cloth(self, tiles: Ints) -> tuple[Convexes, Ints]:
        """What lies in tiles, each in its own frame with its middle at the origin, and for every
        piece in which of them it lies, in ascending order."""
        contents, (which, leaf, code, rows) = self.repeats.contents, self.repeats.there(tiles)
        pair, number = spread(contents.first[code], np.diff(contents.first)[code])
        pieces = contents.pieces.taken(number)
        quarters = np.array([one.quarters for one in self.leaves])[leaf]
        at = np.array([one.at for one in self.leaves])[leaf]
        corner = pair[pieces.owner]
        put = turned_by(pieces.points, quarters[corner]) + at[corner]
        pieces = Convexes(put, pieces.first)
        creases = self._caught(leaf[pair], contents.patch[number], [row[pair] for row in rows])
        of = np.arange(len(pair))
        for along, off in creases:
            pieces, those = pieces.folded(along[of], off[of])
            of = of[those]
        tile = which[pair]
        pieces, those = self._cut(pieces, tiles[tile[of]])
        of = of[those]
        order = np.argsort(tile[of], kind="stable")
        pieces, of = pieces.taken(order), of[order]
        box = self.tiles.box[tiles][tile[of]][pieces.owner]
        points = pieces.points - (box[:, :2] + box[:, 2:]) / 2
        points = turned_by(points, -self.repeats.quarters[tiles][tile[of]][pieces.owner])
        return Convexes(points, pieces.first), tile[of]

    def _caught(self, leaf: Ints, patch: Ints, rows: Sequence[Ints]) -> list[tuple[Floats, Floats]]:
        """The creases of pieces of cloth, what is sewn first first: for each piece the direction,
        and that across a point of the line."""
        found = []
        for row in rows:
            along, off = self.creases.along[row], self.creases.off[row]
            along[row < 0], off[row < 0] = NOWHERE
            found.append((along, off))
        alone = np.array([one.alone for one in self.leaves])[leaf]
        for k in np.flatnonzero(alone).tolist():
            lying = self.leaves[leaf[k]]
            near = [self.creases.above[row[k]] for row in rows if row[k] >= 0]
            own = folds_of(lying.put(self.kinds[lying.kind].patches[patch[k]]), near, self.seam)
            for (along, off), fold in itertools.zip_longest(found, own):
                if fold is None:
                    along[k], off[k] = NOWHERE
                else:
                    (u, v), (x, y) = fold.along, fold.at
                    along[k], off[k] = (u, v), u * y - v * x
        return found

    def _cut(self, pieces: Convexes, tile: Ints) -> tuple[Convexes, Ints]:
        """What of pieces lies in their tiles."""
        pieces, of = pieces.within(self.tiles.box[tile])
        for number, shape in self.tiles.shapes.items():
            for a, b in zip(shape, (*shape[1:], shape[0]), strict=True):
                there = tile[of] == number
                if not there.any():
                    break
                (u, v), there = (b[0] - a[0], b[1] - a[1]), there[pieces.owner]
                length = math.hypot(u, v)
                x, y = (pieces.points - np.array(a)).T
                # Outlines go round clockwise as seen: what lies left of an edge is outside.
                left = (v * x - u * y) / length
                pieces, those = pieces.below(np.where(there, left, -1.0))
                of = of[those]
        return pieces, of

    def _assert_kept(self, leaves: Sequence[Lying], areas: Sequence[tuple[int, float]]) -> None:
        cut = math.fsum(self.kinds[leaf.kind].area for leaf in leaves if leaf.kind >= 0)
        covered = math.fsum(layers * area for layers, area in areas)
        if abs(cut - covered) > KEPT * cut:
            raise ArithmeticError(f"{cut - covered:.3g} sq in of a top's cloth were lost")


def _areas(windows: Sequence[Window], numbers: Ints) -> tuple[tuple[int, float], ...]:
    times = np.bincount(numbers, minlength=len(windows))
    found: dict[int, list[float]] = defaultdict(list)
    for window, count in zip(windows, times.tolist(), strict=True):
        for layers, area in window.areas:
            found[layers].append(count * area)
    return tuple((layers, math.fsum(found[layers])) for layers in sorted(found))


def _field(plan: PiecingPlan, leaves: Sequence[Placed]) -> Fraction:
    """How the blocks stand in the top: the turn of the first, within a quarter."""
    for here in leaves:
        if not isinstance(plan.parts[here.part].made, Leaf):
            return here.turn % Fraction(1, 4)
    return Fraction(0)
