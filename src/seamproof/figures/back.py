"""The back of a block with its allowances as they lie."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

import shapely

from seamproof.cutting.model import CuttingList
from seamproof.draft.model import Block
from seamproof.drawing.scene import Cloth, Scene, Shape, Spot, Stroke
from seamproof.figures.block import seam_lines
from seamproof.figures.cloth import Paints, edge
from seamproof.figures.press_signs import Sign, from_the_back, press_signs
from seamproof.piecing.model import PiecingPlan
from seamproof.pressing.folding import Seen, seen
from seamproof.pressing.model import Pressed, PressSettings
from seamproof.pressing.sheets import Cloth as Sheets
from seamproof.pressing.sheets import cloth_of

GRID = 1e-9
"""Inches; pieces of one sheet are joined on this grid."""


def pressed_back(
    block: Block,
    plan: PiecingPlan,
    cutting: CuttingList | None,
    settings: PressSettings,
    pressed: Pressed,
    paints: Paints,
    side: float,
) -> Scene:
    """The back of a block that is pressed by a plan, with its press signs. The longer side of it is
    drawn `side` inches long."""
    cloth = cloth_of(plan, cutting, settings)
    lying = seen(cloth.sheets, pressed.ways)
    signs = press_signs(plan, plan.whole, pressed.plan.presses)
    return back_scene(cloth, lying, seam_lines(block), paints, side, signs)


def back_scene(
    cloth: Sheets,
    lying: Sequence[Seen],
    stitched: Sequence[tuple[Spot, Spot]],
    paints: Paints,
    side: float,
    signs: Sequence[Sign] = (),
) -> Scene:
    """The block from the back, left and right changed over, trimmed to its raw edge.

    `lying` is its cloth from the front to the back, `stitched` are the seams, both in inches of the
    finished block as seen from the front. The wrong side of cloth is pale; an allowance that is
    turned shows its right side. `signs` are the press signs, as seen from the front as well. The
    longer side of it all is drawn `side` inches long.
    """
    window = shapely.Polygon(cloth.raw)
    left, top, right, bottom = window.bounds
    scale = side / max(right - left, bottom - top)

    def mirrored(spot: Spot) -> Spot:
        return ((right - spot[0]) * scale, (spot[1] - top) * scale)

    together: dict[tuple[int, int, bool], list[Seen]] = defaultdict(list)
    for one in lying:
        together[one.sheet, one.part, one.turned].append(one)
    shapes: list[Shape] = []
    for (sheet, part, turned), some in together.items():
        whole = shapely.union_all(
            [shapely.Polygon(one.piece) for one in some], grid_size=GRID
        ).intersection(window)
        paint = paints[cloth.sheets[sheet].fabric]
        for polygon in shapely.get_parts(whole):
            if polygon.area <= 0 or polygon.geom_type != "Polygon":
                continue
            ring = tuple(mirrored((x, y)) for x, y in polygon.exterior.coords[:-1])
            shapes.append(Cloth(ring, paint, "right" if turned else "wrong"))
            if part >= 0:
                shapes.append(edge(ring))
    shapes += [Stroke("stitching", (mirrored(a), mirrored(b))) for a, b in stitched]
    shapes.append(edge([mirrored(spot) for spot in cloth.raw]))
    shapes += [from_the_back(sign, mirrored) for sign in signs]
    return Scene(tuple(shapes), "the back, with its seam allowances as they lie")
