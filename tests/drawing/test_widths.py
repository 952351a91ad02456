"""The table of widths against what print does with the fonts of the package."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pytest
import typst

import seamproof.booklet
from seamproof.drawing.lettering import FAMILY, NO_BREAK, THIN
from seamproof.drawing.widths import CHARACTERS, WIDTHS

FONTS = Path(seamproof.booklet.__file__).parent / "fonts"


def printed_widths(weight: int) -> dict[str, float]:
    """Widths in thousandths, read from a page on which each character stands on its own."""
    boxes = "\n".join(
        f'#box(width: 30pt, text("{"" if c not in chr(34) + chr(92) else chr(92)}{c}"))'
        for c in CHARACTERS
    )
    page = f"""#set page(width: 600pt, height: 900pt)
#set text(font: "{FAMILY}", size: 10pt, weight: {weight}, kerning: false, ligatures: false)
{boxes}"""
    fonts = typst.Fonts(False, False, [str(FONTS)])
    pdf = typst.compile(page.encode(), font_paths=fonts, format="pdf")
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        return {c["text"]: c["width"] * 100 for c in read.pages[0].chars}


@pytest.mark.parametrize("weight", sorted(WIDTHS))
def test_widths_are_those_of_the_fonts(weight: int) -> None:
    measured = printed_widths(weight)
    table = dict(zip(CHARACTERS, WIDTHS[weight], strict=True))
    seen = [c for c in CHARACTERS if c in measured]
    assert len(seen) >= len(CHARACTERS) - 3  # spaces alone on a line are not printed
    assert {c for c in CHARACTERS if c not in measured} <= {" ", NO_BREAK, THIN}
    assert {c: round(measured[c]) for c in seen} == {c: table[c] for c in seen}
