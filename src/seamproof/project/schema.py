"""JSON Schema, draft-07, of the block file and of ``quilt.yaml``, for editors that complete keys.

An editor loads a file as YAML 1.2 and checks the result, so a schema says less than the reader: it
knows keys and shapes, not lengths. It is never the stricter of the two: whatever a schema refuses,
the reader refuses.
"""

from __future__ import annotations

from typing import Any

from seamproof.pressing.model import WISHES
from seamproof.project import limits
from seamproof.project.block_file import FORMAT, KEYS, KINDS, WAYS_TO_DRAW
from seamproof.project.quilt_file import KEYS as QUILT_KEYS
from seamproof.project.quilt_file import MEASURES, VALUES

Schema = dict[str, Any]

DRAFT = "http://json-schema.org/draft-07/schema#"


def block_schema() -> Schema:
    """The schema of a block file.

    >>> block_schema()["required"]
    ['name', 'finished']
    """
    keys: Schema = {
        "seamproof": _FORMAT,
        "name": _text("The block's name."),
        "finished": {
            "description": "Finished size: one length, or [width, height].",
            "anyOf": [_LENGTH, _list(_LENGTH, least=2, most=2)],
        },
        "grid": {
            "description": "With seams: points count cells of this grid, n or [columns, rows].",
            "anyOf": [_WHOLE, _list(_WHOLE, least=2, most=2)],
        },
        **_cells("Rows of cells, each row one line of text."),
        "units": {
            "description": "Named sub-blocks, each named in capitals.",
            "type": "object",
            "additionalProperties": {
                "type": "object",
                "required": ["cells"],
                "additionalProperties": False,
                "properties": _cells("Rows of cells of the sub-block."),
            },
        },
        "seams": _group(
            {
                "lines": _list(_LINE, most=limits.SEAMS),
                "fabrics": _list(
                    _group({"fabric": _FABRIC, "at": _POINT}, ("fabric", "at")), most=limits.PATCHES
                ),
            },
            ("lines", "fabrics"),
            "Seam lines, and the fabric at a point of each patch.",
        ),
        "patches": _list(
            _group(
                {"fabric": _FABRIC, "points": _list(_POINT, least=3, most=limits.CORNERS)},
                ("fabric", "points"),
            ),
            most=limits.PATCHES,
            description="Patches, each with its corners in the finished block.",
        ),
        "upright": _yes("Whether the block has an upright way."),
        "copies": {**_WHOLE, "description": "How many of this block are made."},
        "method": _methods("How kinds of units are made."),
        "press": _list(
            {
                "anyOf": [
                    _group({"seam": _LINE, "towards": _POINT}, ("seam", "towards")),
                    _group({"seam": _LINE, "open": _yes("Pressed open.")}, ("seam", "open")),
                    _group({"spin": _POINT, "way": _text("clockwise or anticlockwise")}, ("spin",)),
                ]
            },
            most=limits.FIXINGS,
            description="How seams are pressed: towards a point, open, or spun.",
        ),
        "order": _list(
            {"anyOf": [_text("rows"), _group({"last": _LINE}, ("last",))]},
            most=limits.FIXINGS,
            description="What is sewn when: rows, or a seam that is sewn last.",
        ),
    }
    return {
        "$schema": DRAFT,
        "title": "Seamproof block",
        "type": "object",
        "required": ["name", "finished"],
        "oneOf": [{"required": [way]} for way in WAYS_TO_DRAW],
        "additionalProperties": False,
        "properties": {key: keys[key] for key in KEYS},
    }


def quilt_schema() -> Schema:
    """The schema of ``quilt.yaml``.

    >>> quilt_schema()["properties"]["preferences"]["properties"]["paper"]["examples"]
    ['letter', 'a4']
    """
    fabric = _group(
        {
            "letter": _FABRIC,
            "name": _text("The fabric's name."),
            "role": _text("What it is used for."),
            "colour": _text('Six signs 0-9 and A-F, in quotes: "#7AB0AD".'),
            "value": _text("How light it is.", *VALUES),
            "usable width": {**_LENGTH, "description": "Width between the selvages."},
            "directional": _yes("Whether its print has a direction."),
            "cut from": _list(
                _text("yardage, or a piece of a fixed size.", "yardage", "fat quarter", "10 x 10"),
                most=limits.PIECES_OF_CLOTH,
                description="What it is cut from; without it, cloth by the yard or metre.",
            ),
            "shelf": _list(
                _text("How many, and width x length.", "2 of 18 x 21"),
                most=limits.PIECES_OF_CLOTH,
                description="What there is of it already; it is cut first.",
            ),
            "price": {**_LENGTH, "description": "Of a yard or a metre.", "examples": ["12.50"]},
        },
        ("letter",),
    )
    preferences = _group(
        {
            "measure": _text("Inches or centimetres.", *MEASURES),
            "seam": {**_LENGTH, "description": "Seam allowance."},
            "ruler": {**_LENGTH, "description": "Step from mark to mark of the ruler."},
            "sizes": _text("Cut larger and trimmed, or exact.", "trimmed", "exact"),
            "oversize": {
                "description": "What is added to units that are trimmed.",
                "type": "object",
                "additionalProperties": _LENGTH,
            },
            "method": _methods("How kinds of units are made, unless a block says otherwise."),
            "paper": _text("Paper of the sheets.", "letter", "a4"),
            "shop cut": _text("In which steps shops cut cloth.", "1/8 yd", "1/4 yd", "10 cm"),
            "straightening": {**_LENGTH, "description": "Lost when the ends are cut straight."},
            "shrinkage": {
                **_LENGTH,
                "description": "What the wash takes off the length, in per cent.",
                "examples": ["3 %"],
            },
            "most layers": {**_WHOLE, "description": "Layers of cloth that pass under the foot."},
            "thickest": {**_LENGTH, "description": "What passes under the foot, as thick as this."},
            "cloth thickness": {**_LENGTH, "description": "How thick one layer of cloth is."},
            "wishes": _list(
                _text("What a press plan aims at.", *WISHES),
                most=len(WISHES),
                description="What a press plan aims at, the first wish first.",
            ),
        },
        (),
        "What holds for all blocks.",
    )
    keys: Schema = {
        "seamproof": _FORMAT,
        "name": _text("The quilt's name."),
        "fabrics": _list(fabric, most=limits.FABRICS, description="The fabrics of the quilt."),
        "preferences": preferences,
        "blocks": _list(
            _text("A block's name or file."),
            most=limits.BLOCKS,
            description="The blocks in order; without it, all files of the folder blocks.",
        ),
    }
    return {
        "$schema": DRAFT,
        "title": "Seamproof quilt",
        "type": "object",
        "required": ["name", "fabrics"],
        "additionalProperties": False,
        "properties": {key: keys[key] for key in QUILT_KEYS},
    }


# What a length, a word, a number may be once an editor has loaded it: YAML 1.2 makes 9 a number,
# 2 7/8 and yes a text, true a truth value. All of them are texts to the reader.
_SCALAR = ["string", "number", "boolean"]
_LENGTH: Schema = {"type": ["string", "number"], "examples": ["2 7/8", 12, "7.5 cm"]}
_COORDINATE: Schema = {"type": ["string", "number"]}
_WHOLE: Schema = {"type": ["integer", "string"], "minimum": 1}
_FABRIC: Schema = {"type": "string", "pattern": "^ *[a-z]{1,2} *$"}
_POINT: Schema = {"type": "array", "items": _COORDINATE, "minItems": 2, "maxItems": 2}
_LINE: Schema = {"type": "array", "items": _POINT, "minItems": 2, "maxItems": 2}
_FORMAT: Schema = {
    "description": "Number of the form of this file.",
    "type": ["integer", "string"],
    "minimum": 1,
    "maximum": FORMAT,
}


def _text(description: str, *examples: str) -> Schema:
    made: Schema = {"description": description, "type": _SCALAR}
    return {**made, "examples": list(examples)} if examples else made


def _yes(description: str) -> Schema:
    return {"description": description, "type": ["boolean", "string"], "examples": ["yes", "no"]}


def _list(
    items: Schema, *, least: int = 1, most: int = limits.SIDE, description: str = ""
) -> Schema:
    made: Schema = {"type": "array", "items": items, "minItems": least, "maxItems": most}
    return {"description": description, **made} if description else made


def _group(properties: Schema, required: tuple[str, ...], description: str = "") -> Schema:
    made: Schema = {
        "type": "object",
        "additionalProperties": False,
        "properties": properties,
    }
    if required:
        made["required"] = list(required)
    return {"description": description, **made} if description else made


def _cells(description: str) -> Schema:
    share = _list(_LENGTH)
    return {
        "cells": _list({"type": _SCALAR}, description=description),
        "columns": {**share, "description": "Widths of the columns, in proportion."},
        "rows": {**share, "description": "Heights of the rows, in proportion."},
    }


def _methods(description: str) -> Schema:
    kinds = {kind: _text("The method.") for kind in KINDS}
    return {"description": description, "type": "object", "properties": kinds}
