"""What a block file says, taken from its tree into a drawing. Keys: `docs/reference/files.md`."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Literal

from seamproof.draft.model import (
    Cells,
    Drawing,
    DrawnPatch,
    DrawnSeam,
    FabricAt,
    Fixing,
    Polygons,
    Seams,
    Written,
)
from seamproof.length.notation import Measure
from seamproof.plane.model import Point
from seamproof.project import limits
from seamproof.project.fields import Fields
from seamproof.project.unit_fields import methods
from seamproof.project.yaml_tree import Document, Items, Node, Scalar, shortened

FORMAT = 1
"""Number of the form in which files are written today."""

WAYS_TO_DRAW = ("cells", "seams", "patches")
"""The keys of which a block file has exactly one."""

KEYS = (
    "seamproof",
    "name",
    "finished",
    "grid",
    "cells",
    "columns",
    "rows",
    "units",
    "seams",
    "patches",
    "upright",
    "copies",
    "method",
    "press",
    "order",
)
"""The keys of a block file, in the order in which they are written."""

_UNIT_NAME = re.compile("[A-Z][A-Z0-9]{0,7}")

_ROW_EXAMPLE = "write each row on a line of its own, beginning with a dash: - a b/c a"


def block_drawing(document: Document, measure: Measure = "in") -> Drawing:
    r"""What a block file says. Lengths without a unit are in `measure`.

    Raises InputError at the place of whatever cannot be read. Whether the patches fit together,
    and whether the cells can be understood, is not asked here.

    >>> from seamproof.project.yaml_tree import document
    >>> made = block_drawing(document(b"name: Two\nfinished: 6\ncells:\n  - a b", "two.yaml"))
    >>> made.finished, [cell.text for cell in made.drawn.cells[0]]
    ((Fraction(6, 1), Fraction(6, 1)), ['a', 'b'])
    """
    fields = Fields(document, measure)
    values = fields.keys(document.root, "a block", KEYS, required=("name", "finished"))
    check_format(fields, values)
    name = fields.text(values["name"], "the name", limits.NAME_LENGTH)
    finished = _finished(fields, values["finished"])
    fields = dataclasses.replace(fields, block=name, cell=_grid(fields, values, finished))
    return Drawing(
        name=name,
        finished=finished,
        drawn=_drawn(fields, values),
        upright=fields.yes(values["upright"], "upright") if "upright" in values else False,
        copies=fields.whole(values["copies"], "copies", limits.COPIES) if "copies" in values else 1,
        fixings=(*_press(fields, values.get("press")), *_last(fields, values.get("order"))),
        methods=methods(fields, values["method"]) if "method" in values else (),
        order=_order(fields, values.get("order")),
        where=fields.where(document.root),
    )


def check_format(fields: Fields, values: Mapping[str, Node]) -> None:
    """Refuses a file of a form that is newer than this program."""
    node = values.get("seamproof")
    if node is not None and fields.whole(node, "seamproof", 10**9) > FORMAT:
        raise fields.refusal(
            node,
            f"this file was written for a newer program (form {fields.text(node, 'seamproof')})",
            f"this one reads form {FORMAT}: bring it up to date",
        )


def _finished(fields: Fields, node: Node) -> Point:
    if not isinstance(node, Items):
        size = fields.length(node, "the finished size")
        return size, size
    if len(node.items) != 2:
        raise fields.refusal(
            node, "finished is not one size or two", "write 12, or [width, height]"
        )
    width, height = node.items
    return fields.length(width, "the finished width"), fields.length(height, "the finished height")


def _grid(fields: Fields, values: Mapping[str, Node], finished: Point) -> Point | None:
    node = values.get("grid")
    if node is None:
        return None
    if "seams" not in values:
        raise fields.refusal(
            node, "grid goes with seams only", "delete it: cells and patches need none"
        )
    if isinstance(node, Items):
        if len(node.items) != 2:
            raise fields.refusal(node, "grid is not one number or two", "write [columns, rows]")
        across, down = (fields.whole(item, "grid", limits.SIDE) for item in node.items)
    else:
        across = down = fields.whole(node, "grid", limits.SIDE)
    return finished[0] / across, finished[1] / down


def _drawn(fields: Fields, values: Mapping[str, Node]) -> Cells | Polygons | Seams:
    given = [key for key, _ in fields.document.root.entries if key.text in WAYS_TO_DRAW]
    if not given:
        raise fields.refusal(
            fields.document.root,
            "a block has neither cells: nor seams: nor patches:",
            "draw it in one of these ways",
        )
    if len(given) > 1:
        raise fields.refusal(
            given[1], f"the block is already drawn by {given[0].text}:", "keep one of the two"
        )
    way = given[0].text
    if way != "cells":
        for key, _ in fields.document.root.entries:
            if key.text in ("columns", "rows", "units"):
                raise fields.refusal(key, f"{key.text} goes with cells only", "delete it")
    if way == "cells":
        return _cells(fields, values, units=True)
    return _patches(fields, values["patches"]) if way == "patches" else _seams(fields, values)


# Cells --------------------------------------------------------------------------------------------


def _cells(fields: Fields, values: Mapping[str, Node], *, units: bool) -> Cells:
    node = values["cells"]
    if isinstance(node, Items) and node.flow:
        raise fields.refusal(node, "rows of cells are not written in brackets", _ROW_EXAMPLE)
    rows = fields.items(node, "cells", limits.SIDE, _ROW_EXAMPLE)
    cells = tuple(_row(fields, row) for row in rows)
    if sum(map(len, cells)) > limits.CELLS:
        raise fields.too_much(node, f"cells has more than {limits.CELLS:,} cells")
    return Cells(
        cells,
        _shares(fields, values.get("columns"), "a column"),
        _shares(fields, values.get("rows"), "a row"),
        _units(fields, values["units"]) if units and "units" in values else (),
        fields.where(node),
    )


def _row(fields: Fields, node: Node) -> tuple[Written, ...]:
    """The cells of one row, each with its own place, from the text exactly as it stands."""
    if not isinstance(node, Scalar) or node.style == "block":
        raise fields.refusal(node, "a row of cells is a line of text", _ROW_EXAMPLE)
    if "\n" in node.raw:
        raise fields.refusal(
            node, "a row of cells runs over two lines", "begin each row with a dash and a space"
        )
    if node.style == "single" and "''" in node.raw:
        raise fields.refusal(
            node,
            "in single quotes, two quarter-turn marks cannot be told from one",
            "write the row without quotes",
        )
    begins = node.start + (node.style != "plain")
    cells = tuple(
        Written(match[0], fields.where(begins + match.start()))
        for match in re.finditer(r"\S+", node.raw)
    )
    if not cells or node.empty:
        raise fields.refusal(node, "this row of cells is empty", "fill it, or delete the line")
    if len(cells) > limits.SIDE:
        raise fields.too_much(node, f"a row has more than {limits.SIDE} cells")
    return cells


def _shares(fields: Fields, node: Node | None, what: str) -> tuple[Fraction, ...] | None:
    if node is None:
        return None
    mend = "write it as [2, 1, 2]"
    items = fields.items(node, f"{what[2:]}s", limits.SIDE, mend)
    return tuple(fields.share(item, what) for item in items)


def _units(fields: Fields, node: Node) -> tuple[tuple[str, Cells], ...]:
    units = []
    for key, value in fields.named(node, "units", limits.UNITS):
        if not _UNIT_NAME.fullmatch(key.text):
            raise fields.refusal(
                key,
                f'"{shortened(key.text)}" is not a name for a unit',
                "write it in up to eight capitals and figures, such as S or S2",
            )
        what = f"unit {key.text}"
        parts = fields.keys(value, what, ("cells", "columns", "rows"), required=("cells",))
        units.append((key.text, _cells(fields, parts, units=False)))
    return tuple(units)


# Patches and seams --------------------------------------------------------------------------------


def _patches(fields: Fields, node: Node) -> Polygons:
    mend = "write each as - {fabric: a, points: [[0, 0], [4, 0], [4, 4]]}"
    patches = []
    for item in fields.items(node, "patches", limits.PATCHES, mend):
        values = fields.keys(item, "a patch", ("fabric", "points"), required=("fabric", "points"))
        corners = fields.items(values["points"], "points", limits.CORNERS)
        if len(corners) < 3:
            raise fields.refusal(
                values["points"], "a patch has fewer than three corners", "add the missing ones"
            )
        points = tuple(fields.point(corner) for corner in corners)
        patches.append(DrawnPatch(fields.fabric(values["fabric"]), points, fields.where(item)))
    return Polygons(tuple(patches), fields.where(node))


def _seams(fields: Fields, values: Mapping[str, Node]) -> Seams:
    node = values["seams"]
    parts = fields.keys(node, "seams", ("lines", "fabrics"), required=("lines", "fabrics"))
    lines = tuple(
        DrawnSeam(fields.line(item, "a seam line"), fields.where(item))
        for item in fields.items(parts["lines"], "lines", limits.SEAMS)
    )
    fabrics = []
    for item in fields.items(parts["fabrics"], "fabrics", limits.PATCHES):
        pair = fields.keys(item, "an entry of fabrics", ("fabric", "at"), ("fabric", "at"))
        fabrics.append(
            FabricAt(fields.fabric(pair["fabric"]), fields.point(pair["at"]), fields.where(item))
        )
    return Seams(lines, tuple(fabrics), fields.where(node))


# What the maker fixed -----------------------------------------------------------------------------


def _press(fields: Fields, node: Node | None) -> tuple[Fixing, ...]:
    if node is None:
        return ()
    return tuple(_pressed(fields, item) for item in fields.items(node, "press", limits.FIXINGS))


def _pressed(fields: Fields, item: Node) -> Fixing:
    values = fields.keys(item, "an entry of press", ("seam", "towards", "open", "spin", "way"))
    where = fields.where(item)
    names = set(values)
    if names == {"seam", "towards"}:
        line = fields.line(values["seam"], "seam")
        return Fixing(line, None, "towards", fields.point(values["towards"]), where=where)
    if names == {"seam", "open"}:
        if not fields.yes(values["open"], "open"):
            raise fields.refusal(
                values["open"], "open can only be yes", "write open: yes, or delete the entry"
            )
        return Fixing(fields.line(values["seam"], "seam"), None, "open", where=where)
    if names in ({"spin"}, {"spin", "way"}):
        crossing = fields.point(values["spin"], "spin")
        clockwise = _clockwise(fields, values.get("way"))
        return Fixing(None, crossing, "spin", clockwise=clockwise, where=where)
    raise fields.refusal(
        item,
        "an entry of press is a seam with towards or open, or a crossing to spin",
        "write {seam: [[x, y], [x, y]], towards: [x, y]}, {seam: …, open: yes} or {spin: [x, y]}",
    )


def _clockwise(fields: Fields, node: Node | None) -> bool | None:
    if node is None:
        return None
    words = {
        "clockwise": "clockwise",
        "anticlockwise": "anticlockwise",
        "counterclockwise": "anticlockwise",
    }
    return fields.word(node, "way", words) == "clockwise"


def _entries(fields: Fields, node: Node | None) -> Sequence[Node]:
    return () if node is None else fields.items(node, "order", limits.FIXINGS)


def _last(fields: Fields, node: Node | None) -> tuple[Fixing, ...]:
    return tuple(
        Fixing(
            fields.line(fields.keys(item, "order", ("last",), ("last",))["last"], "last"),
            None,
            "last",
            where=fields.where(item),
        )
        for item in _entries(fields, node)
        if not isinstance(item, Scalar)
    )


def _order(fields: Fields, node: Node | None) -> tuple[Literal["rows"], ...]:
    words: list[Literal["rows"]] = []
    rows: Mapping[str, Literal["rows"]] = {"rows": "rows"}
    for item in _entries(fields, node):
        if isinstance(item, Scalar):
            word = fields.word(item, "an entry of order", rows)
            if word in words:
                raise fields.refusal(item, f"{word} is given twice", "keep one")
            words.append(word)
    return tuple(words)
