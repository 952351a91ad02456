"""Spun crossings, from drawings: the table's values, and slivers that are no layers."""

from __future__ import annotations

import math
from functools import partial

import pytest

from seamproof.pressing.folding import Spot
from seamproof.pressing.model import LayerMap
from seamproof.pressing.tables import SPUN, SPUN_BACK
from tests.pressing.in_place import InPlace, Window, square_round
from tests.pressing.test_layers_table import EXACT, KEPT, TOLD, eight_points, four, star

STAR = 1e-4
"""Square inches on the whole star: every corner of it is kept to 2^-20 in."""

STAR_MIDDLE = (10.242640687 / 2, 10.242640687 / 2)
SPUN_WAYS = (SPUN, SPUN_BACK)


def spun_about(found: InPlace, last: Spot, others: dict[Spot, Spot], window: Window) -> LayerMap:
    """The flatter turn of a spun crossing: of the two, one has its first seams nest."""
    both = [found.layers(found.ways({**others, last: way}), window) for way in SPUN_WAYS]
    return min(both, key=lambda m: m.most)


def test_four_corners_spun() -> None:
    found, window = four(), square_round((4, 4), 0.5)
    # Clockwise about the middle as seen from the front.
    spun = spun_about(found, (2, 4), {(4, 2): (5, 2), (4, 6): (3, 6)}, window)
    assert dict(spun.areas) == pytest.approx({4: 0.25}, abs=EXACT)


def test_eight_points_spun() -> None:
    found, window = eight_points(), square_round((4, 4), 2)
    others: dict[Spot, Spot] = {(4, 2): (5, 2), (4, 6): (3, 6)}
    at, to = (2.0, 2.0), (3.0, 1.0)
    for _ in range(4):
        others[at] = to
        at, to = (8 - at[1], at[0]), (8 - to[1], to[0])
    (case,) = TOLD["four HST units 4 in finished, trimmed, all eight points at the centre (spin)"]
    told = next(p for p in case["plans"] if p["label"].startswith("spun"))["areas_by_layers"]
    spun = spun_about(found, (2, 4), others, window)
    assert dict(spun.areas) == pytest.approx({int(k): v for k, v in told.items()}, abs=KEPT)


def spun_star(pressed: str) -> list[list[int]]:
    """Star seams all the same way round, the last one turning either way at the centre; set-in
    seams open, or towards the diamonds (in), or away from them (out)."""
    found, middle = star(), STAR_MIDDLE
    ways = found.opened
    through = None
    for run, a, b in found.lines:
        at = _middle(a, b)
        if math.dist(at, middle) < 1e-5:
            through = run.choice
            continue
        if min(math.dist(p, middle) for p in (a, b)) < 1e-5:
            to = (at[0] - (at[1] - middle[1]) * 0.3, at[1] + (at[0] - middle[0]) * 0.3)
        elif pressed == "open":
            continue
        else:
            near = min(_diamonds(), key=partial(math.dist, at))
            to = near if pressed == "in" else (2 * at[0] - near[0], 2 * at[1] - near[1])
        ways[run.choice] = found.ways({at: to})[run.choice]
    assert through is not None
    return [[*ways[:through], way, *ways[through + 1 :]] for way in SPUN_WAYS]


@pytest.mark.parametrize("pressed", ["open", "in", "out"])
def test_a_star_lies_flat_when_spun(pressed: str) -> None:
    (case,) = [case for name in TOLD for case in TOLD[name] if name.startswith("8 wedges")]
    (told,) = case["plans"]
    window = square_round(STAR_MIDDLE, 2)
    flat = min((star().layers(ways, window) for ways in spun_star(pressed)), key=lambda m: m.most)
    areas = dict(flat.areas)
    for layers, area in told["areas_by_layers"].items():
        assert areas[int(layers)] == pytest.approx(area, abs=STAR)
    assert flat.most == 8


def test_a_star_spun_with_what_is_set_in_pressed_outwards() -> None:
    """Only this plan does not depend on when the corners are set in: the table has them last."""
    (case,) = TOLD["eight-pointed star, diamond edge 3 in, 8 set-in points"]
    (told,) = [p for p in case["plans"] if p["label"].endswith("squares and triangles")]
    flat = min((star().layers(ways) for ways in spun_star("out")), key=lambda m: m.most)
    areas = dict(flat.areas)
    for layers, area in told["areas_by_layers"].items():
        assert areas[int(layers)] == pytest.approx(area, abs=STAR)
    assert flat.most == 8


def _middle(a: Spot, b: Spot) -> Spot:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _diamonds() -> list[Spot]:
    reach = 3 * math.cos(math.pi / 8)
    turns = [math.pi / 8 * (2 * k + 1) for k in range(8)]
    return [
        (STAR_MIDDLE[0] + reach * math.cos(t), STAR_MIDDLE[1] + reach * math.sin(t)) for t in turns
    ]


def test_slivers_of_kept_corners_are_no_layers() -> None:
    """Turned the other way, slivers under a millionth of a square inch lie ten layers high."""
    ways = star().opened
    middle = STAR_MIDDLE
    for run, a, b in star().lines:
        at = _middle(a, b)
        if math.dist(at, middle) > 1e-5 and min(math.dist(p, middle) for p in (a, b)) < 1e-5:
            to = (at[0] + (at[1] - middle[1]) * 0.3, at[1] - (at[0] - middle[0]) * 0.3)
            ways[run.choice] = star().ways({at: to})[run.choice]
        elif math.dist(at, middle) < 1e-5:
            ways[run.choice] = SPUN
    assert star().layers(ways).most == 8
