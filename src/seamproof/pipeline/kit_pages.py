"""Kits on paper: sheets for the cutting room, the bag list, a label for every bag."""

from __future__ import annotations

from collections.abc import Sequence

from seamproof.booklet.kit_pages import Bolted, InBag, Run, kit_document
from seamproof.booklet.plain_pages import composed
from seamproof.pipeline.kits import KitsWork


def kit_pages(work: KitsWork, bag: Sequence[InBag]) -> bytes:
    """The pages as a PDF, on the paper of the project."""
    what = f"release {work.release}" if work.release else "the whole quilt"
    if work.project.name != work.name:
        what = work.name
    elif work.release and len(work.works) == 1:
        what += f", {work.works[0].drawing.name}"
    run = Run(
        quilt=work.project.name or work.name,
        what=what,
        kits=work.kits,
        level=work.level,
        measure=work.measure,
        buying=work.buying,
        one_lot=work.project.programme.one_lot if work.project.programme else (),
    )
    fabrics = [Bolted(one.fabric, one.pool.kinds, one.kit, one.bolts) for one in work.fabrics]
    return composed(kit_document(run, fabrics, bag), work.project.preferences.sheet)
