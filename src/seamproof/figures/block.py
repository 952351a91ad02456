"""The block in its fabrics."""

from __future__ import annotations

from seamproof.draft.model import Block
from seamproof.drawing.scene import Dimension, Scene, Shape, Spot, Stroke
from seamproof.figures.cloth import Coloured, Paints, edge, filled, letters, spots
from seamproof.length.notation import Measure, with_unit


def coloured(block: Block) -> tuple[Coloured, ...]:
    """The patches of a block as figures take them."""
    return tuple(Coloured(p.fabric, spots(block.corners_of(p))) for p in block.patches)


def block_scene(
    block: Block, paints: Paints, *, lettered: bool = True, measure: Measure | None = None
) -> Scene:
    """The finished block from the front: every patch in its fabric, hatch and letter, every seam.

    With `measure` its finished width and height stand at its edges.
    """
    patches = coloured(block)
    shapes: list[Shape] = filled(patches, paints)
    shapes += [Stroke("seam", line) for line in seam_lines(block)]
    shapes.append(edge(spots(block.vertices[v] for v in block.outline), kind="outline"))
    if lettered:
        shapes += letters(patches, paints)
    if measure:
        width, height = float(block.width), float(block.height)
        shapes.append(Dimension((width, height), (0.0, height), with_unit(block.width, measure)))
        shapes.append(Dimension((0.0, height), (0.0, 0.0), with_unit(block.height, measure)))
    return Scene(tuple(shapes), f"{block.name}, the finished block")


def seam_lines(block: Block) -> list[tuple[Spot, Spot]]:
    """Each edge between two patches once."""
    seen: dict[tuple[int, int], int] = {}
    for patch in block.patches:
        for a, b in zip(patch.corners, (*patch.corners[1:], patch.corners[0]), strict=True):
            key = (min(a, b), max(a, b))
            seen[key] = seen.get(key, 0) + 1
    points = spots(block.vertices)
    return [(points[a], points[b]) for (a, b), n in seen.items() if n == 2]
