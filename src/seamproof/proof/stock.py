"""What lies on the table: things of one name and outline, and how many of each.

The account begins with the pieces as they are cut and is kept by name. A thing remembers which cut
pieces show on its front, each as a *sheet* of its own, so that the sewn block can be compared with
the drawing patch by patch.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingList, Piece, Step, Stock
from seamproof.findings import Finding
from seamproof.length.exact import kept
from seamproof.plane.model import Point
from seamproof.proof.checks import COUNT, NOT_ON_TABLE, OTHER_SHAPE, UNLIKE, by, faulty
from seamproof.proof.cloth_geometry import (
    HAIR,
    Motion,
    Polygon,
    Ray,
    area,
    axis,
    box,
    common,
    convex_faces,
    cross,
    motion,
    polygon,
    pushed_out,
    straightened,
)

MOST_COPIES = {"whole": 1, "once": 2, "twice": 4}
"""Pieces that one cut square or rectangle gives when it is split on its diagonals."""


RIGHT_ANGLED = ("square", "rectangle", "strip")
"""Shapes of which width and height say all."""


def tip(seam: float) -> float:
    """The area, in square inches, below which cloth is only a tip caught in a seam and no patch:
    where two small squares overlap under the point of a flying goose, a corner of one shows on the
    other. A quarter of a seam allowance squared; no patch that can be sewn is so small."""
    return seam * seam / 4


@dataclass(frozen=True, slots=True)
class Sheet:
    """What shows of one cut piece: convex faces that do not overlap.

    Where a seam is still open, `under` is cloth of it that lies flat behind other cloth and comes
    in sight when that is sewn, `tucked` what lies in the allowances of the seams about it. `grain`
    is the direction of the thread; 0 if the piece does not say it.
    """

    letter: str
    fabric: str
    faces: tuple[Polygon, ...]
    under: tuple[Polygon, ...] = ()
    tucked: tuple[Polygon, ...] = ()
    grain: complex = 0j

    def reshaped(self, change: Callable[[Sequence[Polygon]], Iterable[Polygon]]) -> Sheet:
        """The sheet with all of its cloth changed alike."""
        return replace(
            self,
            faces=tuple(change(self.faces)),
            under=tuple(change(self.under)),
            tucked=tuple(change(self.tucked)),
        )

    def moved(self, move: Motion) -> Sheet:
        """The same cloth somewhere else on the table."""
        grain = move.turn * (self.grain.conjugate() if move.over else self.grain)
        moved = self.reshaped(lambda faces: map(move.shape, faces))
        return replace(moved, grain=grain)

    @property
    def size(self) -> float:
        """The area that shows, in square inches."""
        return sum(area(face) for face in self.faces)


@dataclass(frozen=True, slots=True)
class Thing:
    """Something on the table, face up. `corners` is its raw edge in fractions. A `plain` thing is
    one piece of cloth: it may be shown from any corner on."""

    corners: tuple[Point, ...]
    sheets: tuple[Sheet, ...]
    plain: bool

    @property
    def outline(self) -> Polygon:
        """The raw edge."""
        return polygon(self.corners)

    def patches(self, seam: float) -> Counter[str]:
        """How many patches show within the outer seam allowance, by the letter of the piece."""
        return Counter(sheet.letter for sheet in self._shown(seam))

    def fabrics(self, seam: float) -> Counter[str]:
        """The same by fabric."""
        return Counter(sheet.fabric for sheet in self._shown(seam))

    def _shown(self, seam: float) -> list[Sheet]:
        if self.plain:
            return list(self.sheets)
        inner = convex_faces(pushed_out(straightened(self.outline), -seam))
        return [sheet for sheet in self.sheets if shared(sheet.faces, inner) > tip(seam)]


@dataclass(frozen=True, slots=True)
class Layer:
    """A thing as it lies in a step. `body` are convex faces of the cloth within its raw edge;
    `opened` if it is shown as it will lie when the seam is sewn (face up)."""

    body: tuple[Polygon, ...]
    sheets: tuple[Sheet, ...]
    opened: bool


@dataclass
class _Lot:
    thing: Thing
    count: int


@dataclass
class Account:
    """What is on the table, by name. Lots of one name differ in outline (before and after trimming,
    say), never in anything else."""

    lots: dict[str, list[_Lot]] = field(default_factory=dict)

    def put(self, name: str, thing: Thing, count: int) -> Finding | None:
        """Lay `count` alike things on the table."""
        for lot in self.lots.setdefault(name, []):
            move = motion(lot.thing.outline, thing.outline, over=False)
            if move is not None:
                if not alike(lot.thing.sheets, thing.sheets, move):
                    return faulty(UNLIKE, f"two things are called {name}, and they are not alike")
                lot.count += count
                return None
        self.lots[name].append(_Lot(thing, count))
        return None

    def take(self, stock: Stock, *, told: str) -> Layer | Finding:
        """Take what a step takes, and lay it as it is shown. `told` names the step."""
        lots = [lot for lot in self.lots.get(stock.what, []) if lot.count]
        if not lots:
            return faulty(NOT_ON_TABLE, f"{told} takes {stock.what}, and there is none left")
        fitting = [(lot, move) for lot in lots if (move := _lying(lot.thing, stock)) is not None]
        if not fitting:
            return faulty(OTHER_SHAPE, _unlike(lots[0].thing, stock, told))
        there = sum(lot.count for lot, _ in fitting)
        if stock.count <= 0 or there < stock.count:
            return faulty(COUNT, f"{told} takes {stock.count} {stock.what}, and there are {there}")
        left = stock.count
        for lot, _ in fitting:
            used = min(left, lot.count)
            lot.count -= used
            left -= used
        lot, move = fitting[0]
        return Layer(
            body=tuple(convex_faces(polygon(stock.corners))),
            sheets=tuple(sheet.moved(move) for sheet in lot.thing.sheets),
            opened=stock.face == "up",
        )

    def left(self) -> dict[str, int]:
        """Names and counts of what is still there."""
        counts = {name: sum(lot.count for lot in lots) for name, lots in self.lots.items()}
        return {name: count for name, count in counts.items() if count}

    def only(self, name: str) -> Thing | None:
        """The thing of a name, if there is one."""
        lots = self.lots.get(name, [])
        return lots[0].thing if lots else None

    def patches(self, seam: float) -> Counter[str]:
        """How many patches show on all that is on the table, by the letter of the piece. What shows
        only in the outer seam allowance, `seam` wide, is none."""
        found: Counter[str] = Counter()
        for lot in (lot for lots in self.lots.values() for lot in lots if lot.count):
            for letter, count in lot.thing.patches(seam).items():
                found[letter] += count * lot.count
        return found


def alike(one: Iterable[Sheet], other: Iterable[Sheet], move: Motion) -> bool:
    """Whether the cloth of one thing, moved, shows the same fabrics as the other."""
    others = list(other)
    for sheet in one:
        moved = sheet.moved(move)
        hidden = moved.size - shared(
            moved.faces, (f for o in others if o.fabric == sheet.fabric for f in o.faces)
        )
        if hidden > HAIR * _reach(moved.faces):
            return False
    return True


def shared(some: Iterable[Polygon], others: Iterable[Polygon]) -> float:
    """The area that two sets of convex faces have in common, in square inches."""
    boxed = [(face, box(face)) for face in others]
    total = 0.0
    for face in some:
        left, top, right, bottom = box(face)
        total += sum(
            area(common(face, other))
            for other, (x0, y0, x1, y1) in boxed
            if x0 < right and left < x1 and y0 < bottom and top < y1
        )
    return total


def _reach(faces: Iterable[Polygon]) -> float:
    """Width and height together of the box round some faces: about the length of their edge."""
    x0, y0, x1, y1 = box(p for face in faces for p in face)
    return 2 * (x1 - x0 + y1 - y0)


def _lying(thing: Thing, stock: Stock) -> Motion | None:
    """How a thing got to where a step shows it; None if it cannot lie there."""
    shown = polygon(stock.corners)
    over = stock.face == "down"
    if over:
        # Corner i of the list is corner -i of the thing: a thing turned over runs backwards.
        shown = (shown[0], *reversed(shown[1:]))
    for first in range(len(shown) if thing.plain else 1):
        move = motion(thing.outline, shown[first:] + shown[:first], over=over)
        if move is not None:
            return move
    return None


def _unlike(thing: Thing, stock: Stock, told: str) -> str:
    lies, shown = extent(thing.corners), extent(stock.corners)
    if {lies, shown} == {lies} or len(thing.corners) != len(stock.corners):
        return (
            f"{told} shows {stock.what} turned, mirrored or with other corners than it has "
            f"({by(*lies)})"
        )
    return f"{told} shows {stock.what} as {by(*shown)}, and it is {by(*lies)}"


def extent(corners: Iterable[Point]) -> tuple[Fraction, Fraction]:
    """Width and height of the upright box round some points, in fractions."""
    xs, ys = zip(*corners, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


# The pieces as they are cut -----------------------------------------------------------------------


def opening_account(cutting: CuttingList) -> Account | Finding:
    """The table after cutting, before the first step."""
    account = Account()
    for piece in cutting.pieces:
        if piece.letter in account.lots:
            return faulty(UNLIKE, f"two pieces have the letter {piece.letter}")
        shapes, times = _as_cut(piece, cutting.steps)
        thing = _plain(piece, shapes[0])
        for shape in shapes:
            # Which of the two diagonals a rectangle was cut on is seen when it is first taken.
            first = _first_taken(piece.letter, cutting.steps)
            if first is not None and _lying(_plain(piece, shape), first) is not None:
                thing = _plain(piece, shape)
                break
        account.put(piece.letter, thing, piece.count * times)
    return account


def cut_sides(piece: Piece) -> tuple[Fraction, Fraction]:
    """Width and height of a piece in the account: its ruler size, or what geometry asks for where
    it is sewn as cut and lies between two marks. A strip is as long as it is cut."""
    if piece.rounding != "as cut":
        return piece.width.ruler, piece.height.ruler
    long = piece.height.ruler if piece.shape == "strip" else kept(piece.height.need)
    return kept(piece.width.need), long


def _plain(piece: Piece, corners: tuple[Point, ...]) -> Thing:
    faces = tuple(convex_faces(polygon(corners)))
    sheet = Sheet(piece.letter, piece.fabric, faces, grain=_grain(piece))
    return Thing(corners, (sheet,), plain=True)


def _grain(piece: Piece) -> complex:
    """The thread runs along the sides of squares and rectangles, and along the edges of strips;
    whoever cuts round a template chooses it."""
    if piece.shape in RIGHT_ANGLED:
        return 1 + 0j
    if piece.shape in ("wedge", "kite"):
        middle = axis(straightened(polygon(piece.corners)))
        return middle.ahead if middle is not None else 0j
    return 0j if piece.shape == "template" else strip_edge(polygon(piece.corners)).ahead


def strip_edge(outline: Polygon) -> Ray:
    """The side of a shape that lies on the edge of the strip it is cut from: the longest of those
    that have another side parallel to them, if there are any."""
    sides = [(outline[i - 1], p) for i, p in enumerate(outline)]
    level = [
        (a, b)
        for a, b in sides
        if sum(abs(cross(b - a, d - c)) <= HAIR * abs(d - c) for c, d in sides) > 1
    ]
    return Ray.through(*max(level or sides, key=lambda side: abs(side[1] - side[0])))


def _as_cut(piece: Piece, steps: tuple[Step, ...]) -> tuple[list[tuple[Point, ...]], int]:
    """The outlines a piece may have on the table, and how many one cut piece gives."""
    if piece.shape not in RIGHT_ANGLED:
        return [piece.corners], 1
    zero = Fraction(0)
    w, h = cut_sides(piece)
    a, b, c, d = (zero, zero), (w, zero), (w, h), (zero, h)
    if piece.split == "whole" or split_by_step(piece, steps):
        return [(a, b, c, d)], 1
    if piece.split == "once":
        return [(a, b, d), (a, b, c)], 2
    return [(a, b, (w / 2, h / 2)), (b, c, (w / 2, h / 2))], 4


def split_by_step(piece: Piece, steps: tuple[Step, ...]) -> bool:
    """Whether a step of its own splits the piece, so that it lies whole on the table before."""
    taking = (step for step in steps for stock in step.takes if stock.what == piece.letter)
    first = next(taking, None)
    return first is not None and first.verb == "cut" and len(first.takes[0].corners) == 4


def _first_taken(letter: str, steps: tuple[Step, ...]) -> Stock | None:
    return next((stock for step in steps for stock in step.takes if stock.what == letter), None)
