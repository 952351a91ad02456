"""The steps of blocks as their sheets number them, for forms to be filled in by testers."""

from __future__ import annotations

from collections.abc import Iterator

from seamproof.booklet.sheets import sheet
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.pressing import press_block
from seamproof.programme.testing import FormRow


def form_rows(work: BlockWork, *, memory: Memory | None = None) -> Iterator[FormRow]:
    """A row for every numbered step on the sheet of a block, and one for the block itself."""
    if work.block is None or work.piecing is None or work.cutting is None:
        return
    pressed = press_block(work, memory=memory)
    model = sheet(
        *(work.block, work.fabrics, work.piecing, work.cutting),
        settings=work.settings,
        proved=True,
        measure=work.measure,
        pressed=pressed.pressed,
        pressing=pressed.settings,
    )
    chapters = (*model.units, *([model.assembly] if model.assembly else []))
    for chapter in chapters:
        for step in chapter.steps:
            yield FormRow(
                block=work.drawing.name,
                step=f"{chapter.title}, {step.number}",
                says=step.text,
                should=step.measure,
            )
    facts = {fact.name: fact.text for fact in model.facts}
    yield FormRow(
        block=work.drawing.name, step="the whole block", should=facts.get("Unfinished", "")
    )
