"""What can be looked at of one block: its panels, and its picture in the list of blocks."""

from __future__ import annotations

import json

from starlette.requests import Request
from starlette.responses import Response

from seamproof.errors import InputError
from seamproof.project import limits
from seamproof.project.open_quilt import revision
from seamproof.web.answering import Gone, host_of, made, told
from seamproof.web.panel_desk import Wanted
from seamproof.web.panels import PANELS, Name

PICTURE: tuple[Name, ...] = ("picture",)

FEWEST_MAKERS = 100
"""Makers of a rehearsal at least: fewer say nothing in hundredths."""


async def panel(request: Request) -> Response:
    """GET a panel: 200 with what it shows, or 202 while it is being worked out."""
    host, name = host_of(request), request.path_params["name"]
    which = request.path_params["panel"]
    if which not in PANELS:
        raise Gone(f"there is no panel {which[:40]}", mend=f"there are {', '.join(PANELS)}")
    wanted = _wanted(request)
    try:
        texts = await host.texts(name)
    except InputError as problem:
        raise Gone(problem.what, mend=problem.mend) from problem
    current = revision(texts.text)
    asked = request.query_params.get("revision")
    if asked and asked != current:
        sentence = "The block is drawn anew by now."
        return told({"sentence": sentence, "revision": current}, 409)
    body = host.panel(texts, wanted, which)
    if body is not None:
        return made(body)
    host.make(texts, wanted, PANELS if wanted == Wanted() else (which,))
    return told({"working": True, "revision": current}, 202)


_PLANS = ("best", "usual", "open", "spun", "thin", "nested", "as-given")


def _wanted(request: Request) -> Wanted:
    plan = request.query_params.get("plan", "best")
    if plan not in _PLANS:
        raise InputError(f"there is no plan {plan[:40]}", mend=f"there are {', '.join(_PLANS)}")
    makers = request.query_params.get("makers", "0")
    if not makers.isdigit() or int(makers) > limits.MAKERS or 0 < int(makers) < FEWEST_MAKERS:
        raise InputError(
            "this is no number of makers", mend=f"take {FEWEST_MAKERS} to {limits.MAKERS:,}"
        )
    maker = request.query_params.get("maker", "everyday")[:40]
    compare = request.query_params.get("compare") == "yes"
    return Wanted(plan, maker, int(makers), compare)  # type: ignore[arg-type]


async def picture(request: Request) -> Response:
    """GET the block small, as SVG; nothing while it is being drawn."""
    host, name = host_of(request), request.path_params["name"]
    try:
        texts = await host.texts(name)
    except InputError as problem:
        raise Gone(problem.what, mend=problem.mend) from problem
    body = host.panel(texts, Wanted(), "picture")
    if body is None:
        host.make(texts, Wanted(), PICTURE)
        return Response(status_code=202)
    drawn = json.loads(body).get("svg")
    if drawn is None:
        raise Gone("this block is not whole yet", mend="draw on")
    headers = {"content-security-policy": "default-src 'none'; style-src 'none'; sandbox"}
    return Response(drawn, media_type="image/svg+xml", headers=headers)
