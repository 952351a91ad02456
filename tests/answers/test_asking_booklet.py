"""A booklet asked for by folder: what is written, photographs and tables included."""

from __future__ import annotations

import csv
import re
import struct
import zlib
from pathlib import Path

import pypdfium2
import pytest

from seamproof.answers.asking_booklet import booklet
from seamproof.errors import InputError
from tests.booklet.quilts import QUILT, write_quilt

PHOTOS = """\
photos:
  - {place: cover, file: cover.png, alt: The quilt on a wall, caption: Sewn by a friend}
  - {place: finished, block: Star, file: front.png, alt: The finished star, caption: The star}
  - {place: wrong side, block: Star, file: back.png, alt: The back of the star, caption: Its back}
  - {place: step-out, block: Star, file: step.png, alt: Four units, caption: After step three}
"""


def photo(path: Path, tone: int) -> None:
    """A small grey PNG."""
    rows = b"".join(b"\0" + bytes([tone]) * 30 for _ in range(20))

    def chunk(kind: bytes, data: bytes) -> bytes:
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    head = struct.pack(">IIBBBBB", 30, 20, 8, 0, 0, 0, 0)
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small quilt with photographs in every place, and a fabric called like a formula."""
    folder = tmp_path_factory.mktemp("lamps")
    quilt = QUILT.replace("name: Lamp,", 'name: "=1+1",').replace("role: the light", 'role: "@x"')
    write_quilt(folder, quilt=quilt, words=PHOTOS)
    for i, name in enumerate(("cover", "front", "back", "step")):
        photo(folder / f"{name}.png", 40 + 50 * i)
    answer = booklet(folder, folder / "out", paper="a4")
    assert not [f for f in answer.findings if f.severity == "error"]
    return folder / "out"


def test_photographs_stand_in_their_places_with_caption_and_words(written: Path) -> None:
    page = (written / "two-lamps.html").read_text("utf-8")
    for alt in ("The quilt on a wall", "The finished star", "The back of the star", "Four units"):
        assert page.count(f'aria-label="{alt}"') + page.count(f'alt="{alt}"') == 1
    star = page.index(">Star</h2>")
    places = [page.index(text, star) for text in ("The star<", "After step three<", "Its back<")]
    assert places == sorted(places)
    assert page.index("Sewn by a friend<") < star
    with pypdfium2.PdfDocument(written / "two-lamps-a4.pdf") as document:
        texts = [one.get_textpage().get_text_range() for one in document]
    assert "Sewn by a friend" in texts[0]
    for caption in ("The star", "Its back", "After step three"):
        assert any(re.search(rf"^{caption}\r?$", text, re.MULTILINE) for text in texts)


def test_no_cell_of_any_table_is_taken_for_a_formula(written: Path) -> None:
    cells = [
        cell
        for path in (written / "tables").glob("*.csv")
        for row in csv.reader(path.read_text("utf-8").splitlines())
        for cell in row
    ]
    assert len(cells) > 200
    assert "'=1+1" in cells
    assert "'@x" in cells
    assert [cell for cell in cells if re.match(r"[=+\-@\t\r]", cell)] == []


def test_every_picture_says_how_large_it_is(written: Path) -> None:
    for path in (written / "pictures").glob("*.svg"):
        head = path.read_text("utf-8")[:400]
        assert re.search(r'width="[\d.]+(?:pt|in|mm)" height="[\d.]+(?:pt|in|mm)"', head), path
    png = (written / "pictures" / "top.png").read_bytes()
    at = png.index(b"pHYs") + 4
    assert struct.unpack(">II", png[at : at + 8]) == (11811, 11811)  # 300 pixels an inch


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("{place: cover, file: nowhere.png, alt: x}", "there is no photo"),
        ("{place: cover, file: cover.png}", "alt"),
        ('{place: cover, file: cover.png, alt: ""}', "alt"),
        ("{place: attic, file: cover.png, alt: x}", "place"),
        ("{place: cover, file: star.yaml, alt: x}", "neither a PNG nor a JPEG"),
    ],
)
def test_a_photograph_that_cannot_be_shown_is_refused(tmp_path: Path, line: str, says: str) -> None:
    write_quilt(tmp_path, words=f"photos:\n  - {line}\n")
    photo(tmp_path / "cover.png", 90)
    with pytest.raises(InputError) as found:
        booklet(tmp_path, tmp_path / "out")
    assert says in f"{found.value} {found.value.mend}"
    assert found.value.place is not None
    assert found.value.place.line == 2
    assert not (tmp_path / "out").exists()
