"""Press signs, against where the cloth lies once it is folded."""

from __future__ import annotations

import math
from functools import cache
from importlib.resources import files

import pytest
import shapely

from seamproof.drawing.scene import PressSign, SpinSign, Spot
from seamproof.figures.cloth import spots
from seamproof.figures.press_signs import from_the_back, meeting_signs, own_signs, press_signs
from seamproof.piecing.model import Join
from seamproof.pipeline.pressing import PressedWork, press_block
from seamproof.pipeline.working import work_block
from seamproof.pressing.folding import seen
from seamproof.pressing.model import PlanName, PressPlan
from seamproof.pressing.sheets import cloth_of
from seamproof.project.reading import read_block_bytes
from tests.worked_out import memory

DEMO = files("seamproof.project") / "demo" / "blocks"
CASES: list[tuple[str, PlanName]] = [
    ("capstan", "best"),
    ("lamp-room", "usual"),
    ("cardinal-mark", "open"),
    ("slack-water", "spun"),
    ("lit-window", "best"),
    ("deck-light", "spun"),
]


@cache
def pressed(name: str, plan: PlanName) -> PressedWork:
    text = (DEMO / f"{name}.yaml").read_bytes()
    kept = memory()
    work = work_block(read_block_bytes(text, "b.yaml"), until="cutting", memory=kept)
    return press_block(work, name=plan, memory=kept)


def signs_of(name: str, plan: PlanName) -> tuple[PressSign | SpinSign, ...]:
    found = pressed(name, plan)
    assert found.work.piecing is not None
    return press_signs(found.work.piecing, found.work.piecing.whole, presses(found).presses)


def presses(found: PressedWork) -> PressPlan:
    assert found.pressed is not None
    return found.pressed.plan


def layers(name: str, plan: PlanName, at: Spot) -> int:
    found = pressed(name, plan)
    assert found.work.piecing is not None
    assert found.pressed is not None
    cloth = cloth_of(found.work.piecing, found.work.cutting, found.settings)
    lying = seen(cloth.sheets, found.pressed.ways)
    return sum(shapely.Polygon(one.piece).contains(shapely.Point(at)) for one in lying)


def beside(sign: PressSign, off: float) -> Spot:
    """A point so far left of the middle of a stretch, as seen."""
    (ax, ay), (bx, by) = sign.start, sign.end
    length = math.dist(sign.start, sign.end)
    return (
        (ax + bx) / 2 + (by - ay) / length * off,
        (ay + by) / 2 - (bx - ax) / length * off,
    )


@pytest.mark.parametrize(("name", "plan"), CASES)
def test_signs_point_where_the_cloth_lies(name: str, plan: PlanName) -> None:
    found = [s for s in signs_of(name, plan) if isinstance(s, PressSign)]
    # Far enough from all other seams that only the allowances of this one lie there.
    plain = [s for s in found if math.dist(s.start, s.end) > 1.6]
    assert plain
    for sign in plain:
        left, right = (layers(name, plan, beside(sign, off)) for off in (0.1, -0.1))
        expected = {"open": (2, 2), "left": (3, 1), "right": (1, 3)}[sign.way]
        assert (left, right) == expected, sign


@pytest.mark.parametrize(("name", "plan"), CASES)
def test_every_stretch_between_two_crossings_bears_one_sign(name: str, plan: PlanName) -> None:
    found = pressed(name, plan)
    block = found.work.block
    assert block is not None
    corners = shapely.MultiPoint([(float(x), float(y)) for x, y in block.vertices])
    drawn = [s for s in signs_of(name, plan) if isinstance(s, PressSign)]
    for sign in drawn:
        line = shapely.LineString((sign.start, sign.end))
        near = [p for p in corners.geoms if line.distance(p) < 1e-4]
        assert len(near) == 2
    # No two signs stand for the same stretch, and together they cover every seam.
    total = sum(math.dist(s.start, s.end) for s in drawn)
    patches = [
        shapely.Polygon([(float(x), float(y)) for x, y in block.corners_of(patch)])
        for patch in block.patches
    ]
    whole = shapely.Polygon([tuple(map(float, block.vertices[v])) for v in block.outline])
    inner = (sum(p.length for p in patches) - whole.length) / 2
    assert total == pytest.approx(inner, abs=1e-3)


def test_round_a_spun_crossing_the_signs_turn_as_its_hook_does() -> None:
    found = signs_of("slack-water", "spun")
    hooks = [s for s in found if isinstance(s, SpinSign)]
    assert hooks
    for hook in hooks:
        stretches = [
            s
            for s in found
            if isinstance(s, PressSign) and min(_ends(s, hook.at)) < 1e-4 and s.way != "open"
        ]
        assert len(stretches) == 4
        for sign in stretches:
            tip, (mx, my) = beside(sign, 0.2 if sign.way == "left" else -0.2), beside(sign, 0.0)
            x, y = mx - hook.at[0], my - hook.at[1]
            turning = x * (tip[1] - my) - y * (tip[0] - mx)  # y downwards: clockwise if positive
            assert (turning > 0) == hook.clockwise


def test_the_turn_is_the_one_of_the_plan_seen_from_the_back() -> None:
    found = pressed("slack-water", "spun")
    assert found.work.piecing is not None
    spun = [press for press in presses(found).presses if press.spun]
    assert spun
    for press in spun:
        own = own_signs(found.work.piecing, press.part, presses(found).presses)
        first = next(s for s in own if isinstance(s, SpinSign))
        back = from_the_back(first, lambda p: (-p[0], p[1]))
        assert isinstance(back, SpinSign)
        assert back.clockwise == press.clockwise


def test_only_seams_that_end_on_a_seam_stand_next_to_it() -> None:
    found = pressed("slack-water", "spun")
    plan = found.work.piecing
    assert plan is not None
    last = plan.parts[plan.whole].made
    assert isinstance(last, Join)
    ((start, end),) = (spots(line) for line in last.sewn)
    seam = shapely.LineString((start, end))
    for child in (last.left, last.right):
        near = meeting_signs(plan, child, presses(found).presses, [(start, end)])
        every = press_signs(plan, child.part, presses(found).presses)
        assert 0 < len(near) < len(every)
        for sign in near:
            ends = [shapely.Point(spot) for spot in (sign.start, sign.end)]
            assert min(seam.distance(spot) for spot in ends) < 1e-4


def _ends(sign: PressSign, at: Spot) -> tuple[float, float]:
    return math.dist(sign.start, at), math.dist(sign.end, at)
