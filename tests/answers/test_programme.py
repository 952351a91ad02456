"""The programme of a small quilt, written to a folder and written again."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pypdfium2
import pytest

from seamproof.answers.asking_kits import kits
from seamproof.answers.asking_programme import programme
from seamproof.errors import InputError
from seamproof.pipeline.memory import Memory

QUILT = """\
name: Two lamps
fabrics:
  - {letter: a, name: Mist, price: 10}
  - {letter: b, name: Lamp, price: 12}
setting:
  rows: [[Lamp, Window]]
  sashing: 2 of b
programme:
  start: "2027-01-31"
  people: 20
  spares: 10 %
  one dye lot: b
  releases: [Lamp, {blocks: Window, parts: [setting, binding, backing]}]
colourways:
  - {name: Dusk, fabrics: [{letter: a, name: Dusk, price: 30}]}
"""

LAMP = """\
name: Lamp
finished: 9
cells:
  - a   a/b a
  - a\\b b   b\\a
  - a   b/a a
"""

WINDOW = LAMP.replace("Lamp", "Window").replace("b   b\\a", "a   b\\a")


@pytest.fixture(scope="module")
def remembered(tmp_path_factory: pytest.TempPathFactory) -> Memory:
    return Memory(tmp_path_factory.mktemp("memory"))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "quilt"
    made.mkdir()
    for name, text in (("quilt", QUILT), ("lamp", LAMP), ("window", WINDOW)):
        (made / f"{name}.yaml").write_text(text, encoding="utf-8")
    return made


def table(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"))))


def test_everything_is_written_and_adds_up(
    folder: Path, tmp_path: Path, remembered: Memory
) -> None:
    out = tmp_path / "out"
    answer = programme(folder, output=out, memory=remembered)
    assert (answer.people, answer.kits) == (20, 22)
    assert [line.day for line in answer.releases] == ["2027-01-31", "2027-02-28"]
    assert answer.calendar is not None
    assert answer.calendar.new == 12
    names = ["needs.csv", "orders.csv", "pieces-to-save.csv", "programme.ics", "releases.pdf"]
    assert sorted(path.name for path in out.iterdir()) == names

    needs = table(out / "needs.csv")
    for total in (row for row in needs if row["release"] == "all"):
        mine = [row for row in needs if row["fabric"] == total["fabric"] and row != total]
        for column in ("length in", "cut area sq in", "pieces"):
            assert sum(float(row[column]) for row in mine) == float(total[column])
    saved = table(out / "pieces-to-save.csv")
    assert all(int(row["cut with release"]) < int(row["sewn in release"]) for row in saved)
    text = "\n".join(
        page.get_textpage().get_text_bounded()
        for page in pypdfium2.PdfDocument(out / "releases.pdf")
    )
    assert "Release 1: Lamp" in text
    assert "Release 2: Window, setting, binding and backing" in text
    assert text.count("Save for later") == (1 if saved else 0)
    assert text.count("Take what you saved") == (1 if saved else 0)


def test_written_again_it_is_the_same_and_changes_are_counted(
    folder: Path, tmp_path: Path, remembered: Memory
) -> None:
    out = tmp_path / "out"
    programme(folder, output=out, memory=remembered)
    before = {path.name: path.read_bytes() for path in out.iterdir()}
    again = programme(folder, output=out, memory=remembered)
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before
    assert again.calendar is not None
    assert again.calendar.kept == 12
    file = folder / "quilt.yaml"
    file.write_text(file.read_text("utf-8").replace("2027-01-31", "2027-02-06"), encoding="utf-8")
    moved = programme(folder, output=out, memory=remembered)
    assert moved.calendar is not None
    assert moved.calendar.changed == 12


def test_another_file_in_the_way_is_not_written_over(
    folder: Path, tmp_path: Path, remembered: Memory
) -> None:
    (tmp_path / "programme.ics").write_text("mine", encoding="utf-8")
    with pytest.raises(InputError, match="not a calendar of this program"):
        programme(folder, output=tmp_path, memory=remembered)
    assert (tmp_path / "programme.ics").read_text("utf-8") == "mine"


def test_one_dye_lot_is_reserved(folder: Path, remembered: Memory) -> None:
    answer = programme(folder, memory=remembered)
    (note,) = (note for note in answer.findings if note.code == 808)
    (order,) = (order for order in answer.orders if order.one_lot)
    assert order.fabric == "b"
    assert f"{order.buy:g}".split(".")[0] in note.what
    assert order.by in note.mend


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [("[Lamp, {", "[Lampe, {", 801), ("[Lamp, {", "[{", 803), ("[Lamp, {", "[Lamp, Lamp, {", 802)],
)
def test_what_does_not_hold_together_is_said_and_ends_with_1(
    folder: Path, remembered: Memory, old: str, new: str, code: int
) -> None:
    file = folder / "quilt.yaml"
    file.write_text(file.read_text("utf-8").replace(old, new), encoding="utf-8")
    answer = programme(folder, memory=remembered)
    assert answer.exit_code == 1
    assert code in {note.code for note in answer.findings}


def test_a_folder_without_a_programme_is_refused(folder: Path) -> None:
    file = folder / "quilt.yaml"
    text = file.read_text("utf-8")
    file.write_text(text[: text.index("programme:")], encoding="utf-8")
    with pytest.raises(InputError, match="has no programme"):
        programme(folder)


def test_kits_in_another_colourway_cost_what_its_cloth_costs(
    folder: Path, remembered: Memory
) -> None:
    own = kits(folder, memory=remembered)
    dusk = kits(folder, colourway="Dusk", memory=remembered)
    assert [line.name for line in dusk.fabrics] == ["Dusk", "Lamp"]
    assert [line.bare_in for line in dusk.fabrics] == [line.bare_in for line in own.fabrics]
    assert dusk.costs.cloth > own.costs.cloth
    with pytest.raises(InputError, match='no colourway "Dawn"'):
        kits(folder, colourway="Dawn", memory=remembered)


def test_bolts_are_read_as_a_shop_says_them(folder: Path, remembered: Memory) -> None:
    short = kits(folder, have=["a: 1 yd, 1/2 yd"], memory=remembered)
    assert short.exit_code == 1
    assert 0 < (short.fabrics[0].makes or 0) < short.kits
    for text in ("1 yd", "a: long", "a: 0 yd", "a: 9000 yd"):
        with pytest.raises(InputError):
            kits(folder, have=[text], memory=remembered)
