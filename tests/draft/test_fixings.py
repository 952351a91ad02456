from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Literal

import pytest

from seamproof.draft.model import Fixing
from seamproof.draft.understanding import understand
from seamproof.findings import Finding
from tests import cast

P = tuple[object, object]


def fixing(
    line: tuple[P, P] | None = None,
    crossing: P | None = None,
    way: Literal["open", "towards", "spin", "last"] = "open",
    towards: P | None = None,
) -> Fixing:
    def point(p: P) -> tuple[Fraction, Fraction]:
        return (Fraction(str(p[0])), Fraction(str(p[1])))

    return Fixing(
        line=None if line is None else (point(line[0]), point(line[1])),
        crossing=None if crossing is None else point(crossing),
        way=way,
        towards=None if towards is None else point(towards),
    )


def fixed(given: Fixing) -> tuple[tuple[Fixing, ...], tuple[Finding, ...]]:
    """The fixing on a four-patch of 6 in, whose seams cross at (3, 3)."""
    drawing = replace(cast.cells_drawing("four patch", (6, 6), ["a b", "b a"]), fixings=(given,))
    block, findings = understand(drawing)
    assert block is not None
    return block.fixings, findings


def test_a_fixing_on_a_seam_is_moved_onto_its_vertices() -> None:
    kept, findings = fixed(
        fixing((("3.01", "5.98"), ("2.99", "0.02")), way="towards", towards=(1, 4))
    )
    assert findings == ()
    assert kept[0].line == ((3, 6), (3, 0))
    assert kept[0].towards == (1, 4)


def test_a_fixing_on_part_of_a_side_is_about_the_whole_side() -> None:
    kept, _ = fixed(fixing(((1, 3), (2, 3))))
    assert kept[0].line == ((0, 3), (3, 3))


def test_a_crossing_is_moved_onto_its_vertex() -> None:
    kept, findings = fixed(fixing(crossing=("3.02", "2.99"), way="spin"))
    assert findings == ()
    assert kept[0].crossing == (3, 3)


@pytest.mark.parametrize(
    ("given", "code", "at"),
    [
        (fixing(((0, 0), (6, 0))), 140, (0, 0)),
        (fixing(((2, 0), (2, 6))), 140, (2, 0)),
        (fixing(((3, 0), (3, 9))), 140, (3, 6)),
        (fixing(((3, 3), (3, 3))), 140, (3, 3)),
        (fixing(((0, 0), (3, 3))), 140, (0, 0)),
        (fixing(crossing=(2, 2), way="spin"), 141, (2, 2)),
        (fixing(crossing=(3, 0), way="spin"), 141, (3, 0)),
        (fixing(((3, 0), (3, 6)), way="towards", towards=(3, 5)), 142, (3, 5)),
        (fixing(((3, 0), (3, 6)), way="towards"), 142, (3, 0)),
    ],
)
def test_a_fixing_that_means_nothing_is_left_out_and_said(
    given: Fixing, code: int, at: tuple[int, int]
) -> None:
    kept, findings = fixed(given)
    assert kept == ()
    assert [(f.code, f.severity, f.where.at) for f in findings] == [(code, "error", at)]


def test_fixings_of_a_block_typed_to_decimals_find_their_seams() -> None:
    block = cast.eight_pointed_star()
    centre = fixing(crossing=(6, 6), way="spin")
    point = fixing((("3.51", "3.51"), (6, 6)))
    again = replace(cast.as_polygons(block), fixings=(centre, point))
    kept = cast.understood(again).fixings
    assert kept[0].crossing in block.vertices
    assert kept[1].line is not None
    assert set(kept[1].line) <= set(block.vertices)
