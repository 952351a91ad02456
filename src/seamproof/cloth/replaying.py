"""A cutter that knows only straight cuts: replays a lay from its tree and counts what comes out.

It is handed the tree, the cloth and what was wanted, and nothing of how the plan was made. Every
cut runs from edge to edge of what lies under the ruler; whatever does not add up is told as a
sentence.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from seamproof.cloth.model import Cut, Demand, Laid

STAGES_MOST = 6
"""A length in which something comes first and the cloth beside it, strips, cross-cuts, a third cut,
and the trim of a piece that is smaller than its place."""


def faults(laid: Laid, demands: Sequence[Demand]) -> list[str]:
    """What is wrong with a plan; nothing if it can be cut and gives what was wanted."""
    wanted = {demand.name: demand for demand in demands}
    found: list[str] = []
    out: Counter[str] = Counter()
    for lay in laid.lays:
        if (lay.cut.width, lay.cut.height) != (lay.width, lay.length):
            found.append(f"the tree of {lay.fabric} is not as large as its cloth")
        for name, count in _cut(lay.cut, wanted, found, 0):
            out[name] += count * lay.times
    unmet = Counter(dict(laid.unmet))
    for demand in demands:
        if demand.name in laid.too_large and out[demand.name]:
            found.append(f"{demand.name} is told to be too large and is cut")
        if out[demand.name] + unmet[demand.name] != demand.count:
            found.append(
                f"{demand.name}: {out[demand.name]} come out of {demand.count}, "
                f"{unmet[demand.name]} are told to be unmet"
            )
    found += [f"nobody wants {name}" for name in out if name not in wanted]
    return found


def _cut(
    cut: Cut, wanted: dict[str, Demand], found: list[str], depth: int
) -> Iterator[tuple[str, int]]:
    """Names and counts of what one rectangle gives."""
    if cut.width <= 0 or cut.height <= 0 or cut.times < 1:
        found.append(f"a part of {cut.width} × {cut.height}, {cut.times} times")
    if depth > STAGES_MOST:
        found.append(f"more than {STAGES_MOST} cuts one in the other")
    if cut.along is None:
        if cut.parts:
            found.append("parts where nothing is cut")
        if cut.piece is not None:
            yield from _piece(cut, wanted, found)
        return
    if cut.piece is not None:
        found.append(f"{cut.piece} is cut up")
    reach = Fraction(0)
    for part in cut.parts:
        side, across = (
            (part.height, part.width)
            if cut.along == "across"
            else (
                part.width,
                part.height,
            )
        )
        if across != (cut.width if cut.along == "across" else cut.height):
            found.append(f"a cut of {across} does not run from edge to edge")
        reach += side * part.times
        for name, count in _cut(part, wanted, found, depth + 1):
            yield name, count * part.times
    if reach != (cut.height if cut.along == "across" else cut.width):
        found.append(
            f"parts of {reach} in a length of {cut.height if cut.along == 'across' else cut.width}"
        )


def _piece(cut: Cut, wanted: dict[str, Demand], found: list[str]) -> Iterator[tuple[str, int]]:
    assert cut.piece is not None
    demand = wanted.get(cut.piece)
    if demand is None:
        yield cut.piece, cut.pieces
        return
    if cut.turned and not demand.may_turn:
        found.append(f"{cut.piece} lies against its grain")
    if demand.row is not None:
        need = demand.row.offset + cut.pieces * demand.row.pitch
        if cut.width < need or cut.height < demand.height:
            found.append(f"{cut.pieces} of {cut.piece} do not fit their row")
        if cut.slope != demand.row.slope or cut.turned:
            found.append(f"{cut.piece} is not cut with its slope")
    else:
        size = (demand.height, demand.width) if cut.turned else (demand.width, demand.height)
        if cut.pieces != 1 or cut.slope is not None:
            found.append(f"{cut.piece} is a rectangle and lies in a row")
        if cut.width < size[0] or cut.height < size[1]:
            found.append(f"{cut.piece} comes out as {cut.width} × {cut.height}")
    yield cut.piece, cut.pieces
