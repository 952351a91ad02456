"""The answer about a top."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from seamproof.answers.asking_top import top
from seamproof.answers.hand_off import hand_off_table
from seamproof.answers.setting import TopAnswer
from seamproof.project.starting import copy_demo
from tests import worked_out


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("lamps")
    copy_demo(made)
    return made


@pytest.fixture(scope="module")
def answer(folder: Path) -> TopAnswer:
    return top(folder, memory=worked_out.memory())


def test_the_keys_of_the_demo(answer: TopAnswer) -> None:
    plain = answer.to_json()
    assert (plain["width"], plain["height"], plain["finished"]) == (44, 58, "44 × 58")
    assert plain["cell"] == [12, 12]
    assert plain["sashes"] == {"count": 31, "fabric": "f", "cut": ["2 1/2 × 12 1/2"]}
    assert plain["cornerstones"] == {"count": 20, "fabric": "b", "cut": ["2 1/2"]}
    assert {line["block"] for line in plain["coping"]} == {
        "Dinghy",
        "Deck Light",
        "Cobbled Quay",
        "Slack Water",
    }
    assert plain["backing"]["across"]["yards"] == round(104 / 36, 4)
    assert plain["backing"]["lengthwise"]["buy"] == "3 3/4 yd"
    assert plain["batting"] == {"width": 52, "height": 66, "package": "twin"}
    binding = plain["binding"]
    assert (binding["strips"], binding["length"], binding["buy"]) == (6, 224, 15)
    assert sum(piece["count"] for piece in plain["pieces"]) == 31 + 20 + 24 + 6
    assert plain["max_layers"] == 8
    assert plain["thick_spots"] == []
    assert plain["opened"]["max_layers"] > 8
    assert sum(plain["layers_area"].values()) == pytest.approx(44.5 * 58.5, abs=1e-3)
    assert plain["press"] == {
        "setting": "usual",
        "pattern": "all alike",
        "nested": 0,
        "meeting": 0,
        "second": [],
    }
    assert {line["press"] for line in plain["order"]} == {"to the sash", "to the coping"}
    assert answer.exit_code == 0


def test_the_order_names_every_step_once(answer: TopAnswer) -> None:
    steps = [line.step for line in answer.order]
    assert steps == list(range(1, len(steps) + 1))
    assert answer.order[-1].gives == "the top"
    assert answer.order[0].second == "Slack Water"
    for line in answer.order:
        for name in (line.first, line.second):
            if "(step " in name:
                assert int(name.rpartition("step ")[2].rstrip(")")) < line.step


def test_pictures_and_table_are_written(folder: Path, tmp_path: Path) -> None:
    picture, page = tmp_path / "top.svg", tmp_path / "quilter.svg"
    answer = top(folder, picture=picture, hand_off=page, memory=worked_out.memory())
    assert answer.picture == str(picture)
    assert answer.hand_off == (str(page), str(tmp_path / "quilter.csv"))
    assert picture.read_text("utf-8") == answer.sheet_svg()
    assert "The top in its order of sewing, 60 steps" in picture.read_text("utf-8")
    assert answer._repr_svg_() == answer.svg()
    words = "".join(answer.quilter_says())
    assert "52 in along the roller" in words
    assert "Top edge" in page.read_text("utf-8")
    lines = (tmp_path / "quilter.csv").read_text("utf-8").splitlines()
    table = dict(row[:2] for row in csv.reader(lines))
    assert table["top width"] == "44.0"
    assert table["area"] == "2552.0"
    assert table["price of quilting"] == "51.04"
    assert table["edge of the top"] == "pieced"
    assert hand_off_table(answer) == (tmp_path / "quilter.csv").read_text("utf-8")


def test_the_page_for_the_quilter_is_printed_with_a_table_beside_it(
    folder: Path, tmp_path: Path
) -> None:
    page = tmp_path / "quilter.pdf"
    answer = top(folder, hand_off=page, paper="a4", memory=worked_out.memory())
    assert page.read_bytes().startswith(b"%PDF")
    table = dict(
        row[:2] for row in csv.reader((tmp_path / "quilter.csv").read_text("utf-8").splitlines())
    )
    assert table["places above the limit"] == "0"
    assert table["thickest place, layers"] == "8"
    x, y = answer.max_at or (0.0, 0.0)
    assert float(table["thickest place, loaded by the top edge, down"]) == pytest.approx(
        y, abs=0.01
    )
    side = float(table["thickest place, loaded by the left side, from the left"])
    assert side == pytest.approx(58 - y, abs=0.01)
    assert any(line.startswith("seams pressed to the sash") for line in table)
    assert x > 0


def test_settings_side_by_side(folder: Path) -> None:
    answer = top(folder, targets=("wall",), memory=worked_out.memory())
    assert [target.name for target in answer.what_if] == ["wall"]
    for target in answer.what_if:
        names = [line.setting for line in target.settings]
        assert names == ["as set", "blocks once", "blocks repeated", "on point"]
        assert target.settings[0].size == (44, 58)
        assert target.settings[0].thick_spots == 0
        assert all(line.thick_spots is not None for line in target.settings)


def test_a_top_that_cannot_be_set_says_why_and_writes_nothing(tmp_path: Path) -> None:
    copy_demo(tmp_path)
    quilt = tmp_path / "quilt.yaml"
    text = quilt.read_text("utf-8").replace(
        "[Dinghy, Cardinal Mark, Net Floats]", "[Dinghy, Dinghy]"
    )
    quilt.write_text(text, "utf-8")
    answer = top(
        tmp_path,
        picture=tmp_path / "top.svg",
        hand_off=tmp_path / "page.svg",
        memory=worked_out.memory(),
    )
    assert answer.exit_code == 1
    assert {601, 603} <= {note.code for note in answer.findings}
    assert answer.width is answer.finished is answer.backing is answer.svg() is None
    assert not (tmp_path / "top.svg").exists()
    assert not (tmp_path / "page.svg").exists()
    (twice,) = [note for note in answer.findings if note.code == 601]
    line = text.split("\n")[(twice.where.line or 0) - 1]
    assert line.rindex("Dinghy") + 1 == twice.where.column


def test_a_block_that_cannot_be_drawn_is_told_and_left_white(tmp_path: Path) -> None:
    copy_demo(tmp_path)
    (tmp_path / "blocks" / "lamp-room.yaml").write_text(
        "name: Lamp Room\nfinished: 12\ncells:\n  - a a\n  - a\n", "utf-8"
    )
    answer = top(tmp_path, memory=worked_out.memory())
    assert answer.exit_code == 1
    assert answer.width == 44
    assert answer.svg() is not None
    assert 121 in {note.code for note in answer.findings}
