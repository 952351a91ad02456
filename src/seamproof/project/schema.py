"""JSON Schema, draft-07, of the block file and of ``quilt.yaml``, for editors that complete keys.

An editor loads a file as YAML 1.2 and checks the result, so a schema says less than the reader: it
knows keys and shapes, not lengths. It is never the stricter of the two: whatever a schema refuses,
the reader refuses.
"""

from __future__ import annotations

from seamproof.pressing.model import WISHES
from seamproof.project import limits
from seamproof.project.block_file import FORMAT, KEYS, WAYS_TO_DRAW
from seamproof.project.edition_file import MOST_EDITIONS
from seamproof.project.programme_schema import programme_schema
from seamproof.project.quilt_file import KEYS as QUILT_KEYS
from seamproof.project.quilt_file import MEASURES, VALUES
from seamproof.project.schema_words import (
    FABRIC,
    LENGTH,
    LINE,
    POINT,
    SCALAR,
    WHOLE,
    Schema,
    group,
    listed,
    text,
    yes,
)
from seamproof.project.setting_schema import setting_schema
from seamproof.project.unit_fields import KINDS

DRAFT = "http://json-schema.org/draft-07/schema#"


def block_schema() -> Schema:
    """The schema of a block file.

    >>> block_schema()["required"]
    ['name', 'finished']
    """
    keys: Schema = {
        "seamproof": _FORMAT,
        "name": text("The block's name."),
        "finished": {
            "description": "Finished size: one length, or [width, height].",
            "anyOf": [LENGTH, listed(LENGTH, least=2, most=2)],
        },
        "grid": {
            "description": "With seams: points count cells of this grid, n or [columns, rows].",
            "anyOf": [WHOLE, listed(WHOLE, least=2, most=2)],
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
        "seams": group(
            {
                "lines": listed(LINE, most=limits.SEAMS),
                "fabrics": listed(
                    group({"fabric": FABRIC, "at": POINT}, ("fabric", "at")), most=limits.PATCHES
                ),
            },
            ("lines", "fabrics"),
            "Seam lines, and the fabric at a point of each patch.",
        ),
        "patches": listed(
            group(
                {"fabric": FABRIC, "points": listed(POINT, least=3, most=limits.CORNERS)},
                ("fabric", "points"),
            ),
            most=limits.PATCHES,
            description="Patches, each with its corners in the finished block.",
        ),
        "upright": yes("Whether the block has an upright way."),
        "copies": {**WHOLE, "description": "How many of this block are made."},
        "method": _methods("How kinds of units are made."),
        "press": listed(
            {
                "anyOf": [
                    group({"seam": LINE, "towards": POINT}, ("seam", "towards")),
                    group({"seam": LINE, "open": yes("Pressed open.")}, ("seam", "open")),
                    group({"spin": POINT, "way": text("clockwise or anticlockwise")}, ("spin",)),
                ]
            },
            most=limits.FIXINGS,
            description="How seams are pressed: towards a point, open, or spun.",
        ),
        "order": listed(
            {"anyOf": [text("rows"), group({"last": LINE}, ("last",))]},
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
    fabric = group(
        {
            "letter": FABRIC,
            "name": text("The fabric's name."),
            "role": text("What it is used for."),
            "colour": text('Six signs 0-9 and A-F, in quotes: "#7AB0AD".'),
            "value": text("How light it is.", *VALUES),
            "usable width": {**LENGTH, "description": "Width between the selvages."},
            "directional": yes("Whether its print has a direction."),
            "cut from": listed(
                text("yardage, or a piece of a fixed size.", "yardage", "fat quarter", "10 x 10"),
                most=limits.PIECES_OF_CLOTH,
                description="What it is cut from; without it, cloth by the yard or metre.",
            ),
            "shelf": listed(
                text("How many, and width x length.", "2 of 18 x 21"),
                most=limits.PIECES_OF_CLOTH,
                description="What there is of it already; it is cut first.",
            ),
            "price": {**LENGTH, "description": "Of a yard or a metre.", "examples": ["12.50"]},
        },
        ("letter",),
    )
    preferences = group(
        {
            "measure": text("Inches or centimetres.", *MEASURES),
            "seam": {**LENGTH, "description": "Seam allowance."},
            "ruler": {**LENGTH, "description": "Step from mark to mark of the ruler."},
            "sizes": text("Cut larger and trimmed, or exact.", "trimmed", "exact"),
            "oversize": {
                "description": "What is added to units that are trimmed; auto to work it out.",
                "type": ["object", "string"],
                "examples": ["auto", "auto 99"],
                "additionalProperties": {**LENGTH, "examples": ["1/8", "auto"]},
            },
            "maker": text("Whose hands, for auto and rehearse.", "everyday", "careful", "new"),
            "method": _methods("How kinds of units are made, unless a block says otherwise."),
            "paper": text("Paper of the sheets.", "letter", "a4"),
            "shop cut": text("In which steps shops cut cloth.", "1/8 yd", "1/4 yd", "10 cm"),
            "straightening": {**LENGTH, "description": "Lost when the ends are cut straight."},
            "shrinkage": {
                **LENGTH,
                "description": "What the wash takes off the length, in per cent.",
                "examples": ["3 %"],
            },
            "most layers": {**WHOLE, "description": "Layers of cloth that pass under the foot."},
            "thickest": {**LENGTH, "description": "What passes under the foot, as thick as this."},
            "cloth thickness": {**LENGTH, "description": "How thick one layer of cloth is."},
            "wishes": listed(
                text("What a press plan aims at.", *WISHES),
                most=len(WISHES),
                description="What a press plan aims at, the first wish first.",
            ),
        },
        (),
        "What holds for all blocks.",
    )
    keys: Schema = {
        "seamproof": _FORMAT,
        "name": text("The quilt's name."),
        "fabrics": listed(fabric, most=limits.FABRICS, description="The fabrics of the quilt."),
        "preferences": preferences,
        "blocks": listed(
            text("A block's name or file."),
            most=limits.BLOCKS,
            description="The blocks in order; without it, all files of the folder blocks.",
        ),
        "setting": setting_schema(),
        "programme": programme_schema(),
        "sizes": listed(
            group({"name": text("Its name."), **setting_schema()["properties"]}, ("name",)),
            most=MOST_EDITIONS,
            description="Other sizes: what of the setting differs.",
        ),
        "colourways": listed(
            group(
                {"name": text("Its name."), "fabrics": listed(fabric, most=limits.FABRICS)},
                ("name", "fabrics"),
            ),
            most=MOST_EDITIONS,
            description="Other colourways: the fabrics that differ.",
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


_FORMAT: Schema = {
    "description": "Number of the form of this file.",
    "type": ["integer", "string"],
    "minimum": 1,
    "maximum": FORMAT,
}


def _cells(description: str) -> Schema:
    share = listed(LENGTH)
    return {
        "cells": listed({"type": SCALAR}, description=description),
        "columns": {**share, "description": "Widths of the columns, in proportion."},
        "rows": {**share, "description": "Heights of the rows, in proportion."},
    }


def _methods(description: str) -> Schema:
    kinds = {kind: text("The method.") for kind in KINDS}
    return {"description": description, "type": "object", "properties": kinds}
