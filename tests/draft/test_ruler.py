from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.draft.ruler import fitting_widths
from seamproof.draft.understanding import understand
from seamproof.length.exact import CM
from seamproof.length.rounding import INCH_STEP, METRIC_STEP
from tests import cast

shares = st.lists(st.fractions(0, 1, max_denominator=12).filter(bool), min_size=1, max_size=4)


@given(st.integers(1, 40), shares)
def test_fitting_widths_fit(width: int, parts: list[Fraction]) -> None:
    widths = fitting_widths(Fraction(width), parts)
    assert widths
    for fitting in widths:
        assert all((fitting * part / INCH_STEP).denominator == 1 for part in parts)
    steps = [w for w in widths if all((w * part / INCH_STEP).denominator == 1 for part in parts)]
    assert steps == sorted(widths)


def test_twelve_inches_on_a_grid_of_five() -> None:
    rows = ["a b c d a"] * 5
    block, findings = understand(cast.cells_drawing("five", (12, 12), rows))
    assert block is not None
    (finding,) = findings
    assert (finding.code, finding.severity) == (111, "note")
    assert "2 2/5 in finished (cut 2 9/10 in)" in finding.what
    assert "1/8 in ruler" in finding.what
    assert finding.mend.endswith("10 in, 11 7/8 in, 12 1/2 in, 15 in")
    assert finding.where.at is not None


@pytest.mark.parametrize("width", [10, 15, "25/2", "95/8"])
def test_the_sizes_it_names_are_on_the_ruler(width: int | str) -> None:
    rows = ["a b c d a"] * 5
    _, findings = understand(cast.cells_drawing("five", (width, width), rows))
    assert findings == ()


def test_a_finer_ruler_or_another_seam_changes_what_is_off() -> None:
    drawing = cast.cells_drawing("sixteenths", (2, 2), ["a b"], columns=[3, 29])
    assert understand(drawing)[1][0].code == 111
    assert understand(drawing, step=Fraction(1, 16))[1] == ()
    assert understand(cast.four_patch_drawing(), seam=Fraction(1, 3))[1][0].code == 111


def test_a_metric_ruler_speaks_in_centimetres() -> None:
    drawing = cast.cells_drawing("metric", (10 * CM, 10 * CM), ["a b c"])
    _, findings = understand(drawing, step=METRIC_STEP, seam=CM * 3 / 4)
    assert "3 1/3 cm finished (cut 4 5/6 cm)" in findings[0].what
    assert "9 cm" in findings[0].mend
    fine = cast.cells_drawing("metric", (9 * CM, 9 * CM), ["a b c"])
    assert understand(fine, step=METRIC_STEP, seam=CM * 3 / 4)[1] == ()


def test_sides_on_no_grid_are_none_of_its_business() -> None:
    star = cast.as_polygons(cast.eight_pointed_star())
    assert understand(star)[1] == ()


def test_slanted_sides_do_not_count() -> None:
    drawing = cast.cells_drawing("half", (3, 3), ["a/b"])
    assert understand(drawing)[1] == ()
