"""The schema of ``programme`` in ``quilt.yaml``."""

from __future__ import annotations

from seamproof.project import limits
from seamproof.project.programme_file import (
    COST_KEYS,
    LEADS,
    LEVELS,
    MOST_CLOSED,
    MOST_RELEASES,
    PARTS,
    PROGRAMME_KEYS,
    RELEASE_KEYS,
)
from seamproof.project.schema_words import (
    FABRIC,
    LENGTH,
    SCALAR,
    WHOLE,
    Schema,
    group,
    listed,
    text,
)


def programme_schema() -> Schema:
    """The schema of one programme.

    >>> programme_schema()["required"]
    ['start', 'releases']
    """
    names: Schema = {"anyOf": [{"type": SCALAR}, listed({"type": SCALAR}, most=limits.BLOCKS)]}
    part = text("What of the finishing goes with it.", *PARTS)
    release_keys: Schema = {
        "blocks": {"description": "The blocks that go out.", **names},
        "parts": {"anyOf": [part, listed(part, most=len(PARTS))]},
        "on": text("Its day, if not that of the rhythm.", "2027-05-08"),
    }
    costs: Schema = {
        key: WHOLE if key == "cut seconds" else {**LENGTH, "examples": ["12.50"]}
        for key in COST_KEYS
    }
    lead = {"anyOf": [WHOLE, listed(WHOLE, least=2, most=2)]}
    keys: Schema = {
        "start": text("The day of the first release.", "2027-01-09"),
        "rhythm": text("How releases follow.", "monthly", "second Saturday of the month"),
        "releases": listed(
            {"anyOf": [*names["anyOf"], group({k: release_keys[k] for k in RELEASE_KEYS}, ())]},
            most=MOST_RELEASES,
            description="What goes out, release by release.",
        ),
        "people": {**WHOLE, "description": "How many kits go out."},
        "spares": {**LENGTH, "description": "Kits on top, per cent.", "examples": ["5 %"]},
        "kit level": text("What lies in the bag.", *LEVELS),
        "leads": {
            "description": "Days before a release by which a step is done, and days it takes.",
            "type": "object",
            "additionalProperties": False,
            "properties": dict.fromkeys(LEADS, lead),
        },
        "closed": listed(
            text("A day of the week, or a day.", "Sunday", "2027-05-17"),
            most=MOST_CLOSED,
            description="Days on which nobody works.",
        ),
        "hour": text("The hour of a release.", "18:30"),
        "zone": text("The time zone of the hour.", "Europe/Oslo"),
        "one dye lot": {
            "description": "Fabrics of which dye lots may not be mixed.",
            "anyOf": [FABRIC, listed(FABRIC, most=limits.FABRICS)],
        },
        "bolt": {**LENGTH, "description": "Length of a bolt.", "examples": ["12 yd"]},
        "costs": group(costs, (), "What a kit costs besides its cloth, and its price."),
    }
    return {
        "description": "What goes out when, and for how many people.",
        "type": "object",
        "required": ["start", "releases"],
        "additionalProperties": False,
        "properties": {key: keys[key] for key in PROGRAMME_KEYS},
    }
