"""Blocks made ready for choosing: their plan, their seams, and tables of the tests' own folding."""

from __future__ import annotations

import functools

from seamproof.draft.model import Block
from seamproof.piecing.model import PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.pressing.model import PressSettings
from seamproof.pressing.plans import Desk, seams_of
from seamproof.pressing.tables import Table
from seamproof.pressing.wishing import Seams
from tests.pressing.by_conditions import tables_of
from tests.pressing.by_plan import tree_of

SHADES = (("a", "light"), ("b", "dark"), ("c", "medium"), ("d", "light"), ("e", "dark"))


@functools.cache
def planned(block: Block) -> PiecingPlan:
    return plan(block)[0]


@functools.cache
def tables(block: Block) -> tuple[Table, ...]:
    return tables_of(tree_of(planned(block)))


def seams(block: Block) -> Seams:
    """Without tables: each seam open, left or right."""
    return seams_of(planned(block), ())


def desk(block: Block, **settings: object) -> Desk:
    found = {"values": SHADES, **settings}
    return Desk(seams_of(planned(block), tables(block)), tables(block), PressSettings(**found))
