"""Every number of a cutting list is held by the proof alone: changed by one step it is found.

What no check covers is listed in tests/golden/proof/uncovered.txt, with the reason.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from seamproof.cutting.model import CuttingList
from tests.proof.lists import DEMO_NAMES, SETTINGS, Made, demo, made
from tests.proof.mutations import changes, is_drawn
from tests.reference import reference_blocks

GOLDEN = Path(__file__).parents[1] / "golden" / "proof" / "uncovered.txt"
DOCS = Path(__file__).parents[2] / "docs" / "explanation" / "proof.md"

ROW_SHARE, STEP_SHARE, DRAWN_SHARE = 3, 12, 60
"""In `make test` one in so many numbers of the demo's pieces and recipes, of its steps, and of its
pictures is changed; in `make soak` all are."""


def uncovered() -> dict[str, str]:
    lines = GOLDEN.read_text("utf-8").splitlines()
    return dict(line.split(": ", 1) for line in lines if line)


def missed(found: Made, some: Iterator[tuple[str, CuttingList]]) -> set[str]:
    """Where a number was changed and the proof had nothing to say."""
    return {where for where, cutting in some if not found.doubts(cutting)}


def sampled(
    found: Made, name: str, share: int, *, drawn: bool, steps: bool = True
) -> Iterator[tuple[str, CuttingList]]:
    """One change in `share`, another one for each block; of steps, or of all else."""
    start = zlib.crc32(name.encode()) % share
    some = (
        (where, cutting)
        for where, cutting in changes(found.cutting, found.settings.step)
        if is_drawn(where) == drawn and where.startswith("step.") == steps
    )
    return (change for number, change in enumerate(some) if number % share == start)


@pytest.mark.parametrize("name", DEMO_NAMES)
def test_numbers_that_are_read(name: str) -> None:
    found = demo(name)
    assert missed(found, sampled(found, name, ROW_SHARE, drawn=False, steps=False)) == set()
    assert missed(found, sampled(found, name, STEP_SHARE, drawn=False)) == set()


@pytest.mark.parametrize("name", DEMO_NAMES)
def test_numbers_that_are_drawn(name: str) -> None:
    found = demo(name)
    assert missed(found, sampled(found, name, DRAWN_SHARE, drawn=True)) <= uncovered().keys()


@pytest.mark.parametrize("name", ["hourglass", "pinwheel", "attic_window_split"])
def test_every_number_of_a_small_block(name: str) -> None:
    found = made(reference_blocks()[name], SETTINGS["trimmed"], 3)
    assert found is not None
    every = ((w, c) for w, c in changes(found.cutting, found.settings.step) if not is_drawn(w))
    assert missed(found, every) == set()


@pytest.mark.soak
@pytest.mark.parametrize("name", DEMO_NAMES)
def test_every_number_of_the_demo(name: str) -> None:
    found = demo(name)
    assert missed(found, changes(found.cutting, found.settings.step)) <= uncovered().keys()


@pytest.mark.parametrize("where", sorted(uncovered()))
def test_what_is_listed_as_uncovered_is_so(where: str) -> None:
    """The list may not be longer than it must be."""
    spiral = made(reference_blocks()["spiral_square"], SETTINGS["trimmed"])
    assert any(
        not found.doubts(cutting)
        for found in (demo("deck-light"), spiral)
        if found is not None
        for place, cutting in changes(found.cutting, found.settings.step)
        if place == where
    )


def test_the_page_gives_the_same_list() -> None:
    rows = [line for line in DOCS.read_text("utf-8").splitlines() if "| `step." in line]
    told = {tuple(cell.strip(" `") for cell in row.split("|")[1:3]) for row in rows}
    assert told == set(uncovered().items())


def test_a_number_wrong_in_one_place_only_is_found() -> None:
    found = demo("deck-light")
    rows = found.cutting.pieces
    for number, row in enumerate(rows):
        other = replace(row, count=row.count + 1)
        pieces = (*rows[:number], other, *rows[number + 1 :])
        assert found.doubts(replace(found.cutting, pieces=pieces)) != ()
