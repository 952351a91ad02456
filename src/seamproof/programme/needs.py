"""What each release needs of a cloth laid for the whole quilt: the lay with time as an order.

The whole quilt is laid once, so nothing is rounded but the whole. Every strip of that lay is then
cut in the first release that cannot do without it; pieces on it that are sewn later are saved, and
both sheets say so. The needs of all releases are the whole quilt's, to the last piece and to the
last fraction of an inch.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.model import Laid
from seamproof.cloth.ordering import counted, strips_of
from seamproof.cloth.pooling import Kind, Pool
from seamproof.programme.model import Need, Saved, StripCut


@dataclass(slots=True)
class _Heap:
    """Strips, or pieces of cloth of a fixed size, that are cut alike, and how many are uncut."""

    height: Fraction
    pieces: dict[str, int]
    left: int
    stock: str = ""
    end: Fraction = Fraction(0)


def needs_of(
    pool: Pool, laid: Laid, release_of: Mapping[str, int], releases: int
) -> tuple[Need, ...]:
    """What every release, from 1 to `releases`, needs of one fabric.

    `release_of` says in which release each source of the pool is sewn. Pieces for which there was
    no cloth are left out: the cloth stage has said so.

    >>> needs_of(Pool("a", ()), Laid(()), {}, 2)[1].length
    Fraction(0, 1)
    """
    there = counted(laid.lays)
    wanted = [_wanted(pool.kinds, release_of, n, there) for n in range(1, releases + 1)]
    heaps = list(_heaps(laid))
    areas = {kind.demand.name: cut_area(kind) for kind in pool.kinds}
    shelf: dict[str, list[tuple[int, int]]] = {}  # piece: (release it was cut in, how many)
    save: list[list[Saved]] = [[] for _ in range(releases)]
    take: list[list[Saved]] = [[] for _ in range(releases)]
    cut: list[list[tuple[_Heap, int]]] = []
    for n, want in enumerate(wanted, start=1):
        lacking = _from_shelf(want, shelf, n, save, take)
        cut.append(_cut(lacking, heaps, areas, shelf, n))
    rest = laid.length - sum(
        (heap.height * times for done in cut for heap, times in done if not heap.stock), Fraction(0)
    )
    last = max((n for n, done in enumerate(cut) if done), default=0)
    return tuple(
        Need(
            release=n + 1,
            fabric=pool.fabric,
            pieces=tuple(wanted[n].items()),
            area=sum((areas[name] * count for name, count in wanted[n].items()), Fraction(0)),
            strips=tuple(
                StripCut(heap.height, times, tuple(heap.pieces.items()), heap.end)
                for heap, times in cut[n]
                if not heap.stock
            ),
            length=sum((h.height * times for h, times in cut[n] if not h.stock), Fraction(0))
            + (rest if n == last else 0),
            fixed=tuple((h.stock, times) for h, times in cut[n] if h.stock),
            save=_together(save[n]),
            take=_together(take[n]),
        )
        for n in range(releases)
    )


def _together(some: Iterable[Saved]) -> tuple[Saved, ...]:
    """Those of one kind, cut and sewn in the same releases, as one entry."""
    counts: dict[tuple[str, int, int], int] = {}
    for one in some:
        key = (one.piece, one.cut, one.used)
        counts[key] = counts.get(key, 0) + one.count
    return tuple(Saved(piece, count, cut, used) for (piece, cut, used), count in counts.items())


def cut_area(kind: Kind) -> Fraction:
    """Square inches that one piece of a kind takes of its strip, as cut; exact."""
    if kind.demand.row is not None:
        return kind.demand.height * kind.demand.row.pitch
    return kind.demand.width * kind.demand.height


def _wanted(
    kinds: Iterable[Kind], release_of: Mapping[str, int], release: int, there: Mapping[str, int]
) -> dict[str, int]:
    found = {}
    for kind in kinds:
        name = kind.demand.name
        count = sum(use.count for use in kind.uses if release_of.get(use.source) == release)
        if count and there.get(name):
            found[name] = count
    return found


def _heaps(laid: Laid) -> Iterable[_Heap]:
    for lay in laid.lays:
        if lay.cloth == "yardage":
            for strip in strips_of(lay):
                yield _Heap(
                    *(strip.height, dict(strip.pieces), strip.times * lay.times), end=strip.left
                )
        else:
            one = replace(lay, times=1)
            yield _Heap(lay.length, counted((one,)), lay.times, lay.stock)


def _from_shelf(
    want: Mapping[str, int],
    shelf: dict[str, list[tuple[int, int]]],
    release: int,
    save: Sequence[list[Saved]],
    take: Sequence[list[Saved]],
) -> dict[str, int]:
    """What is still lacking after what was saved is taken, the oldest first."""
    lacking = {}
    for name, wanted in want.items():
        kept, count = shelf.get(name, []), wanted
        while kept and count:
            when, there = kept[0]
            used = min(there, count)
            count -= used
            kept[0] = (when, there - used)
            if there == used:
                kept.pop(0)
            saved = Saved(name, used, when, release)
            save[when - 1].append(saved)
            take[release - 1].append(saved)
        if count:
            lacking[name] = count
    return lacking


def _cut(
    lacking: dict[str, int],
    heaps: Sequence[_Heap],
    areas: Mapping[str, Fraction],
    shelf: dict[str, list[tuple[int, int]]],
    release: int,
) -> list[tuple[_Heap, int]]:
    """Cut what is lacking: always from the strip of which the largest share is wanted now."""
    done: list[tuple[_Heap, int]] = []
    while lacking:
        fitting = [h for h in heaps if h.left and any(name in lacking for name in h.pieces)]
        if not fitting:  # there is not cloth enough, which the cloth stage has said
            break
        heap = max(fitting, key=lambda h: _useful(h, lacking, areas))
        wholes = [lacking[name] // count for name, count in heap.pieces.items() if name in lacking]
        times = min(heap.left, max(1, min(wholes)))
        heap.left -= times
        done.append((heap, times))
        for name, each in heap.pieces.items():
            made = each * times
            used = min(made, lacking.get(name, 0))
            if used and used == lacking[name]:
                del lacking[name]
            elif used:
                lacking[name] -= used
            if made > used:
                shelf.setdefault(name, []).append((release, made - used))
    return _joined(done)


def _useful(heap: _Heap, lacking: Mapping[str, int], areas: Mapping[str, Fraction]) -> Fraction:
    """The share of a strip's pieces that is wanted now, by area."""
    whole = sum((areas[name] * count for name, count in heap.pieces.items()), Fraction(0))
    now = sum(
        (areas[name] * min(count, lacking.get(name, 0)) for name, count in heap.pieces.items()),
        Fraction(0),
    )
    return now / whole if whole else Fraction(0)


def _joined(done: Sequence[tuple[_Heap, int]]) -> list[tuple[_Heap, int]]:
    found: list[tuple[_Heap, int]] = []
    for heap, times in done:
        for n, (other, before) in enumerate(found):
            if other is heap:
                found[n] = (heap, before + times)
                break
        else:
            found.append((heap, times))
    return found
