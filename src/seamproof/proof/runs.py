"""Stitching as it runs through one layer of cloth: where it ends, and where the allowance lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from seamproof.findings import Finding
from seamproof.proof.checks import ALLOWANCE, faulty, long
from seamproof.proof.cloth_geometry import (
    HAIR,
    Polygon,
    Ray,
    area,
    chord,
    common,
    cross,
    edges,
    nothing,
    right_of,
)
from seamproof.proof.stock import Layer, Sheet

GAP = 8 * HAIR
"""So far beyond an allowance there must be no cloth: it ends there, to a thousandth of an inch."""


SHARP = 20.0
"""Where two arms of a thing meet at a sharp corner, the raw edge of the other one runs beside an
allowance for so many times its distance: the cotangent of half of six degrees."""


TIP = 0.5
"""Sine of 30 degrees: a corner sharper than that is a tip, and the half-rectangle triangle that has
it is cut large, so that its tip lies beyond the other triangle's end."""


SLANT = 1e-4
"""Sine of an angle at which an edge does not run beside a seam but meets it: less than a hair in an
inch is parallel."""


@dataclass(frozen=True, slots=True)
class End:
    """Where stitching ends: at a raw edge, or (not `raw`) within the cloth. Dog ears lie within
    `reach` of it."""

    at: complex
    reach: float
    raw: bool = True


@dataclass(frozen=True, slots=True)
class Stitching:
    """A stitched line from `line.start` on for `length`; at its `middle` the layers meet."""

    line: Ray
    length: float
    middle: complex

    def reversed(self) -> Stitching:
        """The same stitches from the other end."""
        return Stitching(Ray(self.line.at(self.length), -self.line.ahead), self.length, self.middle)


@dataclass(frozen=True, slots=True)
class Corner:
    """Where a run meets the line of another one at a corner that is set in: at its beginning (side
    0) or its end (1). `alone` is its limit there for cloth that does not lie along the other."""

    side: int
    other: Ray
    alone: Ray


@dataclass(frozen=True, slots=True)
class Run:
    """Stitching through one layer. What stays in sight lies on the right of `line`; the allowance
    is the cloth left of the line and right of all `limits`: where it begins along the line, where
    it ends, how deep it is. Between `sure`, along the line, the allowance must be whole; beyond, a
    corner of cloth may be missing, or (where a seam ends within the cloth) more of it go on."""

    line: Ray
    limits: tuple[Ray, ...]
    sure: tuple[float, float]
    ends: tuple[End, ...]
    corners: tuple[Corner, ...] = ()

    def along(self, sheet: Sheet) -> bool:
        """Whether a sheet lies along the line, on the side that stays in sight."""
        low, high = self.sure
        a, b, across = self.line.at(low), self.line.at(high), self.line.ahead * 1j * GAP
        held = sum(area(common(face, (a, b, b + across, a + across))) for face in sheet.faces)
        return high > low and held > GAP * HAIR

    def beside(self, others: Sequence[Run]) -> Run:
        """The run for cloth that lies along it and some others: at a corner that is set in, cloth
        that does not lie along the other line is not shared with it."""
        limits = list(self.limits)
        for corner in self.corners:
            if all(other.line != corner.other for other in others):
                limits[corner.side] = corner.alone
        return replace(self, limits=tuple(limits))

    def turned_over(self) -> Run:
        """The same for cloth that was turned over the line: all sides change."""
        line = self.line
        limits = tuple(
            Ray(line.turned_over(side.start), -(line.ahead**2) * side.ahead.conjugate())
            for side in self.limits
        )
        return Run(line.back(), limits, self.sure, self.ends)

    def divide(self, face: Polygon) -> tuple[list[Polygon], Polygon]:
        """What of a convex face stays, and what lies in the allowance."""
        stays = []
        under = face
        for side in (self.line.back(), *self.limits):
            under = right_of(under, side)
        if nothing(under):
            return [face], ()
        for side in (self.line.back(), *self.limits):
            beyond = right_of(face, side.back())
            if not nothing(beyond):
                stays.append(beyond)
            face = right_of(face, side)
        return stays, under


def ends_well(base: Layer, top: Layer, stitching: Stitching, seam: float) -> bool:
    """Whether stitching begins and ends at the raw edge of both layers, or of one that ends before
    the other, or as far within them as the seam allowance goes; not somewhere in the allowance, nor
    beyond the cloth."""
    for side in (stitching, stitching.reversed()):
        ways = [
            (layer, way[0])
            for layer in (base, top)
            if (way := way_through(layer, side.line, 0, side.length)) is not None
        ]
        if any(abs(start) <= HAIR for _, start in ways):
            continue
        if max(_finished(layer, side.line, seam, start) for layer, start in ways) > HAIR:
            return False
    return True


def way_through(layer: Layer, line: Ray, low: float, high: float) -> tuple[float, float] | None:
    """From where to where a line runs through the cloth of a layer without leaving it, as far as
    that way has something in common with the stretch from `low` to `high`."""
    way: tuple[float, float] | None = None
    # The line may run along the edge between two faces of one cloth.
    runs = (run for face in layer.body if (run := chord(face, line, touching=True)))
    for start, end in sorted(runs):
        if way is not None and start <= way[1] + HAIR:
            way = (way[0], max(way[1], end))
        elif way is None or way[1] <= low + HAIR:
            way = (start, end)
    return way if way and way[1] > low + HAIR and way[0] < high - HAIR else None


def more_on_the_right(layer: Layer, stitching: Stitching) -> bool:
    """On which side of the stitching the cloth goes farther, looked at in its middle."""
    across = Ray(stitching.middle, 1j * stitching.line.ahead)
    way = way_through(layer, across, -HAIR, HAIR)
    return way is None or way[1] > -way[0]


def runs_through(layer: Layer, lines: Sequence[Stitching], seam: float) -> list[Run]:
    """Stitching through one layer, what stays in sight on the right."""
    runs = []
    for stitching in lines:
        line, length = stitching.line, stitching.length
        low, low_end, first = _end(layer, line, seam, length)
        high, high_end, last = _end(layer, stitching.reversed().line, seam, length)
        high, last = length - high, length - last
        limits = [
            *_between(
                line,
                low - (low_end.reach if low_end.raw else 0),
                high + (high_end.reach if high_end.raw else 0),
            ),
            line.moved(-seam - HAIR),
        ]
        sure = [first, last]
        ends = [low_end, high_end]
        corners = []
        for other in lines:
            # Where two runs meet at a corner that is set in, they share the cloth there evenly.
            for side, corner, meets in ((0, 0.0, other.length), (1, length, 0.0)):
                p = line.at(corner)
                if other is stitching or abs(other.line.at(meets) - p) > HAIR:
                    continue
                middle = -1j * (line.ahead + other.line.ahead)
                towards_this = cross(middle, line.at(length / 2) - p) > 0
                limits[side] = Ray(p, (middle if towards_this else -middle) / abs(middle))
                bend = abs(cross(line.ahead, other.line.ahead)) / (
                    1 + (line.ahead * other.line.ahead.conjugate()).real
                )
                sure[side] = corner + (1, -1)[side] * seam * bend
                ends[side] = End(p, seam * (1 + bend))
                # Alone, cloth ends at the corner; where the corner sticks out, with its tip.
                sticks_out = (1, -1)[side] * cross(other.line.ahead, line.ahead) > 0
                tip = seam * (1 + bend) if sticks_out else 0.0
                alone = _between(line, corner - tip, corner + tip)[side]
                corners.append(Corner(side, other.line, alone))
        runs.append(Run(line, tuple(limits), (sure[0], sure[1]), tuple(ends), tuple(corners)))
    return runs


def _between(line: Ray, low: float, high: float) -> tuple[Ray, Ray]:
    """Two lines across another one; what is right of both lies between them."""
    return Ray(line.at(low), -1j * line.ahead), Ray(line.at(high), 1j * line.ahead)


def _end(layer: Layer, line: Ray, seam: float, length: float) -> tuple[float, End, float]:
    """Where along a line, near its start, the stitching through a layer ends, how far from there
    cloth may stick out, and from where on the allowance is sure to be whole.

    It ends at the raw edge if it starts no farther in than the finished end of the seam (or in the
    tip of a sharp triangle, which the other layer does not reach into); else where it starts.
    """
    way = way_through(layer, line, 0, length)
    if way is not None:
        finished = _finished(layer, line, seam, way[0])
        slope = max(_slope(layer, line, way[0]), HAIR)
        reach = max(seam / slope, finished - way[0])
        if finished >= -HAIR or (slope < TIP and way[0] >= -2 * reach):
            return way[0], End(line.at(way[0]), reach), max(finished, 0.0)
    return 0.0, End(line.start, seam, raw=False), seam


def _finished(layer: Layer, line: Ray, seam: float, start: float) -> float:
    """Where along a line that enters a layer at `start` the seam begins when the layer is sewn all
    round: one allowance from every other raw edge."""
    if len(layer.body) > 1:
        return start + seam / max(_slope(layer, line, start), HAIR)  # as far as its own edge says
    found = start
    for edge in edges(layer.body[0]):
        climb = cross(edge.ahead, line.ahead)
        if climb > SLANT:
            found = max(found, (seam - edge.off(line.start)) / climb)
    return found


def _slope(layer: Layer, line: Ray, at: float) -> float:
    """The sine of the angle between a line and the raw edge that it meets at a distance along."""
    p = line.at(at)
    sines = [
        abs(cross(edge.ahead, line.ahead))
        for face in layer.body
        for edge in edges(face)
        if abs(edge.off(p)) <= HAIR
    ]
    return max(sines, default=1.0)


def allowance_fault(layer: Layer, run: Run, seam: float, told: str) -> Finding | None:
    """Whether the allowance of a run is as wide as it must be."""
    low, high = run.sure
    bounds = run.limits[:2]
    if high - low > HAIR:
        bounds = _between(run.line, low, high)
    line = run.line
    beside = list(layer.body)
    for side in (line.back(), *bounds):
        beside = [rest for face in beside if not nothing(rest := right_of(face, side))]
    # What is wide enough ends there: cloth farther off may be another arm of the same thing.
    inner = [right_of(face, line.moved(-seam)) for face in beside]
    rim = (line.moved(-seam - HAIR).back(), line.moved(-seam - GAP))
    beyond = [right_of(right_of(face, rim[0]), rim[1]) for face in beside]
    missing = seam * (high - low) - sum(area(face) for face in inner)
    if sum(area(face) for face in beyond) > GAP * SHARP * GAP or (low >= high and not any(inner)):
        across = Ray(line.at((low + high) / 2), -1j * line.ahead)
        way = way_through(layer, across, -HAIR, HAIR)
        wide = way[1] if way is not None else 0.0
        return faulty(
            ALLOWANCE,
            f"{told}: the cloth beyond the stitching is {long(wide)} wide, not {long(seam)}",
        )
    if missing > HAIR * (high - low + seam):
        return faulty(
            ALLOWANCE, f"{told}: the cloth beyond the stitching is not {long(seam)} everywhere"
        )
    return None
