"""What each panel of a block shows: pictures for the screen, numbers in words, what was found.

Worked out in a worker, one panel after the other, the cheapest first. A panel is plain JSON.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from fractions import Fraction
from typing import Any, Literal

from seamproof.accuracy.model import Maker
from seamproof.answers.drafting import draft_answer
from seamproof.answers.model import noted
from seamproof.answers.pressing import PressAnswer, press_answer
from seamproof.answers.shapes import size_text
from seamproof.booklet.model import Chapter, SheetModel
from seamproof.booklet.sheets import sheet
from seamproof.drawing.inks import SCREEN
from seamproof.drawing.placing import Placed, fitting, place
from seamproof.drawing.svg import written
from seamproof.figures.block import block_scene, seam_lines
from seamproof.figures.cloth import paints
from seamproof.findings import Finding
from seamproof.length.notation import Measure, inches, with_unit
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, StageName, Stop
from seamproof.pipeline.pressing import PressedWork, press_block
from seamproof.pipeline.rehearsing import forecast_block, rehearse_block
from seamproof.pipeline.working import work_block
from seamproof.pressing.model import PlanName, limit_of
from seamproof.project.maker_file import read_maker
from seamproof.project.model import Source

Name = Literal["front", "picture", "pieces", "steps", "proof", "back", "bulk", "fit"]

PANELS: tuple[Name, ...] = (
    "front",
    "picture",
    "pieces",
    "proof",
    "back",
    "bulk",
    "steps",
    "fit",
)
"""The panels of a block, in the order in which they are worked out."""

SIDE = 6.0
"""Inches on the screen of the longer side of a picture of a block, at 96 px to the inch."""

SMALL_SIDE = 2.0
"""The same in a list of blocks."""

FRAME = (420.0, 320.0)
"""Pixels that the picture of a step fits into."""

Panel = dict[str, Any]


@dataclass(frozen=True)
class Wanted:
    """What is asked of a block: the press plan, whose hands, how many makers (0: the answer at
    once), and whether plans are laid beside each other."""

    plan: PlanName = "best"
    maker: str = "everyday"
    makers: int = 0
    compare: bool = False


def panels(
    source: Source,
    names: Sequence[Name],
    wanted: Wanted,
    memory: Memory,
    stop: Stop,
) -> Iterator[tuple[Name, Panel]]:
    """The panels of a block, each as soon as it is there. Raises Stopped if `stop` says so."""
    desk = _Desk(source, wanted, memory, stop)
    for name in PANELS:
        if name in names:
            yield name, _MADE[name](desk)


class _Desk:
    """What was worked out so far for a block; each stage once, and only if it is asked for."""

    def __init__(self, source: Source, wanted: Wanted, memory: Memory, stop: Stop) -> None:
        self.source, self.wanted, self.memory, self.stop = source, wanted, memory, stop
        self._works: dict[StageName, BlockWork] = {}
        self._pressed: PressedWork | None = None

    def work(self, until: StageName) -> BlockWork:
        if until not in self._works:
            self._works[until] = work_block(
                self.source, until=until, memory=self.memory, stop=self.stop
            )
        return self._works[until]

    def pressed(self) -> PressedWork:
        if self._pressed is None:
            self._pressed = press_block(
                self.work("cutting"),
                name=self.wanted.plan,
                compare=self.wanted.compare,
                memory=self.memory,
                stop=self.stop,
            )
        return self._pressed

    def maker(self) -> Maker:
        """Whose hands. Raises InputError if there is no such profile."""
        folder = self.source.project.folder or self.source.path.parent
        return read_maker(folder, self.wanted.maker)

    def sheet(self, how: PressedWork | None = None) -> SheetModel | None:
        """What is printed of the block; with `how` it is pressed, its steps say that too."""
        work = self.work("cutting")
        if work.block is None or work.piecing is None or work.cutting is None:
            return None
        return sheet(
            work.block,
            work.fabrics,
            work.piecing,
            work.cutting,
            settings=work.settings,
            proved=False,
            quilt=work.source.project.name,
            measure=work.measure,
            pressed=None if how is None else how.pressed,
            pressing=None if how is None else how.settings,
        )


# The panels ---------------------------------------------------------------------------------------


def _front(desk: _Desk) -> Panel:
    work = desk.work("draft")
    answer, block = draft_answer(work), work.block
    facts = [["Finished", f"{size_text(*work.drawing.finished, work.measure)} {work.measure}"]]
    if answer.patches is not None:
        facts.append(["Patches", str(answer.patches)])
    if answer.fabrics is not None:
        facts.append(["Fabrics", ", ".join(line.letter.upper() for line in answer.fabrics)])
    panel = _said(work.findings, facts)
    panel["patches"] = [asdict(line) for line in answer.patches_list or ()]
    if block is not None:
        scene = block_scene(block, paints(work.fabrics), measure=work.measure)
        scale = SIDE / float(max(block.width, block.height))
        panel |= _pictured(place(scene, scale, SCREEN), "front")
    return panel


def _picture(desk: _Desk) -> Panel:
    """The block small, for a list of blocks."""
    work = desk.work("draft")
    return _said(work.findings, []) | _small(work)


def small_picture(source: Source) -> str | None:
    """A block small, as SVG; None if it cannot be drawn."""
    found: str | None = _small(work_block(source, until="draft")).get("svg")
    return found


def _small(work: BlockWork) -> Panel:
    """Without letters and measures."""
    if work.block is None:
        return {}
    scene = block_scene(work.block, paints(work.fabrics), lettered=False)
    scale = SMALL_SIDE / float(max(work.block.width, work.block.height))
    return _pictured(place(scene, scale, SCREEN), "small")


def _pieces(desk: _Desk) -> Panel:
    work, model = desk.work("cutting"), desk.sheet()
    if model is None:
        return _said(work.findings, [])
    panel = _said(work.findings, [[fact.name, fact.text] for fact in model.facts])
    panel["title"], panel["lead"] = model.cutting_title, model.cutting_lead
    panel["fabrics"] = [
        {
            "letter": cut.fabric.paint.letter,
            "name": cut.fabric.name,
            "colour": cut.fabric.paint.colour,
            "rows": [asdict(row) for row in cut.rows],
        }
        for cut in model.cutting
    ]
    panel["caution"] = asdict(model.cutter)
    return panel


def _steps(desk: _Desk) -> Panel:
    work, model = desk.work("cutting"), desk.sheet(desk.pressed())
    plan = work.piecing
    facts: list[list[str]] = []
    if plan is not None:
        facts = [
            ["Steps at the machine", str(plan.sessions)],
            ["Corners to set in", str(plan.set_in_points)],
            ["Sets", str(len(plan.rounds))],
        ]
    panel = _said(work.findings, facts)
    frames: list[Panel] = []
    if model is not None:
        for number, chapter in enumerate((*model.units, model.assembly), start=1):
            if chapter is not None:
                frames += _frames(chapter, f"f{number}-")
        panel["cautions"] = [asdict(model.cutter), asdict(model.iron)]
    panel["frames"] = frames
    return panel


def _frames(chapter: Chapter, name: str) -> Iterator[Panel]:
    pictures = [p for step in chapter.steps for p in (step.figure, step.sewn) if p is not None]
    scale = fitting(pictures, *FRAME, SCREEN)
    for step in chapter.steps:
        yield {
            "title": chapter.title,
            "lead": chapter.lead if step.number == 1 else "",
            "number": step.number,
            "set": step.set,
            "begins": step.begins,
            "caption": step.text,
            "measure": step.measure,
            **_pictured(place(step.figure, scale, SCREEN), f"{name}{step.number}-"),
            "sewn": None
            if step.sewn is None
            else written(place(step.sewn, scale, SCREEN), name=f"{name}{step.number}s-"),
        }


def _proof(desk: _Desk) -> Panel:
    work = desk.work("proof")
    grave = any(finding.severity == "error" for finding in work.findings)
    cutting = work.cutting
    facts = []
    if cutting is not None:
        facts.append(["Pieces cut", str(sum(piece.count for piece in cutting.pieces))])
        facts.append(["Steps in all", str(len(cutting.steps))])
    panel = _said(work.findings, facts)
    panel["proved"] = None if cutting is None else not grave
    return panel


def _back(desk: _Desk) -> Panel:
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
    panel = _said(pressed.findings, facts)
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
    frame = _frame(placed, (x + max(xs) * scale, y - min(ys) * scale), scale, mirrored=True)
    return {"svg": written(placed, name="back"), "frame": frame}


def _bulk(desk: _Desk) -> Panel:
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
    panel = _said(pressed.findings, facts)
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
    frame = _frame(placed, (x, y), small * placed.factor, mirrored=False)
    return {"svg": written(placed, name="bulk"), "frame": frame}


def _fit(desk: _Desk) -> Panel:
    maker = desk.maker()
    work = desk.work("cutting")
    if desk.wanted.makers:
        return _rehearsed(desk)
    pressed = desk.pressed()
    plan = None if pressed.pressed is None else pressed.pressed.plan
    told = forecast_block(work, maker, plan)
    facts = [["Whose hands", f"{maker.name}{', an assumption' if maker.assumed else ''}"]]
    if told is not None:
        facts += [
            ["Width", _spread(told.width.mean, told.width.sd, work.measure)],
            ["Height", _spread(told.height.mean, told.height.sd, work.measure)],
            *_within(told.within),
        ]
    panel = _said(pressed.findings, facts)
    panel["rehearsed"] = False
    panel["costs"] = [] if told is None else [[c.source, c.share] for c in told.costs]
    return panel


def _rehearsed(desk: _Desk) -> Panel:
    from seamproof.answers.rehearsing import rehearse_answer
    from seamproof.figures.rehearsal import rehearsal_scene

    work, maker = desk.work("cutting"), desk.maker()
    done = rehearse_block(
        work, maker, makers=desk.wanted.makers, seed=1, memory=desk.memory, stop=desk.stop
    )
    answer, told = rehearse_answer(done, desk.wanted.makers, 1), done.rehearsal
    facts = [["Whose hands", f"{maker.name}{', an assumption' if maker.assumed else ''}"]]
    if told is not None:
        facts += [
            ["Makers", f"{told.makers:,}"],
            ["Width", _spread(told.width.mean, told.width.sd, work.measure)],
            ["Height", _spread(told.height.mean, told.height.sd, work.measure)],
            *_within(told.within),
        ]
    panel = _said(done.findings, facts)
    panel["rehearsed"] = told is not None
    plain = answer.to_json()
    for key in ("costs", "advice", "crossings", "points", "oversize"):
        panel[key] = plain[key] or []
    if told is not None:
        placed = place(rehearsal_scene(told, work.drawing.name, work.measure), 1.0, SCREEN)
        panel |= _pictured(placed, "fit")
    return panel


_MADE: dict[Name, Callable[[_Desk], Panel]] = {
    "front": _front,
    "picture": _picture,
    "pieces": _pieces,
    "steps": _steps,
    "proof": _proof,
    "back": _back,
    "bulk": _bulk,
    "fit": _fit,
}


# Small things -------------------------------------------------------------------------------------


def _said(findings: tuple[Finding, ...], facts: list[list[str]]) -> Panel:
    return {"facts": facts, "findings": notes_of(findings)}


def notes_of(findings: Sequence[Finding]) -> list[Panel]:
    """Findings as plain JSON."""
    return [asdict(note) for note in noted(findings)]


def _pictured(placed: Placed, name: str) -> Panel:
    frame = _frame(placed, placed.zero, placed.factor, mirrored=False)
    return {"svg": written(placed, name=name), "frame": frame}


def _frame(placed: Placed, zero: tuple[float, float], scale: float, *, mirrored: bool) -> Panel:
    """Where the block's (0, 0) lies in a picture and how long its inch is there. Mirrored: a point
    (x, y) of the block is drawn at (zero.x - x * scale, zero.y + y * scale)."""
    return {
        "x": round(zero[0], 3),
        "y": round(zero[1], 3),
        "scale": round(scale, 5),
        "mirrored": mirrored,
        "width": round(placed.width, 2),
        "height": round(placed.height, 2),
    }


def _spread(mean: float, sd: float, measure: Measure) -> str:
    def length(value: float) -> str:
        return with_unit(Fraction(round(value * 1000), 1000), measure)

    return f"{length(mean)}, give or take {length(sd)}"


def _within(within: Sequence[tuple[Fraction, float]]) -> list[list[str]]:
    return [[f"Within {inches(t)} in", f"{100 * share:.0f} of 100"] for t, share in within]
