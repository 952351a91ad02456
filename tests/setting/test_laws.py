"""Laws that hold for every top, of any layout, sash and border."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from seamproof.piecing.model import Join, Whole
from seamproof.plane.predicates import placed
from seamproof.setting.assembling import outline_at
from seamproof.setting.model import BorderAsked, Coping, Measured, SetCell, Setting, Top
from seamproof.setting.top import set_top
from tests.setting.tops import SETTINGS, block, on_point, outlines, straight, strip, top_of

HAIR = 1e-5
"""Inches that rounding to the finest length may leave after a few turns."""

AREA = 2e-3
"""Square inches that it may leave along all edges of a top."""

BLOCKS = (block("Star"), block("Rail"), block("Boat", 9), block("Buoy", 6))
COPING = (Coping("Boat", (strip("3/2", "a"),)), Coping("Buoy", (strip(1, "d"), strip(2, "a"))))

WIDTHS = st.sampled_from([Fraction(n, 4) for n in (4, 5, 8, 11, 16)])


@st.composite
def borders(draw: st.DrawFn) -> tuple[BorderAsked, ...]:
    kinds = draw(st.lists(st.sampled_from(["butted", "mitred", "squares"]), max_size=3))
    return tuple(BorderAsked(draw(WIDTHS), "c", corners=kind, squares="d") for kind in kinds)


@st.composite
def settings(draw: st.DrawFn) -> Setting:
    """A straight or on-point setting of blocks that fill a cell of 12 in."""
    way = draw(st.sampled_from(["straight", "on point"]))
    columns, count = draw(st.integers(1, 4)), draw(st.integers(1, 4))
    if way == "straight" or columns == 1:
        lengths = [columns] * count
    else:
        lengths = [columns - n % 2 for n in range(2 * count - 1)]
    names = st.sampled_from(["Star", "Rail", "Boat", "Buoy"])
    cells = st.builds(SetCell, names, st.integers(0, 3)) | st.just(SetCell("c", plain=True))
    layout = tuple(tuple(draw(cells) for _ in range(length)) for length in lengths)
    used = {cell.name for row in layout for cell in row if not cell.plain}
    sashed = draw(st.booleans())
    return Setting(
        rows=layout,
        way=way,  # type: ignore[arg-type]
        cell=(Fraction(12), Fraction(12)),
        coping=tuple(coping for coping in COPING if coping.block in used),
        sashing=strip(draw(WIDTHS), "f") if sashed else None,
        cornerstones="b" if draw(st.booleans()) else None,
        outer=draw(st.booleans()),
        triangles="e",
        floating=draw(st.sampled_from([Fraction(0), Fraction(1), Fraction(5, 2)])),
        borders=draw(borders()),
    )


def made(setting: Setting) -> Top:
    top, found = set_top(setting, BLOCKS, (), SETTINGS)
    assert top is not None, found
    return top


@given(settings())
def test_the_outline_is_the_union_of_the_parts(setting: Setting) -> None:
    top = made(setting)
    parts = [shapely.Polygon([(float(x), float(y)) for x, y in o]) for o in outlines(top)]
    whole = shapely.box(0, 0, float(top.width), float(top.height))
    assert sum(part.area for part in parts) == pytest.approx(whole.area, abs=AREA)
    joined = shapely.union_all([part.buffer(HAIR) for part in parts])
    assert joined.symmetric_difference(whole).area < 8 * HAIR * whole.length
    for part in parts:
        assert part.difference(whole.buffer(HAIR)).area == 0


@given(settings())
def test_every_join_is_made_of_its_two_sides_along_the_seam(setting: Setting) -> None:
    plan = made(setting).plan
    for part in plan.parts:
        if not isinstance(part.made, Join):
            continue
        left, right = (
            shapely.Polygon([(float(x), float(y)) for x, y in outline_at(plan, side)])
            for side in (part.made.left, part.made.right)
        )
        seam = shapely.LineString([(float(x), float(y)) for x, y in part.made.seam])
        whole = shapely.Polygon([(float(x), float(y)) for x, y in part.outline])
        assert left.area + right.area == pytest.approx(whole.area, abs=AREA)
        assert left.intersection(right).area < AREA
        for side in (left, right):
            assert seam.difference(side.boundary.buffer(HAIR)).length < HAIR
        # The left side lies left of the way along the seam, as seen: y runs downwards.
        (x0, y0), (x1, y1) = seam.coords[0], seam.coords[1]
        near = ((x0 + x1) / 2, (y0 + y1) / 2)
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        off = ((y1 - y0) / length * 0.01, -(x1 - x0) / length * 0.01)
        assert left.contains(shapely.Point(near[0] + off[0], near[1] + off[1]))


@given(settings())
def test_parts_come_before_what_is_made_of_them_and_are_used_as_often_as_counted(
    setting: Setting,
) -> None:
    top = made(setting)
    plan = top.plan
    lying = [number for number, _ in _leaves(top)]
    for number, part in enumerate(plan.parts):
        if isinstance(part.made, Join):
            assert max(part.made.left.part, part.made.right.part) < number
        else:
            assert part.uses == lying.count(number) > 0
    joins = {n for n, part in enumerate(plan.parts) if isinstance(part.made, Join)}
    assert sorted(n for parts in plan.rounds for n in parts) == sorted(joins)
    earlier: set[int] = set()
    for parts in plan.rounds:
        for number in parts:
            join = plan.parts[number].made
            assert isinstance(join, Join)
            assert {join.left.part, join.right.part} & joins <= earlier
        earlier |= set(parts)


def _leaves(top: Top) -> tuple[tuple[int, object], ...]:
    from seamproof.setting.assembling import leaves_of

    return leaves_of(top.plan)


@given(settings(), st.data())
def test_turning_a_block_changes_only_how_that_block_lies(
    setting: Setting, data: st.DataObject
) -> None:
    places = [
        (r, c) for r, row in enumerate(setting.rows) for c, cell in enumerate(row) if not cell.plain
    ]
    if not places:
        return
    r, c = data.draw(st.sampled_from(places))
    turned = replace(setting.rows[r][c], quarters=(setting.rows[r][c].quarters + 1) % 4)
    layout = [list(row) for row in setting.rows]
    layout[r][c] = turned
    before, after = made(setting), made(replace(setting, rows=tuple(map(tuple, layout))))
    for name in ("width", "height", "fabrics", "backing", "batting", "binding", "borders"):
        assert getattr(before, name) == getattr(after, name), name
    assert sorted(_cut(before)) == sorted(_cut(after))
    changed = [(a, b) for a, b in zip(before.blocks, after.blocks, strict=True) if a != b]
    assert len(changed) == 1
    (a, b) = changed[0]
    assert a.name == b.name
    assert (b.turn - a.turn) % 1 == Fraction(1, 4)


def _cut(top: Top) -> list[tuple[object, ...]]:
    return [(p.name, p.fabric, p.width.ruler, p.height.ruler, p.count, p.split) for p in top.pieces]


@given(settings())
def test_sizes_measured_as_planned_change_nothing(setting: Setting) -> None:
    sizes = {block.name: block.width + Fraction(1, 2) for block in BLOCKS}
    measured = tuple(Measured(name, size, size) for name, size in sizes.items())
    before, after = made(setting), made(replace(setting, measured=measured))
    assert {advice.what for advice in after.advice} == {"fits"}
    assert replace(after, advice=()) == before


@given(settings())
def test_finished_fabrics_add_up_to_the_top(setting: Setting) -> None:
    top = made(setting)
    assert float(sum(area for _, area in top.fabrics)) == pytest.approx(
        float(top.width * top.height), abs=AREA
    )


@given(settings())
def test_every_block_lies_in_the_top_as_often_as_the_layout_names_it(setting: Setting) -> None:
    top = made(setting)
    named = sorted(cell.name for row in setting.rows for cell in row if not cell.plain)
    assert sorted(b.name for b in top.blocks) == named
    size = {b.name: b for b in BLOCKS}
    for b in top.blocks:
        corners = [
            placed((x, y), b.turn, b.at)
            for x in (Fraction(0), size[b.name].width)
            for y in (Fraction(0), size[b.name].height)
        ]
        assert all(
            -HAIR <= x <= top.width + HAIR and -HAIR <= y <= top.height + HAIR for x, y in corners
        )
    wholes = [p.made.block for p in top.plan.parts if isinstance(p.made, Whole)]
    assert sorted(wholes) == sorted(set(named))


def test_the_laws_notice_a_top_that_is_short() -> None:
    top = top_of(straight("Star Star", sash=2), block("Star"))
    short = sum(shapely.Polygon(o).area for o in outlines(top)[1:])
    assert short != pytest.approx(float(top.width * top.height), abs=AREA)
    field = top_of(on_point("Star"), block("Star"))
    assert float(field.width) == pytest.approx(12 * 2**0.5, abs=HAIR)
