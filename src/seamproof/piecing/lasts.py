"""Which seam of a core may be sewn last, and what it leaves when it is taken apart again.

Two sources: every *bent chord* (a run of seam from edge to edge that turns only where a corner
must be set in anyway), for regions small enough to look at all of them; and the seams that nothing
waits for, of one fixed choice of passes and stops.
"""

from __future__ import annotations

from collections.abc import Iterable

from seamproof.piecing.cores import Inside, Passes, inside
from seamproof.piecing.regions import NOTHING, Half, Region, Seam, edge_of
from seamproof.piecing.shapes import Edge, Layout

MOST_BENT = 400
"""Bent chords looked at in one region; more are too many to compare."""


def bent_chords(layout: Layout, region: Region) -> list[Seam] | None:
    """Every run of seam from edge to edge of a region that goes straight on over each inside
    vertex that a seam can pass straight, and turns at the others. None if there are too many."""
    within = inside(layout, region)
    straight = layout.straight
    corner = {
        v
        for v, ends in within.neighbours.items()
        if not any((a, v) in straight and straight[(a, v)][1] in ends for a in ends)
    }
    spokes: dict[int, list[int]] = {}
    for a, b in within.edges:
        spokes.setdefault(a, []).append(b)
        spokes.setdefault(b, []).append(a)
    found: list[Seam] = []
    looks = 0
    for start in sorted(spokes.keys() - within.neighbours.keys()):
        runs: list[tuple[int, ...]] = [(start, b) for b in sorted(spokes[start], reverse=True)]
        while runs:
            run = runs.pop()
            looks += 1
            if looks > 40 * MOST_BENT or len(found) > MOST_BENT:
                return None
            v = run[-1]
            if v not in within.neighbours:
                if run[0] < v:
                    found.append(Seam(run))
                continue
            if v in corner:
                ways: Iterable[int] = within.neighbours[v]
            else:
                onward = straight.get((run[-2], v))
                ways = (onward[1],) if onward is not None else ()
            runs += [(*run, w) for w in sorted(ways, reverse=True) if w not in run]
    return found


def unwaited(
    layout: Layout, region: Region, done: Passes, open_: frozenset[Half] = NOTHING
) -> list[Seam]:
    """The seams of a fixed choice that no other seam of the region waits for, in a fixed order."""
    within = inside(layout, region)
    pieces = _pieces(within, done, open_)
    waited: set[int] = set()
    for v in within.neighbours:
        p, q = done.through[v]
        bar = {pieces.get(Half(edge_of(v, p), v)), pieces.get(Half(edge_of(v, q), v))} - {None}
        if bar:
            waited |= {
                pieces[Half(edge_of(v, w), v)]
                for w in within.neighbours[v]
                if w not in (p, q) and Half(edge_of(v, w), v) in pieces
            }
    members: dict[int, list[Half]] = {}
    for half, piece in pieces.items():
        members.setdefault(piece, []).append(half)
    return [_run(members[piece], within, done) for piece in sorted(members) if piece not in waited]


def _pieces(within: Inside, done: Passes, open_: frozenset[Half]) -> dict[Half, int]:
    """Which seam each half edge belongs to; those in `open_` belong to none yet."""
    parent: dict[Half, Half] = {
        Half(e, v): Half(e, v) for e in within.edges for v in e if Half(e, v) not in open_
    }

    def root(half: Half) -> Half:
        while parent[half] != half:
            parent[half] = parent[parent[half]]
            half = parent[half]
        return half

    def unite(a: Half, b: Half) -> None:
        if a in parent and b in parent:
            ra, rb = root(a), root(b)
            parent[max(ra, rb)] = min(ra, rb)

    for edge in within.edges:
        if edge not in done.stops:
            unite(Half(edge, edge[0]), Half(edge, edge[1]))
    for v in within.neighbours:
        p, q = done.through[v]
        unite(Half(edge_of(v, p), v), Half(edge_of(v, q), v))
    numbers: dict[Half, int] = {}
    return {half: numbers.setdefault(root(half), len(numbers)) for half in sorted(parent)}


def _run(halves: list[Half], within: Inside, done: Passes) -> Seam:
    """The halves of one seam as a run of vertices."""
    whole: dict[Edge, list[int]] = {}
    for half in halves:
        whole.setdefault(half.edge, []).append(half.at)
    # Two ends of edges meet in the run where the seam passes their vertex.
    links: dict[int, list[int]] = {}
    for edge in whole:
        for v in edge:
            links.setdefault(v, []).append(edge[0] if v == edge[1] else edge[1])
    joined = {
        v
        for v, ends in links.items()
        if len(ends) == 2
        and v in within.neighbours
        and edge_of(*done.through[v]) == edge_of(ends[0], ends[1])
        and all(v in whole[edge_of(v, w)] for w in ends)
    }
    start = min(v for v, ends in links.items() if v not in joined)
    run = [start, links[start][0]]
    while run[-1] in joined:
        ends = links[run[-1]]
        run.append(ends[0] if ends[1] == run[-2] else ends[1])
    first, last = edge_of(run[0], run[1]), edge_of(run[-2], run[-1])
    return Seam(tuple(run), (run[0] not in whole[first], run[-1] not in whole[last]))


def apart(
    layout: Layout, region: Region, last: Seam, open_: frozenset[Half] = NOTHING
) -> tuple[tuple[Region, frozenset[Half]], ...]:
    """What is left when a seam is taken apart again: two regions, or one with a slit (its halves
    then join those that were open). Each with the halves that are open inside it."""
    gone = last.halves() | open_
    face = layout.map.face
    shut: set[Edge] = set()
    seen_once: set[Edge] = set()
    for half in gone:
        if half.edge in seen_once:
            shut.add(half.edge)
        seen_once.add(half.edge)
    left = set(region)
    pieces: list[Region] = []
    while left:
        seed = min(left)
        left.discard(seed)
        piece, todo = [seed], [seed]
        while todo:
            loop = layout.map.faces[todo.pop()]
            for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
                other = face.get((b, a))
                if other in left and edge_of(a, b) not in shut:
                    left.discard(other)
                    piece.append(other)
                    todo.append(other)
        pieces.append(frozenset(piece))
    result = []
    for found in pieces:
        kept = frozenset(
            half
            for half in gone
            if face.get(half.edge) in found and face.get((half.edge[1], half.edge[0])) in found
        )
        result.append((found, kept))
    return tuple(result)


def sound(layout: Layout, last: Seam, left: Iterable[tuple[Region, frozenset[Half]]]) -> bool:
    """Whether a seam can be sewn last as one seam: what it leaves has no holes, and if it leaves
    two regions it runs between them from its first stitch to its last.

    Where several seams are stopped, a ring of patches may be closed round others that are not in
    it yet; with the same passes and stops another seam is then sewn last.
    """
    face = layout.map.face
    regions = [region for region, _ in left]
    for region in regions:
        onward: dict[int, int] = {}
        for f in region:
            loop = layout.map.faces[f]
            for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
                if face.get((b, a), -1) not in region:
                    if a in onward:
                        return False
                    onward[a] = b
        start = v = next(iter(onward))
        steps = 1
        while (v := onward[v]) != start:
            steps += 1
        if steps < len(onward):
            return False
    return len(regions) == 1 or all(
        (face[half.edge] in regions[0]) != (face[(half.edge[1], half.edge[0])] in regions[0])
        for half in last.halves()
    )


def bends(layout: Layout, run: tuple[int, ...]) -> int:
    """At how many inside vertices a run turns."""
    straight = layout.straight
    return sum(
        straight.get((a, v)) != (v, b) for a, v, b in zip(run, run[1:], run[2:], strict=False)
    )
