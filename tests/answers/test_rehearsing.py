from __future__ import annotations

from functools import cache
from typing import Any

import jsonschema
import pytest

from seamproof.accuracy.model import MAKERS
from seamproof.answers.asking import ANSWERS
from seamproof.answers.rehearsing import RehearseAnswer, rehearse_answer
from seamproof.pipeline.rehearsing import rehearse_block
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block_bytes

STAR = (
    "name: Star\nfinished: 12\ncells:\n"
    "  - c  e\\a a=/e c\n  - a\\e b\\f b/f e/a\n  - a^/e f/b f\\b e\\a^\n  - c  e/a a=\\e c\n"
)


@cache
def answered(maker: str = "everyday", text: str = STAR) -> RehearseAnswer:
    work = work_block(read_block_bytes(text.encode(), "b.yaml"), until="cutting")
    return rehearse_answer(rehearse_block(work, MAKERS[maker], makers=4000, seed=1), 4000, 1)


def plain(maker: str = "everyday") -> dict[str, Any]:
    found: dict[str, Any] = answered(maker).to_json()
    jsonschema.validate(found, ANSWERS["rehearse"].json_schema())
    return found


def test_the_answer_has_all_that_is_promised() -> None:
    found = plain()
    for side in ("width", "height", "out_of_square"):
        assert set(found[side]) == {"mean", "sd", "p05", "p95"}
        assert found[side]["p05"] < found[side]["mean"] < found[side]["p95"]
    assert list(found["within"]) == ["1/16", "1/8", "1/4"]
    assert {"x", "y", "rms", "p95"} <= set(found["crossings"][0])
    assert {"x", "y", "cut_off", "floating"} <= set(found["points"][0])
    assert {"source", "share"} <= set(found["costs"][0])
    assert {"unit", "p95", "p99"} <= set(found["oversize"][0])


def test_larger_limits_are_kept_by_more_and_by_better_makers() -> None:
    shares = {maker: list(plain(maker)["within"].values()) for maker in MAKERS}
    for made in shares.values():
        assert made == sorted(made)
    for careful, everyday, new in zip(*shares.values(), strict=True):
        assert careful > everyday > new


def test_what_costs_most_comes_first_and_all_of_it_is_told() -> None:
    shares = [cost["share"] for cost in plain()["costs"]]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) == pytest.approx(1)
    # Of the width 84 of 100 (the model's own budget); of the height, across which fewer seams run,
    # each of them longer, 72.
    assert plain()["costs"][0]["source"] == "seam bias"
    assert shares[0] == pytest.approx(0.78, abs=0.03)


def test_advice_names_both_numbers() -> None:
    advice = {line["change"]: line for line in plain()["advice"]}
    assert {"trim", "strip test"} <= set(advice)
    trim = advice["trim"]
    assert trim["say"] == (
        f"trim the units before they meet anything: {round(100 * trim['after'])} instead of "
        f"{round(100 * trim['before'])} of 100 makers come within 1/8 in"
    )
    gains = [line["after"] - line["before"] for line in plain()["advice"]]
    assert gains == sorted(gains, reverse=True)
    assert min(gains) > 0


def test_geese_need_more_than_half_square_triangles() -> None:
    by_kind = {line["unit"]: line for line in plain()["oversize"]}
    geese, triangles = by_kind["flying geese"], by_kind["half-square triangle"]
    assert 1.3 < geese["p95"] / triangles["p95"] < 1.9  # 1.5 to 1.8 times, for one sewer
    for line in by_kind.values():
        assert line["p95"] < line["p99"]
        assert line["all_p95"] <= line["all_p99"]
        assert (8 * line["all_p95"]).is_integer()


def test_crossings_and_points_lie_in_the_block() -> None:
    found = plain()
    for place in (*found["crossings"], *found["points"]):
        assert 0 <= place["x"] <= 12
        assert 0 <= place["y"] <= 12
    assert {(c["x"], c["y"]) for c in found["crossings"]} >= {(3, 3), (9, 3), (3, 9), (9, 9)}
    assert {(p["x"], p["y"]) for p in found["points"]} >= {(6, 3), (3, 6), (3, 0), (12, 9)}


def test_a_preset_is_called_an_assumption() -> None:
    found = plain()
    assert found["maker"] == {"name": "everyday", "assumed": True}
    assert [note["code"] for note in found["findings"]].count(501) == 1
    assert "assumption" in (answered().svg() or "")


def test_what_was_not_rehearsed_is_null() -> None:
    answer = answered(text="name: Plain\nfinished: 6\ncells:\n  - a\n")
    found = answer.to_json()
    jsonschema.validate(found, ANSWERS["rehearse"].json_schema())
    assert found["width"] is None
    assert found["advice"] is None
    assert answer.svg() is None
