"""Tables against the whole block laid over each other at once."""

from __future__ import annotations

import random

import pytest

from seamproof.cutting.listing import cutting_list
from seamproof.piecing.planning import plan
from seamproof.pressing.choosing import area_above, value
from seamproof.pressing.folding import laid
from seamproof.pressing.layers import layer_map, map_of
from seamproof.pressing.model import PressSettings
from seamproof.pressing.sheets import cloth_of
from seamproof.pressing.tabling import tables_of, windows
from tests import cast
from tests.drawings import cells_drawing, understood
from tests.pressing import by_overlay, by_plan

SETTINGS = PressSettings()
BLOCKS = {
    "four-patch": cast.four_patch,
    "pinwheel": cast.pinwheel,
    "log cabin": cast.log_cabin,
    "lamp room": cast.lamp_room,
    "spiral": cast.spiral,
    "eight-pointed star": cast.eight_pointed_star,
    "narrow strips": lambda: understood(
        cells_drawing("narrow", (2, 2), ["a b a b a", "b a b a b"])
    ),
}


@pytest.mark.parametrize("name", BLOCKS)
def test_tables_and_the_map_count_alike_under_any_plan(name: str) -> None:
    piecing, _ = plan(BLOCKS[name]())
    cloth = cloth_of(piecing, None, SETTINGS)
    tables = tables_of(cloth, float(SETTINGS.seam))
    dice = random.Random(7)
    for _ in range(6):
        ways = [dice.choice(known) for known in cloth.ways]
        found = layer_map(cloth, ways, SETTINGS)
        thickest = max(int(table.most[table.row(ways) or 0]) for table in tables)
        assert max(thickest, 3) == max(found.most, 3)
        thick = sum(area for layers, area in found.areas if layers >= 4)
        # Points that stick out of the block are in the tables, not in the map.
        counted = value(area_above("thick", tables, 3), ways)
        assert counted >= thick - 1e-5
        if name not in ("eight-pointed star", "lamp room", "pinwheel"):
            assert counted == pytest.approx(thick, abs=1e-5)


def test_equal_clusters_turned_by_quarters_are_one() -> None:
    piecing, _ = plan(cast.pinwheel())
    cloth = cloth_of(piecing, None, SETTINGS)
    tables = tables_of(cloth, float(SETTINGS.seam))
    assert sum(table.copies for table in tables) > len(tables)


def test_windows_do_not_overlap() -> None:
    piecing, _ = plan(cast.lamp_room())
    cloth = cloth_of(piecing, None, SETTINGS)
    found = windows(cloth.patches, float(SETTINGS.seam))
    for k, one in enumerate(found):
        assert all(one.disjoint(other) for other in found[k + 1 :])


@pytest.mark.parametrize("name", ["four-patch", "pinwheel", "lamp room"])
def test_our_folding_and_the_slow_judge_agree(name: str) -> None:
    block = BLOCKS[name]()
    piecing, _ = plan(block)
    cutting, _ = cutting_list(block, piecing)
    cloth = cloth_of(piecing, cutting, SETTINGS)
    tree = by_plan.tree_of(piecing)
    dice = random.Random(11)
    for _ in range(8):
        ways = [dice.randrange(3) for _ in cloth.ways]
        ours = map_of(laid(cloth.sheets, ways), cloth.outline, SETTINGS)
        theirs = by_overlay.areas_of(tree, ways)
        assert by_overlay.worst(theirs) == ours.most
        for layers, area in ours.areas:
            assert area == pytest.approx(theirs[layers], abs=1e-4)


def test_a_block_of_one_patch_has_no_tables() -> None:
    piecing, _ = plan(cast.one_patch())
    cloth = cloth_of(piecing, None, SETTINGS)
    assert all(table.most.max() <= 1 for table in tables_of(cloth, 0.25))
