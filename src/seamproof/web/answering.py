"""Answers in JSON, forms that are read, and every refusal as a sentence."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from typing import Any, TypeVar

from pydantic import ValidationError
from starlette.requests import Request
from starlette.responses import Response

from seamproof.errors import InputError, LimitError, SaveError
from seamproof.project.open_quilt import Stale
from seamproof.web.forms import Form
from seamproof.web.host import Host

Asked = TypeVar("Asked", bound=Form)
Endpoint = Callable[[Request], Awaitable[Response]]


class Gone(InputError):
    """What is asked for is not there."""


def host_of(request: Request) -> Host:
    """The quilt that is open."""
    host: Host = request.app.state.host
    return host


def told(found: Any, status: int = 200) -> Response:
    """JSON."""
    body = json.dumps(found, separators=(",", ":"), ensure_ascii=False).encode()
    return Response(body, status, media_type="application/json")


def made(body: bytes, status: int = 200) -> Response:
    """JSON that is written already."""
    return Response(body, status, media_type="application/json")


def refused(problem: InputError | SaveError, status: int) -> Response:
    """A refusal as a sentence, with its place and what to do."""
    if isinstance(problem, SaveError):
        return told({"sentence": sentence(str(problem)), "mend": ""}, status)
    place = problem.place
    return told(
        {
            "sentence": sentence(problem.what),
            "mend": problem.mend,
            "place": {
                "file": place.file,
                "line": place.line or None,
                "column": place.column or None,
            }
            if place.file
            else None,
        },
        status,
    )


def sentence(text: str) -> str:
    """With a capital and a full stop.

    >>> sentence("a seam ends nowhere"), sentence("")
    ('A seam ends nowhere.', '')
    """
    return f"{text[:1].upper()}{text[1:].rstrip('.')}." if text else ""


def answering(endpoint: Endpoint) -> Endpoint:
    """An endpoint whose refusals are answers."""

    async def answer(request: Request) -> Response:
        try:
            return await endpoint(request)
        except Gone as problem:
            return refused(problem, 404)
        except Stale:
            raise  # whoever saves knows what to show of both
        except LimitError as problem:
            return refused(problem, 422)
        except InputError as problem:
            return refused(problem, 422)
        except SaveError as problem:
            host_of(request).tell_not_saved(problem)
            return refused(problem, 507)

    return answer


async def form(request: Request, kind: type[Asked]) -> Asked:
    """What the page sent, read as that form. Raises InputError naming the place in it."""
    body = await request.body()
    try:
        return kind.model_validate_json(body)
    except ValidationError as problem:
        first = problem.errors(include_url=False, include_context=False, include_input=False)[0]
        place = " / ".join(str(part) for part in first["loc"][:6])
        raise InputError(
            f"what was sent cannot be read{f' at {place}' if place else ''}: {first['msg']}"[:400],
            mend="load the page anew",
        ) from problem


def base_of(request: Request) -> str:
    """The revision that a change was made to. Raises InputError if it is not told."""
    given = request.headers.get("if-match", "").strip().strip('"')
    if not given:
        raise InputError("the change does not say what it was made to", mend="load the page anew")
    return given[:64]
