"""Causes in the right order, for faults that were planted."""

from __future__ import annotations

import pytest

from seamproof.accuracy.diagnosis import Reckoned, Sizes, reckon
from seamproof.accuracy.fitting import measured_maker
from seamproof.accuracy.strip_test import StripSet, fit_strips
from tests.accuracy.test_across import NINE, planned


def nine(sizes: Sizes) -> Reckoned:
    _, made, cutting = planned(NINE)
    return reckon(made, cutting, sizes)


def names(found: Reckoned) -> list[str]:
    return [cause.name for cause in found.causes]


def test_a_quarter_short_is_a_sixteenth_on_each_side_of_two_seams() -> None:
    """The published reckoning for a nine-patch: 1/16 in each side of two seams is 1/4 in lost."""
    found = nine(Sizes(9.25, 9.25))
    assert found.off == (-0.25, -0.25)
    assert found.each == pytest.approx(1 / 8)
    assert names(found)[0] == "seam"
    assert found.causes[0].brings == pytest.approx(-0.25, abs=0.06)


def test_a_right_block_has_no_cause() -> None:
    assert nine(Sizes(9.5, 9.52)).causes == ()


def test_one_way_only_is_one_place() -> None:
    assert names(nine(Sizes(9.25, 9.5)))[0] == "one place"


def test_pieces_that_are_small_are_found_in_the_cutting() -> None:
    """Three pieces 1/12 in small, and measured to be: nothing is left for the seam."""
    pieces = tuple((letter, 3.5 - 1 / 12) for letter in ("Aa", "Ba") for _ in range(5))
    found = nine(Sizes(9.25, 9.25, pieces=pieces))
    assert names(found)[0] == "cutting"


def test_a_right_allowance_on_the_back_clears_the_seam() -> None:
    blamed = nine(Sizes(9.25, 9.25)).causes[0].share
    read = Sizes(9.25, 9.25, allowances=(0.25,) * 8)
    cleared = {cause.name: cause.share for cause in nine(read).causes}
    assert cleared["seam"] < blamed - 0.15
    assert cleared["pressing"] > 0.1


def test_pressing_again_clears_the_pressing() -> None:
    assert "pressing" in names(nine(Sizes(9.25, 9.25)))
    assert "pressing" not in names(nine(Sizes(9.25, 9.25, pressed_again=True)))


def test_no_pressing_makes_a_block_larger() -> None:
    found = nine(Sizes(9.75, 9.75))
    assert names(found)[0] == "seam"
    assert "pressing" not in names(found)
    assert found.each == pytest.approx(-1 / 8)


def test_what_no_seam_does_is_a_mistake() -> None:
    assert names(nine(Sizes(8.5, 8.5)))[0] == "mistake"
    assert names(nine(Sizes(9.0, 9.5)))[0] == "mistake"


UNITS = ["a/b c", "c a/b"]


def test_trimmed_units_that_were_measured_narrow_it_down() -> None:
    _, made, cutting = planned(UNITS, 6)
    kind = "half-square triangle"
    alone = reckon(made, cutting, Sizes(6.375, 6.375))
    small = reckon(made, cutting, Sizes(6.375, 6.375, units=((kind, 3.375),)))
    right = reckon(made, cutting, Sizes(6.375, 6.375, units=((kind, 3.5),)))
    assert names(alone)[0] == "seam"
    assert {names(small)[0], names(small)[1]} == {"trimming", "unit"}
    assert small.causes[1].what == kind or small.causes[0].what == kind
    assert names(right)[0] == "seam"
    assert right.causes[0].share > alone.causes[0].share


def test_a_measured_maker_is_believed() -> None:
    """A maker whose seam is known to be right did not make this one too wide."""
    _, made, cutting = planned(NINE)
    good = StripSet((1.5,) * 10, measured=True, side=(10.5,) * 3, inner=(1.0,) * 8)
    maker = measured_maker("ada", fit_strips([good]))
    anybody = reckon(made, cutting, Sizes(9.36, 9.36)).causes[0]
    hers = {c.name: c.share for c in reckon(made, cutting, Sizes(9.36, 9.36), maker=maker).causes}
    assert anybody.name == "seam"
    assert hers["seam"] < anybody.share - 0.2


@pytest.mark.parametrize(
    ("sizes", "said"),
    [
        (Sizes(), "width or the height"),
        (Sizes(9.25, units=(("hourglass", 3.5),)), "no hourglass"),
        (Sizes(9.25, pieces=(("Zz", 3.5),)), "lettered Zz"),
    ],
)
def test_what_the_block_does_not_have_is_refused(sizes: Sizes, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        nine(sizes)


def test_a_block_without_seams_is_cut_or_trimmed_wrongly() -> None:
    _, made, cutting = planned(["a"])
    found = reckon(made, cutting, Sizes(9.25, 9.5))
    assert found.each is None
    assert "seam" not in names(found)
