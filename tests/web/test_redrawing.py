"""A drawing from the page changes what was drawn, and leaves the rest as it was written."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import seamproof
from seamproof.draft.model import Cells, Drawing, FabricAt, Polygons, Seams
from seamproof.draft.understanding import understand
from seamproof.project.model import Source
from seamproof.project.reading import read_block, read_block_bytes
from seamproof.project.rewriting import rewritten
from seamproof.web.forms import DrawingForm, shown, understood
from seamproof.web.redrawing import in_seams, mirrored, redrawn, turned
from seamproof.web.sketches import Sketch, sketch_of

DEMO = sorted((Path(seamproof.__file__).parent / "project/demo/blocks").glob("*.yaml"))


def opened(path: Path) -> tuple[Source, Sketch]:
    source = read_block(path)
    block, _ = understand(source.drawing)
    sketch = sketch_of(source.drawing, block)
    assert isinstance(sketch, Sketch)
    return source, sketch


def changed(source: Source, before: Sketch, wanted: Sketch) -> Drawing:
    block, _ = understand(source.drawing)
    return redrawn(source.drawing, before, block, wanted, "a").drawing


def fabrics(drawing: Drawing) -> list[str]:
    block, _ = understand(drawing)
    assert block is not None
    return [patch.fabric for patch in block.patches]


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_a_drawing_that_comes_back_as_it_went_changes_nothing(path: Path) -> None:
    source, sketch = opened(path)
    form = DrawingForm.model_validate(shown(sketch, "in"))
    back = understood(form, "in", None)
    assert back == sketch
    drawing = changed(source, sketch, back)
    assert drawing == source.drawing
    assert rewritten(source.text, drawing) == source.text


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_in_seam_lines_it_is_the_same_block(path: Path) -> None:
    source, sketch = opened(path)
    there, _ = understand(source.drawing)
    here, findings = understand(in_seams(source.drawing, sketch).drawing)
    assert there is not None
    assert here is not None
    assert (here.vertices, here.patches) == (there.vertices, there.patches)
    assert [f for f in findings if f.severity == "error"] == []


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_another_fabric_keeps_the_way_of_drawing_where_it_can_be_said(path: Path) -> None:
    source, sketch = opened(path)
    (at, fabric), *others = sketch.patches
    new = "b" if fabric != "b" else "c"
    drawing = changed(source, sketch, replace(sketch, patches=((at, new), *others)))
    units = isinstance(source.drawing.drawn, Cells) and source.drawing.drawn.units
    if not units:  # one copy of a named unit cannot have a fabric of its own
        assert type(drawing.drawn) is type(source.drawing.drawn)
        assert fabrics(drawing) == [new, *fabrics(source.drawing)[1:]]
        text = rewritten(source.text, drawing)
        other = [a for a, b in zip(text.split("\n"), source.lines, strict=True) if a != b]
        assert 1 <= len(other) <= 2, "a patch may reach over two rows"
        assert all(line.startswith("  - ") for line in other)


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_points_of_the_pages_own_name_the_same_patches(path: Path) -> None:
    source, sketch = opened(path)
    nearby = tuple(((x + Fraction(1, 50), y), fabric) for (x, y), fabric in sketch.patches)
    drawing = changed(source, sketch, replace(sketch, patches=nearby))
    assert drawing == source.drawing


def test_another_size_scales_and_another_seam_makes_seams() -> None:
    source, sketch = opened(next(path for path in DEMO if path.stem == "lit-window"))
    twice = replace(
        sketch,
        size=(sketch.size[0] * 2, sketch.size[1] * 2),
        seams=tuple(((a[0] * 2, a[1] * 2), (b[0] * 2, b[1] * 2)) for a, b in sketch.seams),
        patches=tuple(((x * 2, y * 2), fabric) for (x, y), fabric in sketch.patches),
    )
    drawing = changed(source, sketch, twice)
    assert isinstance(drawing.drawn, Cells)
    assert drawing.finished == twice.size
    fewer = replace(sketch, seams=sketch.seams[1:])
    assert isinstance(changed(source, sketch, fewer).drawn, Seams)


def test_polygons_stay_polygons_in_another_size() -> None:
    source, sketch = opened(next(p for p in DEMO if p.stem == "cardinal-mark-straight-seams"))
    half = replace(
        sketch,
        size=(sketch.size[0] / 2, sketch.size[1] / 2),
        seams=tuple(((a[0] / 2, a[1] / 2), (b[0] / 2, b[1] / 2)) for a, b in sketch.seams),
        patches=tuple(((x / 2, y / 2), fabric) for (x, y), fabric in sketch.patches),
    )
    drawing = changed(source, sketch, half)
    assert isinstance(drawing.drawn, Polygons)
    assert fabrics(drawing) == fabrics(source.drawing)


def test_a_block_without_seams_is_one_patch_and_one_without_fabrics_gets_one() -> None:
    source, sketch = opened(DEMO[0])
    bare = replace(sketch, seams=(), patches=())
    drawing = changed(source, sketch, bare)
    assert isinstance(drawing.drawn, Cells)
    assert fabrics(drawing) == ["a"]
    loose = replace(sketch, patches=())
    drawn = changed(source, sketch, loose).drawn
    assert isinstance(drawn, Seams)
    assert [fabric.fabric for fabric in drawn.fabrics] == ["a"]
    assert isinstance(drawn.fabrics[0], FabricAt)


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_four_turns_and_two_mirrors_are_none(path: Path) -> None:
    _, sketch = opened(path)
    assert turned(turned(turned(turned(sketch, 1), 1), 1), 1) == sketch
    assert turned(sketch, 4) == turned(sketch, 0) == sketch
    assert turned(sketch, -1) == turned(sketch, 3)
    assert mirrored(mirrored(sketch)) == sketch
    # Mirrored left to right, then upside down: half a turn.
    upside_down = turned(mirrored(turned(mirrored(sketch), 1)), -1)
    assert upside_down == turned(sketch, 2)


def test_what_is_fixed_turns_along() -> None:
    text = b"""name: Pair
finished: 6
seams:
  lines:
    - [[2, 0], [2, 6]]
  fabrics:
    - {fabric: a, at: [1, 3]}
    - {fabric: b, at: [5, 3]}
press:
  - {seam: [[2, 0], [2, 6]], towards: [1, 3]}
"""
    source = read_block_bytes(text, "pair.yaml")
    block, _ = understand(source.drawing)
    sketch = sketch_of(source.drawing, block)
    assert isinstance(sketch, Sketch)
    once = turned(sketch, 1)
    fixing = once.fixings[0]
    assert fixing.line == ((6, 2), (0, 2))
    assert fixing.towards == (3, 1)
    assert mirrored(sketch).fixings[0].towards == (5, 3)


SPOTS = st.fractions(min_value=0, max_value=12, max_denominator=64)


@given(x=SPOTS, y=SPOTS, measure=st.sampled_from(["in", "cm"]))
def test_lengths_come_back_exactly(x: Fraction, y: Fraction, measure: str) -> None:
    line = ((Fraction(0), Fraction(0)), (x, y))
    if line[0] == line[1]:
        return
    sketch = Sketch("One", (Fraction(12), Fraction(12)), (line,), (((x, y), "a"),))
    form = DrawingForm.model_validate(shown(sketch, measure))  # type: ignore[arg-type]
    assert understood(form, measure, None) == sketch  # type: ignore[arg-type]
