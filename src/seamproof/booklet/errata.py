"""The notice for those who have an older version: half a page of what to change."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from seamproof.booklet.plain_pages import PlainDocument, PlainPage, PlainTable
from seamproof.programme.facts import called
from seamproof.programme.versions import Change

MOST_LINES = 11
"""Lines for which half a page has room."""

_SIZES = re.compile(
    "piece .*|finished size|step .* measures|buy|binding|backing|batting|copies|.* [0-9]+"
)
_NOT_FOR_MAKERS = re.compile("place .*|bare length|save .*|fabric .*|seam from .*")


def errata_notice(
    quilt: str,
    old: str,
    new: str | None,
    changes: Sequence[Change],
    extra: Iterable[tuple[str, str]],
) -> PlainDocument:
    """Old and new, the pieces concerned, and the cloth that is needed on top.

    What a maker cuts, sews and buys is listed first and as far as half a page holds; what is left
    out is counted.
    """
    follows = [change for change in changes if not (change.written or change.printed)]
    mine = [change for change in follows if _counts(change)]
    told = mine[:MOST_LINES]
    rows = tuple(
        (c.about[:1].upper() + c.about[1:], c.what, c.old or "–", c.new or "–") for c in told
    )
    cloth = [f"{more} more of {called(letter)}" for letter, more in extra]
    parts: list[str | PlainTable] = []
    if rows:
        parts.append(PlainTable(("Where", "What", "Old", "New"), rows))
    else:
        parts.append("Nothing that you cut, sew or buy has changed.")
    left = len(follows) - len(told)
    if left:
        parts.append(f"{left} more {'line follows' if left == 1 else 'lines follow'} from these.")
    parts.append(f"Cloth: {', '.join(cloth)}." if cloth else "No more cloth is needed.")
    edition = f"version {new}" if new else "the next version"
    return PlainDocument(
        name=f"Correction to version {old}",
        quilt=quilt,
        pages=(
            PlainPage(
                title=f"{quilt}: correction to version {old}",
                lead=f"If you have version {old}, please change these lines; {edition} has them "
                "already.",
                parts=tuple(parts),
                half=True,
            ),
        ),
    )


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]


def _counts(change: Change) -> bool:
    return (
        _SIZES.fullmatch(change.what) is not None and _NOT_FOR_MAKERS.fullmatch(change.what) is None
    )
