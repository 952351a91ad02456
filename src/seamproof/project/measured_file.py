"""Measurements as a table: one reading a row, ``set,what,size``.

`what` is, of strips, ``cut``, ``side``, ``open`` or ``inner``, and of units ``raw`` or
``overhang``. `set` tells one set of strips from the next; without that column there is one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Literal

from seamproof.accuracy.spare_cloth import FEWEST, SewnUnits, SquaredUp
from seamproof.accuracy.strip_test import MOST_STRIPS, StripSet
from seamproof.errors import InputError, LengthError
from seamproof.length.notation import Measure, parse, with_unit
from seamproof.length.rounding import up
from seamproof.project import limits
from seamproof.project.plain_table import Cell, Table, cell_error, read_table

What = Literal["cut", "side", "open", "inner", "raw", "overhang"]

COLUMNS = ("set", "what", "size", "notes")
WHATS: tuple[What, ...] = ("cut", "side", "open", "inner", "raw", "overhang")

MOST = Fraction(100)
"""A reading of more than this, in inches, was taken in another unit."""


@dataclass(frozen=True, slots=True)
class Readings:
    """The readings of one set, by what they are of, in the order of the file, in inches."""

    name: str
    sizes: tuple[tuple[What, tuple[Fraction, ...]], ...]

    def of(self, what: What) -> tuple[Fraction, ...]:
        """Those of one kind."""
        return dict(self.sizes).get(what, ())


def read_measured(path: Path, measure: Measure = "in") -> tuple[Readings, ...]:
    """The sets in a file of measurements, in their order. A number without a unit is in `measure`.

    Raises InputError, with the place, for whatever cannot be read.
    """
    return readings(read_table(path, COLUMNS, ("what", "size")), measure)


def readings(table: Table, measure: Measure = "in") -> tuple[Readings, ...]:
    """The sets of a table."""
    sets: dict[str, dict[What, list[Fraction]]] = {}
    for row in table.rows:
        what, size, of = row.get("what"), row.get("size"), row.get("set")
        if what is None or size is None:
            raise table.document.refusal(
                row.cells[0][1].offset if row.cells else 0,
                "this row has no " + ("what" if what is None else "size"),
                "fill it, or delete the row",
            )
        group = sets.setdefault(of.text if of else "", {})
        kind = _kind(table, what)
        group.setdefault(kind, []).append(reading(table, size, measure, signed=kind == "overhang"))
    if not sets:
        raise table.document.refusal(0, "the table has no rows", "write one reading a row")
    return tuple(
        Readings(name, tuple((kind, tuple(sizes)) for kind, sizes in group.items()))
        for name, group in sets.items()
    )


def reading(table: Table, cell: Cell, measure: Measure, *, signed: bool = False) -> Fraction:
    """The length in a cell; positive, or of either sign if `signed`."""
    try:
        value = parse(cell.text, unit=measure, signed=signed)
        _believable(value, cell.text, signed=signed)
    except InputError as problem:
        raise cell_error(table.document, cell, problem) from None
    return value


def _believable(value: Fraction, text: str, *, signed: bool) -> None:
    if value == 0 and not signed:
        raise LengthError("a size of 0 was not measured", mend="leave the row out")
    if abs(value) > MOST:
        raise LengthError(f'"{text}" is more than {MOST} in', mend="check the number and its unit")


def _kind(table: Table, cell: Cell) -> What:
    for kind in WHATS:
        if cell.text.lower() == kind:
            return kind
    raise table.document.refusal(
        cell.offset, f'"{cell.text[:40]}" is nothing that is measured here', _KNOWN
    )


_KNOWN = f"known are {', '.join(WHATS)}"


# What was read becomes strips and units -----------------------------------------------------------

STRANGE_SEAM = Fraction(1, 4)
"""A seam that takes up this much more or less than planned is no seam: a number is wrong."""


def typed(
    texts: Sequence[str], what: str, measure: Measure = "in", *, signed: bool = False
) -> tuple[Fraction, ...]:
    """The lengths that somebody typed as options, one or several a text, parted by semicolons or by
    commas with a space behind. Raises InputError naming `what` they are.

    >>> [str(size) for size in typed(["6 3/8, 6 7/16", "6.4"], "side")]
    ['51/8', '103/16', '32/5']
    """
    found = []
    for text in texts:
        for part in re.split(r";|,(?=\s)", text):
            try:
                value = parse(part, unit=measure, signed=signed)
                _believable(value, part.strip(), signed=signed)
            except InputError as problem:
                raise InputError(f"--{what}: {problem.what}", mend=problem.mend) from None
            found.append(value)
    if len(found) > limits.MEASURED:
        raise InputError(f"--{what}: more than {limits.MEASURED} sizes", mend="leave some out")
    return tuple(found)


def strip_set(
    sizes: Readings, *, strips: int | None, cut: Fraction | None, seam: Fraction, measure: Measure
) -> tuple[StripSet, Fraction | None]:
    """The strip set that readings describe, and the planned width of strips that were measured.

    `strips` is how many there are, `cut` how wide they were cut; both may be left out if each
    strip was measured. Raises InputError with a clear sentence for what cannot be.
    """
    cuts = sizes.of("cut")
    named = f" in set {sizes.name}" if sizes.name else ""
    if cut is not None and cuts:
        planned: Fraction | None = cut
    else:
        planned, cut = None, cut or (cuts[0] if len(cuts) == 1 else None)
        cuts = () if len(cuts) == 1 else cuts
    count = strips or len(cuts) or (len(sizes.of("inner")) + 2 if sizes.of("inner") else 0)
    if not count:
        raise InputError(f"how many strips are sewn together{named}?", mend="say --strips 6")
    if not MOST_STRIPS >= count >= 2:
        raise InputError(f"{count} strips make no strip test", mend="sew three to ten together")
    if cuts and len(cuts) != count:
        raise InputError(
            f"there are {count} strips and {len(cuts)} cut widths{named}",
            mend="give one width for all as planned, or the width of each strip as measured",
        )
    if not cuts and cut is None:
        raise InputError(f"how wide were the strips cut{named}?", mend="say --cut 1 1/2")
    side, opened, inner = sizes.of("side"), sizes.of("open"), sizes.of("inner")
    if not side and not opened:
        raise InputError(
            f"how wide is the sewn set{named}?",
            mend="measure it across in three places, and give them as side, or as open if its "
            "seams are pressed open",
        )
    if inner and len(inner) != count - 2:
        raise InputError(
            f"there are {count - 2} inner strips and {len(inner)} inner widths{named}",
            mend="measure each inner strip from seam to seam, or none",
        )
    widths = cuts or (cut or Fraction(0),) * count
    total = sum(widths) - (count - 1) * 2 * seam
    for what, measured in (("across", side), ("across, pressed open", opened)):
        for value in measured:
            _seam_like((total - value) / (count - 1), what, value, total, measure)
    for number, value in enumerate(inner):
        wanted = widths[number + 1] - 2 * seam
        _seam_like(wanted - value, f"inner strip {number + 2}", value, wanted, measure)
    made = StripSet(
        cuts=tuple(map(float, widths)),
        measured=bool(cuts),
        side=tuple(map(float, side)),
        open=tuple(map(float, opened)),
        inner=tuple(map(float, inner)),
    )
    return made, planned


def _seam_like(
    takes_up: Fraction, what: str, value: Fraction, wanted: Fraction, measure: Measure
) -> None:
    if abs(takes_up) > STRANGE_SEAM:
        raise InputError(
            f"{what} is {with_unit(value, measure)}, and {with_unit(wanted, measure)} was to be "
            "expected: no seam does that",
            mend="check the number, its unit, and how many strips there are",
        )


def sewn_units(
    kind: SquaredUp,
    sizes: Readings,
    *,
    finished: Fraction | None,
    cut: Fraction | None,
    seam: Fraction,
    measure: Measure,
) -> SewnUnits:
    """The units that readings describe. Raises InputError with a clear sentence for what cannot
    be."""
    if finished is None or cut is None:
        raise InputError(
            "how large do the units finish, and how large were their squares cut?",
            mend="say --finished 3 --cut 4",
        )
    raw, overhangs = sizes.of("raw"), sizes.of("overhang")
    if bool(raw) == bool(overhangs):
        raise InputError(
            "the units need their raw sizes, or their overhangs under the ruler, one of the two",
            mend="say --raw 3 9/16, 3 5/8, …",
        )
    if raw and kind != "half-square triangle":
        raise InputError("of geese the overhangs are measured", mend="give --overhang instead")
    if len(raw or overhangs) < FEWEST:
        raise InputError("one unit tells no spread", mend="measure four or more")
    sewn = SewnUnits(
        kind, finished, cut, tuple(map(float, overhangs)), tuple(map(float, raw)), seam
    )
    if not -0.25 < float(cut) - sewn.need < 2:
        need = with_unit(up(sewn.need), measure)
        raise InputError(
            f"squares cut {with_unit(cut, measure)} do not make units that finish "
            f"{with_unit(finished, measure)}",
            mend=f"they are cut {need} or a little more; check both numbers and their units",
        )
    trim = finished + 2 * seam
    for value in raw:
        if abs(value - trim) > 1:
            raise InputError(
                f"a raw size of {with_unit(value, measure)} is not that of a unit trimmed to "
                f"{with_unit(trim, measure)}",
                mend="measure from raw edge to raw edge; check the number and its unit",
            )
    for value in overhangs:
        if abs(value) > 1:
            raise InputError(
                f"an overhang of {with_unit(value, measure)} is more than any unit has",
                mend="it is what sticks out beyond the trim size; negative if the unit is short",
            )
    return sewn


def typed_size(text: str, measure: Measure = "in") -> tuple[Fraction, Fraction | None]:
    """A block's size as typed: one width, or width and height with an x between.

    >>> typed_size("9 1/4 x 9 3/8")
    (Fraction(37, 4), Fraction(75, 8))
    >>> typed_size("9 1/4")
    (Fraction(37, 4), None)
    """
    parts = re.split(r"\s*[x×]\s*", text.strip())
    if len(parts) > 2:
        raise InputError(f'--got: "{text[:40]}" is no size', mend="write it as 9 1/4 x 9 3/8")
    sizes = typed(parts[:1], "got", measure), typed(parts[1:], "got", measure)
    return sizes[0][0], sizes[1][0] if sizes[1] else None


def typed_named(text: str, what: str, measure: Measure = "in") -> tuple[str, Fraction]:
    """A name and a size, as typed: ``hourglass: 3 7/16``.

    >>> typed_named("Aa: 3 7/16", "piece")
    ('Aa', Fraction(55, 16))
    """
    name, colon, size = text.partition(":")
    if not colon or not name.strip():
        raise InputError(
            f'--{what}: "{text[:40]}" has no name and size', mend="write it as NAME: 3 7/16"
        )
    return " ".join(name.split()), typed([size], what, measure)[0]
