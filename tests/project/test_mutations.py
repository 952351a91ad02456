"""Thousands of damaged files: each is read, or refused in words with a place. Never anything else.

What is read is written and read again, and is the same.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from seamproof.draft.model import Drawing
from seamproof.errors import InputError
from seamproof.project import starting
from seamproof.project.block_file import block_drawing
from seamproof.project.model import Project
from seamproof.project.quilt_file import quilt_project
from seamproof.project.rewriting import rewritten, without_places
from seamproof.project.writing import write_block
from seamproof.project.yaml_tree import Document, Items, Keys, Node, Scalar, document

DEMO = Path(starting.__file__).parent / "demo"

EVERYTHING = r"""# One of everything.
seamproof: 1
name: "All of it"
finished: [9, 4 1/2]
cells:
  - S   a/b e\a a=/e
  - "c  ^  d.e.a.e ^"
columns: [2, 2, 1.5, 1]
rows: [1, 2]
units:
  S:
    cells:
      - a b
      - b a
    columns: [1, 2]
upright: yes
copies: 4
method: {hst: from triangles}
press:
  - {seam: [[4, 0], [4, 4]], towards: [3, 2]}
  - seam: [[0, 4], [8, 4]]
    open: yes
  - {spin: [4, 4], way: clockwise}
order:
  - {last: [[4, 0], [4, 8]]}
  - rows
"""

SEAMS = """\
name: Lined
finished: 12 cm
grid: [3, 4]
seams:
  lines:
    - [[1, 0], [1, 4]]
    - [[0, 2], [1, 2]]
  fabrics:
    - {fabric: a, at: [0.5, 1]}
    - {fabric: b, at: [0.5, 3]}
    - {fabric: ab, at: [2, 1]}
"""

PATCHES = """\
name: Breakwater corner
finished: 8
patches:
  - {fabric: a, points: [[0, 0], [4, 0], [4, 4], [0, 4]]}
  - fabric: b
    points:
      - [4, 0]
      - [8, 2.4853]
      - [4, 4]
"""

QUILT = """\
name: Porch
fabrics:
  - {letter: a, name: Sea mist, colour: "#F2EFE6", value: light}
  - letter: b
    usable width: 42
    directional: no
preferences:
  measure: cm
  seam: 0.75
  oversize: {hst: 0.5, geese: 3/4}
  paper: a4
"""

FILES = {
    "everything": EVERYTHING,
    "seams": SEAMS,
    "patches": PATCHES,
    "quilt": QUILT,
    "slack water": (DEMO / "blocks" / "slack-water.yaml").read_text(encoding="utf-8"),
    "dinghy": (DEMO / "blocks" / "dinghy.yaml").read_text(encoding="utf-8"),
}

MUTATIONS = 2000

PIECES = [
    *"[]{}:,-?&*!|>'\"%@`#=^/\\.<~ \t\n\r0a",
    *("- ", ": ", "\r\n", "---\n", "...\n", "<<: ", "!!int ", "&x ", "*x", "1e999", ".nan", "\0"),
    *("\ufeff", "\x85", "\u2028", "ä", "💡", "yes", "~", "null", "0x1", "[" * 50, "{a: " * 50),
]


def mutated(text: str, dice: random.Random) -> bytes:
    """A file with one to three faults: bytes lost, doubled, put in, overwritten; lines swapped."""
    data = text.encode()
    for _ in range(dice.choice((1, 1, 1, 2, 3))):
        at = dice.randrange(len(data) + 1)
        length = dice.choice((1, 1, 2, 5, 20))
        match dice.randrange(6):
            case 0:
                data = data[:at] + data[at + length :]
            case 1:
                data = data[:at] + data[at : at + length] + data[at:]
            case 2:
                data = data[:at] + dice.choice(PIECES).encode() + data[at:]
            case 3:
                data = data[:at] + dice.choice(PIECES).encode() + data[at + length :]
            case 4:
                data = data[:at] + bytes([dice.randrange(256)]) + data[at + 1 :]
            case _:
                lines = data.split(b"\n")
                one, other = dice.randrange(len(lines)), dice.randrange(len(lines))
                lines[one], lines[other] = lines[other], lines[one]
                data = b"\n".join(lines)
    return data


def read(name: str, data: bytes) -> Drawing | Project:
    made = document(data, f"{name}.yaml")
    return quilt_project(made, DEMO / "none") if name == "quilt" else block_drawing(made)


def refusal(name: str, data: bytes) -> InputError | None:
    """What is said about a damaged file; None if it is read, in which case it is also written."""
    try:
        made = read(name, data)
    except InputError as refused:
        return refused
    if isinstance(made, Drawing):
        said = without_places(made)
        assert without_places(read(name, write_block(made).encode())) == said
        text = data.decode("utf-8-sig")
        assert rewritten(text, made) == text
    return None


def check(name: str, count: int, dice: random.Random) -> int:
    refused = 0
    for _ in range(count):
        data = mutated(FILES[name], dice)
        error = refusal(name, data)
        if error is not None:
            refused += 1
            assert error.place.file == f"{name}.yaml", data
            assert error.place.line >= 1, data
            assert error.place.column >= 1, data
            assert error.what, data
            assert error.mend, data
            assert error.source is not None, data
            assert error.place.line <= data.decode("utf-8", "replace").count("\n") + 1 + data.count(
                b"\r"
            )
    return refused


@pytest.mark.parametrize("name", FILES)
def test_damaged_files_are_read_or_refused_with_a_place(name: str) -> None:
    count = MUTATIONS // len(FILES) + 1
    refused = check(name, count, random.Random(name))
    assert refused > count / 4  # the damage is felt


@pytest.mark.soak
@pytest.mark.parametrize("name", FILES)
def test_ten_thousand_damaged_files(name: str) -> None:
    check(name, 10_000 // len(FILES) + 1, random.Random(f"long {name}"))


# Faults of meaning: where they are refused --------------------------------------------------------

REQUIRED = {"name", "finished", "cells", "seams", "patches", "fabric", "points", "lines", "fabrics"}
REQUIRED |= {"at", "letter", "last", "seam", "towards", "open", "spin"}

BROKEN = [
    "x",
    "4x",
    "1/0",
    "nan",
    "inf",
    "1e3",
    "4..5",
    "1" * 400,
    "2 9/8",
    "3 ft",
    "- 4",
    '"',
    "]",
]


def groups(node: Node) -> Iterator[Keys]:
    """A group of keys and those below it."""
    if isinstance(node, Keys):
        yield node
        for _, value in node.entries:
            yield from groups(value)
    elif isinstance(node, Items):
        for item in node.items:
            yield from groups(item)


def entry_span(made: Document, group: Keys, number: int) -> tuple[int, int]:
    """From the beginning of a key to the beginning of the next, or of what follows the group."""
    key, value = group.entries[number]
    if number + 1 < len(group.entries):
        return key.start, group.entries[number + 1][0].start
    if group.flow:
        begin = made.text.rfind(",", 0, key.start) if number else key.start
        return begin, value.end
    return made.text.rfind("\n", 0, key.start) + 1, made.text.find("\n", value.end) + 1


def without_a_key(made: Document) -> Iterator[tuple[str, int]]:
    """The text without one required key, and the line of the group it was in."""
    for group in groups(made.root):
        for number, (key, _) in enumerate(group.entries):
            names = {other.text for other, _ in group.entries}
            optional = {"name", "seam"} & names and {"letter", "measure"} & names
            if key.text in REQUIRED and len(names) > 1 and not (optional and key.text != "letter"):
                start, end = entry_span(made, group, number)
                first = group.start if number else end
                lost = made.text[start:end].count("\n") if not number else 0
                line = made.place(first).line - lost
                yield made.text[:start] + made.text[end:], line


def with_a_key_doubled(made: Document) -> Iterator[tuple[str, int]]:
    """The text with one key twice, and the line of the second."""
    for group in groups(made.root):
        for key, value in group.entries:
            entry = made.text[key.start : value.end]
            if group.flow:
                text = made.text[: value.end] + ", " + entry + made.text[value.end :]
                yield text, made.place(value.end).line
            else:
                after = made.text.find("\n", value.end) + 1
                indent = " " * (made.place(key).column - 1)
                yield (
                    made.text[:after] + indent + entry + "\n" + made.text[after:],
                    made.place(after).line,
                )


def scalars(node: Node) -> Iterator[Scalar]:
    if isinstance(node, Scalar):
        yield node
    else:
        below = node.items if isinstance(node, Items) else [value for _, value in node.entries]
        for item in below:
            yield from scalars(item)


def with_a_number_broken(made: Document, dice: random.Random) -> Iterator[tuple[str, int]]:
    """The text with one number broken, and its line."""
    for scalar in scalars(made.root):
        if re.fullmatch(r"[0-9][0-9 ./]*( cm)?", scalar.raw):
            yield (
                made.text[: scalar.start] + dice.choice(BROKEN) + made.text[scalar.end :],
                made.place(scalar).line,
            )


@pytest.mark.parametrize("name", FILES)
def test_faults_of_meaning_are_refused_at_their_line(name: str) -> None:
    """At least 95 of 100 missing keys, doubled keys and broken numbers."""
    made = document(FILES[name].encode(), name)
    faults = [
        *without_a_key(made),
        *with_a_key_doubled(made),
        *(fault for seed in range(4) for fault in with_a_number_broken(made, random.Random(seed))),
    ]
    assert len(faults) >= 15
    elsewhere = []
    for text, line in faults:
        error = refusal(name, text.encode())
        if error is None or error.place.line != line:
            elsewhere.append((text, line, str(error)))
    assert len(elsewhere) <= len(faults) * 5 / 100, elsewhere[:5]
