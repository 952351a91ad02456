"""What a workshop is told by the recipes, and what a second one can take over from it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.accuracy.forecasting import Linear, linear
from seamproof.accuracy.model import MAKERS
from seamproof.accuracy.sewing import COMMON, FOLD
from seamproof.accuracy.workshop import Setup, Workshop, cut_apart_of, squarings_of
from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings
from seamproof.errors import SeamproofError
from seamproof.piecing.planning import plan
from tests.accuracy.reference_blocks import STAR
from tests.cutting.drawn import block_of

EVERYDAY = MAKERS["everyday"]


def setup(
    cells: str, width: int, height: int | None = None, methods: Mapping[str, str] | None = None
) -> Setup:
    block = block_of(cells, width, height)
    made, _ = plan(block)
    assert made is not None
    settings = replace(CuttingSettings(), methods=methods or {})
    cutting, _ = cutting_list(block, made, settings=settings)
    return Setup(made, squarings_of(made, cutting, settings.oversize), cut_apart_of(cutting))


def kinds(made: Setup, parts: frozenset[int]) -> set[str]:
    return {unit.kind for unit in made.plan.units if unit.part in parts}


def test_what_is_sewn_beside_a_line_and_cut_along_it_has_no_edge_cut_by_ruler_there() -> None:
    star = setup(STAR, 12)
    assert kinds(star, star.cut_apart) == {"half-square triangle", "flying geese"}
    assert set(star.squarings) == set(star.cut_apart)


def test_triangles_that_were_cut_first_have() -> None:
    made = setup("a/b", 3, methods={"half-square triangle": "from triangles"})
    assert made.cut_apart == frozenset()
    assert len(made.squarings) == 1
    (unit,) = made.squarings
    errors = made.workshop().overhang(unit).errors
    # Three cut edges of each triangle, and no drawn line that matters.
    assert errors.count("cut") == 6
    beside = setup("a/b", 3).workshop()
    assert beside.overhang(unit).errors.count("cut") == 4
    table = beside.overhang(unit)
    marking = [
        abs(table.table[:, COMMON + i]).max() for i, e in enumerate(table.errors) if e == "marking"
    ]
    assert max(marking) > 0.5


def test_slices_of_strip_sets_are_cut_by_ruler() -> None:
    made = setup("a b a b\nb a b a", 8, 4)
    assert made.cut_apart == frozenset()
    assert made.squarings == {}


def test_corners_folded_over_are_cut_off_along_their_seam() -> None:
    made = setup("e\\a a=/e", 6, 3, methods={"flying geese": "stitch-and-flip"})
    assert kinds(made, made.cut_apart) == {"flying geese"}


def same(one: Linear, other: Linear) -> bool:
    return all(
        a == pytest.approx(b, abs=1e-9)
        for a, b in (
            (one.shared, other.shared),
            *((one.squares[source], other.squares[source]) for source in one.squares),
            *((one.sums[source], other.sums[source]) for source in one.sums),
        )
    )


@pytest.mark.parametrize(
    ("cells", "size"), [(STAR, 12), ("a\\b a/b\nb/a b\\a", 6), ("a/b", 3), ("a/b c\nc a/b", 6)]
)
def test_untrimmed_it_is_as_if_begun_anew(cells: str, size: int) -> None:
    made = setup(cells, size)
    trimmed = made.workshop()
    linear(trimmed)
    loose = linear(trimmed.untrimmed(made.squarings))
    anew = linear(made.workshop(trim=False))
    assert loose.squares.keys() == anew.squares.keys()
    assert same(loose, anew)
    assert loose.parts(EVERYDAY).keys() != linear(trimmed).parts(EVERYDAY).keys()


def test_all_open_is_as_if_pressed_so() -> None:
    made = setup(STAR, 12)
    opened = replace(made, presses={(n, 0): "open" for n in range(len(made.plan.parts))})
    assert same(linear(made.workshop()).opened(), linear(opened.workshop()))
    assert (
        linear(made.workshop()).opened().mean(EVERYDAY)[0]
        > linear(made.workshop()).mean(EVERYDAY)[0]
    )


def test_who_presses_all_open_presses_the_seam_to_the_neighbour_open() -> None:
    made = setup(STAR, 12)
    opened = replace(made, presses={(n, 0): "open" for n in range(len(made.plan.parts))})
    beside, apart = (one.workshop().edges().beyond[-1, FOLD] for one in (made, opened))
    assert beside == -1
    assert apart == pytest.approx(-(math.pi / 2 - 1))


def test_the_twin_of_a_unit_is_squared_up_like_it() -> None:
    made = setup("a/b\n^", 2, 4)
    both = setup("a/b a\\b\n^ ^", 4, 4)
    assert len(made.squarings) == 1
    assert len(both.squarings) == 2
    assert {one.oversize for one in both.squarings.values()} == {Fraction(1, 8)}


def test_a_plan_with_cores_is_no_whole_block() -> None:
    made, _ = plan(block_of("a b\nb a", 6))
    assert made is not None
    with pytest.raises(SeamproofError, match="cores"):
        Workshop(replace(made, cores=((0, 1),)))  # type: ignore[arg-type]
