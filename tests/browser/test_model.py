"""What the page reckons by itself while one draws, against the program: lengths, patches,
symmetry."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from seamproof.draft.understanding import understand
from seamproof.length.notation import parse
from seamproof.plane.predicates import area
from seamproof.project.reading import read_block
from seamproof.project.starting import copy_demo
from seamproof.web.forms import shown
from seamproof.web.sketches import sketch_of
from tests.browser.conftest import Desk
from tests.web.driving import Server


@pytest.fixture(scope="module")
def sheet(shared: tuple[Server, Path], browser: Any, keys: dict[str, Any]) -> Iterator[Any]:
    desk = Desk(*shared, browser, keys.get("kept"))
    yield desk.page().go("booklet")
    keys["kept"] = desk.kept
    desk.end()


def test_lengths_are_read_as_the_program_reads_them(sheet: Any) -> None:
    texts = ["2 7/8", "2-7/8", "7/8", "2⅞", "⅔", "2.875", "12,5", "0", "5", "10/4", "3 1/3"]
    read = sheet.evaluate(
        """async (texts) => {
            const { parsed } = await import("/static/exact.js");
            return texts.map(parsed).map(({ n, d }) => [String(n), String(d)]);
        }""",
        texts,
    )
    for text, (n, d) in zip(texts, read, strict=True):
        assert Fraction(int(n), int(d)) == parse(text, unit="in", signed=True), text


def test_what_is_no_length_is_none(sheet: Any) -> None:
    read = sheet.evaluate(
        """async () => {
            const { parsed } = await import("/static/exact.js");
            return ["", "x", "1/0", "1 2", "2 7/8 1/2", "1e9", "--1", "½ 3"].map(parsed);
        }"""
    )
    assert read == [None] * 8


def test_a_length_is_written_as_it_is_read(sheet: Any) -> None:
    again = sheet.evaluate(
        """async () => {
            const { parsed } = await import("/static/exact.js");
            const texts = ["2 7/8", "7/8", "0", "-1/2", "3 1/3", "1.25", "0.333333"];
            return texts.map((text) => parsed(text).text);
        }"""
    )
    assert again == ["2 7/8", "7/8", "0", "-1/2", "3 1/3", "1 1/4", "0.333333"]


def test_patches_of_the_demo_are_those_of_the_program(sheet: Any, tmp_path: Path) -> None:
    copy_demo(tmp_path, keep=True)
    seen = 0
    for path in sorted((tmp_path / "blocks").glob("*.yaml")):
        drawing = read_block(path).drawing
        block, _ = understand(drawing)
        assert block is not None
        sketch = sketch_of(drawing, block)
        if isinstance(sketch, str):
            continue
        found = sheet.evaluate(
            """async (sent) => {
                const { opened } = await import("/static/drawing/model.js");
                return opened(sent).plane.faces.map(({ area, fabric }) => [fabric, area]);
            }""",
            shown(sketch, "in"),
        )
        wanted = [(p.fabric, float(area(block.corners_of(p)))) for p in block.patches]
        assert sorted((f, round(a, 4)) for f, a in found) == sorted(
            (f, round(abs(a), 4)) for f, a in wanted
        ), path.stem
        seen += 1
    assert seen >= 12


def test_symmetry_keeps_a_drawing_in_its_place(sheet: Any) -> None:
    """Every way of a symmetry, done as often as it takes, leads back; all ways differ."""
    counts = sheet.evaluate(
        """async () => {
            const { ways, SYMMETRIES } = await import("/static/drawing/symmetry.js");
            const { parsed } = await import("/static/exact.js");
            const drawing = { width: parsed("12"), height: parsed("12") };
            const spot = { x: parsed("1"), y: parsed("2 1/2") };
            return Object.keys(SYMMETRIES).map((name) => {
                const all = ways(name, drawing);
                const spots = all.map((way) => way(spot));
                const places = new Set(spots.map(({ x, y }) => `${x.v} ${y.v}`));
                const back = all.every((way) => {
                    let p = spot;
                    for (let i = 0; i < 4; i += 1) p = way(p);
                    return p.x.v === spot.x.v && p.y.v === spot.y.v;
                });
                return [name, places.size, back];
            });
        }"""
    )
    assert counts == [
        ["none", 1, True],
        ["sides", 2, True],
        ["half", 2, True],
        ["both", 4, True],
        ["turns", 4, True],
        ["eight", 8, True],
    ]


def test_a_hole_belongs_to_the_patch_round_it(sheet: Any) -> None:
    faces = sheet.evaluate(
        """async () => {
            const { divided } = await import("/static/drawing/planar.js");
            const { parsed } = await import("/static/exact.js");
            const p = (x, y) => ({ x: parsed(x), y: parsed(y) });
            const ends = [["1", "1"], ["2", "1"], ["2", "2"], ["1", "2"]];
            const seams = ends.map((a, i) => ({ id: i, a: p(...a), b: p(...ends[(i + 1) % 4]) }));
            const { faces } = divided(4, 4, seams);
            return faces.map(({ area, rings, at }) => [area, rings.length, at]);
        }"""
    )
    (outer, rings, at), (inner, one, middle) = faces
    assert (outer, rings) == (15, 2)
    assert (inner, one) == (1, 1)
    assert middle == [1.5, 1.5]
    assert not (1 < at[0] < 2 and 1 < at[1] < 2)
