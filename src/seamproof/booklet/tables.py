"""The tables of a booklet as plain rows, for spreadsheets."""

from __future__ import annotations

from collections.abc import Iterator

from seamproof.booklet.model import Beside, BookletModel, CuttingTables, Section, Table

Rows = tuple[tuple[str, ...], ...]
"""Rows of cells, the first with the headings."""


def tables_of(model: BookletModel) -> dict[str, Rows]:
    """Every table of a booklet by its name."""
    found: dict[str, Rows] = {}
    for section in model.sections:
        for part in section.parts:
            table = part.table if isinstance(part, Beside) else part
            if isinstance(table, Table):
                found[table.name] = (table.columns, *table.rows)
            elif isinstance(table, CuttingTables):
                name = "cut-" + section.key.partition(":")[2]
                found[name] = tuple(_cutting(section, table))
    return found


def _cutting(section: Section, tables: CuttingTables) -> Iterator[tuple[str, ...]]:
    yield ("block", "fabric", "name", "mark", "count", "cut", "then", "for")
    for table in tables.tables:
        for row in table.rows:
            yield (
                *(section.title, table.fabric.paint.letter, table.fabric.name),
                *(row.letter, str(row.count or ""), row.what, row.split, row.purpose),
            )
