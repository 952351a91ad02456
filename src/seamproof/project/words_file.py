"""What ``words.yaml`` says: the teacher's own words for the booklet, each with its place.

Texts are taken as they are written; what stands in braces in them is filled in when the booklet is
made.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Literal

from seamproof.errors import InputError, Place
from seamproof.findings import Where
from seamproof.project import limits
from seamproof.project.block_file import check_format
from seamproof.project.fields import Fields
from seamproof.project.yaml_tree import Items, Node, read_document

WORDS_FILE = "words.yaml"

SINGLE = ("above", "by", "skill", "version", "corrections", "contact")
"""Keys with one line."""

SEVERAL = ("story", "notes", "credits")
"""Keys with a list of paragraphs."""

KEYS = ("seamproof", *SINGLE, *SEVERAL, "blocks", "sentences", "photos")
BLOCK_KEYS = ("intro", "aims", "minutes")
PHOTO_KEYS = ("place", "block", "file", "caption", "alt")

PhotoPlace = Literal["cover", "finished", "wrong side", "step-out"]
PHOTO_PLACES: Mapping[str, PhotoPlace] = {
    "cover": "cover",
    "finished": "finished",
    "wrong side": "wrong side",
    "step-out": "step-out",
}

MOST_TEXTS = 400
MOST_PHOTOS = 100
PHOTO_BYTES = 8_000_000
MOST_MINUTES = Fraction(600)


@dataclass(frozen=True, slots=True)
class OwnText:
    """One text: what it is for (``("story",)``, ``("blocks", "Lamp Room", "intro")``,
    ``("sentences", "press-open")``), the text, and its place in the file."""

    path: tuple[str, ...]
    text: str
    where: Where


@dataclass(frozen=True, slots=True)
class OwnMinutes:
    """How many minutes something takes in the lesson on a block."""

    block: str
    what: str
    minutes: Fraction
    where: Where


@dataclass(frozen=True, slots=True)
class OwnPhoto:
    """A photograph: where it belongs, of which block ("" for the quilt), its bytes, and its size in
    dots."""

    place: PhotoPlace
    block: str
    data: bytes
    format: Literal["png", "jpg"]
    width: int
    height: int
    caption: str
    alt: str
    where: Where


@dataclass(frozen=True, slots=True)
class OwnWords:
    """Everything that ``words.yaml`` says."""

    texts: tuple[OwnText, ...] = ()
    minutes: tuple[OwnMinutes, ...] = ()
    photos: tuple[OwnPhoto, ...] = ()


def read_words(folder: Path) -> OwnWords:
    """The teacher's own words in a project's folder; none if there is no such file.

    Raises InputError at the place of whatever cannot be read.
    """
    path = folder / WORDS_FILE
    if not path.is_file():
        return OwnWords()
    document = read_document(path)
    fields = Fields(document)
    values = fields.keys(document.root, "words.yaml", KEYS)
    check_format(fields, values)
    texts = [_text(fields, values[key], key) for key in SINGLE if key in values]
    minutes: list[OwnMinutes] = []
    for key in SEVERAL:
        if key in values:
            texts += _list(fields, values[key], key)
    if "sentences" in values:
        for name, node in fields.named(values["sentences"], "sentences", MOST_TEXTS):
            texts.append(_text(fields, node, "sentences", name.text))
    if "blocks" in values:
        for name, node in fields.named(values["blocks"], "blocks", limits.BLOCKS):
            own = fields.keys(node, "a block", BLOCK_KEYS)
            for key in ("intro", "aims"):
                if key in own:
                    texts += _list(fields, own[key], "blocks", name.text, key)
            if "minutes" in own:
                minutes += _minutes(fields, own["minutes"], name.text)
    photos: tuple[OwnPhoto, ...] = ()
    if "photos" in values:
        items = fields.items(values["photos"], "photos", MOST_PHOTOS)
        photos = tuple(_photo(fields, item, folder) for item in items)
    return OwnWords(tuple(texts), tuple(minutes), photos)


def _text(fields: Fields, node: Node, *path: str) -> OwnText:
    return OwnText(path, fields.text(node, path[-1]), fields.where(node))


def _list(fields: Fields, node: Node, *path: str) -> list[OwnText]:
    """A list of paragraphs, or one alone."""
    nodes = fields.items(node, path[-1], MOST_TEXTS) if isinstance(node, Items) else (node,)
    return [_text(fields, item, *path) for item in nodes]


def _minutes(fields: Fields, node: Node, block: str) -> list[OwnMinutes]:
    found = []
    for name, value in fields.named(node, "minutes", MOST_TEXTS):
        text = fields.text(value, "minutes")
        if not re.fullmatch(r"\d{1,3}(?:\.\d)?", text) or Fraction(text) > MOST_MINUTES:
            raise fields.refusal(value, f'"{text}" is no number of minutes', "such as 25 or 7.5")
        found.append(OwnMinutes(block, name.text, Fraction(text), fields.where(value)))
    return found


def _photo(fields: Fields, node: Node, folder: Path) -> OwnPhoto:
    values = fields.keys(node, "a photo", PHOTO_KEYS, required=("place", "file", "alt"))
    name = fields.text(values["file"], "the file")
    path = folder / name
    inside = path.resolve().is_relative_to(folder.resolve())
    if not inside or not path.is_file():
        raise fields.refusal(
            values["file"],
            f'there is no photo "{name}" in this folder',
            "put it beside words.yaml, or in a folder there",
        )
    data = _bytes(path)
    found = size_of(data)
    if found is None:
        raise fields.refusal(
            values["file"], f'"{name}" is neither a PNG nor a JPEG', "save it as one of these"
        )
    kind, width, height = found
    return OwnPhoto(
        place=fields.word(values["place"], "the place", PHOTO_PLACES),
        block=fields.text(values["block"], "the block") if "block" in values else "",
        data=data,
        format=kind,
        width=width,
        height=height,
        caption=fields.text(values["caption"], "the caption") if "caption" in values else "",
        alt=fields.text(values["alt"], "alt"),
        where=fields.where(node),
    )


def _bytes(path: Path) -> bytes:
    if path.stat().st_size > PHOTO_BYTES:
        raise InputError(
            f"the photo is larger than {PHOTO_BYTES // 1_000_000} MB",
            mend="save it smaller: two thousand dots across are plenty for print",
            place=Place(str(path)),
        )
    return path.read_bytes()


def size_of(data: bytes) -> tuple[Literal["png", "jpg"], int, int] | None:
    r"""The format and the size in dots of a picture, read from its head (PNG: RFC 2083; JPEG: ITU
    T.81); None if it is neither.

    >>> size_of(b"GIF89a") is None
    True
    >>> size_of(b"\x89PNG\r\n\x1a\n" + b"\0\0\0\rIHDR" + b"\0\0\0\x03\0\0\0\x02")
    ('png', 3, 2)
    """
    if data[:8] == b"\x89PNG\r\n\x1a\n" and data[12:16] == b"IHDR" and len(data) >= 24:
        return _sound("png", int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big"))
    if data[:2] != b"\xff\xd8":
        return None
    at = 2
    while at + 9 < len(data) and data[at] == 0xFF:
        mark, length = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        if 0xC0 <= mark <= 0xCF and mark not in (0xC4, 0xC8, 0xCC):
            height = int.from_bytes(data[at + 5 : at + 7], "big")
            return _sound("jpg", int.from_bytes(data[at + 7 : at + 9], "big"), height)
        at += 2 + length
    return None


def _sound(
    kind: Literal["png", "jpg"], width: int, height: int
) -> tuple[Literal["png", "jpg"], int, int] | None:
    return (kind, width, height) if width and height else None
