"""What pressing has to say, each kind once."""

from __future__ import annotations

from seamproof.findings import Kind

TOO_MANY_LAYERS = Kind(401, "warning", "More layers than the limit")
TOO_THICK = Kind(402, "warning", "Thicker than the limit")
LEAST_POSSIBLE = Kind(403, "note", "A thick place that no way of pressing makes thinner")
NOT_PROVED = Kind(404, "note", "A press plan that may not be the best")
CONTRADICTION = Kind(410, "error", "A seam is to be pressed in two ways")
TWO_LINES = Kind(411, "error", "Two lines that are each to be sewn as one seam cross")
CANNOT_SPIN = Kind(412, "error", "A crossing that cannot be spun")
NOT_GIVEN = Kind(413, "error", "A seam for which no way of pressing is given")
