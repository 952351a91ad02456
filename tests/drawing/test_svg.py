"""Pictures as text that a person can read.

`tests/golden/drawing/<case>.svg` is what is written. After a change that is meant, run with
``SEAMPROOF_ACCEPT=1`` and look at the difference.
"""

from __future__ import annotations

import difflib
import os
import re
import xml.etree.ElementTree as ET

import pytest

from seamproof.drawing.inks import PRINT, SCREEN
from seamproof.drawing.scene import Cloth, Dimension, Letter, Paint, Scene, Stroke
from seamproof.drawing.svg import svg
from tests.cast import GOLDEN

MIST, BLUE = Paint("A", "#F2EFE6"), Paint("B", "#26587D")
UPPER, LOWER = ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), ((1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))

SCENES = {
    "half_square": Scene(
        (
            Cloth(UPPER, MIST),
            Cloth(LOWER, BLUE),
            Stroke("seam", ((1.0, 0.0), (0.0, 1.0))),
            Stroke("outline", SQUARE, closed=True),
            Letter((0.3, 0.3), "A", 0.29),
            Dimension((1.0, 1.0), (0.0, 1.0), "1 1/2 in"),
        ),
        "A & B",
    ),
    "stitched": Scene(
        (
            Cloth(SQUARE, MIST, slip=3.4),
            Cloth(SQUARE, BLUE, "wrong"),
            Stroke("stitching", ((0.9, 0.0), (0.0, 0.9))),
            Stroke("cut", ((1.0, 0.0), (0.0, 1.0))),
        )
    ),
}


def differences(expected: str, written: str) -> list[str]:
    return list(
        difflib.unified_diff(expected.splitlines(), written.splitlines(), "expected", "now")
    )


@pytest.mark.parametrize("case", SCENES)
def test_what_is_written(case: str) -> None:
    written = svg(SCENES[case], 0.5) + "\n"
    golden = GOLDEN / "drawing" / f"{case}.svg"
    if os.environ.get("SEAMPROOF_ACCEPT"):
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(written, encoding="utf-8")
    diff = differences(golden.read_text(encoding="utf-8"), written)
    assert not diff, "\n".join(diff)


def test_the_comparison_can_fail() -> None:
    assert differences("<svg/>", "<svg />")


@pytest.mark.parametrize("case", SCENES)
def test_nothing_but_paths_and_text(case: str) -> None:
    root = ET.fromstring(svg(SCENES[case], 0.5, SCREEN))
    names = {element.tag.rpartition("}")[2] for element in root.iter()}
    assert names <= {"svg", "path", "g", "clipPath", "circle", "text", "tspan"}
    assert root.get("width", "").endswith("px")


def test_two_pictures_in_one_page_share_no_id() -> None:
    one, two = (svg(SCENES["half_square"], 0.5, name=name) for name in ("a-", "b-"))

    def ids(text: str) -> set[str]:
        return {i for element in ET.fromstring(text).iter() if (i := element.get("id"))}

    assert ids(one)
    assert not ids(one) & ids(two)


def hatch_spots(text: str) -> list[tuple[float, float]]:
    """Every point that a hatch passes: the open paths inside clips."""
    found = []
    for group in ET.fromstring(text).iter("{http://www.w3.org/2000/svg}g"):
        for path in group:
            for run in re.findall(r"M([^Ml]+)l([^M]+)", path.get("d", "")):
                x, y = map(float, run[0].split())
                found.append((x, y))
                steps = [float(n) for n in re.findall(r"-?[\d.]+", run[1])]
                for dx, dy in zip(steps[::2], steps[1::2], strict=True):
                    x, y = x + dx, y + dy
                    found.append((x, y))
    return found


@pytest.mark.parametrize("letter", "ABCDEFGHJKLM")
def test_a_hatch_ends_with_its_cloth(letter: str) -> None:
    """But for the dash or dot that lies over the edge, and what it is rounded to."""
    apart = tuple((x + 3.0, y) for x, y in SQUARE)
    paint = Paint(letter, "#F2EFE6")
    written = svg(Scene((Cloth(SQUARE, paint), Cloth(apart, paint))), 1.0)
    spots = hatch_spots(written) or [(0.0, 0.0)]
    reach = PRINT.pitch
    low, high = PRINT.margin - reach, PRINT.margin + 72 + reach
    assert all(low < y < high for _, y in spots)
    assert all(low < x < high or low + 216 < x < high + 216 for x, _ in spots)


def test_the_same_scene_gives_the_same_bytes() -> None:
    assert svg(SCENES["stitched"], 0.37) == svg(SCENES["stitched"], 0.37)
