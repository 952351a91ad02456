"""How many layers lie where in a whole top, counted once for everything that is alike.

A tile's *key* is the cloth that may lie in it, clipped to its reach, in the tile's own frame, with
the folds of the setting that pass by. Tiles with one key have the same layers, so only the first is
folded and overlaid, all those together in one overlay. What the key of a tile is made of is
remembered by kind of leaf, so a top of many blocks of few kinds is recognised fast.
"""

from __future__ import annotations

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
from seamproof.pressing.folding import Convex, Spot
from seamproof.pressing.kinds import Kind, strip_kind, turned_kind
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.model import PressSettings
from seamproof.pressing.sheets import REACH, Above, Seam, folds_of, leaves_above
from seamproof.pressing.tables import LEFT, OPEN
from seamproof.pressing.tiles import Lying, Tile, Tiling, around, fills, spun, spun_box
from seamproof.pressing.windows import Box, Crease, Window, WindowCloth, clip, overlaid

DECIMALS = 5
"""Cloth is alike if its corners are, to this many decimals of an inch."""

STEPS = 64
"""The depth of tiles is rounded up to this part of an inch."""

KEPT = 1e-7
"""Square inches to the square inch of cloth that the tiles of a top may lose. Corners off the grid
of inches, as on point or in centimetres, are kept to 2^-20 in, so that neighbours miss each other
by a millionth of an inch; on the grid a thousand-millionth is not lost."""

Key = tuple[object, ...]


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
        self._contents: dict[tuple[object, ...], _Content] = {}

    def laid(self) -> Laid:
        found = list(leaves_above(self.plan, self.settings))
        self.turn = _field(self.plan, [here for here, _ in found])
        leaves = [self._lying(here, above) for here, above in found]
        deepest = max([self.seam, *(kind.beyond for kind in self.kinds)])
        self.depth = math.ceil(deepest * STEPS - NEAR) / STEPS
        outline = tuple(self._here(p) for p in self.plan.parts[self.plan.whole].outline)
        leaves += around(outline, self.depth)
        self.tiling = Tiling(self.kinds, leaves, self.depth, self.seam)
        numbers: dict[Key, int] = {}
        fresh: list[tuple[Key, WindowCloth]] = []
        places = []
        for tile in self.tiling.tiles():
            key, quarters, there = self._key(tile)
            if key not in numbers:
                numbers[key] = len(numbers)
                if key not in self.known.windows:
                    fresh.append((key, self._cloth(tile, quarters, there)))
            places.append((numbers[key], quarters, _middle(tile.box)))
        made = overlaid([cloth for _, cloth in fresh])
        for (key, _), window in zip(fresh, made, strict=True):
            self.known.windows[key] = window
        windows = tuple(self.known.windows[key] for key in numbers)
        areas = _areas(windows, places)
        self._assert_kept(leaves, areas)
        return Laid(windows, tuple(places), self.turn, areas, len(fresh))

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

    # Keys -----------------------------------------------------------------------------------------

    def _key(self, tile: Tile) -> tuple[Key, int, list[Lying]]:
        """The key of a tile, the quarters that turn its own frame into the field's, and the leaves
        that lie there. Its frame is that of the leaf whose cloth comes first."""
        leaf = self.tiling.leaves[tile.leaf]
        if tile.inside:
            found = self._content(leaf, tile.reach)
            quarters = (leaf.quarters - found.turn) % 4
            return ("inside", found.number), quarters, [leaf]
        there: list[tuple[int, int, int]] = []
        for number in self.tiling.reaching(tile):
            other = self.tiling.leaves[number]
            found = self._content(other, tile.reach)
            if found.cloth:
                there.append((found.number, (other.quarters - found.turn) % 4, number))
        there.sort()
        quarters = there[0][1] if there else 0
        told = []
        for cloth, turn, number in there:
            other = self.tiling.leaves[number]
            folds = self._passing(other, tile, quarters)
            alone = number if other.alone and folds else -1
            told.append((cloth, (turn - quarters) % 4, folds, alone))
        told.sort()
        (u, v), (x, y) = _middle(tile.box), _middle(tile.reach)
        shape: tuple[object, ...] = ()
        if tile.box != tile.reach:
            box = (tile.box[0] - x, tile.box[1] - y, tile.box[2] - x, tile.box[3] - y)
            shape = _told(spun_box(box, -quarters))
        if tile.shape is not None:
            shape = tuple(_told(spun((p - u, q - v), -quarters)) for p, q in tile.shape)
        size = _told(_size(spun_box(tile.reach, -quarters)))
        return (size, shape, tuple(told)), quarters, [self.tiling.leaves[n] for *_, n in there]

    def _content(self, leaf: Lying, reach: Box) -> _Content:
        """The cloth of a leaf within a reach."""
        x0, y0, x1, y1 = reach
        dx, dy = leaf.at
        own = spun_box((x0 - dx, y0 - dy, x1 - dx, y1 - dy), -leaf.quarters)
        key = (leaf.kind, *_told(own))
        found = self._contents.get(key)
        if found is None:
            cloth = _clipped(self.kinds[leaf.kind], own)
            turned_ = [_told_cloth(cloth, _middle(own), turn) for turn in range(4)]
            turn = min(range(4), key=lambda k: turned_[k])
            number = self.known.cloth.setdefault(turned_[turn], len(self.known.cloth))
            found = self._contents[key] = _Content(number, turn, cloth)
        return found

    def _passing(
        self, leaf: Lying, tile: Tile, quarters: int
    ) -> tuple[tuple[float, float, float], ...]:
        """The folds that pass a tile's reach, in a frame that `quarters` turn into the field:
        direction (what lies right of it is turned over), and how far beyond it the middle lies.

        Where such a fold begins and ends is no matter: what is sewn at a seam lies along all of it.
        """
        found = []
        for seam, side in self._near(leaf, tile):
            ux, uy = seam.along if side == LEFT else (-seam.along[0], -seam.along[1])
            x, y = _middle(tile.reach)
            off = ux * (y - seam.a[1]) - uy * (x - seam.a[0])
            along = spun((ux, uy), -quarters)
            found.append((*_told(along), round(off, DECIMALS) + 0.0))
        return tuple(found)  # type: ignore[arg-type]

    def _near(self, leaf: Lying, tile: Tile) -> Above:
        """The seams above a leaf that pass a tile's reach."""
        x, y = _middle(tile.reach)
        w, h = _size(tile.reach)
        far = (w + h) / 2 + REACH * self.seam
        found = []
        for seam, side in leaf.above:
            ux, uy = seam.along
            dx, dy = x - seam.a[0], y - seam.a[1]
            passes = abs(ux * dy - uy * dx) <= (abs(uy) * w + abs(ux) * h) / 2 - NEAR
            if passes and -far <= ux * dx + uy * dy <= seam.length + far:
                found.append((seam, side))
        return tuple(found)

    # Cloth ----------------------------------------------------------------------------------------

    def _cloth(self, tile: Tile, quarters: int, there: Sequence[Lying]) -> WindowCloth:
        """What lies in a tile, in its own frame with its middle at the origin."""
        found: list[Convex] = []
        x, y = _middle(tile.box)
        for leaf in there:
            near = () if tile.inside else self._near(leaf, tile)
            folds = [_crease(seam, side) for seam, side in near]
            for patch, piece in self._content(leaf, tile.reach).cloth:
                if leaf.alone and near:
                    lying = _put(self.kinds[leaf.kind].patches[patch], leaf)
                    folds = [Crease(f.at, f.along) for f in folds_of(lying, near, self.seam)]
                pieces = [_put(piece, leaf)]
                for fold in folds:
                    pieces = [part for one in pieces for part in fold.folded(one)]
                for one in pieces:
                    inside = one if tile.shape else clip(one, tile.box)
                    if inside:
                        found.append(tuple(spun((u - x, v - y), -quarters) for u, v in inside))
        shape = tile.shape
        if shape is not None:
            shape = tuple(spun((u - x, v - y), -quarters) for u, v in shape)
        return WindowCloth(tuple(found), shape, _size(spun_box(tile.box, -quarters)))

    def _assert_kept(self, leaves: Sequence[Lying], areas: Sequence[tuple[int, float]]) -> None:
        cut = math.fsum(self.kinds[leaf.kind].area for leaf in leaves if leaf.kind >= 0)
        covered = math.fsum(layers * area for layers, area in areas)
        if abs(cut - covered) > KEPT * cut:
            raise ArithmeticError(f"{cut - covered:.3g} sq in of a top's cloth were lost")


@dataclass(frozen=True, slots=True)
class _Content:
    """The cloth of a kind in a box, with its patches. Cloth that is alike, however turned by
    quarters, has one `number`; `turn` quarters bring it to where all of that number lie alike."""

    number: int
    turn: int
    cloth: list[tuple[int, Convex]]


def _crease(seam: Seam, side: int) -> Crease:
    ux, uy = seam.along
    return Crease(seam.a, (ux, uy) if side == LEFT else (-ux, -uy))


def _areas(
    windows: Sequence[Window], places: Sequence[tuple[int, int, Spot]]
) -> tuple[tuple[int, float], ...]:
    times = np.bincount([number for number, _, _ in places], minlength=len(windows))
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


def _put(piece: Convex, leaf: Lying) -> Convex:
    dx, dy = leaf.at
    found = []
    for p in piece:
        x, y = spun(p, leaf.quarters)
        found.append((x + dx, y + dy))
    return tuple(found)


def _clipped(kind: Kind, box: Box) -> list[tuple[int, Convex]]:
    """The cloth of a kind in a box, with the number of its patch."""
    b = kind.boxes
    near = (b[:, 0] < box[2] - NEAR) & (b[:, 2] > box[0] + NEAR)
    near &= (b[:, 1] < box[3] - NEAR) & (b[:, 3] > box[1] + NEAR)
    found = []
    for k in np.nonzero(near)[0].tolist():
        patch, piece = kind.pieces[k]
        inside = clip(piece, box)
        if inside:
            found.append((patch, inside))
    return found


def _told_cloth(
    cloth: Sequence[tuple[int, Convex]], middle: Spot, turn: int
) -> tuple[tuple[Spot, ...], ...]:
    """Cloth in numbers, round a middle and turned by quarters; alike if the cloth is."""
    mx, my = middle
    told = []
    for _, piece in cloth:
        told.append(tuple(sorted(_told(spun((x - mx, y - my), turn)) for x, y in piece)))
    return tuple(sorted(told))  # type: ignore[arg-type]


def _middle(box: Box) -> Spot:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def _size(box: Box) -> Spot:
    return box[2] - box[0], box[3] - box[1]


def _told(numbers: Sequence[float]) -> tuple[float, ...]:
    return tuple(round(n, DECIMALS) + 0.0 for n in numbers)
