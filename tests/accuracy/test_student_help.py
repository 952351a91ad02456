"""What a student is told."""

from __future__ import annotations

import re

import pytest

from seamproof.accuracy.diagnosis import Sizes
from seamproof.accuracy.student_help import Help, diagnose, usual_help
from seamproof.length.exact import CM
from tests.accuracy.test_across import NINE, STAR, planned


def helped(rows: list[str], size: int, *sizes: float) -> Help:
    _, made, cutting = planned(rows, size)
    return diagnose(made, cutting, Sizes(*sizes))


def every_sentence(told: Help) -> list[str]:
    of_causes = [text for c in told.causes for text in (c.say, c.why, c.test)]
    return [told.says, told.first, *of_causes, *told.save, *told.never]


def test_the_short_nine_patch() -> None:
    told = helped(NINE, 9, 9.25, 9.25)
    assert told.says == "It is 1/4 in too small both ways."
    assert told.first.startswith("Press it again")
    assert "Iron and steam burn" in told.first
    first = told.causes[0]
    assert "1/16 in too wide on each side" in first.why
    assert "two 2 in squares" in first.test
    assert "3 1/2 in" in first.test
    assert any("1/16 in on each side" in way for way in told.save)
    assert any("nothing can be trimmed up" in text for text in told.never)


def test_a_little_short_is_used_as_it_is() -> None:
    assert helped(NINE, 9, 9.4, 9.4).save[0].startswith("Use it as it is")
    assert not any("Use it" in way for way in helped(NINE, 9, 9.25, 9.25).save)


def test_a_large_block_with_points_outside_is_not_trimmed() -> None:
    star = helped(STAR, 12, 12.75, 12.75)
    assert any(way.startswith("Do not trim it") for way in star.save)
    plain = helped(NINE, 9, 9.75, 9.75)
    assert any(way.startswith("Trim it all round: 1/8 in") for way in plain.save)
    assert any("cut away from the body" in way for way in plain.save)


def test_a_right_block_needs_no_help() -> None:
    told = helped(NINE, 9, 9.5, 9.5)
    assert told.says.startswith("It is right")
    assert (told.first, told.causes, told.save, told.never) == ("", (), (), ())


def test_in_centimetres() -> None:
    _, made, cutting = planned(NINE)
    right = float(9 + 2 * CM * 3 / 4)
    told = diagnose(made, cutting, Sizes(right - 0.2, right - 0.2), seam=CM * 3 / 4, measure="cm")
    assert told.says == "It is 5.1 mm too small both ways."
    assert "two 5 cm squares" in told.causes[0].test
    assert "8.5 cm" in told.causes[0].test
    assert not any(re.search(r"\d in\b", text) for text in every_sentence(told))


@pytest.mark.parametrize(("rows", "size"), [(NINE, 9), (STAR, 12), (["a"], 6)])
def test_the_help_box_has_both_cases(rows: list[str], size: int) -> None:
    _, made, cutting = planned(rows, size)
    small, large = usual_help(made, cutting)
    assert "too narrow" in small.says
    assert "too wide" in large.says
    for told in (small, large):
        assert told.causes
        assert told.save
        for text in every_sentence(told):
            assert text.endswith(".")
            assert not re.search(r"linear|session|\bnan\b|None", text)
