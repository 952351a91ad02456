"""The workers: processes of their own, started before they are needed, ended when they do not stop.

One warm spare is always ready. Work that is not wanted any more is asked to stop; a worker that
does not within `GRACE` is killed, and a new one started in its place.
"""

from __future__ import annotations

import asyncio
import contextlib
import itertools
import json
import os
import sys
from collections.abc import AsyncIterator, Callable, Coroutine, Sequence
from typing import Any

from seamproof.errors import InputError, Stopped
from seamproof.web.worker import LENGTH, packed

GRACE = 0.25
"""Seconds in which a worker may end by itself what somebody stopped."""

PATIENCE = 3.0
"""The same for what is only out of date: nobody waits for it, another worker has gone on, and a new
worker would take longer to begin than most stages take to end."""

LONGEST = 600.0
"""Seconds that one order may take, once its worker is ready."""

PROGRAM = (sys.executable, "-m", "seamproof.web.tasks")

ONE_THREAD = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"), "1")
"""A worker is one thread of work; the others of a numerical library only take room."""


class Failed(InputError):
    """An order that came to nothing, with the reason in words."""


class _Worker:
    """One process and the pipe to it."""

    def __init__(self, process: asyncio.subprocess.Process) -> None:
        self.process = process
        self.ready = asyncio.Event()
        self._told: asyncio.Queue[dict[str, Any] | None] = asyncio.Queue()
        # One task reads, so that whoever stops waiting leaves no message half read.
        self._reading = asyncio.get_running_loop().create_task(self._read())

    async def _read(self) -> None:
        assert self.process.stdout is not None
        with contextlib.suppress(asyncio.IncompleteReadError, ConnectionError):
            while True:
                head = await self.process.stdout.readexactly(LENGTH.size)
                body = await self.process.stdout.readexactly(LENGTH.unpack(head)[0])
                message = json.loads(body)
                if "ready" not in message:
                    self._told.put_nowait(message)
                self.ready.set()
        self.ready.set()
        self._told.put_nowait(None)

    async def send(self, message: Any) -> None:
        """Raises EOFError if the process is gone."""
        assert self.process.stdin is not None
        try:
            self.process.stdin.write(packed(message))
            await self.process.stdin.drain()
        except (ConnectionError, RuntimeError) as problem:
            raise EOFError from problem

    async def receive(self) -> dict[str, Any]:
        """The next message. Raises EOFError if the process is gone."""
        message = await self._told.get()
        if message is None:
            self._told.put_nowait(None)
            await self.process.wait()
            raise EOFError
        return message

    @property
    def alive(self) -> bool:
        return self.process.returncode is None

    async def end(self) -> None:
        """Gone when this returns, whatever it was doing."""
        self._reading.cancel()
        if self.alive:
            with contextlib.suppress(ProcessLookupError):
                self.process.kill()
        await self.process.wait()


class Crew:
    """Does orders, at most `hands` at one time; the others wait."""

    def __init__(
        self,
        *,
        hands: int | None = None,
        program: Sequence[str] = PROGRAM,
        longest: float = LONGEST,
    ) -> None:
        self.program = tuple(program)
        self.longest = longest
        self.hands = hands or max(2, min(4, os.cpu_count() or 2))
        self._room = asyncio.Semaphore(self.hands)
        self._idle: list[_Worker] = []
        self._all: set[_Worker] = set()
        self._numbers = itertools.count(1)
        self._loose: set[asyncio.Task[Any]] = set()
        self._closed = False

    async def start(self) -> None:
        """Start the first worker and the spare."""
        for _ in range(2):
            await self._hire()

    async def close(self) -> None:
        """End all workers."""
        self._closed = True
        for task in list(self._loose):
            task.cancel()
        await asyncio.gather(*(worker.end() for worker in list(self._all)))
        self._all.clear()
        self._idle.clear()

    @property
    def processes(self) -> tuple[int, ...]:
        """The numbers of the processes that are alive."""
        return tuple(sorted(worker.process.pid for worker in self._all if worker.alive))

    @property
    def winding_down(self) -> bool:
        """Whether a worker is still being stopped, or a new one started."""
        return bool(self._loose)

    async def do(
        self,
        task: str,
        order: dict[str, Any],
        tell: Callable[[Any], None] = lambda _: None,
        *,
        grace: float = GRACE,
        enough: asyncio.Event | None = None,
    ) -> Any:
        """What a worker answers to an order; `tell` gets what it tells on the way. Once it is
        `enough` the worker is asked to stop, and what it answers then, the best so far, is taken.

        Raises Failed with the reason, or Stopped. Cancelling is at once: the worker is seen to
        afterwards, and killed if it does not stop within `grace` seconds.
        """
        async with self._room:
            worker = await self._take()
            number = next(self._numbers)
            try:
                await worker.ready.wait()
                async with asyncio.timeout(self.longest):
                    await worker.send({**order, "task": task, "id": number})
                    async with _besides(self._ask_to_end(worker, number, enough)):
                        answer = await self._answer(worker, number, tell)
            except EOFError:
                await self._dismiss(worker)
                code = worker.process.returncode
                raise Failed(
                    f"the work ended unexpectedly ({_ending(code)})",
                    mend="try again; if it happens again, report it with the file",
                ) from None
            except TimeoutError:
                await self._dismiss(worker)
                raise Failed(
                    f"this takes longer than {self.longest / 60:g} minutes and was stopped",
                    mend="make the drawing simpler",
                ) from None
            except BaseException:
                self._later(self._wind_down(worker, number, grace))
                raise
            self._give_back(worker)
        return _opened(answer)

    async def _answer(
        self, worker: _Worker, number: int, tell: Callable[[Any], None]
    ) -> dict[str, Any]:
        while True:
            message = await worker.receive()
            if message.get("id") != number:
                continue
            if "tell" not in message:
                return message
            tell(message["tell"])

    async def _ask_to_end(self, worker: _Worker, number: int, enough: asyncio.Event | None) -> None:
        """Ask a worker to end by itself as soon as it is enough."""
        if enough is not None:
            await enough.wait()
            with contextlib.suppress(EOFError):
                await worker.send({"stop": number})

    async def _take(self) -> _Worker:
        """A worker that is free, a warm one if there is; the next spare is started."""
        alive = [worker for worker in self._idle if worker.alive]
        for worker in self._idle:
            if not worker.alive:
                self._all.discard(worker)
        self._idle = alive
        warm = [w for w in alive if w.ready.is_set()] or alive
        worker = warm[0] if warm else await self._hire()
        self._idle.remove(worker)
        if not self._idle:
            self._later(self._hire())
        return worker

    async def _hire(self) -> _Worker:
        process = await asyncio.create_subprocess_exec(
            *self.program,
            stdin=asyncio.subprocess.PIPE,
            stdout=asyncio.subprocess.PIPE,
            env={**os.environ, **ONE_THREAD},
        )
        worker = _Worker(process)
        self._all.add(worker)
        if self._closed:
            await worker.end()
            return worker
        self._idle.append(worker)
        return worker

    def _give_back(self, worker: _Worker) -> None:
        if len(self._idle) < 2 and worker.alive and not self._closed:
            self._idle.insert(0, worker)  # it remembers what it just did
        else:
            self._later(self._dismiss(worker))

    async def _dismiss(self, worker: _Worker) -> None:
        await worker.end()
        self._all.discard(worker)

    async def _wind_down(self, worker: _Worker, number: int, grace: float) -> None:
        """Let a worker stop by itself, or make it."""
        try:
            async with asyncio.timeout(grace):
                await worker.ready.wait()
                await worker.send({"stop": number})
                await self._answer(worker, number, lambda _: None)
        except (TimeoutError, EOFError, asyncio.CancelledError):
            await self._dismiss(worker)
            if not self._idle and not self._closed:
                await self._hire()
            return
        self._give_back(worker)

    def _later(self, work: Any) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._loose.add(task)
        task.add_done_callback(self._loose.discard)


@contextlib.asynccontextmanager
async def _besides(work: Coroutine[Any, Any, None]) -> AsyncIterator[None]:
    """Something that goes on while the body runs, and no longer."""
    task = asyncio.get_running_loop().create_task(work)
    try:
        yield
    finally:
        task.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await task


def _opened(answer: dict[str, Any]) -> Any:
    if "stopped" in answer:
        raise Stopped("the work was stopped")
    if "failed" in answer:
        raise Failed(answer["failed"], mend=answer["mend"])
    if "fault" in answer:
        raise Failed(
            f"this is a fault of seamproof, not yours ({answer['fault']})",
            mend="please report it, with the file",
        )
    return answer["done"]


def _ending(code: int | None) -> str:
    if code is not None and code < 0:
        return f"signal {-code}"
    return f"code {code}"
