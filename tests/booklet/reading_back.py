"""Printed pages read back: words in reading order, and sizes as a quilter reads them."""

from __future__ import annotations

import ctypes
import io
import math
import re

import numpy as np
import pdfplumber
import pypdfium2
import shapely


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


def type_sizes(pdf: bytes) -> tuple[int, set[float]]:
    """How many pages there are, and the sizes of all type in points, pictures included."""
    matrix, found = pypdfium2.raw.FS_MATRIX(), set()
    with pypdfium2.PdfDocument(pdf) as document:
        for page in document:
            text = page.get_textpage()
            for i in range(text.count_chars()):
                written = not chr(pypdfium2.raw.FPDFText_GetUnicode(text, i)).isspace()
                if written and pypdfium2.raw.FPDFText_GetMatrix(text, i, matrix):
                    size = pypdfium2.raw.FPDFText_GetFontSize(text, i)
                    found.add(round(size * math.hypot(matrix.c, matrix.d), 1))
        return len(document), found


class Printed:
    """The words of a PDF between head and foot, in the order in which they were set and without
    spaces, each character with its place: page from 1, left, top and right in points, the top
    counted downwards."""

    def __init__(self, pdf: bytes, top: float, bottom: float) -> None:
        """`top` and `bottom` are the margins, in points."""
        found: list[str] = []
        self.at: list[tuple[int, float, float, float]] = []
        box = pypdfium2.raw.FS_RECTF()
        with pypdfium2.PdfDocument(pdf) as document:
            self.titles = [
                (mark.get_title(), 1 + mark.get_dest().get_index())
                for mark in document.get_toc()
                if mark.level == 0
            ]
            for number, page in enumerate(document, start=1):
                text, height = page.get_textpage(), page.get_height()
                for i in range(text.count_chars()):
                    char = plain(chr(pypdfium2.raw.FPDFText_GetUnicode(text, i)))
                    if char.isspace():
                        continue
                    pypdfium2.raw.FPDFText_GetLooseCharBox(text, i, box)
                    if bottom <= box.top <= height - top + 2:
                        found.append("-" if char == "\x02" else char)  # the hyphen at a line's end
                        self.at.append((number, box.left, height - box.top, box.right))
        self.text = "".join(found)

    def starts(self) -> list[int]:
        """Where the sections begin: their titles, each on the page that the bookmarks name."""
        found, cursor = [], 0
        for title, page in self.titles:
            first = next(i for i, place in enumerate(self.at) if place[0] == page)
            cursor = self.text.index(bare(title), max(cursor, first))
            found.append(cursor)
        return found


def bare(text: str) -> str:
    """A text as `Printed` has it."""
    return re.sub(r"\s+", "", plain(text))


MEET = 0.2
"""Share of the smaller one that two characters may have in common, as slanting ones do."""


def meeting(boxes: np.ndarray) -> list[tuple[int, int]]:
    """Which of some boxes (left, bottom, right, top) lie over each other; neighbours in a row do
    not count: a ligature is several characters in one box."""
    shapes = shapely.box(*boxes.T)
    one, other = shapely.STRtree(shapes).query(shapes)
    one, other = one[other - one > 2], other[other - one > 2]
    low = np.maximum(boxes[one, :2], boxes[other, :2])
    high = np.minimum(boxes[one, 2:], boxes[other, 2:])
    common = np.clip(high - low, 0, None).prod(axis=1)
    area = (boxes[:, 2:] - boxes[:, :2]).prod(axis=1)
    over = common > MEET * np.minimum(area[one], area[other])
    return [(int(i), int(j)) for i, j in zip(one[over], other[over], strict=True)]


def boxes_of(page: pypdfium2.PdfPage) -> np.ndarray:
    """The box of every character on a page but the slash of a fraction, which reaches into both
    of its figures."""
    found, sides = [], [ctypes.c_double() for _ in range(4)]
    text = page.get_textpage()
    for i in range(text.count_chars()):
        char = chr(pypdfium2.raw.FPDFText_GetUnicode(text, i))
        if char.isspace() or char in "\u2044\x02":
            continue
        pypdfium2.raw.FPDFText_GetCharBox(text, i, *sides)
        left, right, bottom, top = (side.value for side in sides)
        if left < right and bottom < top:
            found.append((left, bottom, right, top))
    return np.array(found).reshape(-1, 4)
