"""The cutting table: strips first and what is cut from them, the largest first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from seamproof.booklet import wording
from seamproof.booklet.model import CuttingRow, FabricCutting, KeyRow
from seamproof.cutting.model import CuttingSettings, Piece
from seamproof.cutting.strips import Strips, strips_for
from seamproof.length.notation import Measure
from seamproof.length.rounding import SAME

WORTH_A_STRIP = Fraction(1, 2)
"""What fills less of a strip across the cloth than this is cut from what is at hand (common
practice, no source)."""

_FROM_STRIPS = (
    "triangle",
    "diamond",
    "parallelogram",
    "trapezoid",
    "hexagon",
    "wedge",
    "kite",
)


def cutting_table(
    pieces: Sequence[Piece],
    rows: Mapping[str, KeyRow],
    purposes: Mapping[str, str],
    settings: CuttingSettings,
    measure: Measure,
) -> tuple[FabricCutting, ...]:
    """What is cut, fabric by fabric in the order of the key."""
    worth = [strips for strips in strips_for(pieces, settings) if _worth_it(strips, settings)]
    tables = []
    for letter, key in rows.items():
        mine = {piece.letter: piece for piece in _largest_first(pieces) if piece.fabric == letter}
        found: list[CuttingRow] = []
        for strips in worth:
            if strips.fabric != letter:
                continue
            count = _needed(strips, settings.usable(letter))
            cuts = [mine.pop(cut.letter) for cut in strips.cuts]
            if len(cuts) == 1:
                found.append(_row(cuts[0], purposes, measure, strips=count))
                continue
            found.append(_strips_row(count, strips.width, measure))
            found += [_row(piece, purposes, measure, under=True) for piece in cuts]
        for width, some in _by_strip(mine.values()).items():
            shared = width is not None and len(some) > 1
            if width is not None and shared:
                found.append(_strips_row(0, width, measure))
            found += [_row(piece, purposes, measure, under=shared) for piece in some]
        if found:
            tables.append(FabricCutting(key, tuple(found)))
    return tuple(tables)


def _largest_first(pieces: Iterable[Piece]) -> list[Piece]:
    return sorted(pieces, key=lambda p: (-p.width.ruler * p.height.ruler, p.letter))


def _worth_it(strips: Strips, settings: CuttingSettings) -> bool:
    total = sum((cut.along * cut.count for cut in strips.cuts), Fraction(0))
    return total >= WORTH_A_STRIP * settings.usable(strips.fabric)


def _needed(strips: Strips, usable: Fraction) -> int:
    """How many strips hold all sub-cuts: each, the longest first, in the first that has room.

    >>> from seamproof.cutting.strips import SubCut
    >>> cuts = (SubCut("Aa", 3, Fraction(12), 3, 1), SubCut("Ab", 3, Fraction(4), 10, 1))
    >>> _needed(Strips("a", Fraction(2), cuts), Fraction(40))
    2
    """
    left: list[Fraction] = []
    for cut in sorted(strips.cuts, key=lambda cut: -cut.along):
        for _ in range(cut.count):
            place = next((i for i, rest in enumerate(left) if rest + SAME >= cut.along), None)
            if place is None:
                left.append(usable)
                place = len(left) - 1
            left[place] -= cut.along
    return len(left)


def _by_strip(pieces: Iterable[Piece]) -> dict[Fraction | None, list[Piece]]:
    """Pieces with slanted cuts by the width of the strip they come from; all others under None."""
    found: dict[Fraction | None, list[Piece]] = {}
    for piece in pieces:
        width = piece.width.ruler if piece.shape in _FROM_STRIPS else None
        found.setdefault(width, []).append(piece)
    return found


def _strips_row(count: int, width: Fraction, measure: Measure) -> CuttingRow:
    """A strip that pieces are cut from; how many is left open for slanted cuts, which fit into
    each other."""
    return CuttingRow("", count, wording.strips_of(count, width, measure), "", "")


def _row(
    piece: Piece,
    purposes: Mapping[str, str],
    measure: Measure,
    *,
    under: bool = False,
    strips: int = 0,
) -> CuttingRow:
    what, split = _told(piece, measure)
    if piece.shape in _FROM_STRIPS and not under:
        split = wording.of_strip(piece.width.ruler, measure)
    if strips and piece.shape != "strip":
        split = ", ".join(part for part in (wording.from_strips(strips), split) if part)
    return CuttingRow(
        letter=piece.letter,
        count=piece.count,
        what=what,
        split=split,
        purpose=purposes.get(piece.letter) or wording.purpose([]),
        under=under,
    )


def _told(piece: Piece, measure: Measure) -> tuple[str, str]:
    """What is cut and its size, and what else there is to say about how."""
    name = wording.named(piece.shape, piece.count)
    if piece.shape in _FROM_STRIPS:
        return wording.slanted(name, piece.shape, piece.height.ruler, piece.angle, measure), ""
    size = wording.extent((piece.width.ruler, piece.height.ruler), measure)
    if piece.shape == "template":
        split = wording.template_text()
    else:
        hand = piece.hand if piece.shape == "rectangle" else "either"
        split = wording.split_text(piece.split, piece.count, hand)
    return f"{name}, {size}", split
