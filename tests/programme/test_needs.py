"""The whole quilt parted by release: it adds up, and nothing is used before it is cut."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Fixed, Laid, Settings
from seamproof.cloth.ordering import counted
from seamproof.cloth.pooling import Pool, Source, pooled
from seamproof.programme.model import Need
from seamproof.programme.needs import cut_area, needs_of
from tests.cloth.pieces import piece

eighths = st.integers(8, 160).map(lambda n: Fraction(n, 8))


@st.composite
def programmes(draw: st.DrawFn) -> tuple[Pool, Laid, dict[str, int], int]:
    """A fabric that some sources ask for, laid, each source in some release."""
    releases = draw(st.integers(1, 6))
    sources, when = [], {}
    sizes = draw(st.lists(st.tuples(eighths, eighths), min_size=1, max_size=5))
    for n in range(draw(st.integers(1, 6))):
        chosen = draw(st.lists(st.sampled_from(sizes), min_size=1, max_size=3, unique=True))
        pieces = tuple(
            piece(f"A{'abcde'[k]}", min(size), max(size), draw(st.integers(1, 30)))
            for k, size in enumerate(chosen)
        )
        sources.append(Source(f"Block {n}", pieces))
        when[f"Block {n}"] = draw(st.integers(1, releases))
    (pool,) = pooled(sources)
    fixed = draw(st.sampled_from([(), (Fixed("fat quarter", Fraction(21), Fraction(18), 2),)]))
    return (
        pool,
        lay(Cloth("a", Fraction(40), shelf=fixed), pool.demands, Settings(effort=1)),
        when,
        releases,
    )


@given(programmes())
def test_all_releases_together_are_the_whole(
    drawn: tuple[Pool, Laid, dict[str, int], int],
) -> None:
    pool, laid, when, releases = drawn
    needs = needs_of(pool, laid, when, releases)
    assert [need.release for need in needs] == list(range(1, releases + 1))
    assert sum((need.length for need in needs), Fraction(0)) == laid.length
    pieces = Counter[str]()
    for need in needs:
        pieces.update(dict(need.pieces))
    assert pieces == {kind.demand.name: kind.count for kind in pool.kinds}
    whole = sum((cut_area(kind) * kind.count for kind in pool.kinds), Fraction(0))
    assert sum((need.area for need in needs), Fraction(0)) == whole
    fixed = sum(lay.times for lay in laid.lays if lay.cloth == "fixed")
    assert sum(count for need in needs for _, count in need.fixed) == fixed


@given(programmes())
def test_each_release_has_the_pieces_of_its_own_blocks(
    drawn: tuple[Pool, Laid, dict[str, int], int],
) -> None:
    pool, laid, when, releases = drawn
    for need in needs_of(pool, laid, when, releases):
        mine = Counter[str]()
        for kind in pool.kinds:
            for use in kind.uses:
                if when[use.source] == need.release:
                    mine[kind.demand.name] += use.count
        assert dict(need.pieces) == dict(mine)


@given(programmes())
def test_nothing_is_used_before_it_is_cut_and_no_heap_goes_below_nothing(
    drawn: tuple[Pool, Laid, dict[str, int], int],
) -> None:
    pool, laid, when, releases = drawn
    saved: Counter[tuple[str, int]] = Counter()  # (piece, release it was cut in)
    needs = needs_of(pool, laid, when, releases)
    for need in needs:
        cut = Counter[str]()
        for strip in need.strips:
            for name, count in strip.pieces:
                cut[name] += count * strip.times
        for name, count in _of_fixed(need, laid).items():
            cut[name] += count
        for one in need.take:
            assert one.cut < need.release == one.used
            saved[one.piece, one.cut] -= one.count
            assert saved[one.piece, one.cut] >= 0
        taken = Counter[str]()
        for one in need.take:
            taken[one.piece] += one.count
        kept = Counter[str]()
        for one in need.save:
            assert one.used > need.release == one.cut
            saved[one.piece, one.cut] += one.count
            kept[one.piece] += one.count
        for name in {*cut, *taken, *kept, *dict(need.pieces)}:
            assert cut[name] + taken[name] == dict(need.pieces).get(name, 0) + kept[name]
    assert not any(saved.values()), "what one sheet saves another takes"
    both = sorted((o.piece, o.count, o.cut, o.used) for need in needs for o in need.save)
    assert both == sorted((o.piece, o.count, o.cut, o.used) for need in needs for o in need.take)


def _of_fixed(need: Need, laid: Laid) -> Counter[str]:
    """What the fixed pieces of a release give, if all fixed pieces are cut in it or none is."""
    found = Counter[str]()
    there = [one for one in laid.lays if one.cloth == "fixed"]
    if sum(count for _, count in need.fixed) == sum(one.times for one in there):
        found.update(counted(tuple(there)))
    elif need.fixed:
        # Only some: their pieces are those that balance; which ones is said by the needs alone.
        want = Counter(dict(need.pieces)) + Counter({o.piece: o.count for o in need.save})
        want -= Counter({o.piece: o.count for o in need.take})
        for strip in need.strips:
            for name, count in strip.pieces:
                want[name] -= count * strip.times
        assert all(count >= 0 for count in want.values())
        there_is = counted(tuple(there))
        assert all(count <= there_is.get(name, 0) for name, count in want.items() if count)
        found.update(want)
    return found


def test_a_strip_is_cut_when_it_is_first_needed_and_the_rest_is_saved() -> None:
    sources = [
        Source("First", (piece("Aa", 4, count=2),)),
        Source("Second", (piece("Aa", 4, count=5),)),
    ]
    (pool,) = pooled(sources)
    laid = lay(Cloth("a", Fraction(40)), pool.demands, Settings(effort=1))
    one, two = needs_of(pool, laid, {"First": 1, "Second": 2}, 2)
    assert (one.length, two.length) == (4, 0)
    assert [(o.count, o.cut, o.used) for o in one.save] == [(5, 1, 2)]
    assert two.take == one.save
