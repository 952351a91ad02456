"""What the cloth has to say, each kind once."""

from __future__ import annotations

from seamproof.findings import Kind

TOO_LARGE = Kind(701, "error", "A piece is larger than the cloth")
NO_WIDTH = Kind(702, "error", "A cloth has no usable width")
NO_SIZE = Kind(703, "error", "A piece of cloth has no size")
NOT_ENOUGH = Kind(704, "error", "There is not enough cloth")
ONE_WAY = Kind(705, "note", "A print has a direction, so its pieces are not turned")
CUT_SHORT = Kind(706, "note", "The search for a shorter lay was stopped")
WIDE_CLOTH = Kind(707, "note", "Strips need wider cloth than is usual")
