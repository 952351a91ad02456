"""The demo quilt over twelve releases, for sixty people, at all three kit levels."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.cloth.tops import LOOSE
from seamproof.errors import InputError
from seamproof.pipeline.cloth_there import ClothWishes
from seamproof.pipeline.kits import KitWishes, orders_of, work_kits
from seamproof.pipeline.laying import lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.programme import ProgrammeWork, work_programme
from seamproof.programme.model import Level
from seamproof.project.reading import read_project
from seamproof.project.starting import copy_demo
from tests import worked_out


@pytest.fixture(scope="module")
def remembered() -> Memory:
    return worked_out.memory()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("demo") / "lamps"
    copy_demo(made, keep=False)
    return made


@pytest.fixture(scope="module")
def work(folder: Path, remembered: Memory) -> ProgrammeWork:
    return work_programme(read_project(folder), quick=True, memory=remembered)


def test_the_needs_of_all_releases_are_the_cloth_of_the_whole_quilt(
    work: ProgrammeWork, remembered: Memory
) -> None:
    whole = lay_cloth(
        *(work.project, work.works, ClothWishes(quick=True)), top=work.top, memory=remembered
    )
    assert len(work.asked.releases) == 12
    for one in whole.fabrics:
        needs = [need for need in work.needs if need.fabric == one.fabric.letter]
        assert one.laid is not None
        assert sum((need.length for need in needs), Fraction(0)) == one.laid.length
        pieces = Counter[str]()
        for need in needs:
            pieces.update(dict(need.pieces))
        assert pieces == {kind.demand.name: kind.count for kind in one.pool.kinds}


def test_every_block_and_all_the_finishing_goes_out_once(work: ProgrammeWork) -> None:
    held = [thing for n in range(1, 13) for thing in work.holds(n)]
    assert len(held) == len(set(held)) == 12 + 3
    assert {"setting", "binding", "backing"} < set(held)
    assert [f for f in work.findings if f.severity == "error"] == []


def test_the_course_warns_where_it_should(work: ProgrammeWork) -> None:
    assert {f.code for f in work.findings if f.code // 100 == 8} == {806, 816}
    assert [term.new for term in work.course][:2] == [("log cabins",), ("strip sets",)]


@pytest.mark.parametrize("level", ["yardage", "strips", "patches"])
def test_sixty_kits_of_the_whole_quilt(folder: Path, remembered: Memory, level: Level) -> None:
    made = work_kits(folder, KitWishes(quick=True, level=level), memory=remembered)
    assert (made.people, made.kits) == (60, 63)
    assert [f.fabric.letter for f in made.fabrics] == list("abcdef")
    for one in made.fabrics:
        assert one.kit.bare == sum(a.height * a.times for a in one.kit.across)
        assert one.buy >= one.kit.bare + made.buying.straightening
        assert one.short == ()
        bolted = sum(
            (h * n * bolt.times for bolt in one.bolts for h, n in bolt.strips), Fraction(0)
        )
        assert bolted == one.kit.bare
        assert one.kit.best is None or one.kit.best <= one.kit.bare


@pytest.mark.parametrize("level", ["patches"])
def test_the_kits_of_all_releases_hold_what_the_kit_of_the_quilt_holds(
    folder: Path, remembered: Memory, level: Level
) -> None:
    def bags(release: int | None) -> Counter[tuple[str, ...]]:
        found = Counter[tuple[str, ...]]()
        made = work_kits(
            folder, KitWishes(quick=True, level=level, release=release), memory=remembered
        )
        for one in made.fabrics:
            letter, bag = one.fabric.letter, one.kit.bag
            if bag.length:
                found[letter, "length"] += bag.length - made.buying.straightening  # type: ignore[assignment]
            for strip in bag.strips:
                found[letter, str(strip.height)] += strip.times
            sizes = {k.demand.name: (k.shape, k.sides) for k in one.pool.kinds}
            for name, count in bag.pieces:
                found[letter, str(sizes[name])] += count
        return found

    together = Counter[tuple[str, ...]]()
    for n in range(1, 13):
        together.update(bags(n))
    assert together == bags(None)


def test_orders_cover_the_kits_and_one_lot_is_ordered_at_once(
    work: ProgrammeWork, remembered: Memory
) -> None:
    orders = orders_of(work, memory=remembered)
    assert set(orders) == {one.fabric.letter for one in work.cloth.fabrics} - set(LOOSE)
    for letter, some in orders.items():
        exact = sum((order.exact for order in some), Fraction(0))
        bought = sum((order.buy for order in some), Fraction(0))
        assert exact <= bought < exact + Fraction(9, 2)
        assert (letter in work.asked.one_lot) == (len(some) == 1 and some[0].release == 1)


def test_bolts_that_are_there_are_counted_in_whole_kits(folder: Path, remembered: Memory) -> None:
    def makes(*bolts: int) -> int | None:
        have = tuple(("a", Fraction(length)) for length in bolts)
        made = work_kits(folder, KitWishes(quick=True, release=3, have=have), memory=remembered)
        found = next(one for one in made.fabrics if one.fabric.letter == "a")
        assert (found.makes == made.kits) == (found.short == ())
        assert (809 in {f.code for f in made.findings}) == bool(found.short)
        return found.makes

    assert makes(400) == 63
    less, more = makes(40), makes(40, 30)
    assert less is not None
    assert more is not None
    assert 0 < less < more < 63
    assert makes(3) == 0


def test_a_release_that_is_not_there_is_refused(folder: Path, remembered: Memory) -> None:
    with pytest.raises(InputError, match="no release 13"):
        work_kits(folder, KitWishes(quick=True, release=13), memory=remembered)
