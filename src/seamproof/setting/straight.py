"""Straight settings: rows of blocks, with sashing and cornerstones between them or without."""

from __future__ import annotations

from fractions import Fraction

from seamproof.plane.model import Point
from seamproof.setting.assembling import Builder, Lying
from seamproof.setting.cells import Cells
from seamproof.setting.model import Setting


def size_of(columns: int, rows: int, cell: Point, sash: Fraction, *, outer: bool) -> Point:
    """Finished size of a straight set field.

    >>> four = Fraction(4)
    >>> [str(n) for n in size_of(4, 5, (12 * four / 4, 12 * four / 4), four, outer=True)]
    ['68', '84']
    """
    extra = 1 if outer else -1
    return (
        columns * cell[0] + (columns + extra) * sash,
        rows * cell[1] + (rows + extra) * sash,
    )


def straight_field(
    setting: Setting, cells: Cells, builder: Builder
) -> tuple[Lying, tuple[tuple[int, ...], ...]]:
    """The sewn field, and the part in each cell, row by row.

    Blocks and sashes are sewn to rows, cornerstones and sashes to rows of sashing, and the rows to
    the field. Without cornerstones a row of sashing is one long strip.
    """
    w, h = cells.size
    sash = setting.sashing
    s = sash.width if sash else Fraction(0)
    columns = len(setting.rows[0])
    width = size_of(columns, len(setting.rows), cells.size, s, outer=setting.outer)[0]
    bands: list[Lying] = []
    numbers = []
    y = Fraction(0)

    def sash_row(y: Fraction) -> Lying:
        assert sash is not None
        assert sash.fabric is not None
        if setting.cornerstones is None:
            return builder.rectangle(sash.fabric, (Fraction(0), y), (width, y + s), "sash")
        row, x = [], Fraction(0)
        for column in range(columns):
            if column or setting.outer:
                row.append(
                    builder.rectangle(setting.cornerstones, (x, y), (x + s, y + s), "cornerstone")
                )
                x += s
            row.append(builder.rectangle(sash.fabric, (x, y), (x + w, y + s), "sash"))
            x += w
        if setting.outer:
            row.append(
                builder.rectangle(setting.cornerstones, (x, y), (x + s, y + s), "cornerstone")
            )
        return builder.chain(row)

    for number, blocks in enumerate(setting.rows):
        if sash and (number or setting.outer):
            bands.append(sash_row(y))
            y += s
        row, x = [], Fraction(0)
        inside = []
        for column, cell in enumerate(blocks):
            if sash and sash.fabric and (column or setting.outer):
                row.append(builder.rectangle(sash.fabric, (x, y), (x + s, y + h), "sash"))
                x += s
            lying = cells.lay(builder, cell, (x, y))
            inside.append(lying.placed.part)
            row.append(lying)
            x += w
        if sash and sash.fabric and setting.outer:
            row.append(builder.rectangle(sash.fabric, (x, y), (x + s, y + h), "sash"))
        bands.append(builder.chain(row))
        numbers.append(tuple(inside))
        y += h
    if sash and setting.outer:
        bands.append(sash_row(y))
    return builder.chain(bands), tuple(numbers)
