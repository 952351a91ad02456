"""Every address of the page, in one table, and the application behind the gate.

An address that is not in the table does not exist. `docs/reference/page.md` shows the same table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from types import SimpleNamespace

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from seamproof.web import block_routes, jobs, panel_routes, project_routes
from seamproof.web.answering import Endpoint, answering, told
from seamproof.web.gate import SMALL_BODY, Gate, Keys, Rule, allowed, method_of, parts_of
from seamproof.web.host import Host

LARGE_BODY = 2 * 1024 * 1024
"""Bytes of a drawing: the largest block that is allowed takes a third."""


@dataclass(frozen=True, slots=True)
class Address:
    """One address: what is done there, what the gate asks for, how large a body may be."""

    method: str
    path: str
    endpoint: Endpoint
    rule: Rule = "session"
    most: int = SMALL_BODY


_KINDS = {
    ".js": "text/javascript",
    ".css": "text/css",
    ".svg": "image/svg+xml",
    ".ttf": "font/ttf",
    ".txt": "text/plain",
}


async def launch(request: Request) -> Response:
    """GET with the launch code: the key is set as a cookie, and on to the page."""
    gate: Gate = request.app.state.gate
    key = gate.keys.exchange(request.query_params.get("code", ""))
    if key is None:
        sentence = "This address was used already, or is not the one that the terminal shows."
        return told({"sentence": sentence, "mend": "start seamproof serve anew"}, 401)
    answer = RedirectResponse("/", status_code=303)
    answer.set_cookie(gate.cookie, key, httponly=True, samesite="strict", path="/")
    return answer


async def page(request: Request) -> Response:
    """GET the page."""
    environment: Environment = request.app.state.templates
    host: Host = request.app.state.host
    html = environment.get_template("page.html").render(folder=host.quilt.folder.name)
    return Response(html, media_type="text/html")


async def static(request: Request) -> Response:
    """GET a file of the page: those that were there when the server started, and no others."""
    files: dict[str, bytes] = request.app.state.static
    name = request.path_params["file"]
    if name not in files:
        return told({"sentence": "There is nothing here."}, 404)
    kind = _KINDS.get(Path(name).suffix, "application/octet-stream")
    return Response(files[name], media_type=kind)


def static_files() -> dict[str, bytes]:
    """The files of the page by their names under ``/static``: the page's own, and the fonts."""
    found = {}
    own = Path(str(resources.files("seamproof.web") / "static"))
    for path in sorted(own.rglob("*")):
        if path.is_file() and path.suffix in _KINDS:
            found[path.relative_to(own).as_posix()] = path.read_bytes()
    fonts = Path(str(resources.files("seamproof.booklet") / "fonts"))
    for path in sorted(fonts.iterdir()):
        if path.suffix in (".ttf", ".txt"):
            found[f"fonts/{path.name}"] = path.read_bytes()
    return found


TABLE = (
    Address("GET", "/open", launch, rule="launch"),
    Address("GET", "/", page),
    Address("GET", "/static/{file:path}", static),
    Address("GET", "/api/project", project_routes.project),
    Address("GET", "/api/proof", project_routes.proof),
    Address("GET", "/api/top", project_routes.view),
    Address("GET", "/api/cloth", project_routes.view),
    Address("GET", "/api/programme", project_routes.view),
    Address("GET", "/api/events", project_routes.events),
    Address("GET", "/api/history", project_routes.history),
    Address("POST", "/api/history", project_routes.go_to),
    Address("GET", "/api/kept/{number}", project_routes.kept),
    Address("POST", "/api/undo", project_routes.undo),
    Address("POST", "/api/redo", project_routes.redo),
    Address("GET", "/api/quilt", project_routes.quilt),
    Address("PUT", "/api/quilt", project_routes.save_quilt),
    Address("POST", "/api/blocks", block_routes.begin),
    Address("GET", "/api/blocks/{name}", block_routes.block),
    Address("PUT", "/api/blocks/{name}", block_routes.save, most=LARGE_BODY),
    Address("POST", "/api/blocks/{name}/rename", block_routes.rename),
    Address("POST", "/api/blocks/{name}/turn", block_routes.turn),
    Address("POST", "/api/blocks/{name}/mirror", block_routes.mirror),
    Address("PUT", "/api/blocks/{name}/fixing", block_routes.fix),
    Address("GET", "/api/blocks/{name}/picture", panel_routes.picture),
    Address("GET", "/api/blocks/{name}/panel/{panel}", panel_routes.panel),
    Address("POST", "/api/jobs", jobs.begin),
    Address("GET", "/api/jobs/{number}", jobs.state),
    Address("POST", "/api/jobs/{number}/stop", jobs.stop),
    Address("GET", "/api/jobs/{number}/file", jobs.file),
)
"""All addresses."""


class Application:
    """The addresses and what they share. It stands behind the gate and is never called without."""

    def __init__(self, host: Host, gate_of: Callable[[ASGIApp], Gate]) -> None:
        self.state = SimpleNamespace(
            host=host,
            jobs=jobs.Jobs(host),
            static=static_files(),
            templates=Environment(
                loader=PackageLoader("seamproof.web"), autoescape=True, undefined=StrictUndefined
            ),
        )
        self.gate = self.state.gate = gate_of(self)
        self._named = [(allowed(a.method, a.path), answering(a.endpoint)) for a in TABLE]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, or the whole life of the server."""
        if scope["type"] == "lifespan":
            await self._live(receive, send)
            return
        # No middleware between the gate and the endpoints: the gate itself is the last resort.
        parts = parts_of(scope["path"])
        for address, endpoint in self._named:
            if address.method == method_of(scope) and address.fits(parts):
                scope.update(app=self, path_params=address.filled(parts))
                answer = await endpoint(Request(scope, receive))
                await answer(scope, receive, send)
                return
        raise LookupError(f"the gate let {scope['path']} in, and no address has it")

    async def _live(self, receive: Receive, send: Send) -> None:
        host: Host = self.state.host
        await receive()
        await host.start()
        await send({"type": "lifespan.startup.complete"})
        await receive()
        await self.state.jobs.close()
        await host.close()
        await send({"type": "lifespan.shutdown.complete"})


def application(host: Host, keys: Keys, port: int) -> Gate:
    """The application of one open quilt, behind its gate."""
    table = [allowed(a.method, a.path, a.rule, a.most) for a in TABLE]
    return Application(host, lambda app: Gate(app, table, keys, port)).gate
