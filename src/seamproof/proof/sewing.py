"""What happens to layers of cloth that are stitched, cut apart and opened."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from seamproof.findings import Finding
from seamproof.plane.model import Line
from seamproof.proof.checks import ALLOWANCE, STITCHING, faulty, long
from seamproof.proof.cloth_geometry import (
    HAIR,
    Polygon,
    Ray,
    apart,
    area,
    box,
    chord,
    common,
    cross,
    edges,
    fold,
    nothing,
    point,
    right_of,
    without,
)
from seamproof.proof.parting import Part
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
class Opened:
    """A part that is held together and opened, face up. `ends` holds, for either end of each seam,
    where the stitching ends in the layers. `body` is the bottom layer before opening, by which
    alike parts are recognised."""

    sheets: tuple[Sheet, ...]
    ends: tuple[tuple[End, ...], ...]
    body: tuple[Polygon, ...]


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
class Run:
    """Stitching through one layer. What stays in sight lies on the right of `line`; the allowance
    is the cloth left of the line and right of all `limits`: where it begins along the line, where
    it ends, how deep it is. Between `sure`, along the line, the allowance must be whole; beyond, a
    corner of cloth may be missing, or (where a seam ends within the cloth) more of it go on."""

    line: Ray
    limits: tuple[Ray, ...]
    sure: tuple[float, float]
    ends: tuple[End, ...]

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


def opened(part: Part, stitched: Sequence[Line], seam: float, told: str) -> Opened | Finding | None:
    """A part opened along its stitching; None if nothing holds it together.

    `seam` is the width that every allowance must have.
    """
    inside = _stitched_in(part, stitched)
    base = part.layers[0]
    tops = [layer for layer in part.layers[1:] if layer.body]
    found = [_stitching(base, top, inside, seam) for top in tops]
    if not base.body or not any(found):
        return None
    if not all(found):
        return faulty(STITCHING, f"{told}: a layer is laid on and not stitched down")
    base_runs: list[Run] = []
    ends: list[tuple[End, ...]] = []
    laid_on: list[tuple[Layer, list[Run]]] = []
    for top, lines in zip(tops, found, strict=True):
        if len(lines) > 1 and not top.opened:
            return faulty(STITCHING, f"{told}: what is stitched twice cannot be opened")
        loose = next((x for x in lines if not ends_well(base, top, x, seam)), None)
        if loose is not None:
            return faulty(
                STITCHING, f"{told}: the stitching ends neither at a raw edge nor where a seam ends"
            )
        along = [line if _more_on_the_right(base, line) else line.reversed() for line in lines]
        its_base = runs_through(base, along, seam)
        its_top = runs_through(top, [x.reversed() for x in along] if top.opened else along, seam)
        for layer, runs in ((base, its_base), (top, its_top)):
            problem = next((p for run in runs if (p := _fault(layer, run, seam, told))), None)
            if problem is not None:
                return problem
        base_runs += its_base
        for one, other in zip(its_base, its_top, strict=True):
            far = reversed(other.ends) if top.opened else other.ends
            ends += zip(one.ends, far, strict=True)
        laid_on.append((top, its_top))

    # Front to back: what stays of the first kind, what stays of each other, then the allowances.
    stays, under = _divided(base.sheets, base_runs)
    front = list(stays)
    holes = [f for f in all_faces(stays) if any(_reaches_over(f, run.line) for run in base_runs)]
    hidden = list(enumerate(under))
    for top, runs in laid_on:
        if top.opened:
            stays, under = _divided(top.sheets, runs)
        else:
            turned = [_turned_over(sheet, runs[0].line) for sheet in top.sheets]
            stays, under = _divided(turned, [run.turned_over() for run in runs])
        hidden += [(len(front) + number, sheet) for number, sheet in enumerate(under)]
        stays = [_behind(sheet, holes) for sheet in stays]
        holes += all_faces(stays)
        front += stays
    holes = all_faces(front)
    # Where the cloth goes on beyond the stitching, an open seam may be finished later.
    goes_on = not all(end.raw for both in ends for end in both)
    for number, sheet in hidden:
        if sheet.faces:
            flat = _behind(sheet, holes) if goes_on else uncovered(sheet, holes)
            front[number] = replace(
                front[number],
                faces=front[number].faces + flat.faces,
                tucked=front[number].tucked + flat.under,
            )
    return Opened(tuple(sheet for sheet in front if sheet.faces), tuple(ends), base.body)


def _stitched_in(part: Part, stitched: Iterable[Line]) -> list[tuple[complex, complex]]:
    """What the cuts leave of the stitching in a part."""
    left = []
    for a, b in stitched:
        start, end = point(a), point(b)
        low, high = 0.0, 1.0
        for bound in part.bounds:
            first, last = bound.off(start), bound.off(end)
            if max(first, last) <= HAIR:
                low = high
            elif first < -HAIR:
                low = max(low, first / (first - last))
            elif last < -HAIR:
                high = min(high, first / (first - last))
        if (high - low) * abs(end - start) > HAIR:
            left.append((start + low * (end - start), start + high * (end - start)))
    return left


def _stitching(
    base: Layer, top: Layer, stitched: Sequence[tuple[complex, complex]], seam: float
) -> list[Stitching]:
    """The stitched lines that hold two layers together. A line that runs through both for less than
    two seam allowances has no finished length: there it only crosses the other's edge."""
    least = HAIR if top.opened else 2 * seam + HAIR
    lines = []
    for a, b in stitched:
        line, length = Ray.through(a, b), abs(b - a)
        one = _way(base, line, 0, length)
        other = _way(top, line, 0, length)
        if one is None or other is None:
            continue
        low, high = max(one[0], other[0], 0), min(one[1], other[1], length)
        if high - low > least:
            lines.append(Stitching(line, length, line.at((low + high) / 2)))
    return lines


def ends_well(base: Layer, top: Layer, stitching: Stitching, seam: float) -> bool:
    """Whether stitching begins and ends at the raw edge of both layers, or of one that ends before
    the other, or as far within them as the seam allowance goes; not somewhere in the allowance, nor
    beyond the cloth."""
    for side in (stitching, stitching.reversed()):
        ways = [
            (layer, way[0])
            for layer in (base, top)
            if (way := _way(layer, side.line, 0, side.length)) is not None
        ]
        if any(abs(start) <= HAIR for _, start in ways):
            continue
        if max(_finished(layer, side.line, seam, start) for layer, start in ways) > HAIR:
            return False
    return True


def _way(layer: Layer, line: Ray, low: float, high: float) -> tuple[float, float] | None:
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


def _more_on_the_right(layer: Layer, stitching: Stitching) -> bool:
    """On which side of the stitching the cloth goes farther, looked at in its middle."""
    across = Ray(stitching.middle, 1j * stitching.line.ahead)
    way = _way(layer, across, -HAIR, HAIR)
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
        runs.append(Run(line, tuple(limits), (sure[0], sure[1]), tuple(ends)))
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
    way = _way(layer, line, 0, length)
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


def _fault(layer: Layer, run: Run, seam: float, told: str) -> Finding | None:
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
        way = _way(layer, across, -HAIR, HAIR)
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


def _divided(sheets: Iterable[Sheet], runs: Sequence[Run]) -> tuple[list[Sheet], list[Sheet]]:
    """What of each sheet stays in sight, and what of it lies in the allowances."""
    sight, beneath = [], []
    for sheet in sheets:
        stays, under = list(sheet.faces), []
        for run in runs:
            divided = [run.divide(face) for face in stays]
            stays = [face for some, _ in divided for face in some]
            under += [face for _, face in divided if face]
        sight.append(replace(sheet, faces=tuple(stays)))
        beneath.append(replace(sheet, faces=tuple(under), under=(), tucked=()))
    return sight, beneath


def all_faces(sheets: Iterable[Sheet]) -> list[Polygon]:
    """Everything that shows of some sheets."""
    return [face for sheet in sheets for face in sheet.faces]


def _reaches_over(face: Polygon, line: Ray) -> bool:
    """Whether cloth that stays lies on the far side of the stitching (beyond the seam's ends)."""
    return min(line.off(p) for p in face) < -HAIR


def _turned_over(sheet: Sheet, line: Ray) -> Sheet:
    return sheet.moved(fold(line))


def _behind(sheet: Sheet, above: Sequence[Polygon]) -> Sheet:
    """A sheet that lies flat behind other cloth: what shows of it, and what does not."""
    shows = uncovered(sheet, above)
    hidden = [
        part
        for face in sheet.faces
        for other in above
        if not apart(box(face), box(other)) and not nothing(part := common(face, other))
    ]
    return replace(shows, under=(*sheet.under, *hidden))


def uncovered(sheet: Sheet, above: Iterable[Polygon]) -> Sheet:
    """What still shows of a sheet that lies under other cloth."""
    if not sheet.faces:
        return sheet
    around = box(p for face in sheet.faces for p in face)
    holes = [(face, there) for face in above if not apart(around, there := box(face))]
    left: list[Polygon] = []
    for face in sheet.faces:
        rest, here = [face], box(face)
        for hole, there in holes:
            if not apart(here, there):
                rest = [part for some in rest for part in without(some, hole)]
        left += rest
    return replace(sheet, faces=tuple(left))
