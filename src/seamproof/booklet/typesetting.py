"""Typst, told what to set with the fonts of this package and no others."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import typst

_HERE = Path(__file__).parent


def typeset(design: str, data: dict[str, Any]) -> bytes:
    """A tagged PDF (PDF/UA-1) of a page design of this package, to be printed at true size. No
    date, no system fonts, no chance: two calls give the same bytes."""
    inputs = {"sheet": json.dumps(data, ensure_ascii=False), "page": json.dumps(data["page"])}
    return _at_true_size(_compiled(design, inputs, format="pdf", pdf_standards="ua-1"))


def drawn(svg: str, dpi: int) -> bytes:
    """An SVG document of ours as PNG, `dpi` pixels to each of its inches."""
    return _compiled("picture", {"svg": svg}, format="png", ppi=float(dpi))


def _compiled(design: str, inputs: dict[str, str], **form: Any) -> bytes:
    made = typst.compile(
        str(_HERE / "typst" / f"{design}.typ"),
        root=str(_HERE / "typst"),
        font_paths=typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(_HERE / "fonts")],
        ),
        ignore_system_fonts=True,
        sys_inputs=inputs,
        timestamp=0,
        **form,
    )
    assert isinstance(made, bytes)  # a picture is one page
    return made


def page_count(pdf: bytes) -> int:
    """How many pages a PDF of Typst's has: it writes them as plain objects."""
    return pdf.count(b"/Type/Page/")


def _at_true_size(pdf: bytes) -> bytes:
    """The PDF, asking viewers to print it without scaling. Typst cannot say so; the catalogue it
    writes is the last object, so only the place of the table moves."""
    before, wish = b"/ViewerPreferences<<", b"/PrintScaling/None"
    head, found, tail = pdf.rpartition(before)
    start, mark, rest = tail.rpartition(b"startxref\n")
    if not found or not mark or b" obj\n" in tail:
        return pdf
    table = int(rest.split(b"\n", 1)[0]) + len(wish)
    return head + before + wish + start + mark + b"%d\n%%%%EOF" % table
