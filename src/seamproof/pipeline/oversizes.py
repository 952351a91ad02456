"""The oversize that a project leaves to the program: ``oversize: auto``, resolved before cutting.

What can be cut off a unit grows in a straight line with its oversize, so one list of pieces with
the usual oversize is enough to know what any other would bring.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.accuracy.checks import chosen
from seamproof.accuracy.model import Maker
from seamproof.cutting.model import CuttingList, CuttingSettings
from seamproof.findings import Finding, Where
from seamproof.piecing.model import PiecingPlan
from seamproof.pipeline.memory import Memory, Stage
from seamproof.project.maker_file import read_maker
from seamproof.project.model import Source

MAKERS = 10_000
"""Makers who square up: the mark that one in a hundred needs is then known to a few thousandths."""

SEED = 1

Oversizes = tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """All that the oversize depends on: `cutting` is with `usual`, `wanted` says how many of 100
    makers shall square up all units of a kind."""

    plan: PiecingPlan
    cutting: CuttingList
    usual: Oversizes
    wanted: tuple[tuple[str, int], ...]
    seam: Fraction
    step: Fraction
    maker: Maker


OVERSIZE: Stage[Asked, Oversizes] = Stage(
    "oversize", takes=Asked, gives=Oversizes, stands_on=("numpy",)
)


def settled(
    source: Source,
    plan: PiecingPlan,
    cutting: CuttingList,
    settings: CuttingSettings,
    memory: Memory,
) -> tuple[CuttingSettings, tuple[Finding, ...]]:
    """The settings with the oversizes that the project leaves to the program, and what they came
    to. `cutting` is the list with those of `settings`.

    Raises InputError if the project names a maker that there is not.
    """
    project = source.project
    asked = project.preferences.auto
    maker = read_maker(project.folder or source.path.parent, project.preferences.maker)
    told = Asked(
        plan,
        cutting,
        tuple(sorted(settings.oversize.items())),
        asked,
        settings.seam,
        settings.step,
        maker,
    )
    found = memory.recall(OVERSIZE, told, lambda: _enough(told))
    if not found:
        return settings, ()
    where = Where(file=source.drawing.where.file, block=source.drawing.name)
    say = chosen(found, dict(asked), maker, project.preferences.measure, where)
    return replace(settings, oversize={**settings.oversize, **dict(found)}), (say,)


def _enough(told: Asked) -> Oversizes:
    import numpy as np

    from seamproof.accuracy import workshop
    from seamproof.accuracy.oversize import enough

    setup = workshop.Setup(
        told.plan,
        workshop.squarings_of(told.plan, told.cutting, dict(told.usual)),
        workshop.cut_apart_of(told.cutting),
        allowance=float(told.seam),
    )
    return enough(
        setup,
        told.maker,
        np.random.default_rng(SEED),
        dict(told.wanted),
        step=told.step,
        makers=MAKERS,
    )
