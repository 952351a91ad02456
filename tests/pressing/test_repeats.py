"""Tiles that are alike have the same layers: held to tracing points back through the folds."""

from __future__ import annotations

import random
from fractions import Fraction

import numpy as np
import pytest

from seamproof.pressing.sheets import cloth_of
from seamproof.pressing.top_layers import Known, Laid, lay
from seamproof.pressing.top_map import in_top
from seamproof.setting.assembling import expanded
from seamproof.setting.model import BorderAsked, Setting, Strip
from tests.pressing.by_tracing import inside, layers_at
from tests.pressing.sewn_tops import SETTINGS, SewnTop, layout

POINTS = 80

TOPS = {
    "edge to edge": Setting(rows=layout("Star Steps' Rail", "Rail' Star'' Steps")),
    "sashing no wider than its allowances": Setting(
        rows=layout("Star Steps'", "Rail' Star''"), sashing=Strip(Fraction(1, 2), "f")
    ),
    "mitred border": Setting(
        rows=layout("Star Steps'"), borders=(BorderAsked(Fraction(3), "a", "mitred"),)
    ),
    "on point": Setting(rows=layout("Star", "Steps'"), way="on point", triangles="a"),
}


def counted_at(laid: Laid, p: tuple[float, float]) -> int:
    """The layers at a point of a top, by the trapezoids of its windows."""
    for number, quarters, middle in laid.places:
        window = laid.windows[number]
        for corners, layers in zip(window.corners.tolist(), window.layers, strict=True):
            ring = in_top(laid, tuple((x, y) for x, y in corners), quarters, middle)
            xs, ys = [x for x, _ in ring], [y for _, y in ring]
            near = min(xs) <= p[0] <= max(xs) and min(ys) <= p[1] <= max(ys)
            if near and inside(p, ring):
                return layers
    return 0


@pytest.mark.parametrize("name", TOPS)
def test_windows_count_what_tracing_counts(name: str) -> None:
    top, dice = SewnTop(TOPS[name]), random.Random(5)
    laid = lay(top.plan, top.kinds, top.ways, SETTINGS)
    cloth = cloth_of(expanded(top.plan, top.plans), None, SETTINGS)
    ways = top.all_ways()
    xs, ys = [x for x, _ in cloth.outline], [y for _, y in cloth.outline]
    for _ in range(POINTS):
        p = dice.uniform(min(xs) - 0.3, max(xs) + 0.3), dice.uniform(min(ys) - 0.3, max(ys) + 0.3)
        assert counted_at(laid, p) == layers_at(p, cloth.sheets, ways), p


def test_a_key_is_good_for_another_top() -> None:
    """What was counted for one top is found again in a larger one, and counts there what it would
    have counted."""
    known = Known()
    small = SewnTop(Setting(rows=layout("Rail Rail", "Rail Rail")))
    large = SewnTop(Setting(rows=layout(*["Rail Rail Rail Rail"] * 4)))
    first = lay(small.plan, small.kinds, small.ways, SETTINGS, known)
    large.kinds = small.kinds
    again = lay(large.plan, large.kinds, large.ways, SETTINGS, known)
    alone = lay(large.plan, large.kinds, large.ways, SETTINGS)
    assert first.made == len(known.windows) - again.made
    assert again.made < alone.made
    assert dict(again.areas) == pytest.approx(dict(alone.areas))


def test_every_place_is_covered_once() -> None:
    top = SewnTop(TOPS["edge to edge"])
    laid = lay(top.plan, top.kinds, top.ways, SETTINGS)
    faces = [
        np.array(in_top(laid, tuple(map(tuple, corners)), quarters, middle))
        for number, quarters, middle in laid.places
        for corners in laid.windows[number].corners.tolist()
    ]
    dice = random.Random(2)
    for _ in range(100):
        p = dice.uniform(-0.2, 18.2), dice.uniform(-0.2, 12.2)
        assert sum(inside(p, face.tolist()) for face in faces) == 1, p
