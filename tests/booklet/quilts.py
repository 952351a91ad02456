"""A small quilt for the tests of the booklet: two blocks, one of them twice, a border."""

from __future__ import annotations

import functools
from pathlib import Path
from tempfile import TemporaryDirectory

from seamproof.booklet.matter import Matter
from seamproof.pipeline.booklets import work_booklet
from seamproof.project.reading import read_project

QUILT = """\
name: Two Lamps
fabrics:
  - {letter: a, name: Fog, colour: "#F2EFE6", value: light, role: background}
  - {letter: b, name: Lamp, colour: "#F2C250", value: medium, role: the light}
  - {letter: c, name: Night, colour: "#141F3B", value: dark, role: sashing and binding}
blocks: [Star, Pair]
setting:
  rows:
    - [Star, Pair]
    - [Pair, Star]
  cell: 9
  coping:
    Pair: [1 1/2 of c]
  sashing: 2 of c
  cornerstones: b
  borders:
    - {width: 3, fabric: a}
  binding: 2 1/2 of c
"""

STAR = """\
name: Star
copies: 2
finished: 9
cells:
  - a   a/b a
  - a\\b c   b\\a
  - a   b/a a
"""

PAIR = """\
name: Pair
copies: 2
finished: 6
cells:
  - a/c b
  - b   c/a
"""


def write_quilt(folder: Path, **files: str) -> Path:
    """The quilt in a folder; `files` are further ones, or others than usual, by their stem."""
    for name, text in {"quilt": QUILT, "star": STAR, "pair": PAIR, **files}.items():
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder


@functools.cache
def matter() -> Matter:
    """What the booklet of the small quilt is made from."""
    with TemporaryDirectory() as folder:
        work = work_booklet(read_project(write_quilt(Path(folder))))
    assert work.matter is not None, work.findings
    return work.matter
