"""The application called without a server: one request at a time, body in pieces."""

from __future__ import annotations

import asyncio
from collections.abc import Coroutine, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

from seamproof.errors import Stopped
from seamproof.web.crew import Crew
from seamproof.web.gate import Gate, Keys
from seamproof.web.host import Host
from seamproof.web.routes import TABLE, application
from tests.web.driving import Reply

PORT = 8631
HOST = f"127.0.0.1:{PORT}"
ORIGIN = f"http://{HOST}"
JSON = "application/json"

T = TypeVar("T")


def apart(work: Coroutine[Any, Any, T]) -> T:
    """Something asynchronous, in a thread of its own: the browser tests, when they run in the same
    process, leave a loop running in this one."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, work).result()


class NoCrew(Crew):
    """Nobody who works: these tests ask who is let in, not what is shown."""

    async def do(self, *_order: Any, **_more: Any) -> Any:
        raise Stopped("nobody is there")


class Page:
    """A page that holds the key, and the application that it calls."""

    def __init__(self, folder: Path) -> None:
        self.host = Host(folder, crew=NoCrew())
        self.keys = Keys()
        self.gate = application(self.host, self.keys, PORT)
        assert self.keys.code is not None
        self.code = self.keys.code
        self.cookie = ""

    def enter(self) -> None:
        reply = self.ask("GET", f"/open?code={self.code}")
        self.cookie = reply.headers["set-cookie"].partition(";")[0]

    def ask(
        self,
        method: str,
        path: str,
        *,
        headers: Iterable[tuple[str, str]] | None = None,
        body: Sequence[bytes] = (b"",),
        slow: float = 0,
        gate: Gate | None = None,
    ) -> Reply:
        """One request. `headers` replace those that the page would send."""
        return apart(self._ask(method, path, headers, body, slow, gate or self.gate))

    def usual(self, method: str) -> list[tuple[str, str]]:
        found = [("host", HOST), ("cookie", self.cookie)]
        if method not in ("GET", "HEAD"):
            found += [("origin", ORIGIN), ("content-type", JSON)]
        return found

    async def _ask(
        self,
        method: str,
        path: str,
        headers: Iterable[tuple[str, str]] | None,
        body: Sequence[bytes],
        slow: float,
        gate: Gate,
    ) -> Reply:
        where, _, query = path.partition("?")
        sent = self.usual(method) if headers is None else headers
        scope: dict[str, Any] = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": where,
            "raw_path": where.encode("utf-8", "surrogateescape"),
            "query_string": query.encode(),
            "root_path": "",
            "headers": [(k.encode(), v.encode("latin-1", "replace")) for k, v in sent],
            "client": ("127.0.0.1", 5),
            "server": ("127.0.0.1", PORT),
        }
        rest = list(body)
        self.received = 0

        async def receive() -> dict[str, Any]:
            if not rest:
                return {"type": "http.disconnect"}
            if slow:
                await asyncio.sleep(slow)
            piece = rest.pop(0)
            self.received += len(piece)
            return {"type": "http.request", "body": piece, "more_body": bool(rest)}

        status, got, parts = 0, {}, []

        async def send(message: Any) -> None:
            nonlocal status, got
            if message["type"] == "http.response.start":
                status = message["status"]
                got = {k.decode().lower(): v.decode("latin-1") for k, v in message["headers"]}
            elif message["type"] == "http.response.body":
                parts.append(message.get("body", b""))

        if path.startswith("/api/events") and status == 0:
            with_end = asyncio.wait_for(gate(scope, receive, send), 0.2)
            try:
                await with_end
            except TimeoutError:
                return Reply(status, got, b"".join(parts))
        else:
            await gate(scope, receive, send)
        return Reply(status, got, b"".join(parts))


def addresses() -> list[tuple[str, str]]:
    """Every method and path of the table, with something in the place of each name."""
    filled = {
        "{file:path}": "icon.svg",
        "{name}": "star",
        "{panel}": "front",
        "{number}": "1",
    }
    found = []
    for address in TABLE:
        path = address.path
        for hole, word in filled.items():
            path = path.replace(hole, word)
        found.append((address.method, path))
    return found
