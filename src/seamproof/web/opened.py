"""Blocks as the page has them open: read, understood and sketched once for each text."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass

from seamproof.draft.model import Block, Drawing
from seamproof.draft.understanding import understand
from seamproof.errors import InputError
from seamproof.findings import Finding
from seamproof.length.notation import Measure
from seamproof.project.model import Project, Source
from seamproof.project.open_quilt import OpenQuilt
from seamproof.web.sketches import Sketch, sketch_of

MOST_OPEN = 64
"""Texts whose meaning is kept: each edit asks for that of the one before it."""


@dataclass(frozen=True, slots=True)
class Opened:
    """What one text of a block says. `sketch` is a sentence if the page cannot draw it."""

    source: Source
    block: Block | None
    findings: tuple[Finding, ...]
    sketch: Sketch | str

    @property
    def measure(self) -> Measure:
        """What its sizes are written in."""
        return self.source.project.preferences.measure

    @property
    def drawn(self) -> Sketch:
        """Its sketch. Raises InputError if the page cannot draw it."""
        if isinstance(self.sketch, str):
            raise InputError(self.sketch.rstrip("."), mend="open the file in a text editor")
        return self.sketch


class Shelf:
    """The texts that were opened last."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, bytes], tuple[Project, Opened]] = OrderedDict()

    def opened(self, quilt: OpenQuilt, file: str, text: bytes) -> Opened:
        """What a text of a file says in the project as it is. Raises InputError."""
        source = quilt.source(file, text)
        known = self._kept.get((file, text))
        if known is not None and known[0] is source.project:
            self._kept.move_to_end((file, text))
            return known[1]
        block, findings = understood_in(source.project, source.drawing)
        found = Opened(source, block, findings, sketch_of(source.drawing, block))
        self.keep(file, text, found)
        return found

    def keep(self, file: str, text: bytes, found: Opened) -> None:
        """Keep what is known of a text already."""
        self._kept[(file, text)] = (found.source.project, found)
        if len(self._kept) > MOST_OPEN:
            self._kept.popitem(last=False)


def understood_in(project: Project, drawing: Drawing) -> tuple[Block | None, tuple[Finding, ...]]:
    """What a drawing means with the fabrics and the ruler of its project."""
    settings = project.cutting(drawing.methods)
    return understand(drawing, project.letters, step=settings.step, seam=settings.seam)
