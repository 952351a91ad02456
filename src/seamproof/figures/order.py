"""All steps at the machine in one picture, in the order of sewing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from seamproof.drawing.scene import Label, Scene, Stroke, extent
from seamproof.figures.cloth import Paints, spots
from seamproof.figures.press_signs import own_signs
from seamproof.figures.steps import join_scene, part_scene
from seamproof.piecing.model import Finish, Leaf, PiecingPlan
from seamproof.pressing.model import Press

ACROSS = 4
"""Steps in a row: with more a letter would be larger than a patch."""

ROOM, HEAD, FOOT = 0.42, 0.3, 0.22
"""Room beside a step, above it and below it, for its number and the names of its parts, as shares
of the block's side."""


def order_scene(plan: PiecingPlan, paints: Paints, presses: Sequence[Press] | None = None) -> Scene:
    """Every join and finish of a plan, numbered, row by row. A block of one patch has none.

    Patches are called by their fabric's letter and parts by the step that gave them. With `presses`
    the seams bear their press signs.
    """
    steps = [n for turn in plan.rounds for n in turn]
    number = {part: i for i, part in enumerate(steps, start=1)}
    names = {part: f"step {i}" for part, i in number.items()}
    for i, some in enumerate(plan.parts):
        if isinstance(some.made, Leaf):
            names[i] = paints[some.made.fabric].letter
    if not steps:
        return Scene((), "nothing to sew")
    side = _side(plan)
    whole = Scene(())
    y = 0.0
    for row in (steps[i : i + ACROSS] for i in range(0, len(steps), ACROSS)):
        scenes = [_step(plan, part, paints, names, presses) for part in row]
        reaches = [extent(scene.shapes) for scene in scenes]
        for i, (part, scene, ((a, b), _)) in enumerate(zip(row, scenes, reaches, strict=True)):
            x = i * side * (1 + ROOM)
            head = Label((x, y), str(number[part]), "start")
            whole += Scene((head, *scene.moved(x - a, y - b + side * HEAD).shapes))
        y += max(d - b for (_, b), (_, d) in reaches) + side * (HEAD + FOOT)
    return Scene(whole.shapes, f"{len(steps)} steps at the machine, in order")


def _step(
    plan: PiecingPlan,
    part: int,
    paints: Paints,
    names: Mapping[int, str],
    presses: Sequence[Press] | None,
) -> Scene:
    made = plan.parts[part].made
    if isinstance(made, Finish):
        runs = tuple(Stroke("stitching", spots(run)) for run in made.seam)
        signs = own_signs(plan, part, presses or ())
        return Scene((*part_scene(plan, part, paints).shapes, *runs, *signs))
    return join_scene(plan, part, paints, names, presses)


def _side(plan: PiecingPlan) -> float:
    outline = plan.parts[plan.whole].outline
    xs, ys = [float(x) for x, _ in outline], [float(y) for _, y in outline]
    return max(max(xs) - min(xs), max(ys) - min(ys))
