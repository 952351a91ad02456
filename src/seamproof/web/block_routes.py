"""What can be asked and done at one block."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import Field
from starlette.requests import Request
from starlette.responses import Response

from seamproof.draft.model import Cells, Drawing, Written
from seamproof.draft.understanding import understand
from seamproof.errors import InputError
from seamproof.findings import Finding, Where
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
from seamproof.web.panels import notes_of, small_picture
from seamproof.web.redrawing import mirrored, redrawn, turned
from seamproof.web.sketches import Sketch, sketch_of

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
class _Opened:
    """A block with what it says, read."""

    texts: Texts
    source: Source
    sketch: Sketch | str


def _opened(quilt: OpenQuilt, name: str) -> _Opened:
    try:
        texts = texts_of(quilt, name)
    except InputError as problem:
        raise Gone(problem.what, mend=problem.mend) from problem
    source = quilt.source(texts.file, texts.text)
    return _Opened(texts, source, sketch_of(source.drawing))


def _drawn(opened: _Opened) -> Sketch:
    if isinstance(opened.sketch, str):
        raise InputError(opened.sketch.rstrip("."), mend="open the file in a text editor")
    return opened.sketch


async def block(request: Request) -> Response:
    """GET a block: its drawing, or why the page cannot draw it."""
    host, name = host_of(request), request.path_params["name"]

    def read(quilt: OpenQuilt) -> dict[str, Any]:
        try:
            opened = _opened(quilt, name)
        except Gone:
            raise
        except InputError as problem:
            texts = texts_of(quilt, name)
            said = f"{problem.place}: {problem.what}. {problem.mend}"
            return _told(texts, None, said)
        if isinstance(opened.sketch, str):
            return _told(opened.texts, None, opened.sketch)
        return _told(opened.texts, shown(opened.sketch, _measure(opened.source)), True)

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


def _measure(source: Source) -> Any:
    return source.project.preferences.measure


async def save(request: Request) -> Response:
    """PUT a drawing."""
    asked = await form(request, SaveForm)

    def change(opened: _Opened) -> Drawing:
        before = None if isinstance(opened.sketch, str) else opened.sketch
        wanted = understood(asked.drawing, _measure(opened.source), before)
        return redrawn(opened.source.drawing, wanted, _first_letter(opened.source))

    return await _changed(request, asked.what, change)


def _first_letter(source: Source) -> str:
    fabrics = source.project.fabrics
    return fabrics[0].letter if fabrics else "a"


async def _changed(request: Request, what: str, change: Any) -> Response:
    """Save what a change makes of a block; if it was made to another text, keep and tell both."""
    host, name, base = host_of(request), request.path_params["name"], base_of(request)

    def write(quilt: OpenQuilt) -> dict[str, Any]:
        opened = _opened(quilt, name)
        drawing = change(opened)
        text = _text(opened.source, drawing)
        file = opened.texts.file
        at = now()
        if text != opened.source.text or revision(opened.texts.text) != base:
            try:
                mark = quilt.save(file, text.encode(), base=base, what=what, at=at)
            except Stale as stale:
                raise _Both(stale, drawing, opened.source) from stale
            source = quilt.source(file, text.encode())
        else:
            mark, source = base, opened.source
        return {"revision": mark, "findings": notes_of(_findings(source)), "file": file}

    try:
        found = await host.do(write)
    except _Both as both:
        return await _stale(host, both)
    file = found.pop("file")
    found["saved"] = host.tell_saved()
    await host.changed((file,))
    return told({"name": name, **found, **await host.do(history_of)})


def history_of(quilt: OpenQuilt) -> dict[str, Any]:
    """What undo and redo would do now."""
    undo, redo = quilt.journal.next_undone(), quilt.journal.next_redone()
    return {"undo": undo and undo.what, "redo": redo and redo.what}


def _text(source: Source, drawing: Drawing) -> str:
    try:
        return rewritten(source.text, drawing, _measure(source))
    except ValueError as problem:
        if isinstance(problem, InputError):
            raise
        raise InputError(str(problem), mend="use plain letters") from problem


def _findings(source: Source) -> tuple[Finding, ...]:
    project = source.project
    settings = project.cutting(source.drawing.methods)
    _, findings = understand(
        source.drawing, project.letters, step=settings.step, seam=settings.seam
    )
    return findings


class _Both(Exception):
    """A stale save, with the drawing that was not saved."""

    def __init__(self, stale: Stale, mine: Drawing, source: Source) -> None:
        super().__init__(str(stale))
        self.stale, self.mine, self.source = stale, mine, source


async def _stale(host: Host, both: _Both) -> Response:
    stale = both.stale

    def side(source: Source, drawing: Drawing) -> dict[str, Any]:
        sketch = sketch_of(drawing)
        drawn = None if isinstance(sketch, str) else shown(sketch, _measure(source))
        return {"drawing": drawn, "svg": small_picture(replace(source, drawing=drawing))}

    def sides(quilt: OpenQuilt) -> tuple[dict[str, Any], dict[str, Any]]:
        mine = side(both.source, both.mine)
        if stale.theirs is None:
            return mine, {"drawing": None, "svg": None}
        theirs = quilt.source(stale.file, stale.theirs)
        return mine, side(theirs, theirs.drawing)

    mine, theirs = await host.do(sides)

    return told(
        {
            "sentence": f"{both.source.drawing.name} was changed somewhere else meanwhile.",
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

    def change(opened: _Opened) -> Drawing:
        wanted = turned(_drawn(opened), asked.quarters)
        return redrawn(opened.source.drawing, wanted, _first_letter(opened.source))

    return await _changed(request, "Block turned", change)


async def mirror(request: Request) -> Response:
    """POST: mirror a block."""
    await form(request, NothingForm)

    def change(opened: _Opened) -> Drawing:
        wanted = mirrored(_drawn(opened))
        return redrawn(opened.source.drawing, wanted, _first_letter(opened.source))

    return await _changed(request, "Block mirrored", change)


async def fix(request: Request) -> Response:
    """PUT: fix how a seam is pressed, or leave it to the plan again."""
    asked = await form(request, FixingForm)

    def change(opened: _Opened) -> Drawing:
        measure = _measure(opened.source)
        plain = {key: getattr(asked, key) for key in PressForm.model_fields}
        if asked.seam is not None and asked.way != "towards":
            plain |= {"open": True, "towards": None}
        fixing = pressing(PressForm(**plain), measure)
        drawing = opened.source.drawing
        sketch = Sketch("", drawing.finished, (), (), drawing.fixings)
        found = with_fixing(sketch, fixing, remove=asked.way is None)
        return replace(drawing, fixings=found.fixings)

    what = "Left to the plan" if asked.way is None else "Pressing fixed"
    return await _changed(request, what, change)


async def rename(request: Request) -> Response:
    """POST: give a block another title, in its file and wherever the quilt calls it."""
    asked = await form(request, RenameForm)
    host, name, base = host_of(request), request.path_params["name"], base_of(request)
    title = asked.to.strip()

    def write(quilt: OpenQuilt) -> tuple[str, ...]:
        opened = _opened(quilt, name)
        drawing = opened.source.drawing
        _refuse_taken(quilt, title, but=name)
        text = _text(opened.source, replace(drawing, name=title)).encode()
        texts: dict[str, bytes | None] = {opened.texts.file: text}
        if opened.texts.quilt is not None:
            old = opened.texts.quilt.decode("utf-8")
            texts[QUILT_FILE] = renamed(old, drawing.name, title).encode()
        quilt.change(texts, bases={opened.texts.file: base}, what="Block renamed", at=now())
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
            opened = _opened(quilt, asked.source or "")
            text = _text(opened.source, replace(opened.source.drawing, name=title))
        else:
            size = NEW_SIZE[project.preferences.measure]
            letter = project.fabrics[0].letter if project.fabrics else "a"
            cells = Cells(((Written(letter, Where()),),))
            text = write_block(Drawing(title, (size, size), cells), project.preferences.measure)
        texts: dict[str, bytes | None] = {file: text.encode()}
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
