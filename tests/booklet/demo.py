"""The whole booklet of the demo quilt, made once for every test that reads it."""

from __future__ import annotations

import functools
from pathlib import Path

import seamproof.project
from seamproof.booklet.book import book
from seamproof.booklet.matter import Matter
from seamproof.booklet.model import BookletModel, Edition
from seamproof.booklet.printing import print_booklet
from seamproof.pipeline.booklets import work_booklet
from seamproof.project.reading import read_project
from tests.worked_out import memory

DEMO = Path(seamproof.project.__file__).parent / "demo"


@functools.cache
def matter() -> Matter:
    """What it is made from."""
    found = work_booklet(read_project(DEMO), memory=memory())
    assert found.matter is not None, found.findings
    return found.matter


@functools.cache
def model(*, left: bool = False) -> BookletModel:
    """Everything that it says."""
    return book(matter(), left=left)


@functools.cache
def pdf() -> bytes:
    """As it is printed on Letter."""
    return print_booklet(model(), Edition())
