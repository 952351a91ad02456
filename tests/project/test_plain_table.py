"""Tables as plain text: cells with their places, and refusals at theirs."""

from __future__ import annotations

import pytest

from seamproof.errors import InputError
from seamproof.project.plain_table import Table, table

COLUMNS = ("block", "size", "notes")


def read(text: str) -> Table:
    return table(text.encode(), "log.csv", COLUMNS, ("block",))


def texts(made: Table) -> list[dict[str, str]]:
    return [{name: cell.text for name, cell in row.cells} for row in made.rows]


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_any_usual_sign_parts_the_cells(sign: str) -> None:
    made = read(sign.join(["Size", "BLOCK"]) + "\n" + sign.join(["9 1/4", "Star"]) + "\n")
    assert texts(made) == [{"size": "9 1/4", "block": "Star"}]


def test_quotes_hold_the_sign_and_quotes() -> None:
    made = read('block,notes\nStar,"flat, at last, 1/4"" seam"\n')
    assert texts(made)[0]["notes"] == 'flat, at last, 1/4" seam'


def test_places_empty_cells_and_remarks() -> None:
    made = read("\ufeff# my log\r\nblock,size,notes\r\n\r\nStar,,late\r\n")
    (row,) = made.rows
    assert texts(made) == [{"block": "Star", "notes": "late"}]
    notes = row.get("notes")
    assert notes is not None
    assert (notes.where.line, notes.where.column) == (4, 7)
    assert row.get("size") is None


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        ("", "log.csv:1:1", "the table is empty"),
        ("block,sise\n", "log.csv:1:7", '"sise" is not a column'),
        ("block,block\n", "log.csv:1:7", "twice"),
        ("size\n9\n", "log.csv:1:1", "no column block"),
        ("block,size\nStar,9,8\n", "log.csv:2:8", "more cells"),
        ('block,notes\nStar,"open\n', "log.csv:2:6", "not closed"),
        ('block,notes\nStar,"a" b\n', "log.csv:2:9", "behind a closed quote"),
        ("block\nSt\0ar\n", "log.csv:2:3", "invisible character"),
    ],
)
def test_what_is_no_table_is_refused_at_its_place(text: str, place: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as refused:
        read(text)
    assert str(refused.value.place) == place


def test_bytes_that_are_no_text_are_refused() -> None:
    with pytest.raises(InputError, match="UTF-8"):
        table(b"block\n\xff\n", "log.csv", COLUMNS, ())
