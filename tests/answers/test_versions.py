"""Versions of a real folder: frozen, compared, kept back by what testers found."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest

from seamproof.answers.asking import cut
from seamproof.answers.asking_programme import programme
from seamproof.answers.asking_versions import redline, release
from seamproof.answers.versions import RedlineAnswer
from seamproof.errors import InputError
from seamproof.pipeline.memory import Memory
from seamproof.programme.versions import differences, taken_in
from seamproof.project.releases import read_version
from seamproof.project.testers import read_forms

QUILT = """\
name: Two lamps
fabrics:
  - {letter: a, name: Mist, usable width: 40}
  - {letter: b, name: Lamp}
setting:
  rows: [[Lamp, plain a]]
  sashing: 2 of b
programme:
  start: "2027-01-31"
  releases: [Lamp, {blocks: Window, parts: [setting, binding]}]
sizes:
  - {name: Small, rows: [[Window]]}
colourways:
  - {name: Dusk, fabrics: [{letter: a, name: Dusk}]}
"""

LAMP = """\
name: Lamp
finished: 12
cells:
  - a   a/b a
  - a\\b b   b\\a
  - a   b/a a
"""

WINDOW = """\
name: Window
finished: 9
cells:
  - a b a
  - b a b
  - a b a
"""


@pytest.fixture(scope="module")
def remembered(tmp_path_factory: pytest.TempPathFactory) -> Memory:
    return Memory(tmp_path_factory.mktemp("memory"))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "quilt"
    (made / "blocks").mkdir(parents=True)
    (made / "quilt.yaml").write_text(QUILT, encoding="utf-8")
    (made / "blocks" / "lamp.yaml").write_text(LAMP, encoding="utf-8")
    (made / "blocks" / "window.yaml").write_text(WINDOW, encoding="utf-8")
    return made


@pytest.fixture
def edited(folder: Path, remembered: Memory) -> Callable[..., RedlineAnswer]:
    """Freeze 1.0, change something, freeze 1.1: the redline."""

    def made(file: str, old: str, new: str) -> RedlineAnswer:
        assert release(folder, version="1.0", memory=remembered).version == "1.0"
        path = folder / file
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1
        path.write_text(text.replace(old, new), encoding="utf-8")
        assert release(folder, version="1.1", memory=remembered).version == "1.1"
        return redline(folder, "1.0", "1.1", memory=remembered)

    return made


def test_one_changed_number_and_exactly_what_follows(
    folder: Path, edited: Callable[..., RedlineAnswer], remembered: Memory
) -> None:
    before = cut(folder / "blocks" / "window.yaml", memory=remembered).to_json()
    found = edited("blocks/window.yaml", "finished: 9", "finished: 7 1/2")
    after = cut(folder / "blocks" / "window.yaml", memory=remembered).to_json()
    written = [line for line in found.changes if line.written]
    assert [(w.about, w.what, w.old, w.new) for w in written] == [
        ("blocks/window.yaml", "finished", "9", "7 1/2")
    ]
    old, new = read_version(folder, "1.0"), read_version(folder, "1.1")
    assert len(old.facts) == len({(f.about, f.what, f.written) for f in old.facts})
    assert not any(line.about in ("Lamp", "blocks/lamp.yaml") for line in found.changes)
    # Exactly the pieces that the cutting list gives another size, by its own account.
    sizes = [
        {p["letter"]: (p["cut_width"], p["cut_height"], p["count"]) for p in plain["pieces"]}
        for plain in (before, after)
    ]
    differ = {
        letter for letter in {*sizes[0], *sizes[1]} if sizes[0].get(letter) != sizes[1].get(letter)
    }
    told = {
        line.what.removeprefix("piece ")
        for line in found.changes
        if line.about == "Window" and line.what.startswith("piece ")
    }
    assert told == differ
    assert taken_in(old.facts, differences(old.facts, new.facts)) == frozenset(new.facts)


def test_a_new_name_of_a_cloth_changes_nothing_that_is_cut(
    edited: Callable[..., RedlineAnswer],
) -> None:
    found = edited("quilt.yaml", "name: Lamp}", "name: Lantern}")
    printed = [line for line in found.changes if line.about.startswith("booklet: ")]
    rest = [line for line in found.changes if line not in printed]
    assert [(line.what, line.written) for line in rest] == [("fabrics > 2 > name", True)]
    assert printed
    assert all("Lantern" in (line.new or "") for line in printed)
    assert found.extra == ()


def test_a_later_start_moves_days_and_nothing_else(edited: Callable[..., RedlineAnswer]) -> None:
    found = edited("quilt.yaml", "2027-01-31", "2027-02-28")
    printed = [line for line in found.changes if line.about.startswith("booklet: ")]
    assert [(line.what, line.old, line.new) for line in printed] == [
        ("table calendar, line 1, Day", "31 January 2027", "28 February 2027"),
        ("table calendar, line 2, Day", "28 February 2027", "28 March 2027"),
    ]
    follows = [line for line in found.changes if not line.written and line not in printed]
    assert {line.what for line in follows} == {"draft", "test", "order", "cut", "post", "release"}
    assert {line.about for line in follows} == {"release 1", "release 2"}


def test_wider_sashing_asks_for_more_cloth_and_makes_a_half_page_notice(
    folder: Path, edited: Callable[..., RedlineAnswer], tmp_path: Path, remembered: Memory
) -> None:
    found = edited("quilt.yaml", "sashing: 2 of b", "sashing: 4 of b")
    more = {line.fabric: line.more for line in found.extra}
    assert more["b"].endswith(" yd")
    notice = tmp_path / "notice.pdf"
    redline(folder, "1.0", "1.1", errata=notice, memory=remembered)
    (page,) = pypdfium2.PdfDocument(notice)
    text = page.get_textpage()
    said = text.get_text_bounded()
    assert "Two lamps: correction to version 1.0" in said
    assert f"{more['b'].removesuffix(' yd')}".split()[-1][:1] in said
    lowest = min(
        text.get_charbox(n)[1]
        for n in range(text.count_chars())
        if text.get_charbox(n)[1] > 60  # the page number stands below
    )
    assert lowest > page.get_height() / 2 - 20


def test_a_frozen_version_is_never_written_over(folder: Path, remembered: Memory) -> None:
    assert release(folder, version="1.0", memory=remembered).versions == ("1.0",)
    before = (folder / "releases" / "1.0" / "version.json").read_bytes()
    for number in ("1.0", "0.9", "1"):
        with pytest.raises(InputError, match=r"version 1\.0 is frozen already"):
            release(folder, version=number, memory=remembered)
    with pytest.raises(InputError, match="does not number a version"):
        release(folder, version="../2", memory=remembered)
    assert (folder / "releases" / "1.0" / "version.json").read_bytes() == before
    copy = (folder / "releases" / "1.0" / "blocks" / "lamp.yaml").read_text(encoding="utf-8")
    assert copy == LAMP


def test_a_version_that_is_not_there_or_damaged_is_refused(
    folder: Path, remembered: Memory
) -> None:
    with pytest.raises(InputError, match=r"there is no version 1\.0"):
        redline(folder, "1.0", memory=remembered)
    release(folder, version="1.0", memory=remembered)
    (folder / "releases" / "1.0" / "version.json").write_text("{", encoding="utf-8")
    with pytest.raises(InputError, match="damaged"):
        redline(folder, "1.0", memory=remembered)


def test_every_size_and_colourway_comes_from_one_model(folder: Path, remembered: Memory) -> None:
    made = release(folder, memory=remembered)
    assert made.version is None
    assert [(line.size, line.colourway, line.says) for line in made.editions] == [
        (size, colourway, "proved by calculation, not sewn")
        for size in ("", "Small")
        for colourway in ("", "Dusk")
    ]
    own, dusk, small, _ = made.editions
    assert [(b.fabric, b.buy) for b in own.buys] == [(b.fabric, b.buy) for b in dusk.buys]
    assert [b.name for b in dusk.buys] == ["Dusk", "Lamp"]
    assert small.finished_in != own.finished_in
    assert 815 in {note.code for note in made.findings}


# The tester desk ----------------------------------------------------------------------------------


def test_forms_go_out_come_back_and_open_points_hold_a_release(
    folder: Path, tmp_path: Path, remembered: Memory
) -> None:
    (folder / "testers.csv").write_text(
        "name,contact,size,colourway\nFirst maker,first@example.org,,\nFirst maker,,Small,Dusk\n",
        encoding="utf-8",
    )
    out = tmp_path / "forms"
    made = programme(folder, forms=out, memory=remembered)
    assert len(made.forms) == 2 * 2 + 1
    invitations = (out / "invitations.csv").read_text(encoding="utf-8")
    assert invitations.count("First maker") == 4
    assert "example.org" not in "".join(p.read_text(encoding="utf-8") for p in out.iterdir())
    programme(folder, forms=out, contacts=True, memory=remembered)
    assert "first@example.org" in (out / "invitations.csv").read_text(encoding="utf-8")
    form = out / "release-01-first-maker-2.csv"
    rows = list(csv.DictReader(io.StringIO(form.read_text(encoding="utf-8"))))
    assert {row["block"] for row in rows} == {"Lamp"}
    assert rows[-1]["step"] == "the whole block"
    assert rows[-1]["should measure"] == "12 1/2 × 12 1/2 in"

    rows[0] |= {"measured": "4 1/2", "minutes": "12"}
    rows[1] |= {"remark": "too small; by a thread"}
    (folder / "tests").mkdir()
    back = folder / "tests" / "anything.csv"
    _write(back, rows)
    held = release(folder, version="1.0", memory=remembered)
    assert held.version is None
    assert held.exit_code == 1
    (point,) = (note for note in held.findings if note.code == 813)
    assert (point.where.file, point.where.line) == (str(back), 3)
    assert "too small; by a thread" in point.what
    assert [line.sewn for line in held.editions] == [False, False, False, True]

    rows[1] |= {"settled": "seam said again"}
    _write(back, rows, delimiter=";")
    done = release(folder, version="1.0", memory=remembered)
    assert done.version == "1.0"
    assert (done.invited, done.forms, done.answered, done.open_points) == (4, 1, 2, 0)
    frozen_files = [p for p in (folder / "releases").rglob("*") if p.is_file()]
    frozen = "".join(p.read_text(encoding="utf-8") for p in frozen_files)
    assert "First maker" not in frozen
    assert "example.org" not in frozen


def test_a_form_that_cannot_be_read_holds_a_release(folder: Path, remembered: Memory) -> None:
    (folder / "tests").mkdir()
    (folder / "tests" / "broken.csv").write_bytes(b"\xff\xfe\x00")
    (folder / "tests" / "other.csv").write_text("what\nx\n", encoding="utf-8")
    _, findings = read_forms(folder)
    assert [f.code for f in findings] == [814, 814]
    assert release(folder, version="1.0", memory=remembered).exit_code == 1


def _write(path: Path, rows: list[dict[str, str]], delimiter: str = ",") -> None:
    text = io.StringIO()
    writer = csv.DictWriter(text, list(rows[0]), delimiter=delimiter, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    path.write_text(text.getvalue(), encoding="utf-8")
