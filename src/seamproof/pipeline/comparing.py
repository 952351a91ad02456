"""The ways to make the units of a block that was worked out."""

from __future__ import annotations

from seamproof.cutting.comparing import UnitWays, compare
from seamproof.pipeline.model import BlockWork


def compare_ways(work: BlockWork) -> tuple[UnitWays, ...] | None:
    """For each unit the methods that fit, for as many copies as the work is for; None if there is
    no plan to make it by."""
    if work.piecing is None or work.cutting is None:
        return None
    return compare(work.piecing, work.copies, work.settings)
