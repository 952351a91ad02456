"""A page for the maker of each release: what is cut, what is saved and taken, what is new."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from seamproof.booklet import cloth_wording, wording
from seamproof.booklet.model import Caution
from seamproof.booklet.plain_pages import PlainDocument, PlainPage, PlainTable
from seamproof.cloth.pooling import Kind
from seamproof.length.notation import Measure, number, with_unit
from seamproof.programme.course import Term
from seamproof.programme.facts import called
from seamproof.programme.model import Need, Saved


def release_document(
    quilt: str,
    days: Sequence[str],
    holds: Sequence[Sequence[str]],
    terms: Sequence[Term],
    needs: Iterable[Need],
    kinds: Mapping[str, Kind],
    measure: Measure,
) -> PlainDocument:
    """A page for every release, in order. `kinds` are the kinds of piece by the names of the
    cutting diagram."""
    by_release: dict[int, list[Need]] = {}
    for need in needs:
        by_release.setdefault(need.release, []).append(need)
    return PlainDocument(
        name="Cutting and saving, release by release",
        quilt=quilt,
        pages=tuple(
            PlainPage(
                title=f"Release {n}: {wording.listed(held)}",
                lead=day,
                parts=tuple(_parts(by_release.get(n, []), term, kinds, measure)),
            )
            for n, (day, held, term) in enumerate(zip(days, holds, terms, strict=True), start=1)
        ),
    )


def _parts(
    needs: Sequence[Need], term: Term, kinds: Mapping[str, Kind], measure: Measure
) -> Iterator[str | PlainTable | Caution]:
    if term.new:
        yield f"New in this release: {wording.listed(term.new)}."
    if term.tools:
        yield f"Have ready from here on: {wording.listed(term.tools)}."
    lengths = [need for need in needs if need.length]
    if lengths:
        told = [f"{with_unit(n.length, measure)} of {called(n.fabric)}" for n in lengths]
        yield f"In all, this release takes {wording.listed(told)}."
    take = [one for need in needs for one in need.take]
    if take:
        yield _saved("Take what you saved", "From", take, [one.cut for one in take], kinds, measure)
    strips = tuple(
        (
            called(need.fabric).removeprefix("fabric "),
            str(strip.times),
            number(strip.height, measure),
            cloth_wording.pieces_of(strip.pieces, dict(kinds)),
        )
        for need in needs
        for strip in need.strips
    )
    if strips:
        heads = ("Fabric", "Strips", f"High, {measure}", "Cut each into")
        yield PlainTable(heads, strips, right=(1, 2), title="Cut")
    elif not any(need.fixed for need in needs):
        yield "Nothing is cut from the cloth: all of it was saved before."
    fixed = [
        f"{times} × {name} of {called(need.fabric)}" for need in needs for name, times in need.fixed
    ]
    if fixed:
        yield f"Cut up: {wording.listed(fixed)}."
    if strips or fixed:
        yield Caution(wording.CUTTER_TITLE, wording.CUTTER)
    scraps = [
        f"{count} of {number(high, measure)} × {with_unit(long, measure)} of {called(need.fabric)}"
        for need in needs
        for high, long, count in need.scraps
    ]
    if scraps:
        yield f"Left over: {wording.listed(scraps)}. No later release counts on it."
    save = [one for need in needs for one in need.save]
    if save:
        yield _saved("Save for later", "For", save, [one.used for one in save], kinds, measure)
        yield "Put each into a bag of its own and write the release on it."


def _saved(
    title: str,
    head: str,
    some: Sequence[Saved],
    releases: Sequence[int],
    kinds: Mapping[str, Kind],
    measure: Measure,
) -> PlainTable:
    rows = sorted(
        (
            release,
            one.piece,
            str(one.count),
            f"{kinds[one.piece].shape} {cloth_wording.size_of(kinds[one.piece], measure)}",
        )
        for one, release in zip(some, releases, strict=True)
    )
    return PlainTable(
        (f"{head} release", "Mark", "Count", "Piece"),
        tuple((str(release), *rest) for release, *rest in rows),
        right=(2,),
        title=title,
    )
