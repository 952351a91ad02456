"""The page for the longarm quilter."""

from __future__ import annotations

import pypdfium2

from seamproof.booklet.hand_off import DitchLine, HandOff, from_its_side, hand_off
from seamproof.booklet.model import BookletModel, Edition, Facts, Heading, Table
from seamproof.booklet.printing import print_booklet
from seamproof.drawing.scene import Scene
from seamproof.pressing.model import ThickSpot
from tests.setting.tops import block, straight, worked

SPOTS = tuple(ThickSpot((float(n), 2.0), 9, 0.1, 2.25) for n in range(1, 31))
DITCHES = (DitchLine("to the sash", "the block", 6), DitchLine("open", None, 2))


def page(measure: str = "in", spots: tuple[ThickSpot, ...] = SPOTS) -> BookletModel:
    top, _ = worked(straight("A A", "A A", sash=2), block("A"))
    assert top is not None
    told = HandOff(
        name="Q",
        top=top,
        scene=Scene((), "a top"),
        measure=measure,  # type: ignore[arg-type]
        pieced_edge=True,
        price=18.0,
        rate=0.02,
        spots=spots,
        thick=bool(spots),
        limit=8,
        ditches=DITCHES,
    )
    return hand_off(told)


def tables(model: BookletModel) -> dict[str, Table]:
    return {part.name: part for part in model.sections[0].parts if isinstance(part, Table)}


def test_loaded_by_its_side_corners_come_to_corners() -> None:
    width, height = 44.0, 58.0
    corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    turned = [from_its_side(corner, height) for corner in corners]
    assert turned == [(height, 0.0), (height, width), (0.0, width), (0.0, 0.0)]


def test_spots_are_told_for_both_ways_of_loading() -> None:
    rows = tables(page())["thick-spots"].rows
    assert len(rows) == 24
    # The top is 30 in high.
    assert rows[0] == ("1", "1.0", "2.0", "28.0", "1.0", "9", "2.25")


def test_a_metric_page_is_metric() -> None:
    model = page("cm")
    assert tables(model)["thick-spots"].rows[0][1:5] == ("2.5", "5.1", "71.1", "2.5")
    (facts,) = [part for part in model.sections[0].parts if isinstance(part, Facts)]
    assert "square centimetre" in facts.facts[0].text


def test_ditches_and_what_is_left_open() -> None:
    rows = tables(page())["ditches"].rows
    assert rows[0] == ("6", "to the sash", "the block")
    assert "do not stitch in the ditch" in rows[1][2]


def test_it_is_printed() -> None:
    pdf = pypdfium2.PdfDocument(print_booklet(page(), Edition(paper="a4")))
    words = "".join(sheet.get_textpage().get_text_range() for sheet in pdf)
    for told in ("For the longarm quilter", "Thick spots", "Where the ditch lies", "18.00"):
        assert told in words
    assert any(isinstance(part, Heading) for part in page().sections[0].parts)
