"""A top of 20 by 20 blocks of twelve kinds: laid, sewn in one plan, opened up to the patches.

The other way is to plan the twelve blocks alone, as if there were no top: what a top costs besides
its blocks is the difference. And beside the plan with equal parts once stands the same top with
every one of its 400 blocks taken for a kind of its own. Promised: the plan of the top takes less
than five seconds.

Then the press plan: every block by its own best plan, the setting by the usual rules; and the
layers of the whole top. Beside it stands what the twelve blocks take alone: their press plans,
which the top shares, and the layers of each. In seconds of the processor.
"""

from __future__ import annotations

import tempfile
from collections import defaultdict
from dataclasses import replace
from fractions import Fraction

from benchmarks.measuring import Row, processor_seconds, seconds
from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from seamproof.draft.understanding import understand
from seamproof.piecing.model import Leaf, PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.plane.predicates import area
from seamproof.pressing.kinds import block_kind
from seamproof.pressing.layers import layer_map
from seamproof.pressing.model import PressSettings
from seamproof.pressing.plans import Desk, seams_of
from seamproof.pressing.sheets import cloth_of
from seamproof.pressing.tabling import tables_of
from seamproof.pressing.top_layers import Laid, lay
from seamproof.project.reading import read_block, read_project
from seamproof.project.starting import copy_demo
from seamproof.setting.assembling import expanded
from seamproof.setting.model import Available, Coping, SetCell, Setting, Strip
from seamproof.setting.seams import presses
from seamproof.setting.top import set_top

MOST_SECONDS = 5.0
KINDS = 12


def run(quick: bool) -> list[Row]:
    """Sizes by blocks in a row; `quick` takes the small one alone."""
    blocks = _blocks()
    return [_row(side, blocks) for side in ((6,) if quick else (6, 20))]


def _blocks() -> tuple[Block, ...]:
    """The demo quilt's blocks, each in a frame of its own size: 12 in cells take them all."""
    with tempfile.TemporaryDirectory() as folder:
        copy_demo(folder)
        found = [
            understand(read_block(path).drawing, None)[0] for path in read_project(folder).blocks
        ]
    whole = [block for block in found if block is not None and block.width == block.height == 12]
    small = [block for block in found if block is not None and block.width != 12]
    return (*whole, *small)[:KINDS]


def _row(side: int, blocks: tuple[Block, ...]) -> Row:
    settings = CuttingSettings()
    names = [block.name for block in blocks]
    layout = tuple(
        tuple(SetCell(names[(r * side + c) % len(names)]) for c in range(side)) for r in range(side)
    )
    sash = Strip(Fraction(2), "f")
    setting = Setting(
        rows=layout, sashing=sash, cornerstones="b", coping=_coping(blocks), triangles="a"
    )
    known = [_available(block, side * side) for block in blocks]
    alone = {block.name: plan(block)[0] for block in blocks}

    def top() -> PiecingPlan:
        made, found = set_top(setting, known, (), settings)
        assert made is not None, found
        return expanded(made.plan, alone)

    twelve = processor_seconds(lambda: [plan(block) for block in blocks], runs=1)
    ours = processor_seconds(top, runs=3)
    apart = processor_seconds(lambda: _apart(setting, known, settings), runs=1)
    made = top()
    patches = sum(part.uses for part in made.parts if isinstance(part.made, Leaf))
    assert ours < MOST_SECONDS
    return Row(
        f"{side} × {side}",
        (
            ("patches", f"{patches:,}"),
            ("parts", f"{len(made.parts):,}"),
            ("steps", f"{made.sessions:,}"),
            ("the top", seconds(ours)),
            ("twelve blocks alone", seconds(twelve)),
            ("every block a kind", seconds(apart)),
            *_pressed(blocks, setting, known, alone),
        ),
    )


def _pressed(
    blocks: tuple[Block, ...],
    setting: Setting,
    known: list[Available],
    alone: dict[str, PiecingPlan],
) -> tuple[tuple[str, str], ...]:
    """How long pressing takes and the layers, of the top and of the twelve blocks alone."""
    settings = PressSettings()
    cloth = {name: cloth_of(made, None, settings) for name, made in alone.items()}
    ways: dict[str, tuple[int, ...]] = {}

    def plans() -> None:
        for block in blocks:
            tables = tables_of(cloth[block.name], float(settings.seam))
            desk = Desk(seams_of(alone[block.name], tables), tables, settings)
            ways[block.name] = desk.best().plan

    def maps() -> None:
        for name, plan_ in ways.items():
            layer_map(cloth[name], plan_, settings)

    def layers() -> Laid:
        kinds = {name: block_kind(cloth[name], ways[name]) for name in ways}
        made, found = set_top(setting, known, (), CuttingSettings())
        assert made is not None, found
        said = presses(made.plan, dict(made.roles))
        return lay(made.plan, kinds, [press.way for press in said], settings)

    planned, mapped = processor_seconds(plans, runs=1), processor_seconds(maps, runs=1)
    whole = processor_seconds(layers, runs=1)
    laid = layers()
    return (
        ("press plans of the twelve", seconds(planned)),
        ("their layers", seconds(mapped)),
        ("layers of the top", seconds(whole)),
        ("windows", f"{len(laid.windows):,} for {len(laid.places):,}"),
    )


def _coping(blocks: tuple[Block, ...]) -> tuple[Coping, ...]:
    return tuple(
        Coping(block.name, (Strip((12 - block.width) / 2, "a"),))
        for block in blocks
        if block.width < 12
    )


def _available(block: Block, copies: int) -> Available:
    shown: dict[str, Fraction] = defaultdict(Fraction)
    for patch in block.patches:
        shown[patch.fabric] += area(block.corners_of(patch))
    return Available(
        block.name, block.width, block.height, copies, fabrics=tuple(sorted(shown.items()))
    )


def _apart(setting: Setting, known: list[Available], settings: CuttingSettings) -> None:
    """The same top with a kind of its own for every block."""
    by_name = {block.name: block for block in known}
    framed = {coping.block: coping for coping in setting.coping}
    rows, blocks, coping = [], [], []
    for r, row in enumerate(setting.rows):
        line = []
        for c, cell in enumerate(row):
            name = f"{cell.name} {r} {c}"
            line.append(replace(cell, name=name))
            blocks.append(replace(by_name[cell.name], name=name, copies=1))
            if cell.name in framed:
                coping.append(Coping(name, framed[cell.name].frames))
        rows.append(tuple(line))
    made, found = set_top(
        replace(setting, rows=tuple(rows), coping=tuple(coping)), blocks, (), settings
    )
    assert made is not None, found
