"""What can be asked and done at one block."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import Field
from starlette.requests import Request
from starlette.responses import Response

from seamproof.draft.model import Block, Cells, Drawing, Written
from seamproof.errors import InputError
from seamproof.findings import Where
from seamproof.length.exact import CM
from seamproof.length.notation import Measure
from seamproof.project import limits
from seamproof.project.model import Source
from seamproof.project.open_quilt import OpenQuilt, Stale, revision
from seamproof.project.quilt_editing import renamed, with_block
from seamproof.project.quilt_file import QUILT_FILE, slug
from seamproof.project.rewriting import rewritten
from seamproof.project.writing import write_block
from seamproof.web.answering import Gone, base_of, form, host_of, told
from seamproof.web.forms import (
    DrawingForm,
    Form,
    PressForm,
    pressing,
    shown,
    understood,
    with_fixing,
)
from seamproof.web.host import Host, Texts, now, texts_of
from seamproof.web.opened import Opened
from seamproof.web.panel_desk import notes_of
from seamproof.web.panels import small_picture
from seamproof.web.redrawing import in_seams, mirrored, redrawn, turned
from seamproof.web.sketches import Sketch

NEW_SIZE: dict[Measure, Fraction] = {"in": Fraction(12), "cm": 30 * CM}
"""The side of a new block until its maker says another: sizes of the trade."""

Step = Annotated[str, Field(min_length=1, max_length=limits.NAME_LENGTH)]
Title = Annotated[str, Field(min_length=1, max_length=limits.NAME_LENGTH)]


class SaveForm(Form):
    """A drawing to be saved, and what the step is called."""

    what: Step
    drawing: DrawingForm


class NewForm(Form):
    """A block to begin, empty or as a copy."""

    what: Literal["new", "copy"]
    name: Title
    source: Annotated[str | None, Field(alias="from", max_length=limits.NAME_LENGTH)] = None


class RenameForm(Form):
    """A new title."""

    to: Title


class TurnForm(Form):
    """Quarters clockwise as seen."""

    quarters: Annotated[int, Field(ge=-3, le=3)] = 1


class NothingForm(Form):
    """Nothing more to say."""


class FixingForm(PressForm):
    """How one seam shall be pressed; `way` null takes the fixing away."""

    way: Literal["open", "towards", "spin"] | None = None


@dataclass(frozen=True)
class _There:
    """A block that is there, and what its text says."""

    texts: Texts
    opened: Opened


def _opened(host: Host, quilt: OpenQuilt, name: str) -> _There:
    try:
        texts = texts_of(quilt, name)
    except InputError as problem:
        raise Gone(problem.what, mend=problem.mend) from problem
    return _There(texts, host.shelf.opened(quilt, texts.file, texts.text))


async def block(request: Request) -> Response:
    """GET a block: its drawing, or why the page cannot draw it."""
    host, name = host_of(request), request.path_params["name"]

    def read(quilt: OpenQuilt) -> dict[str, Any]:
        try:
            there = _opened(host, quilt, name)
        except Gone:
            raise
        except InputError as problem:
            texts = texts_of(quilt, name)
            said = f"{problem.place}: {problem.what}. {problem.mend}"
            return _told(texts, None, said)
        sketch = there.opened.sketch
        if isinstance(sketch, str):
            return _told(there.texts, None, sketch)
        return _told(there.texts, shown(sketch, there.opened.measure), True)

    found = await host.do(read)
    await host.begin(name)
    return told(found)


def _told(texts: Texts, drawing: dict[str, Any] | None, can_draw: str | bool) -> dict[str, Any]:
    return {
        "name": texts.name,
        "revision": revision(texts.text),
        "drawing": drawing,
        "can_draw": can_draw,
    }


async def save(request: Request) -> Response:
    """PUT a drawing."""
    asked = await form(request, SaveForm)

    def change(opened: Opened) -> _Change:
        before = None if isinstance(opened.sketch, str) else opened.sketch
        return _Change(understood(asked.drawing, opened.measure, before))

    return await _changed(request, asked.what, change)


@dataclass(frozen=True)
class _Change:
    """What a block shall be: as a sketch, or, if its drawing stays, as a drawing."""

    sketch: Sketch | None = None
    drawing: Drawing | None = None


async def _changed(request: Request, what: str, change: Callable[[Opened], _Change]) -> Response:
    """Save what a change makes of a block; if it was made to another text, keep and tell both."""
    host, name, base = host_of(request), request.path_params["name"], base_of(request)

    def write(quilt: OpenQuilt) -> dict[str, Any]:
        there = _opened(host, quilt, name)
        texts, before = there.texts, there.opened
        after = _after(host, quilt, texts.file, before, change(before))
        mark = base
        if after.source.text != before.source.text or revision(texts.text) != base:
            text = after.source.text.encode()
            try:
                mark = quilt.save(texts.file, text, base=base, what=what, at=now())
            except Stale as stale:
                raise _Both(stale, after) from stale
        found = {"revision": mark, "findings": notes_of(after.findings), "file": texts.file}
        return found | history_of(quilt)

    try:
        found = await host.do(write)
    except _Both as both:
        return await _stale(host, both)
    file = found.pop("file")
    found["saved"] = host.tell_saved()
    await host.changed((file,))
    return told({"name": name, **found})


def _after(host: Host, quilt: OpenQuilt, file: str, before: Opened, change: _Change) -> Opened:
    """What the file will say, read and understood before it is written."""
    source = before.source
    if change.drawing is not None or change.sketch is None:
        drawing = change.drawing or source.drawing
        return host.shelf.opened(quilt, file, _text(source, drawing))
    wanted = change.sketch
    letter = source.project.fabrics[0].letter if source.project.fabrics else "a"
    made = redrawn(source.drawing, before.sketch, before.block, wanted, letter)
    after = host.shelf.opened(quilt, file, _text(source, made.drawing))
    if made.fabrics is not None and not _has(after.block, made.fabrics):
        # A cell can be written in more ways than there are rules for changing it.
        text = _text(source, in_seams(source.drawing, wanted).drawing)
        after = host.shelf.opened(quilt, file, text)
    return after


def _has(block: Block | None, fabrics: tuple[str, ...]) -> bool:
    return block is not None and tuple(patch.fabric for patch in block.patches) == fabrics


def history_of(quilt: OpenQuilt) -> dict[str, Any]:
    """What undo and redo would do now."""
    undo, redo = quilt.journal.next_undone(), quilt.journal.next_redone()
    return {"undo": undo and undo.what, "redo": redo and redo.what}


def _text(source: Source, drawing: Drawing) -> bytes:
    try:
        text = rewritten(source.text, drawing, source.project.preferences.measure)
    except ValueError as problem:
        if isinstance(problem, InputError):
            raise
        raise InputError(str(problem), mend="use plain letters") from problem
    return text.encode()


class _Both(Exception):
    """A stale save, with what was not saved."""

    def __init__(self, stale: Stale, mine: Opened) -> None:
        super().__init__(str(stale))
        self.stale, self.mine = stale, mine


async def _stale(host: Host, both: _Both) -> Response:
    stale = both.stale

    def side(opened: Opened) -> dict[str, Any]:
        sketch = opened.sketch
        drawn = None if isinstance(sketch, str) else shown(sketch, opened.measure)
        return {"drawing": drawn, "svg": small_picture(opened.source)}

    def sides(quilt: OpenQuilt) -> tuple[dict[str, Any], dict[str, Any]]:
        mine = side(both.mine)
        if stale.theirs is None:
            return mine, {"drawing": None, "svg": None}
        return mine, side(host.shelf.opened(quilt, stale.file, stale.theirs))

    mine, theirs = await host.do(sides)
    return told(
        {
            "sentence": f"{both.mine.source.drawing.name} was changed somewhere else meanwhile.",
            "mend": "keep yours, or take what is there; both are kept in the history",
            "revision": revision(stale.theirs),
            "yours": {"kept": stale.kept, **mine},
            "theirs": {"revision": revision(stale.theirs), **theirs},
        },
        412,
    )


async def turn(request: Request) -> Response:
    """POST: turn a block by quarters."""
    asked = await form(request, TurnForm)

    def change(opened: Opened) -> _Change:
        return _Change(turned(opened.drawn, asked.quarters))

    return await _changed(request, "Block turned", change)


async def mirror(request: Request) -> Response:
    """POST: mirror a block."""
    await form(request, NothingForm)

    def change(opened: Opened) -> _Change:
        return _Change(mirrored(opened.drawn))

    return await _changed(request, "Block mirrored", change)


async def fix(request: Request) -> Response:
    """PUT: fix how a seam is pressed, or leave it to the plan again."""
    asked = await form(request, FixingForm)

    def change(opened: Opened) -> _Change:
        plain = {key: getattr(asked, key) for key in PressForm.model_fields}
        if asked.seam is not None and asked.way != "towards":
            plain |= {"open": True, "towards": None}
        fixing = pressing(PressForm(**plain), opened.measure)
        drawing = opened.source.drawing
        fixings = with_fixing(drawing.fixings, fixing, remove=asked.way is None)
        return _Change(drawing=replace(drawing, fixings=fixings))

    what = "Left to the plan" if asked.way is None else "Pressing fixed"
    return await _changed(request, what, change)


async def rename(request: Request) -> Response:
    """POST: give a block another title, in its file and wherever the quilt calls it."""
    asked = await form(request, RenameForm)
    host, name, base = host_of(request), request.path_params["name"], base_of(request)
    title = asked.to.strip()

    def write(quilt: OpenQuilt) -> tuple[str, ...]:
        there = _opened(host, quilt, name)
        drawing, now_there = there.opened.source.drawing, there.texts
        _refuse_taken(quilt, title, but=name)
        text = _text(there.opened.source, replace(drawing, name=title))
        texts: dict[str, bytes | None] = {now_there.file: text}
        if now_there.quilt is not None:
            old = now_there.quilt.decode("utf-8")
            texts[QUILT_FILE] = renamed(old, drawing.name, title).encode()
        quilt.change(texts, bases={now_there.file: base}, what="Block renamed", at=now())
        return tuple(texts)

    try:
        files = await host.do(write)
    except Stale as stale:
        return told({"sentence": str(stale), "revision": revision(stale.theirs)}, 412)
    host.tell_saved()
    await host.changed(files)
    texts = await host.texts(name)
    return told({"name": name, "revision": revision(texts.text), "saved": host.saved})


def _refuse_taken(quilt: OpenQuilt, title: str, but: str = "") -> None:
    for name, file in quilt.files().items():
        text = quilt.text(file)
        if name == but or text is None:
            continue
        try:
            taken = quilt.source(file, text).drawing.name
        except InputError:
            continue
        if taken == title:
            raise InputError(f"there is a block called {title} already", mend="choose another name")


async def begin(request: Request) -> Response:
    """POST: a new block, or a copy of one."""
    asked = await form(request, NewForm)
    host, title = host_of(request), asked.name.strip()
    if not title:
        raise InputError("the block has no name", mend="give it one")

    def write(quilt: OpenQuilt) -> tuple[str, tuple[str, ...]]:
        _refuse_taken(quilt, title)
        project = quilt.project()
        if len(project.blocks) >= limits.BLOCKS:
            raise InputError(f"a quilt has {limits.BLOCKS} blocks at most", mend="begin another")
        file = _free(quilt, title)
        if asked.what == "copy":
            source = _opened(host, quilt, asked.source or "").opened.source
            text = _text(source, replace(source.drawing, name=title))
        else:
            size = NEW_SIZE[project.preferences.measure]
            letter = project.fabrics[0].letter if project.fabrics else "a"
            cells = Cells(((Written(letter, Where()),),))
            drawing = Drawing(title, (size, size), cells)
            text = write_block(drawing, project.preferences.measure).encode()
        texts: dict[str, bytes | None] = {file: text}
        old = quilt.text(QUILT_FILE)
        if old is not None:
            listed = with_block(old.decode("utf-8"), title).encode()
            if listed != old:
                texts[QUILT_FILE] = listed
        what = "Block copied" if asked.what == "copy" else "Block begun"
        quilt.change(texts, bases={}, what=what, at=now())
        return file, tuple(texts)

    file, files = await host.do(write)
    host.tell_saved()
    await host.changed(files)
    names = await host.do(lambda quilt: {f: n for n, f in quilt.files().items()})
    texts = await host.texts(names[file])
    return told({"name": names[file], "revision": revision(texts.text), "saved": host.saved}, 201)


def _free(quilt: OpenQuilt, title: str) -> str:
    """A file for a new block that is not there yet."""
    stem, number = slug(title), 1
    while True:
        file = f"blocks/{stem}{f'-{number}' if number > 1 else ''}.yaml"
        if not (quilt.folder / file).exists():
            return file
        number += 1
