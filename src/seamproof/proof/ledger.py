"""The running account of stock: does what the steps say happen to the cloth?

Every step takes things from the table and lays them as it shows them; stitching, cuts and opening
are worked out here anew (`sewing.py`), and the result must be what the step says it gives: the same
outline, the same count, the same measure. See `docs/explanation/ledger.md` for the rules.

The account stops at the first step that does not hold, since nothing after it can be trusted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from seamproof.cutting.model import CuttingList, CuttingSettings, Step, Stock
from seamproof.findings import Finding
from seamproof.length.rounding import SAME, nearest
from seamproof.plane.model import Line, Point
from seamproof.proof.checks import (
    COUNT,
    LEFT_OVER_CLOTH,
    MEASURE,
    NO_ROOM_TO_TRIM,
    OTHER_SHAPE,
    SHORT,
    STITCHING,
    UNLIKE,
    by,
    faulty,
    long,
)
from seamproof.proof.cloth_geometry import (
    HAIR,
    Motion,
    Polygon,
    Ray,
    area,
    box,
    chord,
    common,
    convex_faces,
    edges,
    hull,
    inside,
    motion,
    nothing,
    point,
    polygon,
    straightened,
    without,
)
from seamproof.proof.finishing import finished
from seamproof.proof.folding import folded
from seamproof.proof.parting import cut_apart
from seamproof.proof.runs import End
from seamproof.proof.sewing import Opened, opened
from seamproof.proof.stock import (
    RIGHT_ANGLED,
    Account,
    Layer,
    Sheet,
    Thing,
    alike,
    extent,
    opening_account,
    shared,
)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the account came to: the findings, what is on the table at the end, and the thing that
    the last step gave (None if the account stopped before)."""

    findings: tuple[Finding, ...]
    account: Account
    last: Thing | None


def run(cutting: CuttingList, settings: CuttingSettings) -> Outcome:
    """Walk all steps of a cutting list."""
    problem = _unreadable(cutting)
    if problem is not None:
        return Outcome((problem,), Account(), None)
    account = opening_account(cutting)
    if isinstance(account, Finding):
        return Outcome((account,), Account(), None)
    last: Thing | None = None
    for number, step in enumerate(cutting.steps, start=1):
        told = f"step {number} ({step.verb} {_names(step.takes)})"
        done = _walk(account, step, settings, told)
        if isinstance(done, Finding):
            return Outcome((done,), account, None)
        last = done
    if not cutting.steps and len(cutting.pieces) == 1:
        last = account.only(cutting.pieces[0].letter)  # a block of one patch is not sewn at all
    return Outcome((), account, last)


def _unreadable(cutting: CuttingList) -> Finding | None:
    """A shape that is none, or a line from a point to itself."""
    for piece in cutting.pieces:
        sizes = (piece.width, piece.height)
        if any(size.ruler <= 0 or size.need <= 0 for size in sizes):
            return faulty(OTHER_SHAPE, f"{piece.letter} has no size")
        if piece.shape not in RIGHT_ANGLED and not _is_shape(piece.corners):
            return faulty(OTHER_SHAPE, f"{piece.letter} has no outline")
    for number, step in enumerate(cutting.steps, start=1):
        for stock in (*step.takes, *step.gives):
            if not _is_shape(stock.corners):
                return faulty(OTHER_SHAPE, f"step {number} shows {stock.what} without an outline")
        for a, b in (*step.stitched, *step.cuts, *step.drawn):
            if abs(point(a) - point(b)) <= HAIR:
                return faulty(STITCHING, f"step {number} has a line without length")
    return None


def _is_shape(corners: Sequence[Point]) -> bool:
    shape = polygon(corners)
    return len(shape) > 2 and area(shape) > HAIR and len(straightened(shape)) > 2


def _names(stock: Sequence[Stock]) -> str:
    return " and ".join(dict.fromkeys(s.what for s in stock))


def _walk(account: Account, step: Step, settings: CuttingSettings, told: str) -> Thing | Finding:
    """Do one step; the thing it gives first."""
    seam = float(settings.seam)
    if not step.takes or not step.gives:
        return faulty(COUNT, f"{told} takes or gives nothing")
    layers = []
    for stock in step.takes:
        layer = account.take(stock, told=told)
        if isinstance(layer, Finding):
            return layer
        layers.append(layer)
    times = step.takes[0].count
    uneven = next((s for s in step.takes if s.count != times), None)
    if uneven is not None:
        return faulty(COUNT, f"{told}: {uneven.count} {uneven.what} do not go with {times}")
    problem = _lines_fault(step, layers, seam, told)
    if problem is not None:
        return problem
    parts = _parts(step, layers, seam, told)
    if isinstance(parts, Finding):
        return parts
    things = _given(step, parts, times, told)
    if isinstance(things, Finding):
        return things
    problem = _measure_fault(step, settings, told)
    if problem is not None:
        return problem
    for stock, thing in zip(step.gives, things, strict=True):
        problem = account.put(stock.what, thing, stock.count)
        if problem is not None:
            return problem
    return things[0]


def _lines_fault(step: Step, layers: Sequence[Layer], seam: float, told: str) -> Finding | None:
    """Whether the step lays its things as its verb says, with the lines that it needs."""
    ups = [stock.face == "up" for stock in step.takes]
    if step.verb == "sew":
        if not step.stitched or not ups[0] or (len(layers) == 1 and step.cuts):
            return faulty(STITCHING, f"{told}: sewing needs a first thing face up, and a line")
        if step.left_in and (step.cuts or any(ups[1:])):
            return faulty(STITCHING, f"{told}: what is left in lies face down and is not cut")
    elif len(layers) != 1 or step.stitched or not ups[0] or step.left_in:
        return faulty(STITCHING, f"{told}: to {step.verb}, one thing lies face up, unstitched")
    if step.verb == "cut" and not step.cuts:
        return faulty(STITCHING, f"{told}: no line to cut along")
    rims = [edge for stock in step.gives for edge in edges(polygon(stock.corners))]
    if step.verb == "trim" and not all(_on_one_of(cut, rims) for cut in step.cuts):
        return faulty(STITCHING, f"{told}: a cut does not run along the trimmed edge")
    lines = [Ray.through(point(a), point(b)) for a, b in (*step.stitched, *step.cuts)]
    beside = [line.moved(by) for line in lines for by in (0, seam, -seam)]
    if step.verb != "trim" and not all(_on_one_of(drawn, beside) for drawn in step.drawn):
        return faulty(STITCHING, f"{told}: a drawn line is none to stitch or cut along")
    return None


def _on_one_of(line: Line, lines: Sequence[Ray]) -> bool:
    a, b = point(line[0]), point(line[1])
    return any(abs(other.off(a)) <= HAIR and abs(other.off(b)) <= HAIR for other in lines)


def _parts(step: Step, layers: Sequence[Layer], seam: float, told: str) -> list[Opened] | Finding:
    """What the things of a step become, before it is compared with what the step shows."""
    if step.verb == "trim":
        return [Opened(layers[0].sheets, (), layers[0].body)]
    if step.verb == "sew" and len(layers) == 1:
        closed = finished(layers[0], step.stitched, seam, told)
        return closed if isinstance(closed, Finding) else [closed]
    if step.left_in:
        kept = folded(layers, step.stitched, seam, told)
        return kept if isinstance(kept, Finding) else [kept]
    cut = cut_apart(layers, step.cuts, told)
    if isinstance(cut, Finding):
        return cut
    parts = []
    for part in cut:
        if step.verb == "cut":
            parts.append(Opened(part.layers[0].sheets, (), part.layers[0].body))
            continue
        done = opened(part, step.stitched, seam, told)
        if isinstance(done, Finding):
            return done
        if done is not None:
            parts.append(done)
    if not parts:
        return faulty(STITCHING, f"{told}: no stitching holds anything together")
    return parts


def _given(step: Step, parts: Sequence[Opened], times: int, told: str) -> list[Thing] | Finding:
    """The things that a step gives, compared with the parts that it makes."""
    things: list[Thing] = []
    owners: list[int] = []
    for stock in step.gives:
        shape = polygon(stock.corners)
        if stock.face != "up" or area(shape) <= 0:
            return faulty(UNLIKE, f"{told} gives {stock.what} face down or its corners backwards")
        faces = convex_faces(shape)
        overlaps = [
            0.0 if number in owners else shared(faces, _all_faces(part.sheets))
            for number, part in enumerate(parts if len(parts) > 1 else ())
        ] or [0.0]
        owner = max(range(len(parts)), key=lambda number: overlaps[number])
        owners.append(owner)
        thing = _shown(stock, shape, faces, parts[owner], step.verb, told)
        if isinstance(thing, Finding):
            return thing
        things.append(thing)
    made = [1] * len(things)
    for number, part in enumerate(parts):
        if number in owners:
            continue
        like = next(
            (i for i, owner in enumerate(owners) if _same_part(parts[owner], things[i], part)), None
        )
        if like is not None:
            made[like] += 1
        elif step.verb == "sew":
            return faulty(UNLIKE, f"{told}: a part that is sewn is not among what it gives")
    for stock, how_many in zip(step.gives, made, strict=True):
        if stock.count != times * how_many:
            return faulty(
                COUNT,
                f"{told}, {times} times, gives {times * how_many} {stock.what}, not {stock.count}",
            )
    return things


def _shown(
    stock: Stock, shape: Polygon, faces: list[Polygon], part: Opened, verb: str, told: str
) -> Thing | Finding:
    """The cloth of a part within the outline that is shown, if it fills it and only dog ears (or
    what a trim cuts off) lie outside."""
    width, height = extent(stock.corners)
    sheets = tuple(sheet for whole in part.sheets if (sheet := _within(whole, shape, faces)).faces)
    missing = area(shape) - sum(sheet.size for sheet in sheets)
    around = 2 * float(width + height)
    if missing > HAIR * around:
        short = _shortage(faces, _all_faces(part.sheets))
        if verb == "trim":
            return faulty(
                NO_ROOM_TO_TRIM,
                f"{told}: it cannot be trimmed to {by(width, height)}; it is {long(short)} short",
            )
        return faulty(
            SHORT,
            f"{told} shows {stock.what} as {by(width, height)}; its cloth is {long(short)} short",
        )
    if verb != "trim":
        ear = next(
            (
                piece
                for face in _all_faces(part.sheets)
                for piece in _outside(face, shape, faces)
                if not nothing(piece) and not _dog_ear(piece, part.ends)
            ),
            None,
        )
        if ear is not None:
            left, top, right, bottom = box(ear)
            return faulty(
                LEFT_OVER_CLOTH,
                f"{told} shows {stock.what} as {by(width, height)}; "
                f"{by(right - left, bottom - top)} of cloth sticks out beyond that",
            )
    return Thing(stock.corners, sheets, plain=len(sheets) == 1)


def _all_faces(sheets: Sequence[Sheet]) -> list[Polygon]:
    return [face for sheet in sheets for face in sheet.faces]


def _within(sheet: Sheet, shape: Polygon, faces: Sequence[Polygon]) -> Sheet:
    """What of a sheet lies in a polygon, whose convex faces are given too."""
    return sheet.reshaped(lambda some: _faces_within(some, shape, faces))


def _faces_within(
    some: Sequence[Polygon], shape: Polygon, faces: Sequence[Polygon]
) -> tuple[Polygon, ...]:
    kept: list[Polygon] = []
    for face in some:
        if nothing(face):
            continue
        if len(faces) > 1 and not _crossed(face, shape):
            kept += [face] if inside(shape, sum(face) / len(face)) else []
        else:
            kept += [part for piece in faces if not nothing(part := common(face, piece))]
    return tuple(kept)


def _outside(face: Polygon, shape: Polygon, faces: Sequence[Polygon]) -> list[Polygon]:
    """What of a convex face lies outside a polygon, whose convex faces are given too."""
    if len(faces) > 1 and not _crossed(face, shape):
        return [] if inside(shape, sum(face) / len(face)) else [face]
    rest = [face]
    for piece in faces:
        rest = [some for part in rest for some in without(part, piece)]
    return rest


def _crossed(face: Polygon, shape: Polygon) -> bool:
    """Whether an edge of a polygon runs through the inside of a convex face."""
    for i, b in enumerate(shape):
        line, length = Ray.through(shape[i - 1], b), abs(b - shape[i - 1])
        run = chord(face, line)
        if run is not None and min(run[1], length) - max(run[0], 0) > HAIR:
            return True
    return False


def _dog_ear(piece: Polygon, ends: Sequence[tuple[End, ...]]) -> bool:
    """Whether cloth sticks out at one end of a seam, no farther than an allowance can."""
    return any(
        all(any(abs(p - end.at) <= end.reach + HAIR for end in both) for p in piece)
        for both in ends
    )


def _shortage(faces: Sequence[Polygon], cloth: Sequence[Polygon]) -> float:
    """How wide the widest gap is that cloth leaves in some convex faces."""
    gaps = list(faces)
    for there in cloth:
        gaps = [rest for gap in gaps for rest in without(gap, there)]
    return max((_width(gap) for gap in gaps), default=0.0)


def _width(gap: Polygon) -> float:
    """The least width of a convex polygon."""
    return min(max(edge.off(p) for p in gap) for edge in edges(gap))


def _same_part(owner: Opened, thing: Thing, part: Opened) -> bool:
    """Whether a part is alike the one whose thing is shown: one turned lies on the other."""
    outline = thing.outline
    between = list(_moves(_anchor(owner), _anchor(part)))
    return any(
        alike(thing.sheets, part.sheets, move.after(own))
        for own in _moves(outline, outline)
        for move in between
        if move.over == own.over  # turned over twice is turned: cloth keeps its right side
    )


def _anchor(part: Opened) -> Polygon:
    """What shows how a part lies: its first seam, or the least convex shape round what was cut."""
    return tuple(both[0].at for both in part.ends[:2]) or hull(p for f in part.body for p in f)


def _moves(source: Polygon, target: Polygon) -> Iterator[Motion]:
    """The motions that bring one outline onto another, from any corner on, either side up."""
    for over in (False, True):
        corners = (target[0], *reversed(target[1:])) if over else target
        for first in range(len(corners)):
            move = motion(source, corners[first:] + corners[:first], over=over)
            if move is not None:
                yield move


def _measure_fault(step: Step, settings: CuttingSettings, told: str) -> Finding | None:
    """Whether a step says truly what its result measures."""
    if step.measure is None:
        return None
    width, height = extent(step.gives[0].corners)
    for said, true in zip(step.measure, (width, height), strict=True):
        mark = nearest(true, settings.step)
        if abs(said.need - true) > SAME or said.ruler not in (true, mark):
            return faulty(
                MEASURE,
                f"{told}: it measures {by(width, height)}, not "
                f"{by(step.measure[0].ruler, step.measure[1].ruler)}",
            )
    return None
