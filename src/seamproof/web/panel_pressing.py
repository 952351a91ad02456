"""The panels of the back and of the bulk: how each seam lies, and how thick the block gets."""

from __future__ import annotations

from seamproof.answers.pressing import PressAnswer, press_answer
from seamproof.drawing.inks import SCREEN
from seamproof.drawing.placing import place
from seamproof.drawing.svg import written
from seamproof.figures.block import seam_lines
from seamproof.figures.cloth import paints
from seamproof.pipeline.pressing import PressedWork
from seamproof.pressing.model import limit_of
from seamproof.web.panel_desk import SIDE, Desk, Panel, frame_of, said


def back(desk: Desk) -> Panel:
    """The block from the back, every seam with its way and its reason, plans beside each other."""
    pressed = desk.pressed()
    answer = press_answer(pressed, desk.wanted.plan)
    facts = []
    if answer.seams is not None:
        facts = [
            ["Seams to press", str(len(answer.seams))],
            ["As is usual", f"{answer.usual} of {len(answer.seams)}"],
            ["Crossings that nest", f"{answer.nested} of {answer.crossings}"],
            ["Thickest", f"{answer.max_layers} layers, {answer.max_mm:.2f} mm"],
        ]
    panel = said(pressed.findings, facts)
    panel["plan"] = desk.wanted.plan
    plain = answer.to_json()
    panel["seams"], panel["plans"] = plain["seams"] or [], plain["plans"] or []
    panel["proved"], panel["missed"] = answer.proved, list(answer.missed or ())
    panel["wishes"] = plain["wishes"] or []
    if pressed.pressed is not None:
        panel |= _back_picture(answer)
    return panel


def _back_picture(answer: PressAnswer) -> Panel:
    from seamproof.figures.back import back_scene
    from seamproof.figures.press_signs import press_signs
    from seamproof.pressing.folding import seen
    from seamproof.pressing.sheets import cloth_of

    work, pressed = answer.work.work, answer.work.pressed
    assert work.block is not None
    assert work.piecing is not None
    assert pressed is not None
    cloth = cloth_of(work.piecing, work.cutting, answer.work.settings)
    lying = seen(cloth.sheets, pressed.ways)
    signs = press_signs(work.piecing, work.piecing.whole, pressed.plan.presses)
    scene = back_scene(cloth, lying, seam_lines(work.block), paints(work.fabrics), SIDE, signs)
    placed = place(scene, 1.0, SCREEN)
    xs, ys = [x for x, _ in cloth.raw], [y for _, y in cloth.raw]
    scale = SIDE / max(max(xs) - min(xs), max(ys) - min(ys)) * placed.factor
    x, y = placed.zero
    frame = frame_of(placed, (x + max(xs) * scale, y - min(ys) * scale), scale, mirrored=True)
    return {"svg": written(placed, name="back"), "frame": frame}


def bulk(desk: Desk) -> Panel:
    """The layer map and the thick spots."""
    pressed = desk.pressed()
    answer = press_answer(pressed, desk.wanted.plan)
    settings = pressed.settings
    limit = limit_of(settings)
    facts = []
    if answer.max_layers is not None and answer.thick_spots is not None:
        facts = [
            ["Thickest", f"{answer.max_layers} layers, {answer.max_mm:.2f} mm"],
            ["Limit", f"{limit} layers"],
            ["Places above it", str(len(answer.thick_spots))],
        ]
    panel = said(pressed.findings, facts)
    plain = answer.to_json()
    panel |= {
        "plan": desk.wanted.plan,
        "limit": limit,
        "max_layers": answer.max_layers,
        "max_mm": answer.max_mm,
        "max_at": plain["max_at"],
        "spots": plain["thick_spots"] or [],
        "areas": plain["layers_area"] or {},
    }
    if pressed.pressed is not None:
        panel |= _bulk_picture(pressed, limit)
    return panel


def _bulk_picture(pressed: PressedWork, limit: int) -> Panel:
    from seamproof.figures.bulk import CLOSE, GAP, LARGE, SMALL, bulk_scene

    block = pressed.work.block
    assert block is not None
    assert pressed.pressed is not None
    outline = tuple((float(x), float(y)) for x, y in (block.vertices[v] for v in block.outline))
    size = (float(block.width), float(block.height))
    scene = bulk_scene(pressed.pressed.layers, outline, size, limit, block.name)
    placed = place(scene, 0.9, SCREEN)
    # The whole block is the smaller of the two maps.
    edge = CLOSE / 8
    small = SMALL / max(size[0] + 2 * edge, size[1] + 2 * edge)
    x = placed.zero[0] + (LARGE + GAP + edge * small) * placed.factor
    y = placed.zero[1] + edge * small * placed.factor
    frame = frame_of(placed, (x, y), small * placed.factor, mirrored=False)
    return {"svg": written(placed, name="bulk"), "frame": frame}
