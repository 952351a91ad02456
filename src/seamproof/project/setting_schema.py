"""The schema of ``setting`` in ``quilt.yaml``: how blocks become a top."""

from __future__ import annotations

from seamproof.project import limits
from seamproof.project.schema_words import (
    FABRIC,
    LENGTH,
    SCALAR,
    Schema,
    group,
    listed,
    text,
    yes,
)
from seamproof.project.setting_file import (
    BINDING_WAYS,
    CORNERS,
    CUTS,
    MOST_BORDERS,
    SETTING_KEYS,
    WAYS,
)


def setting_schema() -> Schema:
    """The schema of one setting.

    >>> setting_schema()["required"]
    ['rows']
    """
    either = {"anyOf": [LENGTH, listed(LENGTH, least=2, most=2)]}
    strip = text("Finished width and fabric.", "1 1/2 of a")
    places = listed({"type": SCALAR, "examples": ["Lamp Room", "Lamp Room'", "plain a"]})
    border = group(
        {
            "width": LENGTH,
            "fabric": FABRIC,
            "corners": text("How strips meet at the corners.", *CORNERS),
            "corner squares": FABRIC,
            "cut": text("Across the cloth and joined, or along it.", *CUTS),
            "units": {**places, "description": "Units of a pieced border, in turn."},
            "unit": {**LENGTH, "description": "How long a unit is along the border."},
            "spacer": {**FABRIC, "description": "Plain strip that makes a pieced border fit."},
        },
        ("width",),
    )
    binding = group(
        {
            "fabric": FABRIC,
            "width": LENGTH,
            "way": text("Across the cloth, or continuous on the bias.", *BINDING_WAYS),
            "extra": {**LENGTH, "description": "Beyond the way round, for joining the ends."},
        },
        (),
    )
    backing = group({"fabric": FABRIC, "width": LENGTH, "margin": LENGTH, "seam": LENGTH}, ())
    keys: Schema = {
        "way": text("Straight, or on point.", *WAYS),
        "rows": listed(places, description="The layout, row by row."),
        "cell": {"description": "Finished size of a cell.", **either},
        "coping": {
            "description": "Frames of smaller blocks, from the block outwards.",
            "type": "object",
            "additionalProperties": {"anyOf": [strip, listed(strip, most=MOST_BORDERS)]},
        },
        "coping trim": {**LENGTH, "description": "Outermost coping cut wider, to be trimmed."},
        "sashing": strip,
        "cornerstones": FABRIC,
        "outer sashing": yes("Whether sashing goes round the outside, too."),
        "triangles": {**FABRIC, "description": "Fabric of setting and corner triangles."},
        "floating": {**LENGTH, "description": "How far blocks on point stand off the edge."},
        "borders": listed(border, most=MOST_BORDERS, description="The innermost first."),
        "binding": {"anyOf": [strip, binding]},
        "backing": backing,
        "batting": {**LENGTH, "description": "What it sticks out on every side."},
        "sleeve": strip,
        "label": group({"width": LENGTH, "height": LENGTH, "fabric": FABRIC}, ("width", "height")),
        "measured": {
            "description": "What sewn blocks measure, raw edge to raw edge.",
            "type": "object",
            "additionalProperties": either,
            "maxProperties": limits.BLOCKS,
        },
        "quilting price": {**LENGTH, "description": "For a square inch or centimetre."},
    }
    return {
        "description": "How the blocks become a top, and what finishes it.",
        "type": "object",
        "required": ["rows"],
        "additionalProperties": False,
        "properties": {key: keys[key] for key in SETTING_KEYS},
    }
