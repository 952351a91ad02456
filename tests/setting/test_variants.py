"""Blocks that are pressed in two ways because of where they lie."""

from __future__ import annotations

import pytest

from seamproof.setting.variants import PATTERNS, End, nested, varied
from tests.setting.tops import block, straight, worked

ALIKE, CHESS, ROWS, COLUMNS = PATTERNS

SEAM = (
    End((12.0, 4.0), (-1.0, 0.0), (0.0, 1.0)),
    End((0.0, 4.0), (1.0, 0.0), (0.0, 1.0)),
)
"""A level seam from edge to edge, pressed down."""

TURNED = tuple(End(end.at, end.away, (0.0, -1.0)) for end in SEAM)


@pytest.mark.parametrize(("pattern", "good"), [(ALIKE, 0), (CHESS, 4), (ROWS, 0), (COLUMNS, 4)])
def test_seams_across_an_edge_nest_if_they_lie_opposite_ways(pattern: object, good: int) -> None:
    setting, blocks, variants = varied(
        straight("A A A", "A A A"),
        [block("A")],
        pattern,
        rows=False,  # type: ignore[arg-type]
    )
    top, _ = worked(setting, *blocks)
    assert top is not None
    ends = {name: SEAM if v.plan == "A" else TURNED for name, v in variants.items()}
    assert nested(top, ends) == (good, 4)


def test_rows_in_turn_are_kinds_of_their_own() -> None:
    setting, blocks, variants = varied(
        straight("A A", "A A", "A A"), [block("A")], ALIKE, rows=True
    )
    assert [{cell.name for cell in row} for row in setting.rows] == [{"A"}, {"A~"}, {"A"}]
    assert {name: variant.called for name, variant in variants.items()} == {"A": "A", "A~": "A"}
    top, _ = worked(setting, *blocks)
    assert top is not None
    assert len(top.blocks) == 6
