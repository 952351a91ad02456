"""Pages for the cutting room and for the maker of a release: what stands on them."""

from __future__ import annotations

from fractions import Fraction

import pypdfium2
import pytest

from seamproof.booklet.errata import MOST_LINES, errata_notice
from seamproof.booklet.kit_pages import Bolted, InBag, Run, kit_document
from seamproof.booklet.model import Paper
from seamproof.booklet.plain_pages import SIZES, PlainDocument, composed
from seamproof.cloth.buying import Buying
from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Settings
from seamproof.cloth.pooling import Source, pooled
from seamproof.draft.model import Fabric
from seamproof.programme.kits import from_bolts, patch_kits
from seamproof.programme.versions import Change
from tests.cloth.pieces import piece

KITS = 23


def document() -> PlainDocument:
    pieces = (piece("Aa", "39/8", count=2), piece("Ab", "9/2"))
    (pool,) = pooled([Source("Star", pieces)], kits=KITS)
    kit = patch_kits(pool, lay(Cloth("a", Fraction(42)), pool.demands, Settings(simple=True)), KITS)
    bolts, _ = from_bolts(kit.across, [], Fraction(36))
    fabric = Fabric("a", "Sea mist", "#F2EFE6", "light")
    run = Run("Lamps", "release 3, Star", KITS, "patches", "in", Buying())
    bag = [InBag("Star", "Aa", "Sea mist", "square 4 7/8 in", 2)]
    return kit_document(run, [Bolted(fabric, pool.kinds, kit, bolts)], bag)


def texts(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_a_sheet_for_the_fabric_the_bag_and_a_label_for_every_kit(paper: Paper) -> None:
    pdf = composed(document(), paper)
    assert pdf == composed(document(), paper)
    size = pypdfium2.PdfDocument(pdf)[0].get_size()
    assert size == pytest.approx(SIZES[paper], abs=0.1)
    sheet, first, second, bag, *labels = texts(pdf)
    assert "Fabric A, Sea mist" in sheet
    assert "From which bolt" in sheet
    for n, bolt in enumerate((first, second), start=1):
        assert f"Fabric A, Sea mist: bolt {n}" in bolt
        assert "Close the blade" in bolt
    assert "In each bag" in bag
    assert len(labels) == 3
    every = "\n".join(labels)
    for n in range(1, KITS + 1):
        assert f"kit {n} of {KITS}" in every
    assert every.count("Release 3, Star") == KITS


def test_a_long_redline_is_cut_to_half_a_page_and_says_how_much_is_left() -> None:
    changes = [Change("Star", f"piece A{n}", "4 in", "5 in") for n in range(MOST_LINES + 5)]
    (said,) = texts(composed(errata_notice("Lamps", "1.0", "1.1", changes, [("a", "1/8 yd")])))
    assert "5 more lines follow" in said
    assert "more of fabric A" in said


def test_a_notice_without_anything_for_makers_says_so() -> None:
    changes = [Change("release 1", "draft", "2027-01-01", "2027-01-02")]
    (said,) = texts(composed(errata_notice("Lamps", "1.0", None, changes, [])))
    assert "Nothing that you cut, sew or buy has changed." in said
    assert "No more cloth is needed." in said
