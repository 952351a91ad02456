"""Printed pages read back: words in reading order, and sizes as a quilter reads them."""

from __future__ import annotations

import io
import re

import pdfplumber
import pypdfium2


def page_texts(pdf: bytes) -> list[str]:
    """The characters of each page in the order in which they were set."""
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        return ["".join(c["text"] for c in page.chars) for page in read.pages]


def bands(pdf: bytes, bottom: float) -> list[tuple[str, str]]:
    """The text of each page above and below a line `bottom` points from its lower edge. Another
    reader than the one above, and a faster one."""
    with pypdfium2.PdfDocument(pdf) as document:
        found = []
        for page in document:
            text = page.get_textpage()
            foot = text.get_text_bounded(top=bottom)
            found.append((text.get_text_bounded(bottom=bottom), foot))
        return found


def plain(text: str) -> str:
    """Printed characters as they are typed: ``4 7/8``."""
    return text.translate({0x2009: " ", 0x2044: "/", 0xA0: " ", 0x2019: "'"})


def between(text: str, start: str, end: str) -> str:
    """What stands between two headings."""
    return text.split(start, 1)[1].split(end, 1)[0]


def sizes_with_unit(text: str, unit: str = "in") -> set[str]:
    """Every size in a text that is followed by × or by its unit, written as it is typed."""
    number = r"((?:\d+ )?\d+/\d+|\d+(?:\.\d+)?)"
    return set(re.findall(rf"{number} (?:×|{unit})", text))  # cells follow without a space
