"""The panel of the fit: how the block comes out in real hands, at once or rehearsed."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamproof.drawing.inks import SCREEN
from seamproof.drawing.placing import place
from seamproof.length.notation import Measure, inches, with_unit
from seamproof.pipeline.rehearsing import forecast_block, rehearse_block
from seamproof.web.panel_desk import Desk, Panel, pictured, said


def fit(desk: Desk) -> Panel:
    """The answer at once; the whole rehearsal if a number of makers is asked for."""
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
    panel = said(pressed.findings, facts)
    panel["rehearsed"] = False
    panel["costs"] = [] if told is None else [[c.source, c.share] for c in told.costs]
    return panel


def _rehearsed(desk: Desk) -> Panel:
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
    panel = said(done.findings, facts)
    panel["rehearsed"] = told is not None
    plain = answer.to_json()
    for key in ("costs", "advice", "crossings", "points", "oversize"):
        panel[key] = plain[key] or []
    if told is not None:
        placed = place(rehearsal_scene(told, work.drawing.name, work.measure), 1.0, SCREEN)
        panel |= pictured(placed, "fit")
    return panel


def _spread(mean: float, sd: float, measure: Measure) -> str:
    def length(value: float) -> str:
        return with_unit(Fraction(round(value * 1000), 1000), measure)

    return f"{length(mean)}, give or take {length(sd)}"


def _within(within: Sequence[tuple[Fraction, float]]) -> list[list[str]]:
    return [[f"Within {inches(t)} in", f"{100 * share:.0f} of 100"] for t, share in within]
