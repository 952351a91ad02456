"""The cloth of blocks: amounts, lays, what is remembered, what is to be said about it."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from seamproof.cloth import laying as engine
from seamproof.cloth.model import Fixed, Laid
from seamproof.cloth.ordering import counted
from seamproof.cutting.strips import strips_for
from seamproof.findings import Finding
from seamproof.pipeline.cloth_there import ClothWishes
from seamproof.pipeline.laying import ClothWork, Laying, lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.working import work_block, work_project
from seamproof.project.reading import read_block, read_project
from seamproof.project.starting import copy_demo
from tests import worked_out

STAR = """\
name: Friendship Star
finished: 12
copies: 12
cells:
  - a   e/a a
  - a\\e e   e\\a
  - a   a/e a
"""

QUILT = """\
name: Stars
fabrics:
  - {letter: a, usable width: 42}
  - {letter: e, usable width: 42}
preferences:
  sizes: exact
"""


def quilt(folder: Path, block: str = STAR, quilt_file: str | None = QUILT) -> Path:
    if quilt_file is not None:
        (folder / "quilt.yaml").write_text(quilt_file, encoding="utf-8")
    path = folder / "star.yaml"
    path.write_text(block, encoding="utf-8")
    return path


def laid(path: Path, wishes: ClothWishes | None = None, **options: Any) -> ClothWork:
    source = read_block(path)
    memory = options.pop("memory", None) or Memory()
    work = work_block(source, memory=memory)
    return lay_cloth(source.project, (work,), wishes, memory=memory, **options)


def codes(findings: tuple[Finding, ...]) -> list[int]:
    """What is found, but for strips that only come out of cloth 42 in wide."""
    return [finding.code for finding in findings if finding.code != 707]


def test_friendship_stars(tmp_path: Path) -> None:
    """Twelve friendship stars of 12 in, exact sizes, from cloth of which 42 in can be used: 3/4 yd
    of the star, 1 1/4 yd of its ground (worked by hand, strip by strip: 24 squares of 4 7/8 in from
    three strips, 12 and 48 squares of 4 1/2 in from two and six)."""
    work = laid(quilt(tmp_path), ClothWishes(simple=True))
    ground, star = work.fabrics
    for one, bare, told in ((ground, "41.625", "1 1/4 yd"), (star, "23.625", "3/4 yd")):
        assert one.purchase is not None
        assert one.purchase.bare == Fraction(bare)
        assert work.buying.told(one.purchase.buy) == told
    assert codes(work.findings) == []


def test_friendship_stars_with_both_squares_in_one_strip(tmp_path: Path) -> None:
    """Four squares of 4 7/8 in and five of 4 1/2 in fill 42 in to the last thread: six such strips
    and two more are 38 1/4 in, 3 3/8 in less than strip by strip."""
    ground, star = laid(quilt(tmp_path)).fabrics
    assert ground.purchase is not None
    assert star.purchase is not None
    assert (ground.purchase.bare, star.purchase.bare) == (Fraction("38.25"), Fraction("23.625"))


def test_strips_that_only_come_out_of_wide_cloth_are_told(tmp_path: Path) -> None:
    """Nine squares of 4 1/2 in are 40 1/2 in: more than most cloth is wide. Eight of 4 7/8 in are
    39 in."""
    simple = ClothWishes(simple=True)
    ground, star = laid(quilt(tmp_path), simple).findings
    assert (ground.code, ground.severity, star.code) == (707, "note", 707)
    assert ground.what.startswith("5 of the strips of fabric A hold more than 40 in")
    assert laid(quilt(tmp_path), replace(simple, width=Fraction(40))).findings == ()


def test_every_piece_of_the_demo_comes_out_and_no_more_cloth_is_taken_than_strip_by_strip(
    tmp_path: Path,
) -> None:
    copy_demo(tmp_path)
    memory = worked_out.memory()
    project = read_project(tmp_path)
    works = work_project(project, memory=memory).blocks
    work = lay_cloth(project, works, ClothWishes(quick=True), memory=memory)
    assert [f for f in work.findings if f.severity == "error"] == []
    by_strips: Counter[str] = Counter()
    for block in works:
        assert block.cutting is not None
        for strips in strips_for(block.cutting.pieces, block.settings):
            by_strips[strips.fabric] += strips.length  # type: ignore[assignment]
    for one in work.fabrics:
        assert one.laid is not None
        wanted = {kind.demand.name: kind.count for kind in one.pool.kinds}
        assert counted(one.laid.lays) == wanted
        slanted = [kind for kind in one.pool.kinds if kind.outline not in ("box", "strip")]
        if not slanted:
            assert one.laid.length <= by_strips[one.fabric.letter]


def test_a_lay_is_remembered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    memory, path = Memory(tmp_path / "memory"), quilt(tmp_path)
    first = laid(path, memory=memory)

    def again(*_: object, **__: object) -> Laid:
        raise AssertionError("laid again")

    monkeypatch.setattr(engine, "lay", again)
    assert laid(path, memory=Memory(tmp_path / "memory")).fabrics == first.fabrics
    with pytest.raises(AssertionError, match="laid again"):
        laid(path, ClothWishes(kits=2), memory=memory)


def test_what_was_stopped_is_shown_and_not_remembered(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, memory, real = quilt(tmp_path), Memory(), engine.lay
    monkeypatch.setattr(engine, "lay", lambda *a, **k: replace(real(*a, **k), stopped=True))
    work = laid(path, memory=memory)
    assert codes(work.findings) == [706, 706]
    assert work.fabrics[0].purchase is not None
    monkeypatch.setattr(engine, "lay", real)
    assert codes(laid(path, memory=memory).findings) == []


def test_a_lay_that_cannot_be_cut_is_never_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = engine.lay

    def wrong(*asked: Any, **options: Any) -> Laid:
        made = real(*asked, **options)
        (lay,) = made.lays
        return replace(made, lays=(replace(lay, length=lay.length - 1),))

    monkeypatch.setattr(engine, "lay", wrong)
    with pytest.raises(RuntimeError, match="fabric A cannot be cut as laid"):
        laid(quilt(tmp_path))


NARROW = [ClothWishes(width=Fraction(16), third_cut=third) for third in (False, True)]


def test_a_third_cut_takes_no_more_cloth(tmp_path: Path) -> None:
    """Two small squares above one another beside a large one, on cloth that has room for no more
    beside it."""
    block = (
        "name: Corner\nfinished: 15\ncells:\n  - a = = c a\n  - ^ = = c e\n  - ^ = = c a\n"
        "  - e e e e e\n  - e e e e e\n"
    )
    path = quilt(tmp_path, block, None)
    two, three = (laid(path, wishes).fabrics for wishes in NARROW)
    for one, other in zip(two, three, strict=True):
        assert one.laid is not None
        assert other.laid is not None
        assert other.laid.length <= one.laid.length
        assert counted(other.laid.lays) == {k.demand.name: k.count for k in other.pool.kinds}
    assert any(
        other.laid.length < one.laid.length
        for one, other in zip(two, three, strict=True)
        if one.laid is not None and other.laid is not None
    )


def test_progress(tmp_path: Path) -> None:
    told: list[Laying] = []
    laid(quilt(tmp_path), progress=told.append)
    assert [(one.letter, one.number, one.count) for one in told if one.length is None] == [
        ("a", 0, 2),
        ("e", 1, 2),
    ]
    last = [one for one in told if one.letter == "e"][-1]
    assert (last.rounds, last.length) == (last.of, Fraction("23.625"))


def test_whoever_stops_gets_a_whole_lay_of_every_fabric(tmp_path: Path) -> None:
    work = laid(quilt(tmp_path), stop=lambda: True)
    assert codes(work.findings) == [706, 706]
    for one in work.fabrics:
        assert one.laid is not None
        assert counted(one.laid.lays) == {k.demand.name: k.count for k in one.pool.kinds}


def test_kits_take_less_than_each_kit_alone(tmp_path: Path) -> None:
    path = quilt(tmp_path)
    one, many = laid(path), laid(path, ClothWishes(kits=20))
    for single, kits in zip(one.fabrics, many.fabrics, strict=True):
        assert single.laid is not None
        assert kits.laid is not None
        assert sum(k.count for k in kits.pool.kinds) == 20 * sum(k.count for k in single.pool.kinds)
        assert kits.laid.length <= 20 * single.laid.length


def test_a_piece_wider_than_the_cloth(tmp_path: Path) -> None:
    block = "name: Slab\nfinished: 41\ncells:\n  - a\n"
    work = laid(quilt(tmp_path, block, None))
    (found,) = work.findings
    assert (found.code, found.severity, found.where.block) == (701, "error", "Slab")
    assert found.where.file is not None
    assert found.where.line is not None
    assert "41 1/2" in found.what
    assert "--width" in found.mend
    assert laid(quilt(tmp_path, block, None), ClothWishes(width=Fraction(42))).findings == ()


@pytest.mark.parametrize("width", [Fraction(0), Fraction(-3)])
def test_no_usable_width(tmp_path: Path, width: Fraction) -> None:
    work = laid(quilt(tmp_path), ClothWishes(width=width))
    assert codes(work.findings) == [702, 702]
    assert all(one.laid is None and one.purchase is None for one in work.fabrics)


def test_a_leftover_of_less_than_nothing_is_told_at_its_place(tmp_path: Path) -> None:
    text = QUILT.replace(
        "{letter: e, usable width: 42}", "{letter: e, shelf: [-3 x 18, 20 x 20], usable width: 42}"
    )
    work = laid(quilt(tmp_path, quilt_file=text))
    (found,) = (finding for finding in work.findings if finding.code != 707)
    assert (found.code, found.severity, found.where.line) == (703, "error", 4)
    (kept,) = work.fabrics[1].cloth.shelf
    assert (str(kept.width), kept.count) == ("20", 1)
    assert work.fabrics[1].laid is not None
    assert work.fabrics[1].laid.length < Fraction("23.625")


def test_fixed_pieces_instead_of_yardage(tmp_path: Path) -> None:
    quarter = Fixed("fat quarter", Fraction(21), Fraction(18))
    work = laid(quilt(tmp_path), ClothWishes(fixed=(("e", quarter),)))
    ground, star = work.fabrics
    assert star.laid is not None
    assert {lay.stock for lay in star.laid.lays} == {"fat quarter"}
    assert star.laid.length == 0
    assert counted(star.laid.lays) == {k.demand.name: k.count for k in star.pool.kinds}
    assert ground.laid is not None
    assert {lay.cloth for lay in ground.laid.lays} == {"yardage"}


def test_too_few_fixed_pieces(tmp_path: Path) -> None:
    one = Fixed("10 x 10", Fraction(10), Fraction(10), 1)
    work = laid(quilt(tmp_path), ClothWishes(fixed=(("", one),)))
    assert codes(work.findings) == [704, 704]
    beside = laid(quilt(tmp_path), ClothWishes(fixed=(("", one),), yardage=True))
    assert codes(beside.findings) == []


def test_a_print_with_a_direction(tmp_path: Path) -> None:
    block = "name: Bars\nfinished: 9\ncells:\n  - a a= a\n  - a c ^\n  - ^ a a=\n"
    text = "name: Bars\nfabrics:\n  - {letter: a, directional: yes}\n  - {letter: c}\n"
    work = laid(quilt(tmp_path, block, text))
    assert codes(work.findings) == [705]
    lying = {(str(k.demand.width), str(k.demand.height)) for k in work.fabrics[0].pool.kinds}
    assert lying == {("7/2", "13/2"), ("13/2", "7/2")}
    names = [k.demand.name for k in work.fabrics[0].pool.kinds]
    assert sorted(names) == ["Aa1", "Aa2"]
