"""What the server holds of the quilt that is open: its files, its workers, the panels made so far.

The files are asked in one thread of their own, so that nothing waits for a disk and nobody meets
half a step. Panels are kept by what they were made from; a newer drawing ends the work on an older
one.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

from seamproof.errors import InputError, SaveError, SeamproofError, Stopped
from seamproof.project.open_quilt import OpenQuilt, revision
from seamproof.project.quilt_file import QUILT_FILE
from seamproof.web.crew import PATIENCE, Crew, Failed
from seamproof.web.events import Events
from seamproof.web.opened import Shelf
from seamproof.web.panel_desk import Wanted
from seamproof.web.panels import PANELS, Name
from seamproof.web.views import Name as ViewName

T = TypeVar("T")

MOST_KEPT = 48 * 1024 * 1024
"""Bytes of panels that are kept: some hundred drawings."""

WATCH = 1.0
"""Seconds between two looks at the disk."""

SURVEYED: tuple[Name, ...] = ("picture", "proof")
"""What is made of every block for the list of blocks, whether or not it is looked at."""


@dataclass(frozen=True)
class Texts:
    """What a block is worked out from: its file, and the quilt file beside it."""

    name: str
    file: str
    text: bytes
    quilt: bytes | None

    @property
    def key(self) -> str:
        """The mark of both texts."""
        return revision(self.text + b"\0" + (self.quilt or b""))


class Host:
    """One open quilt, its workers, and the pages that look at it."""

    def __init__(self, folder: Path, *, crew: Crew | None = None) -> None:
        self._files = ThreadPoolExecutor(1, thread_name_prefix="files")
        self.folder = folder
        self.events = Events()
        self.crew = crew or Crew()
        self.shelf = Shelf()
        self.quilt = self._files.submit(OpenQuilt, folder, at=now()).result()
        self.saved = ""
        self._kept: OrderedDict[tuple[str, str, Wanted, Name], bytes] = OrderedDict()
        self._kept_bytes = 0
        self._work: dict[tuple[str, str, Wanted, tuple[Name, ...]], asyncio.Task[None]] = {}
        self._watching: asyncio.Task[None] | None = None
        self._one_at_a_time = asyncio.Semaphore(1)
        self._views: dict[ViewName, tuple[str, bytes]] = {}
        self._viewing: dict[ViewName, tuple[str, asyncio.Task[None]]] = {}

    async def start(self) -> None:
        """Start the workers and watch the disk."""
        await self.crew.start()
        self._watching = asyncio.get_running_loop().create_task(self._watch())

    async def close(self) -> None:
        """End everything."""
        self.events.close()
        looking = [task for _, task in self._viewing.values()]
        for task in [*self._work.values(), *looking, *filter(None, [self._watching])]:
            task.cancel()
        await self.crew.close()
        await self.do(lambda quilt: quilt.close())
        self._files.shutdown()

    async def do(self, what: Callable[[OpenQuilt], T]) -> T:
        """Something done with the files, in their own thread."""
        loop = asyncio.get_running_loop()
        return await loop.run_in_executor(self._files, lambda: what(self.quilt))

    async def texts(self, name: str) -> Texts:
        """What a block is worked out from now. Raises InputError if there is no such block."""

        def read(quilt: OpenQuilt) -> Texts:
            return texts_of(quilt, name)

        return await self.do(read)

    # Panels -------------------------------------------------------------------------------------

    def panel(self, texts: Texts, wanted: Wanted, name: Name) -> bytes | None:
        """A panel that is made already, as JSON."""
        key = (texts.name, texts.key, wanted, name)
        found = self._kept.get(key)
        if found is not None:
            self._kept.move_to_end(key)
        return found

    def make(self, texts: Texts, wanted: Wanted, names: tuple[Name, ...] = PANELS) -> None:
        """See to it that these panels are made, unless they are or are being made."""
        missing = tuple(n for n in names if self.panel(texts, wanted, n) is None)
        running = {
            n
            for (block, key, how, some) in self._work
            if (block, key, how) == (texts.name, texts.key, wanted)
            for n in some
        }
        missing = tuple(name for name in missing if name not in running)
        if not missing:
            return
        work = (texts.name, texts.key, wanted, missing)
        task = asyncio.get_running_loop().create_task(self._make(texts, wanted, missing))
        self._work[work] = task
        task.add_done_callback(lambda _: self._work.pop(work, None))

    def leave(self, name: str, but: str = "") -> None:
        """End the work on a block that was drawn anew, except on the texts of mark `but`."""
        for (block, key, _, _), task in list(self._work.items()):
            if block == name and key != but:
                task.cancel()

    def order(self, texts: Texts) -> dict[str, Any]:
        """What every order to a worker says: the texts themselves, so that what is worked out is
        what was seen, whatever happens on the disk meanwhile."""
        return {
            "folder": str(self.quilt.folder),
            "file": texts.file,
            "text": texts.text.decode("utf-8", "replace"),
            "quilt": None if texts.quilt is None else texts.quilt.decode("utf-8", "replace"),
        }

    async def _make(self, texts: Texts, wanted: Wanted, names: tuple[Name, ...]) -> None:
        base = revision(texts.text)

        def keep(message: dict[str, Any]) -> None:
            panel: Name = message["panel"]
            body = json.dumps({**message["made"], "revision": base}, separators=(",", ":"))
            self._keep((texts.name, texts.key, wanted, panel), body.encode())
            self.events.tell(
                "panel", block=texts.name, panel=panel, revision=base, plan=wanted.plan
            )

        order = {**self.order(texts), "panels": names, "wanted": asdict(wanted)}
        with contextlib.suppress(Stopped):
            try:
                if set(names) <= set(SURVEYED):
                    # What somebody looks at goes first, and never waits for the list of blocks.
                    async with self._one_at_a_time:
                        while any(not set(w[3]) <= set(SURVEYED) for w in self._work):
                            await asyncio.sleep(WATCH)
                        await self.crew.do("panels", order, keep)
                else:
                    await self.crew.do("panels", order, keep, grace=PATIENCE)
            except Failed as problem:
                for name in names:
                    if self.panel(texts, wanted, name) is None:
                        keep({"panel": name, "made": _no_panel(problem)})

    def _keep(self, key: tuple[str, str, Wanted, Name], body: bytes) -> None:
        self._kept_bytes += len(body) - len(self._kept.pop(key, b""))
        self._kept[key] = body
        while self._kept_bytes > MOST_KEPT:
            _, old = self._kept.popitem(last=False)
            self._kept_bytes -= len(old)

    async def survey(self, names: list[str]) -> dict[str, tuple[Texts, str]]:
        """Each block with its mark: proved, notes, faults, or working if it is not known yet."""
        found = {}
        for name in names:
            with contextlib.suppress(InputError):
                texts = await self.texts(name)
                found[name] = (texts, self._mark(texts))
                self.make(texts, Wanted(), SURVEYED)
        return found

    def _mark(self, texts: Texts) -> str:
        body = self.panel(texts, Wanted(), "proof")
        if body is None:
            return "working"
        panel = json.loads(body)
        grave = {note["severity"] for note in panel["findings"]}
        if "error" in grave or not panel.get("proved"):
            return "faults"
        return "notes" if "warning" in grave else "proved"

    # The quilt as a whole ---------------------------------------------------------------------

    async def view(self, name: ViewName) -> bytes | None:
        """A view of the quilt as it is now, as JSON; None while it is being worked out."""
        key = await self.do(whole_key)
        found = self._views.get(name)
        if found is not None and found[0] == key:
            return found[1]
        running = self._viewing.get(name)
        if running is None or running[0] != key:
            if running is not None:
                running[1].cancel()
            task = asyncio.get_running_loop().create_task(self._look(name, key))
            self._viewing[name] = (key, task)
        return None

    async def _look(self, name: ViewName, key: str) -> None:
        def told(message: dict[str, Any]) -> None:
            self.events.tell("progress", job=name, **message)

        order = {"folder": str(self.quilt.folder), "view": name}
        try:
            made = await self.crew.do("view", order, told)
        except Failed as problem:
            said = f"{problem.what[:1].upper()}{problem.what[1:]}."
            made = {"missing": said, "mend": problem.mend}
        except Stopped:
            return
        if await self.do(whole_key) == key:
            self._views[name] = (key, json.dumps({**made, "revision": key}).encode())
        self._viewing.pop(name, None)
        self.events.tell("panel", panel=name, revision=key)

    def size(self) -> str | None:
        """The size of the top in words, if it is known already."""
        found = self._views.get("top")
        line: str | None = None if found is None else json.loads(found[1]).get("line")
        return line.removesuffix(" finished") if line else None

    def notes(self, blocks: list[Texts]) -> int | None:
        """How many notes there are about these blocks; None while some are not worked out."""
        bodies = [self.panel(texts, Wanted(), "proof") for texts in blocks]
        if any(body is None for body in bodies):
            return None
        return sum(len(json.loads(body)["findings"]) for body in bodies if body is not None)

    # After a change -----------------------------------------------------------------------------

    async def changed(self, files: tuple[str, ...]) -> None:
        """Files are new: end old work, begin anew, and tell the pages."""
        names = await self.do(lambda quilt: {f: n for n, f in quilt.files().items()})
        for file in files:
            if file in names:
                await self.begin(names[file])
        if QUILT_FILE in files:
            for name in names.values():
                self.leave(name)
        self.events.tell(
            "project",
            revision=await self.do(lambda quilt: quilt.revision()),
            blocks=[names[file] for file in files if file in names],
        )

    async def begin(self, name: str) -> None:
        """Work out all panels of a block as it is now, and nothing of what it was."""
        try:
            texts = await self.texts(name)
        except InputError:
            self.leave(name)
            return
        self.leave(name, texts.key)
        self.make(texts, Wanted())

    def tell_saved(self) -> str:
        """Tell the pages that all is saved, and when."""
        self.saved = datetime.now().astimezone().strftime("%H:%M:%S")
        self.events.tell("saved", time=self.saved)
        return self.saved

    def tell_not_saved(self, problem: SaveError) -> None:
        """Tell the pages that something is not."""
        self.events.tell("not-saved", reason=str(problem))

    async def _watch(self) -> None:
        """Meet what other programs write."""
        while True:
            await asyncio.sleep(WATCH)
            try:
                changed = await self.do(_looked)
            except SeamproofError as problem:
                self.events.tell("not-saved", reason=str(problem))
                continue
            if changed:
                self.events.tell("disk", files=list(changed))
                await self.changed(changed)


def _looked(quilt: OpenQuilt) -> tuple[str, ...]:
    changed = quilt.look(now())
    quilt.settle()
    return changed


def texts_of(quilt: OpenQuilt, name: str) -> Texts:
    """What a block is worked out from. Raises InputError if there is no such block."""
    file = quilt.files().get(name)
    text = None if file is None else quilt.text(file)
    if file is None or text is None:
        raise InputError(f"there is no block {name[:80]} here", mend="go back to the blocks")
    return Texts(name, file, text, quilt.text(QUILT_FILE))


def whole_key(quilt: OpenQuilt) -> str:
    """The mark of all files of a quilt."""
    texts = [quilt.text(QUILT_FILE), *map(quilt.text, quilt.files().values())]
    return revision("\n".join(map(revision, texts)).encode())


def now() -> str:
    """The time, as the history keeps it: ISO 8601 with the zone."""
    return datetime.now().astimezone().isoformat(timespec="seconds")


def _no_panel(problem: Failed) -> dict[str, Any]:
    where = {"file": None, "line": None, "column": None, "block": None, "at": None}
    note = {"code": 0, "severity": "error", "where": where, "what": problem.what}
    return {"facts": [], "findings": [{**note, "mend": problem.mend}]}
