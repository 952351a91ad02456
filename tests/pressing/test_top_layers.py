"""The layers of whole tops, held to one overlay of every sheet."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.pressing.kinds import Kind, block_kind
from seamproof.pressing.sheets import cloth_of
from seamproof.pressing.tables import LEFT, OPEN, RIGHT
from seamproof.pressing.top_layers import Known, Laid, lay
from seamproof.setting.model import BorderAsked, Coping, Setting, Strip
from tests.pressing.sewn_tops import SETTINGS, SewnTop, layout

EDGES = layout("Star Steps' Rail", "Rail' Star'' Steps", "Steps''' Rail Star'")
POINT = layout("Star Steps'", "Rail", "Steps'' Star'''")
THREE = Fraction(3)

TOPS = {
    "edge to edge": Setting(rows=EDGES),
    "sashing and cornerstones": Setting(
        rows=EDGES, sashing=Strip(Fraction(2), "f"), cornerstones="b"
    ),
    "sashing in long strips, borders": Setting(
        rows=EDGES,
        sashing=Strip(Fraction(3, 2), "f"),
        borders=(BorderAsked(THREE, "a"), BorderAsked(THREE, "b", "squares", "c")),
    ),
    "sashing no wider than its allowances": Setting(
        rows=EDGES, sashing=Strip(Fraction(1, 2), "f"), cornerstones="b"
    ),
    "mitred border": Setting(rows=EDGES[:2], borders=(BorderAsked(THREE, "a", "mitred"),)),
    "coping": Setting(
        rows=EDGES[:2],
        cell=(Fraction(8), Fraction(8)),
        coping=tuple(
            Coping(name, (Strip(Fraction(1, 2), "d"), Strip(Fraction(1, 2), "e")))
            for name in ("Star", "Steps", "Rail")
        ),
    ),
    "one block": Setting(rows=layout("Steps'"), borders=(BorderAsked(THREE, "a"),)),
    "sashing in centimetres": Setting(
        rows=EDGES,
        sashing=Strip(Fraction(250, 127), "f"),
        cornerstones="b",
        borders=(BorderAsked(Fraction(500, 127), "a"),),
    ),
    "on point": Setting(rows=POINT, way="on point", triangles="a"),
    "on point, floating, sashed": Setting(
        rows=POINT,
        way="on point",
        triangles="a",
        floating=Fraction(1),
        sashing=Strip(Fraction(1), "b"),
        cornerstones="c",
        borders=(BorderAsked(THREE, "a"),),
    ),
}


def worked(top: SewnTop, known: Known | None = None) -> Laid:
    return lay(top.plan, top.kinds, top.ways, SETTINGS, known)


@pytest.mark.parametrize("name", TOPS)
def test_windows_count_what_one_overlay_counts(name: str) -> None:
    top = SewnTop(TOPS[name])
    want, got = top.all_at_once(), dict(worked(top).areas)
    # On point the plan's corners are kept to 2^-20 in, along hundreds of inches of edge.
    close = 1e-3 if "point" in name or "centi" in name else 1e-6
    for layers in {*want, *got}:
        assert got.get(layers, 0.0) == pytest.approx(want.get(layers, 0.0), abs=close), layers


def test_cloth_is_kept() -> None:
    top = SewnTop(TOPS["edge to edge"])
    cut = sum(top.kinds[name].area for name in ("Star", "Steps", "Rail")) * 3
    covered = sum(layers * area for layers, area in worked(top).areas)
    assert covered == pytest.approx(cut, rel=1e-9)


def test_what_is_alike_is_counted_once_however_turned() -> None:
    rail = worked(SewnTop(Setting(rows=layout(*["Rail Rail Rail Rail"] * 4))))
    more = worked(SewnTop(Setting(rows=layout(*["Rail Rail Rail Rail Rail Rail"] * 6))))
    assert rail.made < len(rail.places) / 4
    assert len(more.places) > 1.9 * len(rail.places)
    assert more.made <= rail.made + 4
    upright = SewnTop(Setting(rows=layout("Rail Rail Rail")), seed=3)
    lying = SewnTop(Setting(rows=layout("Rail'", "Rail'", "Rail'")), seed=3)
    assert dict(worked(upright).areas)[1] == pytest.approx(dict(worked(lying).areas)[1])


def test_after_an_edit_only_what_changed_is_counted_again() -> None:
    setting = TOPS["sashing and cornerstones"]
    top, known = SewnTop(setting), Known()
    first = worked(top, known)
    assert worked(top, known).made == 0
    top.inner["Rail"] = [LEFT if way == RIGHT else RIGHT for way in top.inner["Rail"]]
    top.kinds["Rail"] = _rail_again(top)
    second = worked(top, known)
    assert 0 < second.made < first.made / 2


def _rail_again(top: SewnTop) -> Kind:
    return block_kind(cloth_of(top.plans["Rail"], None, SETTINGS), top.inner["Rail"])


def test_all_open_is_even() -> None:
    """Four plain corners that meet, every seam open: never more than four layers."""
    top = SewnTop(Setting(rows=layout("Rail Rail", "Rail Rail"), sashing=None))
    top.ways = [OPEN] * len(top.ways)
    for name in top.inner:
        top.inner[name] = [OPEN] * len(top.inner[name])
    top.kinds["Rail"] = _rail_again(top)
    assert max(layers for layers, _ in worked(top).areas) == 4
