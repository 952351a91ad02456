"""What cutting has to say, each kind once."""

from __future__ import annotations

from seamproof.findings import Kind

OFF_THE_RULER = Kind(301, "warning", "A size that is sewn as it is cut lies between two marks")
CUT_FULL = Kind(302, "note", "Pieces are cut a little large")
UNKNOWN_METHOD = Kind(303, "error", "A method that does not exist")
METHOD_DOES_NOT_FIT = Kind(304, "warning", "A method that does not fit this unit")
METHOD_UNUSED = Kind(305, "note", "A method is named for a unit that the block does not have")
TEMPLATE = Kind(306, "note", "A patch needs a template")
SPARES = Kind(307, "note", "More units are made than are needed")
ALL_ON_THE_BIAS = Kind(308, "warning", "All edges of a unit are on the bias")
USUAL_SHORT = Kind(309, "note", "The usual metric size is a little short")
