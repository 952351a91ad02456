"""What does not hold together in a programme, before anything is worked out."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterator, Mapping, Sequence

from seamproof.findings import Finding
from seamproof.programme.calendar import days_of, overlaps
from seamproof.programme.checks import (
    GIVEN_TWICE,
    NOT_A_BLOCK,
    NOT_GIVEN,
    NOT_IN_TOP,
    OUT_OF_ORDER,
    TOO_TIGHT,
)
from seamproof.programme.model import Asked, Entry


def release_faults(
    asked: Asked, blocks: Collection[str], in_top: Mapping[str, int] | None
) -> Iterator[Finding]:
    """What is wrong with what is released. `in_top` counts the blocks of the layout; None if there
    is no setting."""
    seen: dict[str, int] = {}
    for n, release in enumerate(asked.releases, start=1):
        for name in (*release.blocks, *release.parts):
            if name in seen:
                yield GIVEN_TWICE.found(
                    f"{name} goes out with release {seen[name]} and again with release {n}",
                    mend="name it once: how many copies there are is said by the layout",
                    where=release.where,
                )
            seen.setdefault(name, n)
        for name in release.blocks:
            if name not in blocks:
                near = difflib.get_close_matches(name, sorted(blocks), n=1, cutoff=0.6)
                yield NOT_A_BLOCK.found(
                    f'release {n} names "{name}", which is not a block of this quilt',
                    mend=f'did you mean "{near[0]}"?' if near else "draw it, or leave it out",
                    where=release.where,
                )
            elif in_top is not None and name not in in_top:
                yield NOT_IN_TOP.found(
                    f"{name} goes out with release {n} but does not lie in the top",
                    mend="that is fine for a block on the side; else put it into the layout",
                    where=release.where,
                )
    for name in in_top or ():
        if name not in seen:
            yield NOT_GIVEN.found(
                f"{name} lies in the top, but no release gives it out",
                mend="add it to a release",
                where=asked.where,
            )


def day_faults(asked: Asked, entries: Sequence[Entry]) -> Iterator[Finding]:
    """What is wrong with its days."""
    days = days_of(asked)
    for n in range(1, len(days)):
        if days[n] <= days[n - 1]:
            yield OUT_OF_ORDER.found(
                f"release {n + 1} on {days[n]} does not come after release {n} on {days[n - 1]}",
                mend="change its day, or the order of the releases",
                where=asked.releases[n].where,
            )
    told: set[tuple[str, str]] = set()
    for overlap in overlaps(entries):
        if (overlap.step, overlap.after) in told:
            continue  # one sentence about the leads, not one for every release
        told.add((overlap.step, overlap.after))
        yield TOO_TIGHT.found(
            f'"{overlap.step}" for release {overlap.release} begins on {overlap.begins}, '
            f'but "{overlap.after}" is not done before {overlap.ends}',
            mend="give leads: more days, or open a closed day",
            where=asked.where,
        )
