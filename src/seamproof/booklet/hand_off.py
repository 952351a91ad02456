"""The page for the longarm quilter, to be printed and laid on top of the folded quilt: the top from
the front with its top edge marked, where it is thick for both ways of loading it, on which side of
each seam the ditch lies, the outer edge, margins, and what quilting it costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamproof.booklet import finishing_wording, wording
from seamproof.booklet.model import (
    BookletModel,
    Fact,
    Facts,
    Heading,
    Listed,
    Picture,
    Section,
    Table,
    Words,
)
from seamproof.drawing.scene import Count, Scene, Shape, Stroke
from seamproof.length.notation import Measure
from seamproof.pressing.model import ThickSpot
from seamproof.setting.model import Top

MOST_SPOTS = 24
"""Thick spots in the table; the table of all of them goes with the page as CSV."""

CM = 2.54

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class DitchLine:
    """Seams of the setting that lie alike: what they are pressed to, on which side their ditch lies
    (None if they lie open: such seams have none), how many they are."""

    pressed: str
    ditch: str | None
    count: int


@dataclass(frozen=True, slots=True)
class HandOff:
    """Everything the page tells. `scene` is the front view; `spots` the places above the `limit`,
    or the thickest place alone if none is, `thick` tells which."""

    name: str
    top: Top
    scene: Scene
    measure: Measure
    pieced_edge: bool
    price: float
    rate: float
    spots: tuple[ThickSpot, ...]
    thick: bool
    limit: int
    ditches: tuple[DitchLine, ...]


def from_its_side(at: Spot, height: float) -> Spot:
    """Where a place lies once the quilt is loaded by its left side: the left edge at the roller,
    the lower end of it at the left.

    >>> from_its_side((10.0, 50.0), 58.0)
    (8.0, 10.0)
    """
    return height - at[1], at[0]


def hand_off(told: HandOff) -> BookletModel:
    """The page as a booklet of one section."""
    top, measure = told.top, told.measure
    batting = wording.extent((top.batting.width, top.batting.height), measure)
    square = "sq in" if measure == "in" else "sq cm"
    area = float(top.width * top.height) * (1.0 if measure == "in" else CM**2)
    lines = finishing_wording.quilter_lines(
        top.backing,
        batting,
        pieced_edge=told.pieced_edge,
        area=f"{area:,.0f} {square}",
        measure=measure,
    )
    rate = told.rate if measure == "in" else told.rate / CM**2
    price = Fact("Price", f"{told.price:,.2f}, at {rate:.4g} for a {_squares(measure)}")
    marked = Scene((*told.scene.shapes, *_marked(told)), told.scene.says)
    spots = Heading(finishing_wording.THICK, _lead(told))
    ditches = Heading(finishing_wording.DITCHES, finishing_wording.DITCHES_LEAD)
    section = Section(
        "hand-over",
        finishing_wording.HAND_OVER,
        (
            Picture(marked, height=4.6, fine=True),
            Listed(lines),
            Facts((price,)),
            spots,
            _spots(told),
            *((Words((_more(told),), small=True),) if len(told.spots) > MOST_SPOTS else ()),
            ditches,
            _ditches(told.ditches),
        ),
    )
    return BookletModel(told.name, "", measure, None, (section,))


def _squares(measure: Measure) -> str:
    return "square inch" if measure == "in" else "square centimetre"


def _marked(told: HandOff) -> list[Shape]:
    """The thick spots on the front view, numbered as in the table."""
    shapes: list[Shape] = []
    size = float(max(told.top.width, told.top.height)) / 60
    for number, spot in enumerate(told.spots[:MOST_SPOTS], start=1):
        x, y = spot.at
        ring = tuple(
            (x + u * size, y + v * size)
            for u, v in (
                (1, 0.4),
                (0.4, 1),
                (-0.4, 1),
                (-1, 0.4),
                (-1, -0.4),
                (-0.4, -1),
                (0.4, -1),
            )
        )
        shapes.append(Stroke("enlarged", (*ring, (x + size, y - 0.4 * size)), closed=True))
        shapes.append(Count((x, y), str(number), size, "#10161A"))
    return shapes


def _lead(told: HandOff) -> str:
    if told.thick:
        return finishing_wording.thick_lead(len(told.spots), told.limit)
    return finishing_wording.nothing_thick(told.limit)


def _more(told: HandOff) -> str:
    return (
        f"And {len(told.spots) - MOST_SPOTS} more: they are in the table that goes with this page."
    )


def _spots(told: HandOff) -> Table:
    height = float(told.top.height)
    rows = []
    for number, spot in enumerate(told.spots[:MOST_SPOTS], start=1):
        along, down = from_its_side(spot.at, height)
        places = (_length(v, told.measure) for v in (*spot.at, along, down))
        rows.append((str(number), *places, str(spot.layers), f"{spot.mm:.2f}"))
    return Table(
        "thick-spots",
        (
            "",
            f"Loaded by the top edge: from the left, {told.measure}",
            "down",
            f"Loaded by the left side: from the left, {told.measure}",
            "down",
            "Layers",
            "mm",
        ),
        tuple(rows),
        (2, 7, 4, 7, 4, 4, 3),
        right=(0, 1, 2, 3, 4, 5, 6),
    )


def _length(inches: float, measure: Measure) -> str:
    return f"{inches:.1f}" if measure == "in" else f"{inches * CM:.1f}"


def _ditches(lines: Sequence[DitchLine]) -> Table:
    return Table(
        "ditches",
        ("Seams", "Pressed", "Ditch on the side of"),
        tuple(
            (str(line.count), line.pressed, line.ditch or finishing_wording.NO_DITCH)
            for line in lines
        ),
        (3, 8, 10),
        right=(0,),
    )
