"""What can be asked and done at the quilt as a whole: its blocks, its history, what it tells."""

from __future__ import annotations

import json
from typing import Annotated, Any

from pydantic import Field
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from seamproof.accuracy.model import MAKERS
from seamproof.errors import InputError
from seamproof.length.notation import exactly
from seamproof.project import limits
from seamproof.project.maker_file import known_makers
from seamproof.project.open_quilt import OpenQuilt, Stale, Turned, revision
from seamproof.project.quilt_editing import begun, with_value
from seamproof.project.quilt_file import QUILT_FILE
from seamproof.project.yaml_tree import document
from seamproof.web.answering import Gone, base_of, form, host_of, made, sentence, told
from seamproof.web.block_routes import history_of
from seamproof.web.forms import Form, shown
from seamproof.web.host import Host, now
from seamproof.web.making import JOBS
from seamproof.web.panel_desk import Wanted
from seamproof.web.views import Name as ViewName

MOST_STEPS = 200
"""Steps of the history that are told at once."""


Text = Annotated[str, Field(max_length=limits.TEXT_LENGTH)]
Key = Annotated[str, Field(min_length=1, max_length=limits.NAME_LENGTH)]
Entry = Text | list[Text] | dict[Key, Text | list[Text]]


class ChangeForm(Form):
    """One value of the quilt file: the keys that lead to it, and what shall stand there."""

    path: Annotated[list[Key], Field(min_length=1, max_length=6)]
    value: Text | list[Entry] | dict[Key, Entry] | None


class QuiltForm(Form):
    """Values of the quilt file to be changed in one step."""

    what: Annotated[str, Field(min_length=1, max_length=limits.NAME_LENGTH)]
    changes: Annotated[list[ChangeForm], Field(min_length=1, max_length=100)]


class StepForm(Form):
    """A step of the history to go back or forward to: 0 is before the first."""

    step: Annotated[int, Field(ge=0)]
    block: Annotated[str | None, Field(max_length=limits.NAME_LENGTH)] = None


class TurnBackForm(Form):
    """Undo or redo: in one block, or in all."""

    block: Annotated[str | None, Field(max_length=limits.NAME_LENGTH)] = None


async def project(request: Request) -> Response:
    """GET the quilt: its name, its fabrics, its blocks with their marks."""
    host = host_of(request)

    def read(quilt: OpenQuilt) -> dict[str, Any]:
        found: dict[str, Any] = {"revision": quilt.revision(), "told": quilt.told}
        found["folder"] = revision(str(quilt.folder).encode())
        try:
            project = quilt.project()
        except InputError as problem:
            said = {"sentence": sentence(problem.what), "mend": problem.mend}
            place = problem.place
            found["fault"] = {**said, "place": {"line": place.line, "column": place.column}}
            return {**found, "name": quilt.folder.name, "title": quilt.folder.name, "fabrics": []}
        measure = project.preferences.measure
        return {
            **found,
            "name": quilt.folder.name,
            "title": project.name,
            "measure": measure,
            "seam": exactly(project.preferences.cutting().seam, measure),
            "paper": project.preferences.sheet,
            "jobs": list(JOBS),
            "makers": [*MAKERS, *known_makers(quilt.folder)],
            "top": project.setting is not None,
            "quilt": revision(quilt.text(QUILT_FILE)),
            "fabrics": [
                {"letter": f.letter, "name": f.name, "colour": f.colour, "value": f.value}
                for f in project.fabrics
            ],
        }

    found = await host.do(read)
    names = await host.do(lambda quilt: list(quilt.files()))
    surveyed = await host.survey(names)
    titles = await host.do(lambda quilt: {n: _title(quilt, n) for n in names})
    found["blocks"] = [
        {
            "name": name,
            "title": titles[name],
            "revision": revision(texts.text),
            "mark": mark,
            "picture": f"/api/blocks/{name}/picture?revision={texts.key}",
        }
        for name, (texts, mark) in surveyed.items()
    ]
    found["saved"] = host.saved or None
    found["size"] = host.size()
    found["notes"] = host.notes([texts for texts, _ in surveyed.values()])
    return told({**found, **await host.do(history_of)})


def _title(quilt: OpenQuilt, name: str) -> str:
    file = quilt.files().get(name)
    text = None if file is None else quilt.text(file)
    if file is None or text is None:
        return name
    try:
        return quilt.source(file, text).drawing.name
    except InputError:
        return name


async def proof(request: Request) -> Response:
    """GET what the proof has to say of all blocks, as far as it is worked out."""
    host = host_of(request)
    names = await host.do(lambda quilt: list(quilt.files()))
    findings: list[Any] = []
    marks: dict[str, int] = {}
    for name, (texts, mark) in (await host.survey(names)).items():
        marks[mark] = marks.get(mark, 0) + 1
        body = host.panel(texts, Wanted(), "proof")
        if body is not None:
            findings += [{**note, "name": name} for note in json.loads(body)["findings"]]
    words = {"proved": "Come out", "notes": "With notes", "faults": "With faults"}
    facts = [[word, str(marks[mark])] for mark, word in words.items() if mark in marks]
    working = marks.get("working", 0)
    return told({"facts": facts, "findings": findings, "working": working})


async def view(request: Request) -> Response:
    """GET the top, the cloth or the programme: 202 while it is worked out."""
    host = host_of(request)
    name: ViewName = request.url.path.rpartition("/")[2]  # type: ignore[assignment]
    body = await host.view(name)
    return told({"working": True}, 202) if body is None else made(body)


async def events(request: Request) -> Response:
    """GET the stream of what the server tells by itself."""
    host = host_of(request)
    headers = {"cache-control": "no-store", "x-accel-buffering": "no"}
    return StreamingResponse(host.events.listen(), media_type="text/event-stream", headers=headers)


# History ------------------------------------------------------------------------------------------


async def history(request: Request) -> Response:
    """GET the steps, the newest first, what undo and redo would do, and what was not saved."""
    host, block = host_of(request), request.query_params.get("block")

    def read(quilt: OpenQuilt) -> dict[str, Any]:
        file = _file(quilt, block)
        names = {f: n for n, f in quilt.files().items()}
        journal = quilt.journal
        undo, redo = journal.next_undone(file), journal.next_redone(file)
        return {
            "undo": undo and undo.what,
            "redo": redo and redo.what,
            "entries": [
                {
                    "id": step.id,
                    "what": step.what,
                    "time": step.at,
                    "by": step.kind,
                    "done": step.state == "done",
                    "blocks": [names.get(f, f) for f in step.files],
                }
                for step in journal.steps(MOST_STEPS, file)
            ],
            "kept": [
                {"id": k.id, "block": names.get(k.file, k.file), "time": k.at, "what": k.why}
                for k in journal.kept(MOST_STEPS)
                if file is None or k.file == file
            ],
        }

    return told(await host.do(read))


def _file(quilt: OpenQuilt, block: str | None) -> str | None:
    if block is None:
        return None
    file = quilt.files().get(block)
    if file is None:
        raise Gone(f"there is no block {block[:80]} here", mend="go back to the blocks")
    return file


async def kept(request: Request) -> Response:
    """GET a text that was not saved: as it would have been written, and as a drawing."""
    host, number = host_of(request), request.path_params["number"]

    def read(quilt: OpenQuilt) -> dict[str, Any]:
        found = quilt.journal.kept_text(int(number)) if number.isdigit() else None
        if found is None:
            raise Gone("there is nothing kept under this number", mend="look at the history")
        file, text = found
        opened = host.shelf.opened(quilt, file, text)
        sketch = opened.sketch
        return {
            "file": file,
            "text": text.decode("utf-8", "replace"),
            "drawing": None if isinstance(sketch, str) else shown(sketch, opened.measure),
        }

    return told(await host.do(read))


async def undo(request: Request) -> Response:
    """POST: take the last step back."""
    return await _turned(request, undo=True)


async def redo(request: Request) -> Response:
    """POST: do the last undone step again."""
    return await _turned(request, undo=False)


async def _turned(request: Request, *, undo: bool) -> Response:
    asked = await form(request, TurnBackForm)
    host = host_of(request)

    def turn(quilt: OpenQuilt) -> Turned | None:
        file = _file(quilt, asked.block)
        return quilt.undo(now(), file) if undo else quilt.redo(now(), file)

    found = await host.do(turn)
    if found is None:
        nothing = "undo" if undo else "redo"
        return told({"sentence": f"There is nothing to {nothing}.", "what": None}, 200)
    return await _told_turned(host, found, asked.block)


async def go_to(request: Request) -> Response:
    """POST: undo or redo steps until one is the last that is done."""
    asked, host = await form(request, StepForm), host_of(request)

    def turn(quilt: OpenQuilt) -> Turned | None:
        if asked.step and quilt.journal.state(asked.step) not in ("done", "undone"):
            raise Gone("there is no such step", mend="look at the history again")
        return quilt.go_to(asked.step, now(), _file(quilt, asked.block))

    found = await host.do(turn)
    if found is None:
        return told({"sentence": "The quilt is at this point already.", "what": None}, 200)
    return await _told_turned(host, found, asked.block)


async def _told_turned(host: Host, found: Turned, block: str | None) -> Response:
    host.tell_saved()
    await host.changed(found.files)

    def read(quilt: OpenQuilt) -> dict[str, Any]:
        names = {f: n for n, f in quilt.files().items()}
        changed = next((names[f] for f in found.files if f in names), None)
        file = quilt.files().get(changed) if changed else None
        steps = quilt.journal
        own = _file(quilt, block) if block in quilt.files() else None
        next_undo, next_redo = steps.next_undone(own), steps.next_redone(own)
        return {
            "block": changed,
            "revision": revision(quilt.text(file)) if file else quilt.revision(),
            "what": found.step.what,
            "undo": next_undo and next_undo.what,
            "redo": next_redo and next_redo.what,
        }

    return told({**await host.do(read), "saved": host.saved})


# The quilt file -----------------------------------------------------------------------------------


async def quilt(request: Request) -> Response:
    """GET the quilt file as its reader sees it: keys, lists and texts; none if there is no file."""
    host = host_of(request)

    def read(quilt: OpenQuilt) -> dict[str, Any]:
        text = quilt.text(QUILT_FILE)
        if text is None:
            return {"revision": revision(None), "values": {}}
        return {"revision": revision(text), "values": _plain(document(text, QUILT_FILE).root)}

    return told(await host.do(read))


def _plain(node: Any) -> Any:
    if hasattr(node, "entries"):
        return {key.text: _plain(value) for key, value in node.entries}
    if hasattr(node, "items"):
        return [_plain(item) for item in node.items]
    return node.text


async def save_quilt(request: Request) -> Response:
    """PUT: change values of the quilt file; it is begun if there is none."""
    asked, host, base = await form(request, QuiltForm), host_of(request), base_of(request)

    def write(quilt: OpenQuilt) -> str:
        old = quilt.text(QUILT_FILE)
        text = begun(quilt.folder.name) if old is None else old.decode("utf-8")
        for change in asked.changes:
            text = with_value(text, change.path, change.value)
        quilt.check(text.encode())
        return quilt.save(QUILT_FILE, text.encode(), base=base, what=asked.what, at=now())

    try:
        mark = await host.do(write)
    except Stale as stale:
        theirs = revision(stale.theirs)
        said = "The quilt file was changed somewhere else meanwhile."
        return told({"sentence": said, "revision": theirs, "yours": {"kept": stale.kept}}, 412)
    host.tell_saved()
    await host.changed((QUILT_FILE,))
    return told({"revision": mark, "saved": host.saved})
