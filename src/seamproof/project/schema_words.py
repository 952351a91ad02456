"""The words that schemas of our files are made of."""

from __future__ import annotations

from typing import Any

from seamproof.project import limits

Schema = dict[str, Any]

# What a length, a word, a number may be once an editor has loaded it: YAML 1.2 makes 9 a number,
# 2 7/8 and yes a text, true a truth value. All of them are texts to the reader.
SCALAR = ["string", "number", "boolean"]
LENGTH: Schema = {"type": ["string", "number"], "examples": ["2 7/8", 12, "7.5 cm"]}
COORDINATE: Schema = {"type": ["string", "number"]}
WHOLE: Schema = {"type": ["integer", "string"], "minimum": 1}
FABRIC: Schema = {"type": "string", "pattern": "^ *[a-z]{1,2} *$"}
POINT: Schema = {"type": "array", "items": COORDINATE, "minItems": 2, "maxItems": 2}
LINE: Schema = {"type": "array", "items": POINT, "minItems": 2, "maxItems": 2}


def text(description: str, *examples: str) -> Schema:
    """A word or a line of text."""
    made: Schema = {"description": description, "type": SCALAR}
    return {**made, "examples": list(examples)} if examples else made


def yes(description: str) -> Schema:
    """Yes or no."""
    return {"description": description, "type": ["boolean", "string"], "examples": ["yes", "no"]}


def listed(
    items: Schema, *, least: int = 1, most: int = limits.SIDE, description: str = ""
) -> Schema:
    """A list of things of one kind."""
    made: Schema = {"type": "array", "items": items, "minItems": least, "maxItems": most}
    return {"description": description, **made} if description else made


def group(properties: Schema, required: tuple[str, ...], description: str = "") -> Schema:
    """A group of keys."""
    made: Schema = {
        "type": "object",
        "additionalProperties": False,
        "properties": properties,
    }
    if required:
        made["required"] = list(required)
    return {"description": description, **made} if description else made
