"""Which tiles of a top are alike, by the cloth that may lie in them and what turns it over.

A tile's *key* is the cloth that may lie in it, clipped to its reach, in the tile's own frame, with
the creases of the setting that pass by. Its frame is that of the leaf whose cloth comes first. What
keys are made of is compared in arrays, so that a place more costs next to nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from seamproof.pressing.convexes import Convexes
from seamproof.pressing.creases import Creases
from seamproof.pressing.kinds import Kind
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.numbering import Floats, Ints, numbered, side_by_side, spread
from seamproof.pressing.tiles import Tiles, Tiling

ALIKE = 2.0**17
"""To the inch. Cloth is alike if its corners are, to such a part of an inch; so none of the common
parts of an inch lies between two numbers."""

OFF = 0.37
"""A share of such a part that keeps them from lying at the edge of a number."""

Key = tuple[object, ...]
_Told = tuple[tuple[tuple[int, int], ...], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Contents:
    """The cloth of kinds in boxes. The pieces of content k, in the frame of its kind, are those
    from `first[k]` to before `first[k + 1]`; `patch` has the patch each is of."""

    pieces: Convexes
    patch: Ints
    first: Ints

    @staticmethod
    def of(kinds: Sequence[Kind], kind: Ints, box: Floats) -> Contents:
        """Contents in turn: the kind of each, and its box, shape (n, 4)."""
        every = Convexes.of([piece for k in kinds for _, piece in k.pieces])
        patches = np.array([patch for k in kinds for patch, _ in k.pieces], dtype=np.int64)
        around = np.concatenate([k.boxes for k in kinds])
        count = np.array([len(k.pieces) for k in kinds])
        of, number = spread((np.cumsum(count) - count)[kind], count[kind])
        b, here = around[number], box[of]
        near = (b[:, 0] < here[:, 2] - NEAR) & (b[:, 2] > here[:, 0] + NEAR)
        near &= (b[:, 1] < here[:, 3] - NEAR) & (b[:, 3] > here[:, 1] + NEAR)
        of, number = of[near], number[near]
        found, those = every.taken(number).within(box[of])
        first = np.searchsorted(of[those], np.arange(len(kind) + 1))
        return Contents(found, patches[number[those]], first)

    def told(self, middle: Floats) -> list[list[_Told]]:
        """Contents in numbers, round their middles, each turned by no to three quarters; alike if
        the cloth is."""
        of = np.repeat(np.arange(len(middle)), np.diff(self.first))[self.pieces.owner]
        corners = np.round((self.pieces.points - middle[of]) * ALIKE).astype(np.int64)
        turns = [[(x, y), (-y, x), (-x, -y), (y, -x)][k] for x, y in [corners.T] for k in range(4)]
        lists = [list(zip(x.tolist(), y.tolist(), strict=True)) for x, y in turns]
        begins = self.pieces.first.tolist()
        pieces = [[tuple(sorted(spots[a:b])) for a, b in pairwise(begins)] for spots in lists]
        return [
            [tuple(sorted(turned[a:b])) for turned in pieces]
            for a, b in pairwise(self.first.tolist())
        ]


class Repeats:
    """Tiles numbered by their keys. `number` has the number of every tile, `first` for every number
    a tile that has it, `quarters` how many quarters turn the frame of a tile into the field's."""

    def __init__(
        self, tiling: Tiling, tiles: Tiles, creases: Creases, cloth: dict[object, int]
    ) -> None:
        """`cloth` numbers cloth that is alike; what is new comes to it."""
        self._tiling, self._tiles, self._cloth = tiling, tiles, cloth
        self._creases = creases
        self._every = np.arange(len(tiles.leaf))
        self._lying()
        self._folding()
        self._framed()
        pair, _ = numbered(self._number, self._turn, *self._folds, self._alone)
        order = np.lexsort((pair, self._tile))
        self._there = order
        pairs = side_by_side(self._tile, len(self._every), pair[order])
        self.number, self.first = numbered(*self._frame.T, *pairs)

    def _lying(self) -> None:
        """Pairs of a tile and a leaf with cloth in it, tile by tile, in the order that does not
        change if all is turned; the quarters of tiles are those of their first."""
        tiling, tiles = self._tiling, self._tiles
        tile, leaf = tiling.within(tiles.reach, tiling.depth - NEAR)
        kind = np.array([leaf.kind for leaf in tiling.leaves])
        those = (kind[leaf] >= 0) & (~tiles.inside[tile] | (leaf == tiles.leaf[tile]))
        tile, leaf = tile[those], leaf[those]
        at = np.array([leaf.at for leaf in tiling.leaves])
        quarters = np.array([leaf.quarters for leaf in tiling.leaves])[leaf]
        own = _spun(tiles.reach[tile] - np.tile(at[leaf], 2), -quarters)
        code, first = numbered(kind[leaf], *_told(own).T)
        found = Contents.of(tiling.kinds, kind[leaf[first]], own[first])
        number, turn = self._alike(found.told(_middle(own[first])))
        number, turn = number[code], (quarters - turn[code]) % 4
        some = np.diff(found.first)[code] > 0
        order = np.lexsort((leaf, turn, number, tile))
        order = order[some[order]]
        self.contents, self._code = found, code[order]
        self._tile, self._leaf, self._number = tile[order], leaf[order], number[order]
        self._begin = np.searchsorted(self._tile, np.append(self._every, len(self._every)))
        self.quarters = np.zeros(len(self._every), dtype=np.int64)
        some = np.diff(self._begin) > 0
        self.quarters[some] = turn[order][self._begin[:-1][some]]
        self._turn = (turn[order] - self.quarters[self._tile]) % 4

    def _alike(self, told: Sequence[Sequence[_Told]]) -> tuple[Ints, Ints]:
        """The number of the cloth of contents, and the quarters that bring each to where all of
        its number lie alike."""
        turns = [min(range(4), key=lambda k: turned[k]) for turned in told]
        numbers = [
            self._cloth.setdefault(turned[turn], len(self._cloth))
            for turned, turn in zip(told, turns, strict=True)
        ]
        return np.array(numbers, dtype=np.int64), np.array(turns, dtype=np.int64)

    def _folding(self) -> None:
        """The creases that pass the pairs, in the tiles' own frames: which way, and how far beyond
        them the middle lies."""
        tile, count, creases = self._tile, len(self._tile), self._creases
        outer = np.flatnonzero(~self._tiles.inside[tile])
        pair, rows = creases.passing(self._leaf[outer], self._tiles.reach[tile[outer]])
        pair = outer[pair]
        middle = _middle(self._tiles.reach[tile[pair]])
        along = creases.along[rows]
        off = along[:, 0] * middle[:, 1] - along[:, 1] * middle[:, 0] - creases.off[rows]
        along = turned(along, -self.quarters[tile[pair]])
        self._lines = _told(np.column_stack([along, off]))
        line, first = numbered(*self._lines.T)
        self._lines = self._lines[first]
        self._folds = side_by_side(pair, count, line)
        self._rows = side_by_side(pair, count, rows)
        alone = np.array([leaf.alone for leaf in self._tiling.leaves])[self._leaf]
        alone &= np.isin(np.arange(count), pair)
        self._alone = np.where(alone, self._leaf, -1)

    def _framed(self) -> None:
        """Size and box of every tile in its own frame, and the number of its shape."""
        tiles = self._tiles
        middle = np.tile(_middle(tiles.reach), 2)
        reach, box = (_told(_spun(b - middle, -self.quarters)) for b in (tiles.reach, tiles.box))
        known: dict[object, int] = {}
        shape = np.zeros(len(self._every), dtype=np.int64)
        for k in tiles.shapes:
            shape[k] = known.setdefault(self._shape(k), len(known) + 1)
        self._frame = np.column_stack([shape, reach[:, 2:], box])

    def _shape(self, tile: int) -> tuple[tuple[int, ...], ...]:
        """The outline of a tile that does not fill its box, told in its own frame."""
        shape = self._tiles.shapes.get(tile)
        if shape is None:
            return ()
        off = np.array(shape) - _middle(self._tiles.reach[[tile]])
        told = _told(turned(off, -self.quarters[[tile] * len(shape)]))
        return tuple(map(tuple, told.tolist()))

    def key(self, tile: int) -> Key:
        """The key of a tile, good for other tops of the same cloth too."""
        told: list[object] = []
        for pair in self._there[self._begin[tile] : self._begin[tile + 1]].tolist():
            lines = tuple(tuple(self._lines[k[pair]].tolist()) for k in self._folds if k[pair] >= 0)
            alone = self._ends(tile, pair) if self._alone[pair] >= 0 else ()
            told.append((int(self._number[pair]), int(self._turn[pair]), lines, alone))
        return (tuple(self._frame[tile, 1:].tolist()), self._shape(tile), tuple(told))

    def _ends(self, tile: int, pair: int) -> tuple[object, ...]:
        """What else matters where a seam ends away from a raw edge: where the seams that pass begin
        and end, and the patches that they may catch."""
        leaf = self._tiling.leaves[self._leaf[pair]]
        kind = self._tiling.kinds[leaf.kind]
        middle = _middle(self._tiles.reach[[tile]])
        first, last = self.contents.first[self._code[pair] : self._code[pair] + 2]
        patches = np.unique(self.contents.patch[first:last])
        shapes = [leaf.put(kind.patches[k]) for k in patches.tolist()]
        seams = [self._creases.above[k[pair]][0] for k in self._rows if k[pair] >= 0]
        shapes += [(seam.a, seam.b) for seam in seams]
        told = tuple(str(_told(np.array(shape) - middle).tolist()) for shape in shapes)
        return (int(self.quarters[tile]), *(seam.raw for seam in seams), *told)

    def there(self, tiles: Ints) -> tuple[Ints, Ints, Ints, tuple[Ints, ...]]:
        """Leaves with cloth in tiles, tile by tile: which of `tiles`, the leaf, the number of its
        content, and the rows of the creases that pass, in columns that are filled up with -1."""
        begin = self._begin[tiles]
        which, pair = spread(begin, self._begin[tiles + 1] - begin)
        rows = tuple(column[pair] for column in self._rows)
        return which, self._leaf[pair], self._code[pair], rows


def _middle(boxes: Floats) -> Floats:
    found: Floats = (boxes[:, :2] + boxes[:, 2:]) / 2
    return found


def turned(points: Floats, quarters: Ints) -> Floats:
    """Points turned round the origin by quarters, clockwise as seen, each by its own."""
    cos = np.array([1.0, 0.0, -1.0, 0.0])[quarters % 4]
    sin = np.array([0.0, 1.0, 0.0, -1.0])[quarters % 4]
    x, y = points.T
    return np.column_stack([cos * x - sin * y, sin * x + cos * y])


def _spun(boxes: Floats, quarters: Ints) -> Floats:
    """Upright rectangles turned round the origin."""
    a, b = turned(boxes[:, :2], quarters), turned(boxes[:, 2:], quarters)
    return np.column_stack([np.minimum(a, b), np.maximum(a, b)])


def _told(lengths: Floats) -> Ints:
    return np.floor(lengths * ALIKE + OFF).astype(np.int64)
