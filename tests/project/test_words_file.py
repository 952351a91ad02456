"""words.yaml: texts with their places, minutes, photographs."""

from __future__ import annotations

import struct
from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.errors import InputError
from seamproof.project.words_file import OwnWords, read_words, size_of

PNG = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + struct.pack(">II", 30, 20) + b"\x08\x02\0\0\0"
JPG = b"\xff\xd8\xff\xe0\0\x04ab\xff\xc0\0\x0b\x08" + struct.pack(">HH", 20, 30) + b"\0\0\0\0"


def read(folder: Path, text: str) -> OwnWords:
    (folder / "words.yaml").write_text(text, encoding="utf-8")
    return read_words(folder)


def test_without_a_file_nothing_is_said(tmp_path: Path) -> None:
    assert read_words(tmp_path) == OwnWords()


def test_every_text_keeps_its_place(tmp_path: Path) -> None:
    words = read(tmp_path, "by: Us\nstory:\n  - One.\n  - Two.\nsentences:\n  make: Do {count}.\n")
    assert [(text.path, text.text, text.where.line) for text in words.texts] == [
        (("by",), "Us", 1),
        (("story",), "One.", 3),
        (("story",), "Two.", 4),
        (("sentences", "make"), "Do {count}.", 6),
    ]


def test_blocks_have_words_and_minutes(tmp_path: Path) -> None:
    words = read(tmp_path, "blocks:\n  Star:\n    intro: Hello.\n    minutes: {Unit 1: 7.5}\n")
    assert words.texts[0].path == ("blocks", "Star", "intro")
    assert [(m.block, m.what, m.minutes) for m in words.minutes] == [
        ("Star", "Unit 1", Fraction(15, 2))
    ]


@pytest.mark.parametrize(("data", "kind"), [(PNG, "png"), (JPG, "jpg")])
def test_photographs_are_read_with_their_size(tmp_path: Path, data: bytes, kind: str) -> None:
    (tmp_path / "lamp").write_bytes(data)
    (photo,) = read(tmp_path, "photos:\n  - {place: cover, file: lamp, alt: A lamp}\n").photos
    assert (photo.format, photo.width, photo.height, photo.data) == (kind, 30, 20, data)
    assert size_of(data[:12]) is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("by: [a]\n", "single value"),
        ("colour: red\n", "not a key"),
        ("blocks:\n  Star:\n    minutes: {Unit 1: long}\n", "no number of minutes"),
        ("photos:\n  - {place: cover, file: ../lamp, alt: A lamp}\n", "no photo"),
        ("photos:\n  - {place: attic, file: text, alt: A lamp}\n", "neither a PNG"),
        ("photos:\n  - {place: cover, file: text}\n", "has no alt"),
    ],
)
def test_what_cannot_be_read_is_refused_at_its_place(tmp_path: Path, text: str, said: str) -> None:
    (tmp_path / "text").write_text("no picture", encoding="utf-8")
    with pytest.raises(InputError, match=said) as refused:
        read(tmp_path, text)
    assert refused.value.place.line >= 1


def test_it_is_no_block(tmp_path: Path) -> None:
    from seamproof.project.reading import read_project

    (tmp_path / "words.yaml").write_text("by: Us\n", encoding="utf-8")
    assert read_project(tmp_path).blocks == ()
