"""What one more seam would bring: a variant of a block, pieced."""

from __future__ import annotations

from dataclasses import dataclass, replace

from seamproof.piecing.model import PiecingPlan
from seamproof.piecing.offers import Variant, with_more_seams
from seamproof.piecing.planning import plan
from seamproof.pipeline.model import BlockWork


@dataclass(frozen=True, slots=True)
class Offered:
    """A block with more seams, and how it goes together."""

    variant: Variant
    piecing: PiecingPlan


def offer(work: BlockWork) -> Offered | None:
    """The variant of a worked-out block that has no corner to set in, or as few as more seams can
    leave. None if the block was not understood or no seam would help."""
    if work.block is None:
        return None
    # What was fixed on the old drawing need not hold on the new one.
    variant = with_more_seams(replace(work.block, fixings=()))
    if not variant.seams:
        return None
    name = f"{work.block.name}, more seams"
    block = replace(variant.block, name=name)
    return Offered(replace(variant, block=block), plan(block)[0])
