"""The picture of a top's bulk."""

from __future__ import annotations

from seamproof.cutting.model import CuttingSettings
from seamproof.drawing.scene import Count, Label, Scene, Stroke, Tone
from seamproof.figures.top_bulk import top_bulk_scene
from seamproof.pressing.model import PressSettings
from seamproof.pressing.top_layers import lay
from seamproof.pressing.top_map import top_layers
from seamproof.setting.model import Available, Setting, Strip
from seamproof.setting.top import set_top
from tests.pressing.sewn_tops import SETTINGS, SewnTop, layout


def drawn(limit: int) -> Scene:
    setting = Setting(
        rows=layout("Star Steps", "Rail Star"),
        sashing=Strip(SETTINGS.seam * 4, "f"),
        cornerstones="b",
    )
    sewn = SewnTop(setting)
    known = [Available(n, k, k, 9) for n in sewn.kinds for k in (SETTINGS.seam * 24,)]
    top, _ = set_top(setting, known, (), CuttingSettings())
    assert top is not None
    settings = PressSettings(limit=limit, limit_mm=9.0)
    laid = lay(sewn.plan, sewn.kinds, sewn.ways, settings)
    return top_bulk_scene(laid, top_layers(laid, settings), top, limit, 0.5)


def test_every_count_has_its_tone_and_spots_are_numbered() -> None:
    scene = drawn(6)
    tones = {shape.colour for shape in scene.shapes if isinstance(shape, Tone)}
    assert len(tones) >= 6
    rings = [s for s in scene.shapes if isinstance(s, Stroke) and s.kind == "enlarged"]
    numbers = [s for s in scene.shapes if isinstance(s, Count) and s.colour == "#FFFFFF"]
    assert len(rings) > 1
    assert {str(n) for n in range(1, len(rings) + 1)} <= {n.text for n in numbers}


def test_without_thick_spots_the_thickest_place_is_ringed() -> None:
    scene = drawn(20)
    rings = [s for s in scene.shapes if isinstance(s, Stroke) and s.kind == "enlarged"]
    assert len(rings) == 1
    words = [s.text for s in scene.shapes if isinstance(s, Label)]
    assert any("No place lies in more than 20 layers" in text for text in words)
