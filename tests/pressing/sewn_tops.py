"""Small tops made ready to press: every seam pressed anyhow, and the layers of all sheets in one
overlay, against which the windows are held."""

from __future__ import annotations

import random
from collections.abc import Sequence
from fractions import Fraction

import numpy as np
import shapely

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from seamproof.piecing.model import Join, Whole
from seamproof.piecing.planning import plan
from seamproof.pressing.choices import runs
from seamproof.pressing.folding import laid
from seamproof.pressing.kinds import Kind, block_kind
from seamproof.pressing.model import PressSettings
from seamproof.pressing.overlay import faces_of, polygons
from seamproof.pressing.sheets import cloth_of
from seamproof.pressing.tables import LEFT, OPEN, RIGHT
from seamproof.setting.assembling import expanded
from seamproof.setting.model import Available, SetCell, Setting
from seamproof.setting.top import set_top
from tests.drawings import cells_drawing, understood

SETTINGS = PressSettings()


def blocks() -> tuple[Block, ...]:
    """Three 6 in blocks, none equal to itself turned: triangles, strips that end on every side, and
    a rail."""
    return (
        understood(cells_drawing("Star", (6, 6), [r"a b/a c", r"b/a b a\b", r"c a\b a"])),
        understood(cells_drawing("Steps", (6, 6), ["a b =", "a c d", "a c e"])),
        understood(cells_drawing("Rail", (6, 6), ["a", "b", "c"])),
    )


def layout(*rows: str) -> tuple[tuple[SetCell, ...], ...]:
    """A layout from lines such as ``Star Rail'``."""
    return tuple(
        tuple(SetCell(w.rstrip("'"), len(w) - len(w.rstrip("'"))) for w in row.split())
        for row in rows
    )


class SewnTop:
    """A top of :func:`blocks`, every seam pressed by a die."""

    def __init__(self, setting: Setting, seed: int = 1) -> None:
        used = {cell.name for row in setting.rows for cell in row}
        drawn = [block for block in blocks() if block.name in used]
        area = (("a", Fraction(36)),)
        known = [Available(b.name, b.width, b.height, 99, fabrics=area) for b in drawn]
        top, found = set_top(setting, known, (), CuttingSettings())
        assert top is not None, found
        dice = random.Random(seed)
        self.plan = top.plan
        self.plans = {block.name: plan(block)[0] for block in drawn}
        cloth = {name: cloth_of(made, None, SETTINGS) for name, made in self.plans.items()}
        self.inner = {
            n: [dice.choice((OPEN, LEFT, RIGHT)) for _ in c.ways] for n, c in cloth.items()
        }
        self.kinds: dict[str, Kind] = {
            name: block_kind(c, self.inner[name]) for name, c in cloth.items()
        }
        self.ways = [dice.choice((OPEN, LEFT, RIGHT)) for _ in runs(top.plan)]

    def all_at_once(self) -> dict[int, float]:
        """Square inches under each count of layers, by one overlay of every sheet."""
        whole = expanded(self.plan, self.plans)
        cloth = cloth_of(whole, None, SETTINGS)
        lies = laid(cloth.sheets, self.all_ways())
        faces, (face, _) = faces_of(polygons([lying.piece for lying in lies]))
        layers = np.bincount(face, minlength=len(faces))
        areas = shapely.area(faces)
        return {int(n): float(areas[layers == n].sum()) for n in set(layers.tolist()) if n}

    def all_ways(self) -> Sequence[int]:
        """The ways of every seam of the top sewn from patches, one per choice."""
        ways: list[int] = []
        own = iter(self.ways)
        for part in self.plan.parts:
            if isinstance(part.made, Whole):
                ways += self.inner[part.made.block]
            elif isinstance(part.made, Join):
                ways += [next(own) for _ in part.made.sewn]
        return ways
