"""The answer about the cloth of a quilt: all that its top needs, in lists and pictures."""

from __future__ import annotations

import csv
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.answers import asking
from seamproof.answers.laying import ClothAnswer
from seamproof.cloth.ordering import counted
from seamproof.cloth.replaying import faults
from seamproof.errors import InputError
from seamproof.length.notation import parse
from seamproof.pipeline.memory import Memory
from seamproof.project.starting import copy_demo
from tests import worked_out


@pytest.fixture(scope="module")
def memory() -> Memory:
    return worked_out.memory()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("lamps")
    copy_demo(folder)
    return folder


@pytest.fixture(scope="module")
def answer(folder: Path, memory: Memory) -> ClothAnswer:
    return asking.lay(folder, output=folder / "cloth", memory=memory)


def rows(path: str | None) -> list[dict[str, str]]:
    assert path is not None
    with Path(path).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_piece_of_blocks_and_top_comes_out(answer: ClothAnswer) -> None:
    for one in answer.work.fabrics:
        assert one.laid is not None
        assert counted(one.laid.lays) == {k.demand.name: k.count for k in one.pool.kinds}
        assert faults(one.laid, one.pool.demands) == []


def test_the_top_is_cut_with_its_blocks(answer: ClothAnswer) -> None:
    """31 sashes, 20 cornerstones, 6 strips of binding (44 × 58 in, 20 in more: 224 in), and what
    coping the quilt file asks for; blocks that lie in the top, and no others."""
    uses = Counter[str]()
    for fabric in answer.fabrics:
        for kind in fabric.pieces:
            for use in kind.uses:
                uses[use.block] += use.count
    assert (uses["sash"], uses["cornerstone"], uses["binding strip"]) == (31, 20, 6)
    assert uses["coping"] == 6 * 4
    assert uses["Cardinal Mark"]
    assert not uses["Cardinal Mark, straight seams"]
    assert [finding.code for finding in answer.findings if finding.code >= 600] == [613]


def test_equal_pieces_of_blocks_and_top_are_one_kind(answer: ClothAnswer) -> None:
    for fabric in answer.fabrics:
        boxes = [(k.width_in, k.height_in) for k in fabric.pieces if k.shape == "square"]
        assert len(boxes) == len(set(boxes)), fabric.letter
    (cornerstones,) = [
        kind
        for kind in answer.fabrics[1].pieces
        if any(use.block == "cornerstone" for use in kind.uses)
    ]
    assert len(cornerstones.uses) > 1


def test_the_backing_has_no_fabric_and_is_bought_all_the_same(answer: ClothAnswer) -> None:
    """52 × 66 in from cloth 40 in wide: two lengths of 52 in, 104 in, 3 yd with straightening."""
    backing = answer.fabrics[-1]
    assert (backing.letter, backing.bare_in, backing.buy) == ("backing", 104, 3)
    assert answer.batting is not None
    assert (answer.batting.width_in, answer.batting.height_in) == (52, 66)


def test_lists_say_what_the_answer_says(answer: ClothAnswer) -> None:
    cutting, shopping = rows(answer.cutting_list), rows(answer.shopping_list)
    assert len(cutting) == sum(len(fabric.pieces) for fabric in answer.fabrics)
    for fabric, row in zip(answer.fabrics, shopping[:-1], strict=True):
        assert row["name"] == fabric.name
        assert float(row["buy"]) == fabric.buy
    assert shopping[-1]["name"] == "Batting"


def test_the_order_of_cutting_has_a_line_for_each_sort_of_strip(answer: ClothAnswer) -> None:
    order = rows(answer.cutting_order)
    length = sum(
        Fraction(parse(row["width in"])) * int(row["cut"]) for row in order if row["fabric"] == "A"
    )
    assert float(length) == answer.fabrics[0].bare_in
    assert {row["from"] for row in order} == {"bolt"}


def test_one_picture_a_fabric(answer: ClothAnswer) -> None:
    assert [len(fabric.pictures) for fabric in answer.fabrics] == [1] * 7
    assert all(Path(p).is_file() for fabric in answer.fabrics for p in fabric.pictures)


def test_few_settings_of_the_ruler_are_fewer_than_the_shortest_lay_takes(
    answer: ClothAnswer, folder: Path, memory: Memory
) -> None:
    simple = asking.lay(folder, simple=True, memory=memory)
    for few, usual in zip(simple.fabrics, answer.fabrics, strict=True):
        assert few.shortest_in == usual.bare_in
        assert few.bare_in is not None
        assert usual.bare_in is not None
        assert few.bare_in >= usual.bare_in
        assert few.settings is not None
        assert usual.settings is not None
        assert few.settings <= usual.settings, few.letter


def test_a_setting_that_cannot_be_sewn_leaves_the_blocks(tmp_path: Path, memory: Memory) -> None:
    copy_demo(tmp_path)
    file = tmp_path / "quilt.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("cornerstones: b", "cornerstones: x"), encoding="utf-8")
    answer = asking.lay(tmp_path, memory=memory)
    assert answer.exit_code == 1
    assert [f.code for f in answer.findings if f.severity == "error"] != []
    assert [fabric.letter for fabric in answer.fabrics] == list("abcdef")
    assert answer.batting is None


def test_cloth_of_a_fabric_that_is_not_here_is_refused(folder: Path, memory: Memory) -> None:
    with pytest.raises(InputError, match="fabric ZZ, which is not here"):
        asking.lay(folder, shelf=["zz: 18 x 21"], memory=memory)


def test_a_border_wider_than_the_cloth_is_told_where_the_top_is_written(
    tmp_path: Path, memory: Memory
) -> None:
    copy_demo(tmp_path)
    file = tmp_path / "quilt.yaml"
    text = file.read_text(encoding="utf-8")
    border = "  borders: [{width: 42, fabric: e, cut: lengthwise}]\n  binding:"
    file.write_text(text.replace("  binding:", border), encoding="utf-8")
    found = [f for f in asking.lay(tmp_path, memory=memory).findings if f.code == 701]
    assert {f.severity for f in found} == {"error"}
    lines = text.splitlines()
    assert {Path(f.where.file or "").name for f in found} == {"quilt.yaml"}
    assert {lines[(f.where.line or 1) - 2] for f in found} == {"setting:"}
