r"""A block written as rows of cells.

    c        one fabric                      =    the cell at the left reaches to here
    a/b      a upper left, b lower right     ^    the cell above reaches to here
    a\b      a lower left, b upper right      a=   this a is one patch with the a at the left
    a.b.c.d  top, right, bottom, left        a^   this a is one patch with the a above
    S        the unit called S               S'   the same, turned a quarter clockwise

Everything is worked out in shares of the whole (0 to 1 both ways) and scaled once at the end, so a
unit fits any cell, turned or not.
"""

from __future__ import annotations

import difflib
import itertools
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from seamproof.draft.checks import (
    NO_PATCHES,
    NOT_A_CELL,
    NOT_A_RECTANGLE,
    NOTHING_TO_CONTINUE,
    PROPORTIONS,
    RAGGED_ROWS,
    TOO_MANY,
    UNIT_IN_ITSELF,
    UNKNOWN_UNIT,
    UNUSED_UNIT,
    at,
)
from seamproof.draft.joining import Mark, Piece, join_marked
from seamproof.draft.model import Cells, Written
from seamproof.findings import Finding, Kind, Where
from seamproof.plane.model import Point, Polygon

MOST_PIECES = 20_000
"""Pieces that units within units may grow to; five times the patches a block may have, since
several pieces can be one patch."""

_LETTER = r"[a-z]{1,2}"
_MARKED = rf"{_LETTER}(?:=\^|\^=|=|\^)?"
_WHOLE = re.compile(_MARKED)
_SPLIT = re.compile(rf"({_MARKED})([/\\])({_MARKED})")
_QUARTERS = re.compile(rf"({_MARKED})\.({_MARKED})\.({_MARKED})\.({_MARKED})")
_UNIT = re.compile(r"([A-Z][A-Z0-9]*)(['’′]*)")
_BARE = ("=", "^", "=^", "^=")

_SQUARE: Polygon = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1)))
_TL, _TR, _BR, _BL = _SQUARE
_C: Point = (Fraction(1, 2), Fraction(1, 2))
_SHAPES: dict[Literal["", "/", "\\", "."], tuple[Polygon, ...]] = {
    "": (_SQUARE,),
    "/": ((_TL, _TR, _BL), (_TR, _BR, _BL)),
    "\\": ((_TL, _BR, _BL), (_TL, _TR, _BR)),
    ".": ((_TL, _TR, _C), (_TR, _BR, _C), (_BR, _BL, _C), (_BL, _TL, _C)),
}
"""How each kind of cell is divided, in the order in which its letters are written."""


@dataclass(frozen=True, slots=True)
class _Box:
    """A rectangle, in shares of the whole."""

    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction

    def put(self, point: Point, quarters: int = 0) -> Point:
        """A point of the unit square, turned by quarters clockwise, where it lies in this box."""
        u, v = point
        for _ in range(quarters % 4):
            u, v = 1 - v, u
        return (self.x + u * self.width, self.y + v * self.height)


def pieces_of(name: str, finished: Point, drawn: Cells) -> tuple[list[Piece], list[Finding]]:
    """The pieces that the cells name, in inches of the finished block and in reading order.

    Pieces with one `patch` number are one patch. If there are findings of severity error, the
    pieces are of no use.
    """
    reader = _Reader(name)
    pieces = reader.laid_out(drawn, {}, ())
    reader.note_unused(drawn)
    whole = _Box(Fraction(0), Fraction(0), finished[0], finished[1])
    return [_placed(piece, whole, 0) for piece in pieces], [
        _found_at(finding, whole, 0) for finding in reader.findings
    ]


def _placed(piece: Piece, box: _Box, quarters: int) -> Piece:
    return replace(piece, corners=tuple(box.put(p, quarters) for p in piece.corners))


def _found_at(finding: Finding, box: _Box, quarters: int) -> Finding:
    point = finding.where.at
    if point is None:
        return finding
    return replace(finding, where=replace(finding.where, at=box.put(point, quarters)))


class _Reader:
    """Reads cells and collects what is wrong with them."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.findings: list[Finding] = []
        self.used: set[str] = set()
        self.done: dict[tuple[str, tuple[tuple[str, int], ...]], list[Piece]] = {}

    def say(self, kind: Kind, what: str, mend: str, where: Where, point: Point) -> None:
        self.findings.append(kind.found(what, mend=mend, where=at(where, self.name, point)))

    def laid_out(
        self, drawn: Cells, outer: Mapping[str, Cells], inside: tuple[str, ...]
    ) -> list[Piece]:
        """The pieces of these cells in shares of their whole. `outer` are the units known from
        outside, `inside` the names of the units we are in."""
        units = {**outer, **dict(drawn.units)}
        grid = self.grid(drawn)
        if grid is None:
            return []
        xs, ys = grid
        boxes = self.boxes(drawn, xs, ys)
        pieces: list[Piece] = []
        for (row, column), box in boxes.items():
            cell = drawn.cells[row][column]
            pieces += self.cell(cell, box, units, inside, len(pieces))
            if any(finding.code == TOO_MANY.code for finding in self.findings):
                return []
            if len(pieces) > MOST_PIECES:
                self.say(
                    TOO_MANY,
                    f"the units inside units come to more than {MOST_PIECES} pieces",
                    "use fewer units within units",
                    cell.where,
                    box.put(_C),
                )
                return []
        if any(f.severity == "error" for f in self.findings):
            return []
        joined, findings = join_marked(self.name, pieces)
        self.findings += findings
        return joined

    def grid(self, drawn: Cells) -> tuple[list[Fraction], list[Fraction]] | None:
        """Where columns and rows begin and end, in shares of the whole."""
        if not drawn.cells or not drawn.cells[0]:
            self.say(NO_PATCHES, "there are no cells", "write at least one", drawn.where, _C)
            return None
        width = len(drawn.cells[0])
        fine = True
        for number, row in enumerate(drawn.cells):
            if len(row) != width:
                fine = False
                place = row[-1].where if row else drawn.where
                self.say(
                    RAGGED_ROWS,
                    f"row {number + 1} has {_count(len(row), 'cell')}, row 1 has {width}",
                    "give every row as many cells; = and ^ stand for cells that are reached "
                    "from the left or from above",
                    place,
                    (Fraction(1, 2), Fraction(2 * number + 1, 2 * len(drawn.cells))),
                )
        for what, given, needed in (
            ("column widths", drawn.columns, width),
            ("row heights", drawn.rows, len(drawn.cells)),
        ):
            if given is not None and (len(given) != needed or min(given) <= 0):
                fine = False
                self.say(
                    PROPORTIONS,
                    f"{len(given)} {what} are given for {needed}"
                    if len(given) != needed
                    else f"one of the {what} is not more than nothing",
                    f"give {needed} {what}, each more than 0",
                    drawn.where,
                    _C,
                )
        if not fine:
            return None
        return _shares(drawn.columns, width), _shares(drawn.rows, len(drawn.cells))

    def boxes(
        self, drawn: Cells, xs: Sequence[Fraction], ys: Sequence[Fraction]
    ) -> dict[tuple[int, int], _Box]:
        """The rectangle of every cell that is not itself reached from another, by row, column."""
        root: dict[tuple[int, int], tuple[int, int]] = {}
        members: dict[tuple[int, int], list[tuple[int, int]]] = {}
        for row, cells in enumerate(drawn.cells):
            for column, cell in enumerate(cells):
                here = (row, column)
                middle = _middle(xs, ys, here)
                root[here] = here
                if cell.text in _BARE:
                    sources = [
                        (row, column - 1) if mark == "=" else (row - 1, column)
                        for mark in cell.text
                    ]
                    if any(min(source) < 0 for source in sources):
                        side = "at the left" if "=" in cell.text and column == 0 else "above"
                        self.say(
                            NOTHING_TO_CONTINUE,
                            f"{cell.text} stands at the block's edge: there is no cell {side}",
                            "write a fabric letter here",
                            cell.where,
                            middle,
                        )
                    else:
                        root[here] = root[sources[0]]
                        if len({root[source] for source in sources}) > 1:
                            self.say(
                                NOT_A_RECTANGLE,
                                f"{cell.text} reaches two different cells",
                                "write = for the cell at the left or ^ for the one above",
                                cell.where,
                                middle,
                            )
                members.setdefault(root[here], []).append(here)
        boxes = {}
        for (row, column), group in members.items():
            last_row = max(r for r, _ in group)
            last_column = max(c for _, c in group)
            full = (last_row - row + 1) * (last_column - column + 1)
            if len(group) != full or min(c for _, c in group) < column:
                missing = next(
                    (
                        (r, c)
                        for r in range(row, last_row + 1)
                        for c in range(column, last_column + 1)
                        if (r, c) not in group
                    ),
                    group[-1],
                )
                cell = drawn.cells[row][column]
                self.say(
                    NOT_A_RECTANGLE,
                    f"the cell {cell.text} is enlarged to a shape that is not a rectangle: "
                    f"row {missing[0] + 1}, column {missing[1] + 1} does not belong to it",
                    "fill the rectangle with = and ^, or continue a patch over several cells "
                    "by repeating its letter, such as a= or a^",
                    drawn.cells[missing[0]][missing[1]].where,
                    _middle(xs, ys, missing),
                )
            boxes[(row, column)] = _Box(
                xs[column],
                ys[row],
                xs[last_column + 1] - xs[column],
                ys[last_row + 1] - ys[row],
            )
        return boxes

    def cell(
        self,
        cell: Written,
        box: _Box,
        units: Mapping[str, Cells],
        inside: tuple[str, ...],
        number: int,
    ) -> list[Piece]:
        """The pieces of one cell; their patches are numbered from `number` on."""
        if cell.text in _BARE:
            return []
        if unit := _UNIT.fullmatch(cell.text):
            return self.unit(cell, unit[1], len(unit[2]), box, units, inside, number)
        read = _read(cell.text)
        if read is None:
            self.say(
                NOT_A_CELL,
                f"{cell.text!r} is not a cell",
                _advice(cell.text),
                cell.where,
                box.put(_C),
            )
            return []
        shapes, letters = read
        return [
            Piece(
                fabric=letter.rstrip("=^"),
                corners=tuple(box.put(p) for p in shape),
                marks=_marks(letter),
                patch=number + i,
                where=cell.where,
            )
            for i, (shape, letter) in enumerate(zip(shapes, letters, strict=True))
        ]

    def unit(
        self,
        cell: Written,
        unit: str,
        quarters: int,
        box: _Box,
        units: Mapping[str, Cells],
        inside: tuple[str, ...],
        number: int,
    ) -> list[Piece]:
        self.used.add(unit)
        if unit not in units:
            close = difflib.get_close_matches(unit, units, 1, 0.5)
            known = f"the units written down are {', '.join(sorted(units))}"
            self.say(
                UNKNOWN_UNIT,
                f"there is no unit {unit}" + (f"; did you mean {close[0]}?" if close else ""),
                (known if units else "no units are written down")
                + "; capitals name a unit, small letters a fabric",
                cell.where,
                box.put(_C),
            )
            return []
        if unit in inside:
            self.say(
                UNIT_IN_ITSELF,
                f"the unit {unit} contains itself",
                "write its cells without using it",
                cell.where,
                box.put(_C),
            )
            return []
        before = len(self.findings)
        # A unit is laid out once for each set of units it may name, however often it is used.
        scope = (unit, tuple(sorted((other, id(cells)) for other, cells in units.items())))
        pieces = self.done.get(scope)
        if pieces is None:
            pieces = self.laid_out(units[unit], units, (*inside, unit))
        if len(self.findings) == before:
            self.done[scope] = pieces
        self.findings[before:] = [
            _found_at(finding, box, quarters) for finding in self.findings[before:]
        ]
        return [
            replace(_placed(piece, box, quarters), patch=number + piece.patch) for piece in pieces
        ]

    def note_unused(self, drawn: Cells) -> None:
        for unit, cells in drawn.units:
            if unit not in self.used and not any(f.severity == "error" for f in self.findings):
                self.say(
                    UNUSED_UNIT,
                    f"no cell uses the unit {unit}",
                    "use it or leave it out",
                    cells.where,
                    _C,
                )


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"


def _shares(given: Sequence[Fraction] | None, count: int) -> list[Fraction]:
    parts = list(given) if given is not None else [Fraction(1)] * count
    total = sum(parts, Fraction(0))
    return [part / total for part in itertools.accumulate(parts, initial=Fraction(0))]


def _middle(xs: Sequence[Fraction], ys: Sequence[Fraction], cell: tuple[int, int]) -> Point:
    row, column = cell
    return ((xs[column] + xs[column + 1]) / 2, (ys[row] + ys[row + 1]) / 2)


def _read(text: str) -> tuple[tuple[Polygon, ...], tuple[str, ...]] | None:
    """The shapes of a cell in the unit square and the marked letters that fill them."""
    if _WHOLE.fullmatch(text):
        return _SHAPES[""], (text,)
    if split := _SPLIT.fullmatch(text):
        return _SHAPES["/" if split[2] == "/" else "\\"], (split[1], split[3])
    if quarters := _QUARTERS.fullmatch(text):
        return _SHAPES["."], quarters.groups()
    return None


def _marks(letter: str) -> frozenset[Mark]:
    marks: list[Mark] = []
    if "=" in letter:
        marks.append("left")
    if "^" in letter:
        marks.append("above")
    return frozenset(marks)


def _advice(text: str) -> str:
    if text.count(".") in (1, 2, 4) and not set(text) & set("/\\"):
        return "a cell split on both diagonals has four letters: top.right.bottom.left"
    if "|" in text or "-" in text:
        return "a cell is split on a diagonal only, with / or \\; use more columns or rows"
    if text.lower() != text and re.search(r"[/\\.]", text):
        return "fabrics are small letters; capitals name a whole unit"
    return "write a fabric letter, a/b or a\\b, a.b.c.d, = or ^, or the name of a unit in capitals"
