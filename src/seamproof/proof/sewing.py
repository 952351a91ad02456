"""What happens to layers of cloth that are stitched, cut apart and opened."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from seamproof.findings import Finding
from seamproof.plane.model import Line
from seamproof.proof.checks import STITCHING, faulty
from seamproof.proof.cloth_geometry import (
    HAIR,
    Polygon,
    Ray,
    apart,
    box,
    common,
    fold,
    nothing,
    point,
    without,
)
from seamproof.proof.parting import Part
from seamproof.proof.runs import (
    End,
    Run,
    Stitching,
    allowance_fault,
    ends_well,
    more_on_the_right,
    runs_through,
    way_through,
)
from seamproof.proof.stock import Layer, Sheet


@dataclass(frozen=True, slots=True)
class Opened:
    """A part that is held together and opened, face up. `ends` holds, for either end of each seam,
    where the stitching ends in the layers. `body` is the bottom layer before opening, by which
    alike parts are recognised."""

    sheets: tuple[Sheet, ...]
    ends: tuple[tuple[End, ...], ...]
    body: tuple[Polygon, ...]


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
        along = [line if more_on_the_right(base, line) else line.reversed() for line in lines]
        its_base = runs_through(base, along, seam)
        its_top = runs_through(top, [x.reversed() for x in along] if top.opened else along, seam)
        for layer, runs in ((base, its_base), (top, its_top)):
            faults = (allowance_fault(layer, run, seam, told) for run in runs)
            problem = next((fault for fault in faults if fault is not None), None)
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
    front = _in_sight(front)
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


def _in_sight(front: Sequence[Sheet]) -> list[Sheet]:
    """Sheets with whatever of them lay behind cloth that is now sewn out of the way."""
    shown = all_faces(front)
    found = []
    for sheet in front:
        rest = uncovered(replace(sheet, faces=sheet.under), shown).faces if sheet.under else ()
        shown += rest
        found.append(replace(sheet, faces=sheet.faces + rest))
    return found


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
        one = way_through(base, line, 0, length)
        other = way_through(top, line, 0, length)
        if one is None or other is None:
            continue
        low, high = max(one[0], other[0], 0), min(one[1], other[1], length)
        if high - low > least:
            lines.append(Stitching(line, length, line.at((low + high) / 2)))
    return lines


def _divided(sheets: Iterable[Sheet], runs: Sequence[Run]) -> tuple[list[Sheet], list[Sheet]]:
    """What of each sheet stays in sight, and what of it lies in the allowances."""
    sight, beneath = [], []
    for sheet in sheets:
        stays, under = list(sheet.faces), []
        for run in _concerned(sheet, runs):
            divided = [run.divide(face) for face in stays]
            stays = [face for some, _ in divided for face in some]
            under += [face for _, face in divided if face]
        sight.append(replace(sheet, faces=tuple(stays)))
        beneath.append(replace(sheet, faces=tuple(under), under=(), tucked=()))
    return sight, beneath


def _concerned(sheet: Sheet, runs: Sequence[Run]) -> list[Run]:
    """The runs in whose allowances cloth of a sheet can lie: round a corner that is set in only
    those that it lies along."""
    straight = [run for run in runs if not run.corners]
    bent = [run for run in runs if run.corners]
    along = [run for run in bent if run.along(sheet)]
    return [*straight, *(run.beside(along) for run in along)]


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
