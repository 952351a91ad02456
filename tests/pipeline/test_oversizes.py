"""`oversize: auto`: worked out before anything is cut."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.accuracy.model import MAKERS
from seamproof.cutting.model import CuttingSettings
from seamproof.errors import InputError
from seamproof.pipeline import oversizes
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.rehearsing import rehearse_block
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block

STAR = (
    "name: Star\nfinished: 12\ncells:\n"
    "  - c  e\\a a=/e c\n  - a\\e b\\f b/f e/a\n  - a^/e f/b f\\b e\\a^\n  - c  e/a a=\\e c\n"
)
HST, GEESE = "half-square triangle", "flying geese"


def worked(folder: Path, preferences: str, **asked: object) -> BlockWork:
    (folder / "star.yaml").write_text(STAR, "utf-8")
    (folder / "quilt.yaml").write_text(
        "name: Quilt\nfabrics:\n"
        + "".join(f"  - {{letter: {letter}, name: {letter}}}\n" for letter in "abcef")
        + f"preferences:\n{preferences}",
        "utf-8",
    )
    return work_block(read_block(folder / "star.yaml"), **asked)  # type: ignore[arg-type]


def found(work: BlockWork) -> list[int]:
    return [finding.code for finding in work.findings]


@pytest.mark.parametrize("maker", list(MAKERS))
def test_nearly_all_makers_can_square_up_all_they_need(tmp_path: Path, maker: str) -> None:
    work = worked(tmp_path, f"  oversize: auto\n  maker: {maker}\n")
    assert 504 in found(work)
    assert not any(finding.severity == "error" for finding in work.findings)
    told = rehearse_block(work, MAKERS[maker], makers=10_000, seed=2).rehearsal
    assert told is not None
    assert {unit.kind for unit in told.units} == {HST, GEESE}
    # Which way the units are pressed is not known yet when they are cut.
    assert min(unit.makers for unit in told.units) > 0.92


def test_the_list_of_pieces_has_the_oversize(tmp_path: Path) -> None:
    # From the model: careful makers need 1/16 in, so the next mark of an eighth; new ones 3/8.
    sizes = {}
    for maker in ("careful", "new"):
        work = worked(tmp_path, f"  oversize: {{hst: auto, geese: 1/2}}\n  maker: {maker}\n")
        assert work.cutting is not None
        sizes[maker] = {piece.width.ruler for piece in work.cutting.pieces if piece.unit == HST}
        assert work.settings.oversize[GEESE] == Fraction(1, 2)
    assert sizes == {"careful": {Fraction(4)}, "new": {Fraction(17, 4)}}


def test_ninety_nine_of_a_hundred_need_no_less(tmp_path: Path) -> None:
    most, nearly = (
        worked(tmp_path, f"  oversize: {word}\n  ruler: 1/32\n").settings.oversize
        for word in ("auto 99", "auto")
    )
    assert most[HST] >= nearly[HST]
    assert most[GEESE] > nearly[GEESE]
    assert nearly[GEESE] >= Fraction(3, 2) * nearly[HST]


def test_what_is_written_stays(tmp_path: Path) -> None:
    work = worked(tmp_path, "  oversize: {hst: 1/8}\n")
    assert 504 not in found(work)
    assert work.settings.oversize[HST] == Fraction(1, 8)


def test_exact_sizes_have_no_oversize(tmp_path: Path) -> None:
    work = worked(tmp_path, "  oversize: auto\n  sizes: exact\n")
    assert 504 not in found(work)


def test_settings_that_are_given_go_before_the_project(tmp_path: Path) -> None:
    work = worked(tmp_path, "  oversize: auto\n  maker: new\n", settings=CuttingSettings())
    assert work.settings.oversize == CuttingSettings().oversize


def test_it_is_remembered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    memory = Memory()
    first = worked(tmp_path, "  oversize: auto\n", memory=memory)
    monkeypatch.setattr(oversizes, "_enough", lambda _: pytest.fail("worked out again"))
    assert worked(tmp_path, "  oversize: auto\n", memory=memory) == first


def test_a_maker_who_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no maker profile called Bea"):
        worked(tmp_path, "  oversize: auto\n  maker: Bea\n")


@pytest.mark.parametrize(
    "wrong", ["automatic", "{hst: much}", "{hst: auto, half-square triangle: auto}"]
)
def test_what_is_no_oversize_is_refused_at_its_place(tmp_path: Path, wrong: str) -> None:
    with pytest.raises(InputError, match=r"oversize|number|length"):
        worked(tmp_path, f"  oversize: {wrong}\n")


def test_a_block_without_units_is_left_alone(tmp_path: Path) -> None:
    worked(tmp_path, "  oversize: auto\n")
    (tmp_path / "four.yaml").write_text(
        "name: Four\nfinished: 6\ncells:\n  - a b\n  - b a\n", "utf-8"
    )
    work = work_block(read_block(tmp_path / "four.yaml"))
    assert work.cutting is not None
    assert 504 not in found(work)
