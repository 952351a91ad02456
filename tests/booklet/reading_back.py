"""Printed pages read back: words in reading order, and sizes as a quilter reads them."""

from __future__ import annotations

import io
import re

import pdfplumber

SIZE = re.compile(r"(?:\d+\u2009)?\d+\u2044\d+|\d+(?:\.\d+)?")


def page_texts(pdf: bytes) -> list[str]:
    """The characters of each page in the order in which they were set."""
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        return ["".join(c["text"] for c in page.chars) for page in read.pages]


def plain(text: str) -> str:
    """Printed characters as they are typed: ``4 7/8``."""
    return text.translate({0x2009: " ", 0x2044: "/", 0xA0: " ", 0x2019: "'"})


def between(text: str, start: str, end: str) -> str:
    """What stands between two headings."""
    return text.split(start, 1)[1].split(end, 1)[0]


def sizes_with_unit(text: str, unit: str = "in") -> set[str]:
    """Every size in a text that is followed by × or by its unit, written as it is typed."""
    number = r"((?:\d+ )?\d+/\d+|\d+(?:\.\d+)?)"
    return set(re.findall(rf"{number} ×", text)) | set(re.findall(rf"{number} {unit}\b", text))
