"""One more seam: drawings with corners to set in, made sewable with straight seams.

A seam that ends at a corner to be set in is run on through it, across the opposite patch, until it
meets another seam. That divides one patch and lets a seam run straight over the corner.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from seamproof.draft.model import Block, Patch
from seamproof.length.exact import kept
from seamproof.piecing.model import ExtraSeam
from seamproof.piecing.planning import set_in_points, undivided
from seamproof.piecing.shapes import Layout, lay_out
from seamproof.plane.model import Point
from seamproof.plane.predicates import cross, same_point

LOOKED_AT = 12
"""Seams that are tried out at each step; the others look worse at first sight."""


@dataclass(frozen=True, slots=True)
class Variant:
    """A block with more seams, and the seams that were added."""

    block: Block
    seams: tuple[ExtraSeam, ...]


def with_more_seams(block: Block) -> Variant:
    """The block with the few more seams that leave no corner to be set in.

    One seam at a time, the best one first: that leaves the fewest corners, then the fewest regions
    without a straight seam, that ends at a corner of the drawing, that makes the fewest new kinds
    of patch. Stops where no seam helps any more. A block without corners to set in comes back as
    it is.
    """
    added: list[ExtraSeam] = []
    layout = lay_out(block)
    left = len(set_in_points(layout))
    while left:
        tried = []
        for candidate in sorted(_candidates(layout), key=lambda c: c.rank)[:LOOKED_AT]:
            after = lay_out(candidate.block)
            points = len(set_in_points(after))
            whole = frozenset(range(len(after.block.patches)))
            cores = sum(len(region) > 1 for region in undivided(after, whole))
            rank = (points, cores, not candidate.ends_well, len(after.shapes), candidate.rank)
            tried.append((rank, candidate, after, points))
        best = min(tried, key=lambda t: t[0], default=None)
        if best is None or best[3] >= left:
            break
        _, candidate, layout, points = best
        added.append(ExtraSeam(candidate.line, left - points))
        left = points
    return Variant(layout.block, tuple(added))


@dataclass(frozen=True, slots=True)
class _Candidate:
    block: Block
    line: tuple[Point, Point]
    ends_well: bool
    rank: tuple[float, ...]


def _candidates(layout: Layout) -> Iterator[_Candidate]:
    """Each seam run on through each corner to be set in."""
    map_, vertices = layout.map, layout.block.vertices
    corners = set(set_in_points(layout))
    faces: dict[int, set[int]] = {}
    for (v, _), face in map_.face.items():
        faces.setdefault(v, set()).add(face)
    for u, v in map_.face:
        for face in sorted(faces[v]) if v in corners else ():
            hit = _hit(layout, face, u, v)
            if hit is None:
                continue
            edge, point = hit
            end = next((w for w in edge if same_point(vertices[w], point)), None)
            block = _divided(layout.block, face, v, edge, end, point)
            length = math.dist(layout.spots[v], (float(point[0]), float(point[1])))
            helps = end in corners
            rank = (-int(helps), int(end is None), length, float(vertices[v][1]))
            yield _Candidate(
                block, (vertices[v], point), end is not None, (*rank, float(vertices[v][0]))
            )


def _hit(layout: Layout, face: int, u: int, v: int) -> tuple[tuple[int, int], Point] | None:
    """Where the line u→v, run on into a patch of which v is a corner, first meets its edge."""
    vertices, loop = layout.block.vertices, layout.map.faces[face]
    i = loop.index(v)
    p, before, after = vertices[v], vertices[loop[i - 1]], vertices[loop[(i + 1) % len(loop)]]
    ahead = (2 * p[0] - vertices[u][0], 2 * p[1] - vertices[u][1])
    # The patch lies right of its edges: the line enters it between the two edges at v.
    into = cross(before, p, ahead) > 0, cross(p, after, ahead) > 0
    reflex = cross(before, p, after) < 0
    if not (any(into) if reflex else all(into)):
        return None
    best: tuple[float, tuple[int, int], Point] | None = None
    for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
        if v in (a, b):
            continue
        one, two = cross(p, ahead, vertices[a]), cross(p, ahead, vertices[b])
        if one == two or ((one > 0) == (two > 0) and one != 0 and two != 0):
            continue
        share = one / (one - two)
        at = (
            vertices[a][0] + share * (vertices[b][0] - vertices[a][0]),
            vertices[a][1] + share * (vertices[b][1] - vertices[a][1]),
        )
        forward = (at[0] - p[0]) * (ahead[0] - p[0]) + (at[1] - p[1]) * (ahead[1] - p[1])
        if forward > 0 and (best is None or float(forward) < best[0]):
            best = (float(forward), (a, b), (kept(at[0]), kept(at[1])))
    return (best[1], best[2]) if best else None


def _divided(
    block: Block, face: int, v: int, edge: tuple[int, int], end: int | None, point: Point
) -> Block:
    """The block with one patch divided from vertex v to a point on one of its edges."""
    vertices = block.vertices
    if end is None:
        end = len(vertices)
        vertices = (*vertices, point)

    def with_end(corners: tuple[int, ...]) -> tuple[int, ...]:
        if end in corners:
            return corners
        found = list(corners)
        for i, a in enumerate(corners):
            b = corners[(i + 1) % len(corners)]
            if {a, b} == set(edge):
                found.insert(i + 1, end)
        return tuple(found)

    patches: list[Patch] = []
    for number, patch in enumerate(block.patches):
        corners = with_end(patch.corners)
        if number != face:
            patches.append(replace(patch, corners=corners))
            continue
        i, j = corners.index(v), corners.index(end)
        first = corners[i : j + 1] if i < j else corners[i:] + corners[: j + 1]
        second = corners[j : i + 1] if j < i else corners[j:] + corners[: i + 1]
        patches += [replace(patch, corners=first), replace(patch, corners=second)]
    return replace(
        block, vertices=vertices, patches=tuple(patches), outline=with_end(block.outline)
    )
