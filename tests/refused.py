"""Drawings that are no block, each with the code it must get."""

from __future__ import annotations

from seamproof.draft.model import Drawing
from tests.drawings import cells_drawing, polygon_drawing, seams_drawing

_SQUARE = [(0, 0), (4, 0), (4, 4), (0, 4)]

REFUSED: dict[str, tuple[int, Drawing]] = {
    "nothing": (112, polygon_drawing("nothing", (4, 4), [])),
    "two corners": (101, polygon_drawing("two corners", (4, 4), [("a", [(0, 0), (4, 4)])])),
    "one spot": (
        101,
        polygon_drawing(
            "one spot", (4, 4), [("a", _SQUARE), ("b", [(1, 1), ("1.01", 1), (1, "1.01")])]
        ),
    ),
    "bow": (102, polygon_drawing("bow", (4, 4), [("a", [(0, 0), (4, 4), (4, 0), (0, 4)])])),
    "waist": (
        102,
        polygon_drawing("waist", (4, 4), [("a", [(0, 0), (4, 0), (2, 2), (4, 4), (0, 4), (2, 2)])]),
    ),
    "overlap": (
        103,
        polygon_drawing(
            "overlap",
            (8, 4),
            [("a", [(0, 0), (5, 0), (5, 4), (0, 4)]), ("b", [(4, 0), (8, 0), (8, 4), (4, 4)])],
        ),
    ),
    "drawn twice": (103, polygon_drawing("drawn twice", (4, 4), [("a", _SQUARE), ("b", _SQUARE)])),
    "gap": (
        104,
        polygon_drawing(
            "gap",
            (6, 6),
            [
                ("a", [(0, 0), (6, 0), (6, 2), (0, 2)]),
                ("b", [(0, 2), (2, 2), (2, 6), (0, 6)]),
                ("c", [(4, 2), (6, 2), (6, 6), (4, 6)]),
                ("d", [(2, 4), (4, 4), (4, 6), (2, 6)]),
            ],
        ),
    ),
    "two islands": (
        105,
        polygon_drawing(
            "two islands", (10, 4), [("a", _SQUARE), ("b", [(6, 0), (10, 0), (10, 4), (6, 4)])]
        ),
    ),
    "touching corners": (
        106,
        polygon_drawing(
            "touching corners",
            (8, 8),
            [("a", _SQUARE), ("b", [(4, 4), (8, 4), (8, 8), (4, 8)])],
        ),
    ),
    "on top": (
        107,
        polygon_drawing(
            "on top", (4, 4), [("a", _SQUARE), ("b", [(1, 1), (3, 1), (3, 3), (1, 3)])]
        ),
    ),
    "keyhole": (
        107,
        polygon_drawing(
            "keyhole",
            (6, 6),
            [
                (
                    "a",
                    [
                        (0, 0),
                        (6, 0),
                        (6, 6),
                        (0, 6),
                        (0, 2),
                        (2, 2),
                        (2, 4),
                        (4, 4),
                        (4, 2),
                        (2, 2),
                        (0, 2),
                    ],
                ),
                ("b", [(2, 2), (4, 2), (4, 4), (2, 4)]),
            ],
        ),
    ),
    "ring of cells": (
        107,
        cells_drawing("ring of cells", (6, 6), ["a a= a=", "a^ b a^", "a^ a= a=^"]),
    ),
    "slit": (
        104,
        polygon_drawing(
            "slit",
            (4, 4),
            [
                ("a", [(0, 0), (2, 0), ("2.05", 4), (0, 4)]),
                ("b", [("2.05", 0), (4, 0), (4, 4), ("2.05", 4)]),
            ],
        ),
    ),
    "narrow gap": (
        104,
        polygon_drawing(
            "narrow gap",
            (4, 4),
            [
                ("a", [(0, 0), (2, 0), (2, 4), (0, 4)]),
                ("b", [("2.05", 0), (4, 0), (4, 4), (2, 4), (2, 2)]),
            ],
        ),
    ),
    "short side": (
        108,
        polygon_drawing(
            "short side",
            (4, 4),
            [
                ("a", [(0, 0), (2, 0), (2, 2), (0, 2)]),
                ("b", [(0, 2), (2, 2), (2, 4), (0, 4)]),
                ("c", [(2, 0), (4, 0), (4, "2.05"), (2, "2.05")]),
                ("d", [(2, "2.05"), (4, "2.05"), (4, 4), (2, 4)]),
            ],
        ),
    ),
    "needle": (
        108,
        polygon_drawing(
            "needle",
            (12, 4),
            [
                ("a", [(0, 0), (12, 0), (6, "1/30")]),
                ("b", [(0, 0), (6, "1/30"), (12, 0), (12, 4), (0, 4)]),
            ],
        ),
    ),
    "wrong size": (109, polygon_drawing("wrong size", (6, 6), [("a", _SQUARE)])),
    "wrong origin": (
        109,
        polygon_drawing("wrong origin", (4, 4), [("a", [(1, 0), (5, 0), (5, 4), (1, 4)])]),
    ),
    "no cell": (120, cells_drawing("no cell", (4, 4), ["a|b"])),
    "three letters": (120, cells_drawing("three letters", (4, 4), ["a.b.c"])),
    "ragged": (121, cells_drawing("ragged", (4, 4), ["a b", "a"])),
    "columns": (122, cells_drawing("columns", (4, 4), ["a b"], columns=[1])),
    "nothing at the left": (123, cells_drawing("nothing at the left", (4, 4), ["= a"])),
    "nothing above": (123, cells_drawing("nothing above", (4, 4), ["a^ b"])),
    "only a corner": (123, cells_drawing("only a corner", (4, 4), ["a", r"a^\b"])),
    "another fabric": (124, cells_drawing("another fabric", (4, 4), ["a b="])),
    "other side of the split": (
        124,
        cells_drawing("other side of the split", (8, 4), ["a/b a="]),
    ),
    "no rectangle": (125, cells_drawing("no rectangle", (4, 4), ["a =", "^ b"])),
    "no such unit": (126, cells_drawing("no such unit", (4, 4), ["S"])),
    "unit in itself": (
        127,
        cells_drawing("unit in itself", (4, 4), ["S a"], units={"S": ["a S"]}),
    ),
    "loose seam": (
        130,
        seams_drawing("loose seam", (4, 4), [((2, 0), (2, 3))], [("a", (1, 1))]),
    ),
    "no fabric": (132, seams_drawing("no fabric", (4, 4), [((2, 0), (2, 4))], [("a", (1, 1))])),
    "two fabrics": (
        133,
        seams_drawing("two fabrics", (4, 4), [], [("a", (1, 1)), ("b", (3, 3))]),
    ),
    "on the seam": (
        134,
        seams_drawing(
            "on the seam", (4, 4), [((2, 0), (2, 4))], [("a", (1, 1)), ("b", (2, 2)), ("b", (3, 3))]
        ),
    ),
    "beside the block": (
        135,
        seams_drawing("beside the block", (4, 4), [], [("a", (1, 1)), ("b", (9, 1))]),
    ),
    "loose island": (
        107,
        seams_drawing(
            "loose island",
            (6, 6),
            [((2, 2), (4, 2)), ((4, 2), (4, 4)), ((4, 4), (2, 4)), ((2, 4), (2, 2))],
            [("a", (1, 1)), ("b", (3, 3))],
        ),
    ),
}
"""Drawings that are no block, each with the code of the finding that has to say so."""
