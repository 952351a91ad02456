"""Where seams begin, turn and stop; and that their pictures say so. The blocks are the demo's."""

from __future__ import annotations

import functools
import itertools
import math
from fractions import Fraction
from pathlib import Path

import pytest

import seamproof.project
from seamproof.booklet.assembly_chapter import sewn_sets
from seamproof.cutting.model import CuttingList
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import fitting, place
from seamproof.drawing.scene import Cross, Dimension, Dot, Numeral, Scene, Spot, Stroke
from seamproof.figures.cloth import paints
from seamproof.figures.runs import (
    Run,
    clipped,
    dots_of,
    open_behind,
    runs_of,
    stop_length,
    stops_of,
    turns_of,
)
from seamproof.figures.steps import marked_scene, sewn_scene
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block
from tests.worked_out import memory

DEMO = Path(seamproof.project.__file__).parent / "demo" / "blocks"
SEAM = Fraction(1, 4)


@functools.cache
def worked(name: str) -> BlockWork:
    return work_block(read_block(DEMO / f"{name}.yaml"), memory=memory())


def told(name: str) -> tuple[PiecingPlan, CuttingList]:
    work = worked(name)
    assert work.piecing is not None
    assert work.cutting is not None
    return work.piecing, work.cutting


@functools.cache
def runs_by_part(name: str) -> dict[int, tuple[Run, ...]]:
    plan, cutting = told(name)
    sewn = itertools.chain(*sewn_sets(plan, cutting))
    return {s.part: runs_of(plan, s.part, s.step) for s in sewn}


def set_in(name: str) -> list[int]:
    """The parts whose seams turn a corner."""
    plan, _ = told(name)
    joins = ((i, part.made) for i, part in enumerate(plan.parts))
    return [i for i, made in joins if isinstance(made, Join) and made.set_in]


def of_kind(scene: Scene, kind: type) -> list:  # type: ignore[type-arg]
    return [shape for shape in scene.shapes if isinstance(shape, kind)]


def marked(name: str, part: int) -> Scene:
    plan, _ = told(name)
    shown = paints(worked(name).fabrics)
    names = {i: f"step {i}" for i in range(len(plan.parts))}
    return marked_scene(plan, part, shown, names, runs_by_part(name)[part], SEAM, "in")


def sewn(name: str, part: int) -> Scene:
    plan, _ = told(name)
    shown = paints(worked(name).fabrics)
    return sewn_scene(plan, part, shown, runs_by_part(name)[part], SEAM)


STAR = set_in("cardinal-mark")


def test_the_star_has_corners_to_set_in() -> None:
    plan, _ = told("cardinal-mark")
    corners = sum(turns_of(runs_by_part("cardinal-mark")[p]) * plan.parts[p].uses for p in STAR)
    assert corners == plan.set_in_points == 8


@pytest.mark.parametrize("part", STAR)
def test_runs_follow_each_other_from_dot_to_dot(part: int) -> None:
    runs = runs_by_part("cardinal-mark")[part]
    assert len(runs) == turns_of(runs) + 1 in (2, 3)
    assert (runs[0].begins, runs[-1].ends) == ("edge", "edge")
    for a, b in itertools.pairwise(runs):
        assert (a.ends, b.begins) == ("dot", "dot")
        assert a.line[1] == b.line[0]
    made = told("cardinal-mark")[0].parts[part].made
    assert isinstance(made, Join)
    assert dots_of(runs) == made.set_in


@pytest.mark.parametrize("part", STAR)
def test_both_parts_carry_the_dots_a_seam_from_both_edges(part: int) -> None:
    scene = marked("cardinal-mark", part)
    dots = of_kind(scene, Dot)
    assert len(dots) == 2 * len(dots_of(runs_by_part("cardinal-mark")[part]))
    rims = [s.points for s in of_kind(scene, Stroke) if s.kind == "unfinished"]
    assert len(rims) == 2
    for dot in dots:
        rim = min(rims, key=lambda rim: min(math.dist(dot.at, corner) for corner in rim))
        k = min(range(len(rim)), key=lambda k: math.dist(dot.at, rim[k]))
        for edge in ((rim[k - 1], rim[k]), (rim[k], rim[(k + 1) % len(rim)])):
            assert away(dot.at, edge) == pytest.approx(0.25, abs=1e-4)


def away(spot: Spot, edge: tuple[Spot, Spot]) -> float:
    """Distance from the straight line of an edge."""
    (ax, ay), (bx, by) = edge
    across = (bx - ax) * (spot[1] - ay) - (by - ay) * (spot[0] - ax)
    return abs(across) / math.dist(*edge)


@pytest.mark.parametrize("part", STAR)
def test_the_sewn_picture_numbers_the_runs_in_their_order(part: int) -> None:
    runs = runs_by_part("cardinal-mark")[part]
    scene = sewn("cardinal-mark", part)
    numerals = of_kind(scene, Numeral)
    assert [n.text for n in numerals] == [str(i + 1) for i in range(len(runs))]
    stitched = [s for s in of_kind(scene, Stroke) if s.kind == "stitching"]
    ends = [(s.points[0], s.points[-1]) for s in stitched]
    assert ends == [(n.start, n.end) for n in numerals]
    assert len(of_kind(scene, Dot)) == len(dots_of(runs))
    assert not of_kind(scene, Cross)


@pytest.mark.parametrize("part", STAR)
@pytest.mark.parametrize("drawn", [marked, sewn])
def test_nothing_in_these_pictures_meets(part: int, drawn) -> None:  # type: ignore[no-untyped-def]
    scene = drawn("cardinal-mark", part)
    assert clashes(place(scene, fitting([scene], 159, 104))) == ()


def test_seams_before_a_corner_begin_at_its_dot() -> None:
    """Stitching over it would close the corner that is set in later."""
    runs = runs_by_part("cardinal-mark")
    straight = [some for part, some in runs.items() if part not in STAR]
    assert straight
    assert all(len(dots_of(some)) == 1 for some in straight)


def test_a_seam_in_two_goes_stops_at_a_cross_and_goes_on_there() -> None:
    plan, _ = told("capstan")
    runs = runs_by_part("capstan")
    (begun,) = [p for p in runs if isinstance(plan.parts[p].made, Join) and stops_of(runs[p])]
    (finish,) = [p for p in runs if isinstance(plan.parts[p].made, Finish)]
    (first,), (second,) = runs[begun], runs[finish]
    assert (first.begins, first.ends) == ("edge", "stop")
    assert (second.begins, second.ends) == ("stop", "edge")
    assert first.last_crossing
    assert stop_length(first, "in") == 1
    scene = marked("capstan", begun)
    assert len(of_kind(scene, Cross)) == 2  # one on either part
    (measure,) = of_kind(scene, Dimension)
    assert measure.text == "1 in"
    assert math.dist(measure.start, measure.end) == pytest.approx(1)
    assert len(of_kind(sewn("capstan", finish), Cross)) == 1


def test_the_end_of_an_open_seam_is_folded_back_once() -> None:
    plan, _ = told("capstan")
    runs = runs_by_part("capstan")
    assert [p for p in runs if open_behind(plan, p, runs[p])] == [
        p for p in runs if isinstance(plan.parts[p].made, Join) and dots_of(runs[p])
    ]


def test_a_corner_of_a_single_patch_would_be_clipped() -> None:
    """In the star every inner corner lies between two patches, whose seam stops at the dot."""
    plan, _ = told("cardinal-mark")
    runs = runs_by_part("cardinal-mark")
    assert not any(clipped(plan, part, runs[part]) for part in runs)


@pytest.mark.parametrize("name", sorted(path.stem for path in DEMO.glob("*.yaml")))
def test_seams_without_corners_run_from_edge_to_edge(name: str) -> None:
    if name in ("cardinal-mark", "capstan"):
        assert any(dots_of(runs) for runs in runs_by_part(name).values())
        return
    for runs in runs_by_part(name).values():
        assert [(run.begins, run.ends) for run in runs] == [("edge", "edge")]
