"""What piecing has to say about a drawing."""

from __future__ import annotations

from seamproof.findings import Kind

CORNER_SET_IN = Kind(201, "note", "A corner must be set in")
TWO_GOES = Kind(202, "note", "A seam is sewn in two goes")
NOT_LAST = Kind(203, "warning", "A seam line cannot be sewn last")
NOT_WHOLE = Kind(204, "warning", "A fixed seam line cannot be sewn as one seam")
