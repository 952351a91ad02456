from __future__ import annotations

import io

import pytest
from PIL import Image

from seamproof.booklet.pixels import png

SQUARE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="2in" height="1in" viewBox="0 0 2 1">'
    '<path d="M0 0h1v1h-1Z" fill="#c02040"/><text x="1.2" y="0.8" font-size="0.5" '
    'font-family="Atkinson Hyperlegible Next">A</text></svg>'
)


def opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data))


@pytest.mark.parametrize("dpi", [72, 300])
def test_size_and_colour(dpi: int) -> None:
    picture = opened(png(SQUARE, dpi))
    assert picture.size == (2 * dpi, dpi)
    assert picture.info["dpi"] == pytest.approx((dpi, dpi), abs=0.02)
    assert picture.convert("RGB").getpixel((dpi // 2, dpi // 2)) == (0xC0, 0x20, 0x40)


def test_letters_are_drawn_with_the_fonts_of_the_package() -> None:
    right = opened(png(SQUARE)).convert("RGBA").crop((320, 0, 600, 300))
    bare = SQUARE.replace(">A<", "><")
    assert right.tobytes() != opened(png(bare)).convert("RGBA").crop((320, 0, 600, 300)).tobytes()


def test_the_same_bytes() -> None:
    assert png(SQUARE) == png(SQUARE)
