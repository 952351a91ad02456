"""The one gate that every request passes before the router: nobody but the page comes in.

In this order: the Host names this machine and this port; the Origin, if there is one, is the page's
own; the address is one that the routes name; whoever calls has the key of the session, unless the
address needs none; what is written comes from the page itself and as JSON; the body is no larger
and no slower than its address allows. Whatever goes out carries the same headers.

The key is had with a launch code that works once and stands only in the address that the terminal
shows. Standards: RFC 6265bis (cookies), RFC 9110 (status codes), CSP Level 3, Fetch Metadata.
"""

from __future__ import annotations

import asyncio
import hmac
import json
import secrets
import sys
import traceback
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from starlette.requests import cookie_parser
from starlette.types import ASGIApp, Message, Receive, Scope, Send

Rule = Literal["launch", "session"]
"""What an address asks for: nothing but a right code, or the key of the session."""

KEY_BYTES = 32
"""Random bytes of a launch code and of a key: 256 bits, twice what ASVS 5.0 (7.2.3) asks."""

BODY_SECONDS = 20.0
"""Seconds in which a whole body must be here: a drawing of the largest size takes one on any
machine's own network."""

SMALL_BODY = 64 * 1024
"""Bytes of a body, unless an address allows more."""

HEADERS: Mapping[str, str] = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
        "font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'; object-src 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "cache-control": "no-store",
}
"""On every answer; an answer may name its own Cache-Control."""


@dataclass(frozen=True, slots=True)
class Allowed:
    """One address as the gate knows it: its method, its parts (a part in braces is any one part,
    the last in braces with ``:path`` is all that follows), what it asks for, how large a body."""

    method: str
    parts: tuple[str, ...]
    rule: Rule = "session"
    most: int = SMALL_BODY

    def fits(self, parts: tuple[str, ...]) -> bool:
        """Whether the parts of an address are this one's."""
        if self.parts and self.parts[-1].endswith(":path}"):
            head = self.parts[:-1]
            return len(parts) > len(head) and self._alike(head, parts[: len(head)])
        return len(parts) == len(self.parts) and self._alike(self.parts, parts)

    def filled(self, parts: tuple[str, ...]) -> dict[str, str]:
        """What stands in the place of each part in braces."""
        found = {}
        for number, (mine, theirs) in enumerate(zip(self.parts, parts, strict=False)):
            if mine.endswith(":path}"):
                found[mine[1:].removesuffix(":path}")] = "/".join(parts[number:])
            elif mine.startswith("{"):
                found[mine[1:-1]] = theirs
        return found

    @staticmethod
    def _alike(mine: tuple[str, ...], theirs: tuple[str, ...]) -> bool:
        return all(m.startswith("{") or m == t for m, t in zip(mine, theirs, strict=True))


def allowed(method: str, path: str, rule: Rule = "session", most: int = SMALL_BODY) -> Allowed:
    """An address written as the router has it.

    >>> allowed("GET", "/api/blocks/{name}").fits(("api", "blocks", "lit-window"))
    True
    >>> allowed("GET", "/static/{file:path}").fits(("static",))
    False
    """
    return Allowed(method, parts_of(path), rule, most)


def parts_of(path: str) -> tuple[str, ...]:
    """The parts of an address between its slashes."""
    return tuple(path.split("/")[1:]) if path != "/" else ()


class Keys:
    """The launch code, as long as nobody used it, and the key that it is exchanged for."""

    def __init__(self) -> None:
        self.code: str | None = secrets.token_urlsafe(KEY_BYTES)
        self._key = secrets.token_urlsafe(KEY_BYTES)

    def exchange(self, code: str) -> str | None:
        """The key for the right code, the first time; None otherwise."""
        mine = self.code
        if mine is None or not hmac.compare_digest(mine.encode(), code.encode("utf-8", "replace")):
            return None
        self.code = None
        return self._key

    def fits(self, key: str) -> bool:
        """Whether that is the key; the time it takes says nothing about it."""
        return hmac.compare_digest(self._key.encode(), key.encode("utf-8", "replace"))


class _TooMuch(Exception):
    """A body larger than its address allows."""


class _TooSlow(Exception):
    """A body that does not arrive."""


class Gate:
    """The application with the gate before it."""

    def __init__(
        self,
        app: ASGIApp,
        table: Iterable[Allowed],
        keys: Keys,
        port: int,
        *,
        body_seconds: float = BODY_SECONDS,
    ) -> None:
        self.app = app
        self.table = tuple(table)
        self.keys = keys
        self.port = port
        self.body_seconds = body_seconds
        names = ("localhost", "127.0.0.1", "[::1]")
        self.hosts = {f"{name}:{port}" for name in names} | (set(names) if port == 80 else set())
        self.faults = 0

    @property
    def cookie(self) -> str:
        """The name of the cookie. Cookies do not tell ports apart, so the name does."""
        return f"seamproof-{self.port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": 1008})
        else:
            await self._request(scope, receive, send)

    async def _request(self, scope: Scope, receive: Receive, send: Send) -> None:
        begun = False

        async def sending(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                message = {**message, "headers": _with_headers(message.get("headers", ()))}
            await send(message)

        refusal, rule = self._judged(scope)
        if refusal is not None or rule is None:
            status, sentence = refusal or (404, "There is nothing here.")
            wants = b"".join(v for k, v in scope["headers"] if k.lower() == b"accept")
            await _refuse(sending, status, sentence, plain=b"text/html" in wants)
            return
        try:
            await self.app(scope, self._counted(receive, rule.most), sending)
        except _TooMuch:
            if not begun:
                await _refuse(sending, 413, "This is larger than may be sent here.")
        except _TooSlow:
            if not begun:
                await _refuse(sending, 408, "This did not arrive in time; send it again.")
        except Exception as problem:  # noqa: BLE001 - the last resort: a number, not a traceback
            self.faults += 1
            reference = f"fault {self.faults}"
            print(f"{reference}:", file=sys.stderr)  # noqa: T201 - the terminal is its reader
            traceback.print_exception(problem)
            if not begun:
                sentence = "This is a fault of seamproof, not yours. Nothing was changed."
                await _refuse(sending, 500, sentence, reference=reference)

    def _judged(self, scope: Scope) -> tuple[tuple[int, str] | None, Allowed | None]:
        """Why a request is not let in, or the address that it is let in to."""
        headers: dict[bytes, list[str]] = {}
        for name, value in scope["headers"]:
            headers.setdefault(name.lower(), []).append(value.decode("latin-1"))
        if [h.lower() for h in headers.get(b"host", [])] not in [[host] for host in self.hosts]:
            return (403, "This page is served to this machine alone."), None
        origins = headers.get(b"origin", [])
        mine = {f"http://{host}" for host in self.hosts}
        if any(origin.lower() not in mine for origin in origins):
            return (403, "Another page may not call this one."), None
        parts = parts_of(scope["path"])
        found = next(
            (a for a in self.table if a.method == method_of(scope) and a.fits(parts)), None
        )
        if found is None or found.rule != "launch":
            if not self._has_key(headers.get(b"cookie", [])):
                return (401, "Open the address that the terminal shows."), None
            site = headers.get(b"sec-fetch-site", ["same-origin"])
            if any(s not in ("same-origin", "none") for s in site):
                return (403, "Another page may not call this one."), None
        if found is None:
            there = any(a.fits(parts) for a in self.table)
            return ((405, "That cannot be done here.") if there else None), None
        if found.method not in ("GET", "HEAD"):
            if not origins and headers.get(b"sec-fetch-site") != ["same-origin"]:
                return (403, "What is written must come from the page itself."), None
            kind = headers.get(b"content-type", [""])[0].partition(";")[0].strip().lower()
            if kind != "application/json":
                return (415, "Send application/json."), None
        length = headers.get(b"content-length", ["0"])[0]
        if not (length.isascii() and length.isdigit()) or int(length) > found.most:
            return (413, "This is larger than may be sent here."), None
        return None, found

    def _has_key(self, cookies: list[str]) -> bool:
        # Other programs on this machine set cookies too, not all of them well formed: whatever
        # stands beside ours must not hide it, as it does from the reader of the standard library.
        found = [cookie_parser(text).get(self.cookie) for text in cookies]
        return any(key is not None and self.keys.fits(key) for key in found)

    def _counted(self, receive: Receive, most: int) -> Receive:
        """`receive`, counting what comes: lengths that are told need not be true."""
        seen = 0
        complete = False
        until = asyncio.get_running_loop().time() + self.body_seconds

        async def counted() -> Message:
            nonlocal seen, complete
            if complete:  # only the end of the connection is still to come
                return await receive()
            try:
                async with asyncio.timeout_at(until):
                    message = await receive()
            except TimeoutError as problem:
                raise _TooSlow from problem
            if message["type"] == "http.request":
                seen += len(message.get("body", b""))
                complete = not message.get("more_body", False)
                if seen > most:
                    raise _TooMuch
            return message

        return counted


def method_of(scope: Scope) -> str:
    """The method that is asked for; HEAD is GET without the body, which the server leaves out."""
    return "GET" if scope["method"] == "HEAD" else str(scope["method"])


def _with_headers(given: Iterable[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
    """The headers of an answer with ours, those that it names itself kept."""
    own = {name.lower() for name, _ in given}
    ours = [
        (name.encode(), value.encode())
        for name, value in HEADERS.items()
        if name.encode() not in own
    ]
    return [*given, *ours]


async def _refuse(
    send: Send, status: int, sentence: str, *, plain: bool = False, **more: Any
) -> None:
    """A refusal as JSON; to somebody who looks at it in a window of its own, as a line of text."""
    body = (f"{sentence}\n" if plain else json.dumps({"sentence": sentence, **more})).encode()
    headers = [
        (b"content-type", b"text/plain; charset=utf-8" if plain else b"application/json"),
        (b"content-length", str(len(body)).encode()),
        (b"connection", b"close"),
    ]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
