"""Long work that somebody asked for: it tells how far it is, can be stopped, and ends in a file."""

from __future__ import annotations

import asyncio
import base64
import itertools
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal
from urllib.parse import quote

from pydantic import Field
from starlette.requests import Request
from starlette.responses import Response

from seamproof.errors import InputError, Stopped
from seamproof.project import limits
from seamproof.web.answering import Gone, form, host_of, sentence, told
from seamproof.web.crew import Failed
from seamproof.web.forms import Form
from seamproof.web.host import Host
from seamproof.web.making import Name

MOST_JOBS = 8
"""Jobs that are remembered with their files; older ones are let go."""

KEEPS_THE_BEST: tuple[Name, ...] = ("cloth",)
"""What is worth having before it is finished: the lays found until it was stopped."""

State = Literal["working", "done", "stopped", "failed"]


class JobForm(Form):
    """What shall be made, of which block, on which paper."""

    job: Name
    block: Annotated[str, Field(max_length=limits.NAME_LENGTH)] | None = None
    paper: Literal["letter", "a4"] | None = None
    large: bool = False
    left: bool = False
    line_art: bool = False


@dataclass
class Job:
    """One job, while it runs and afterwards."""

    id: str
    what: str
    state: State = "working"
    said: dict[str, Any] = field(default_factory=dict)
    files: list[tuple[str, bytes]] = field(default_factory=list)
    task: asyncio.Task[None] | None = None
    enough: asyncio.Event = field(default_factory=asyncio.Event)

    def told(self) -> dict[str, Any]:
        """What the page is told of it."""
        names = [name for name, _ in self.files]
        found: dict[str, Any] = {
            "job": self.id,
            "what": self.what,
            "state": self.state,
            "files": names,
        }
        found |= {"name": names[0] if names else "", "stopping": self.enough.is_set()}
        return {**found, **self.said}


class Jobs:
    """The jobs of one server."""

    def __init__(self, host: Host) -> None:
        self.host = host
        self._jobs: dict[str, Job] = {}
        self._numbers = itertools.count(1)

    def get(self, number: str) -> Job:
        """The job of that number. Raises Gone."""
        if number not in self._jobs:
            raise Gone("there is no such job", mend="begin it again")
        return self._jobs[number]

    def begin(self, what: str, order: dict[str, Any]) -> Job:
        """Begin a job. Raises InputError if there are too many."""
        if sum(job.state == "working" for job in self._jobs.values()) >= MOST_JOBS:
            raise InputError("too much is being made at once", mend="wait, or stop something")
        for old in [j for j in self._jobs.values() if j.state != "working"][: -MOST_JOBS + 1]:
            del self._jobs[old.id]
        job = Job(str(next(self._numbers)), what)
        self._jobs[job.id] = job
        job.task = asyncio.get_running_loop().create_task(self._run(job, order))
        return job

    def stop(self, job: Job) -> None:
        """Stop a job. Of one that searches for the best it is first asked for the best so far; if
        it is stopped once more, and of any other job, nothing is kept."""
        if job.task is None or job.state != "working":
            return
        if job.what in KEEPS_THE_BEST and not job.enough.is_set():
            job.enough.set()
        else:
            job.task.cancel()

    async def _run(self, job: Job, order: dict[str, Any]) -> None:
        try:
            made = await self.host.crew.do(
                "make",
                order,
                lambda told: self.host.events.tell("progress", job=job.id, **told),
                enough=job.enough,
            )
            job.files = [(name, base64.b64decode(data)) for name, data in made["files"]]
            self._end(job, "stopped" if job.enough.is_set() else "done")
        except (asyncio.CancelledError, Stopped):
            self._end(job, "stopped")
        except Failed as problem:
            job.said = {"sentence": sentence(problem.what), "mend": problem.mend}
            self._end(job, "failed")

    def _end(self, job: Job, state: State) -> None:
        job.state = state
        self.host.events.tell("job", **job.told())

    async def close(self) -> None:
        """Stop all, at once."""
        for job in self._jobs.values():
            job.enough.set()
            self.stop(job)


def jobs_of(request: Request) -> Jobs:
    """The jobs of the server."""
    jobs: Jobs = request.app.state.jobs
    return jobs


async def begin(request: Request) -> Response:
    """POST a job."""
    asked = await form(request, JobForm)
    host = host_of(request)
    order: dict[str, Any] = {"folder": str(host.quilt.folder)}
    if asked.job == "sheet":
        try:
            order = host.order(await host.texts(asked.block or ""))
        except InputError as problem:
            raise Gone(problem.what, mend=problem.mend) from problem
    job = jobs_of(request).begin(asked.job, order | asked.model_dump())
    return told(job.told(), 202)


async def state(request: Request) -> Response:
    """GET how a job stands."""
    job = jobs_of(request).get(request.path_params["number"])
    return told(job.told())


async def stop(request: Request) -> Response:
    """POST: stop a job."""
    job = jobs_of(request).get(request.path_params["number"])
    keeps = job.what in KEEPS_THE_BEST and not job.enough.is_set()
    jobs_of(request).stop(job)
    state = "stopped" if job.state == "working" and not keeps else job.state
    return told({"job": job.id, "state": state, "stopping": job.enough.is_set()})


async def file(request: Request) -> Response:
    """GET a file that a job made, as a download: the one of that ``name``, or the first."""
    job = jobs_of(request).get(request.path_params["number"])
    wanted = request.query_params.get("name")
    found = next(((n, data) for n, data in job.files if wanted in (None, n)), None)
    if found is None:
        raise Gone("this is not made", mend="wait until it is, or begin it again")
    name, data = found
    plain = "".join(c if c.isascii() and (c.isalnum() or c in "-_.") else "-" for c in name)
    disposition = f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(name)}"
    headers = {"content-disposition": disposition}
    kind = "application/pdf" if name.endswith(".pdf") else "application/octet-stream"
    return Response(data, media_type=kind, headers=headers)
