"""The demo quilt's top, and what a top says besides its sizes."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.piecing.model import Whole
from seamproof.pipeline.setting import TopWork, work_top
from seamproof.project.reading import read_project
from seamproof.project.starting import copy_demo
from seamproof.setting.model import BackingAsked, BindingAsked, LabelAsked, Top
from tests.setting import tops
from tests.setting.tops import block, strip, top_of

EXPECTED = json.loads(
    (Path(__file__).parents[1] / "trade_tables" / "lamps_setting.json").read_text("utf-8")
)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> TopWork:
    folder = tmp_path_factory.mktemp("lamps")
    copy_demo(folder)
    return work_top(read_project(folder))


@pytest.fixture(scope="module")
def lamps(demo: TopWork) -> Top:
    assert demo.top is not None
    return demo.top


def test_the_demo_quilt_comes_out_as_designed(demo: TopWork, lamps: Top) -> None:
    assert [lamps.width, lamps.height] == EXPECTED["finished"] == [44, 58]
    assert lamps.cell == (EXPECTED["cell"], EXPECTED["cell"])
    layout = [[cell.name for cell in row] for row in demo.setting.rows]
    assert layout == EXPECTED["layout"]
    assert demo.setting.sashing is not None
    sash = {"width": demo.setting.sashing.width, "fabric": demo.setting.sashing.fabric}
    assert sash == EXPECTED["sashing"]
    assert demo.setting.cornerstones == EXPECTED["cornerstone"]
    assert demo.setting.binding.fabric == EXPECTED["binding"]


def test_its_sashes_and_cornerstones(lamps: Top) -> None:
    cut = {
        (p.name, p.width.ruler, p.height.ruler): p.count
        for p in lamps.pieces
        if p.name in ("sash", "cornerstone")
    }
    half = Fraction(5, 2)
    assert cut == {("sash", half, Fraction(25, 2)): 31, ("cornerstone", half, half): 20}


def test_its_coping(lamps: Top) -> None:
    made = {
        coped.block: [
            {"fabric": frame.fabric, "finished_width": float(frame.beside)}
            for frame in coped.frames
        ]
        for coped in lamps.coped
    }
    assert made == EXPECTED["coping"]
    assert all(coped.frames[-1].outer == (12, 12) for coped in lamps.coped)
    assert all(frame.beside == frame.above for coped in lamps.coped for frame in coped.frames)


def test_its_finished_fabrics(lamps: Top) -> None:
    rounded = {letter: int(area + Fraction(1, 2)) for letter, area in lamps.fabrics}
    assert rounded == {"a": 578, "b": 183, "c": 337, "d": 122, "e": 374, "f": 958}
    assert sum(rounded.values()) == sum(area for _, area in lamps.fabrics) == 2552


def test_it_says_only_what_there_is_to_know(demo: TopWork) -> None:
    assert [(f.code, f.severity) for f in demo.findings] == [(613, "note")]


def test_framing_comes_before_sashing(lamps: Top) -> None:
    # The first eight rounds frame the four small blocks; nothing else is sewn in them.
    framing = {n for parts in lamps.plan.rounds[:8] for n in parts}
    assert len(framing) == 4 * (2 + 2) + 2 * (2 + 2)
    names = {block for n in framing for block in _blocks(lamps, n)}
    assert names == {"Dinghy", "Deck Light", "Cobbled Quay", "Slack Water"}


def _blocks(top: Top, number: int) -> set[str]:
    made = top.plan.parts[number].made
    if isinstance(made, Whole):
        return {made.block}
    sides = (made.left, made.right) if hasattr(made, "left") else ()
    return {name for side in sides for name in _blocks(top, side.part)}


def test_equal_sashes_and_equal_framed_blocks_are_one_part() -> None:
    top = top_of(tops.straight(*["Star Boat"] * 6, sash=2, coping=_coping()), *_small())
    leaves = Counter(role for role, _, _ in top.leaves)
    assert leaves["sash"] == 6 * 3 + 7 * 2
    roles = [piece for piece in top.pieces if piece.name == "sash"]
    assert [len(piece.parts) for piece in roles] == [1]
    # six equal rows: framing 4, a row of blocks 4, a row of sashing 3, then the rows 6 or fewer
    assert top.plan.sessions <= 18


def _coping() -> tuple[object, ...]:
    from seamproof.setting.model import Coping

    return (Coping("Boat", (strip("3/2", "a"),)),)


def _small() -> tuple[object, ...]:
    return block("Star"), block("Boat", 9)


def test_binding_sleeve_and_label_are_pieces_of_cloth() -> None:
    setting = tops.straight(
        "Star",
        binding=BindingAsked("d"),
        sleeve=strip(4, "a"),
        label=LabelAsked(Fraction(4), Fraction(6), "c"),
        backing=BackingAsked("a", Fraction(42)),
    )
    top = top_of(setting, block("Star"))
    made = {
        p.name: (p.fabric, p.width.ruler, p.height.ruler, p.count, p.may_join) for p in top.pieces
    }
    half = Fraction(1, 2)
    assert made["binding strip"] == ("d", Fraction(5, 2), 40, 2, True)
    assert made["hanging sleeve"] == ("a", 8 + half, 11, 1, True)
    assert made["label"] == ("c", 4 + half, 6 + half, 1, False)
    assert top.backing.usable == 42


def test_a_bias_binding_is_one_square() -> None:
    setting = tops.straight("Star", binding=BindingAsked("d", way="bias"))
    top = top_of(setting, block("Star"))
    (square,) = [p for p in top.pieces if p.name == "binding square"]
    assert square.width.ruler == square.height.ruler == top.binding.square
    assert top.binding.makes >= float(top.binding.length)
    assert top.binding.by_area is not None
    assert top.binding.by_area >= top.binding.makes


def test_the_top_does_not_depend_on_unset_blocks() -> None:
    setting = tops.straight("Star Rail", sash=2)
    blocks = (block("Star"), block("Rail"))
    one = top_of(setting, *blocks)
    more = top_of(setting, *blocks, block("Moon", 9))
    assert one == more
    assert one == top_of(setting, *reversed(blocks))


def test_a_project_without_a_setting_is_refused(tmp_path: Path) -> None:
    from seamproof.errors import InputError

    copy_demo(tmp_path)
    project = replace(read_project(tmp_path), setting=None)
    with pytest.raises(InputError, match="no setting"):
        work_top(project)
