"""What a quilt file says about cloth."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.cloth.buying import Buying
from seamproof.errors import InputError
from seamproof.length.exact import CM
from seamproof.project.model import Project, Supply
from seamproof.project.quilt_file import quilt_project
from seamproof.project.yaml_tree import document

HEAD = "name: Quay\n"


def quilt(fabric: str = "", preferences: str = "") -> Project:
    text = HEAD + f"fabrics:\n  - letter: a\n{fabric}"
    if preferences:
        text += f"preferences:\n{preferences}"
    return quilt_project(document(text.encode(), "quilt.yaml"), Path("none"))


def test_nothing_said_is_cloth_by_the_yard() -> None:
    project = quilt()
    assert project.supply("a") == Supply()
    assert project.preferences.buying == Buying()
    assert quilt(preferences="  measure: cm\n").preferences.buying == Buying.metric()


def test_what_is_on_the_shelf_and_what_it_is_cut_from() -> None:
    supply = quilt(
        "    cut from: [fat quarter, 3 of 10 x 12, yardage]\n"
        "    shelf:\n      - 2 of 18 x 21\n      - 5 x 40\n"
        "    price: 12.50\n"
    ).supply("a")
    fixed = [(p.name, p.width, p.length, p.count) for p, _ in supply.fixed]
    assert fixed == [("fat quarter", 21, 18, None), ("10 x 12", 10, 12, 3)]
    assert supply.yardage
    assert [(p.width, p.length, p.count) for p, _ in supply.shelf] == [(18, 21, 2), (5, 40, 1)]
    assert [where.line for _, where in supply.shelf] == [6, 7]
    assert supply.price == Fraction("12.5")


def test_a_list_without_yardage_buys_none() -> None:
    assert not quilt("    cut from: [fat eighth]\n").supply("a").yardage
    assert quilt("    cut from: [yardage]\n").supply("a") == Supply()


def test_centimetres() -> None:
    project = quilt("    shelf: [50 x 20]\n    cut from: [fat quarter]\n", "  measure: cm\n")
    ((shelf, _),), ((fixed, _),) = project.supply("a").shelf, project.supply("a").fixed
    assert (shelf.width, shelf.length) == (CM * 50, CM * 20)
    assert (fixed.width, fixed.length) == (CM * Fraction("52.5"), CM * 50)


def test_how_cloth_is_bought() -> None:
    wants = "  shop cut: 1/4 yd\n  straightening: 2\n  shrinkage: 2.5 %\n"
    assert quilt(preferences=wants).preferences.buying == Buying(
        "1/4 yd", Fraction(2), Fraction(1, 40)
    )


def test_a_leftover_of_nothing_is_read_for_the_checks() -> None:
    ((piece, where),) = quilt("    shelf: [-3 x 18]\n").supply("a").shelf
    assert piece.width == -3
    assert (where.line, where.column) == (4, 13)


@pytest.mark.parametrize(
    ("fabric", "preferences", "words", "line"),
    [
        ("    shelf: [a bit]\n", "", "not a piece of cloth", 4),
        ("    shelf: [18]\n", "", "not a piece of cloth", 4),
        ("    shelf: [99999 x 3]\n", "", "larger than any cloth", 4),
        ("    shelf: [20000 of 3 x 3]\n", "", "20,000 pieces", 4),
        ("    cut from: []\n", "", "empty list", 4),
        ("    price: cheap\n", "", "the price cannot be", 4),
        ("", "  shrinkage: all\n", "the shrinkage cannot be", 5),
        ("", "  shrinkage: 40 %\n", "more than 25 %", 5),
        ("", "  shop cut: an ell\n", "shop cut cannot be", 5),
        ("", "  straightening: 40\n", "the straightening is more than", 5),
    ],
)
def test_refused_at_its_place(fabric: str, preferences: str, words: str, line: int) -> None:
    with pytest.raises(InputError) as caught:
        quilt(fabric, preferences)
    assert words in str(caught.value)
    assert caught.value.place.line == line
