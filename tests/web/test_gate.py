"""Nobody but the page comes in, whatever they send."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamproof.web import routes
from seamproof.web.gate import HEADERS, Gate
from seamproof.web.routes import LARGE_BODY, TABLE, Address
from tests.web.calling import HOST, JSON, ORIGIN, PORT, Page, addresses, apart
from tests.web.driving import QUILT, write_quilt

DOCS = Path(__file__).parents[2] / "docs" / "reference" / "page.md"

HOSTS = [
    HOST,
    f"localhost:{PORT}",
    f"[::1]:{PORT}",
    f"LOCALHOST:{PORT}",
    "127.0.0.1",
    "localhost",
    f"127.0.0.1:{PORT + 1}",
    f"127.0.0.2:{PORT}",
    f"0.0.0.0:{PORT}",
    f"127.1:{PORT}",
    f"2130706433:{PORT}",
    f"0x7f.1:{PORT}",
    f"evil.example:{PORT}",
    f"localhost.evil.example:{PORT}",
    f"127.0.0.1.evil.example:{PORT}",
    f"evil.example#@127.0.0.1:{PORT}",
    f"127.0.0.1:{PORT}@evil.example",
    f"localhost.:{PORT}",
    f"127.0.0.1.:{PORT}",
    f" 127.0.0.1:{PORT}",
    f"127.0.0.1:{PORT},evil.example",
    f"127.0.0.1:{PORT}/",
    f"http://127.0.0.1:{PORT}",
    f"[::ffff:127.0.0.1]:{PORT}",
    f"[::]:{PORT}",
    f"::1:{PORT}",
    f"127.0.0.1:0{PORT}",
    "",
    "*",
    "null",
]
GOOD_HOSTS = set(HOSTS[:4])
ORIGINS = [
    None,
    ORIGIN,
    f"http://localhost:{PORT}",
    "null",
    "http://evil.example",
    f"https://127.0.0.1:{PORT}",
    f"http://127.0.0.1:{PORT + 1}",
    "http://127.0.0.1",
    f"http://127.0.0.1:{PORT}.evil.example",
    "",
]
GOOD_ORIGINS = {None, ORIGIN, f"http://localhost:{PORT}"}


@pytest.fixture(scope="module")
def outside(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    page = Page(write_quilt(tmp_path_factory.mktemp("gate") / "quilt"))
    yield page
    page.host.quilt.close()


@pytest.fixture(scope="module")
def entered(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """A page that is let in, for tests that change nothing."""
    page = Page(write_quilt(tmp_path_factory.mktemp("entered") / "quilt"))
    page.enter()
    yield page
    page.host.quilt.close()


@pytest.fixture
def inside(tmp_path: Path) -> Iterator[Page]:
    page = Page(write_quilt(tmp_path / "quilt"))
    page.enter()
    yield page
    page.host.quilt.close()


def test_only_names_of_this_machine_and_the_page_itself_pass(outside: Page) -> None:
    for host, origin, (method, path) in product(HOSTS, ORIGINS, addresses()):
        headers = [("host", host), ("content-type", JSON)]
        headers += [] if origin is None else [("origin", origin)]
        reply = outside.ask(method, path, headers=headers)
        if host in GOOD_HOSTS and origin in GOOD_ORIGINS:
            assert reply.status == 401, (host, origin, method, path)
        else:
            assert reply.status == 403, (host, origin, method, path)


def test_two_hosts_and_none_are_refused(outside: Page) -> None:
    for headers in ([], [("host", HOST), ("host", HOST)], [("host", HOST), ("host", "evil")]):
        assert outside.ask("GET", "/", headers=headers).status == 403


COOKIES = ["", "seamproof-8631=", "seamproof-8631=guess", "other=1", "seamproof-8631", "=;;=", "ä"]


@pytest.mark.parametrize("cookie", COOKIES)
def test_without_the_key_there_is_nothing_but_the_launch(outside: Page, cookie: str) -> None:
    for method, path in [
        *addresses(),
        ("GET", "/nothing"),
        ("DELETE", "/"),
        ("PATCH", "/api/quilt"),
    ]:
        headers = [("host", HOST), ("cookie", cookie), ("origin", ORIGIN), ("content-type", JSON)]
        reply = outside.ask(method, path, headers=headers)
        assert reply.status == 401, (method, path)
        assert set(reply.json) <= {"sentence", "mend"}


def test_who_opens_the_page_without_a_key_reads_a_sentence(outside: Page) -> None:
    reply = outside.ask("GET", "/", headers=[("host", HOST), ("accept", "text/html,*/*")])
    assert (reply.status, reply.headers["content-type"]) == (401, "text/plain; charset=utf-8")
    assert reply.body == b"Open the address that the terminal shows.\n"


def test_a_key_of_an_earlier_server_is_refused(inside: Page, tmp_path: Path) -> None:
    other = Page(write_quilt(tmp_path / "other"))
    other.cookie = inside.cookie
    assert other.ask("GET", "/").status == 401
    other.host.quilt.close()


@pytest.mark.parametrize("other", ['seen={"a": 1}', "a b=c", "=", 'x="open', "ü=1"])
def test_cookies_of_other_programs_do_not_hide_the_key(inside: Page, other: str) -> None:
    for cookie in (f"{other}; {inside.cookie}", f"{inside.cookie}; {other}"):
        assert inside.ask("GET", "/", headers=[("host", HOST), ("cookie", cookie)]).status == 200


def test_websockets_are_closed(inside: Page) -> None:
    said = []

    async def receive() -> dict[str, str]:
        return {"type": "websocket.connect"}

    async def send(message: dict[str, object]) -> None:
        said.append(message)

    scope = {"type": "websocket", "path": "/api/events", "headers": [(b"host", HOST.encode())]}
    apart(inside.gate(scope, receive, send))  # type: ignore[arg-type]
    assert said == [{"type": "websocket.close", "code": 1008}]


def test_a_new_address_is_closed_until_the_table_names_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(routes, "TABLE", (*TABLE, Address("GET", "/planted", routes.page)))
    page = Page(write_quilt(tmp_path / "quilt"))
    assert page.ask("GET", "/planted").status == 401
    page.enter()
    assert page.ask("GET", "/planted").status == 200
    bare = Gate(page.gate.app, [], page.keys, PORT)  # the router knows it, the gate does not
    assert page.ask("GET", "/planted", gate=bare).status == 404
    page.host.quilt.close()


def test_only_the_launch_needs_no_key() -> None:
    assert [address.path for address in TABLE if address.rule != "session"] == ["/open"]


def test_the_launch_code_works_once(tmp_path: Path) -> None:
    page = Page(write_quilt(tmp_path / "quilt"))
    for guess in range(1000):
        assert page.ask("GET", f"/open?code={guess}").status == 401
    first = page.ask("GET", f"/open?code={page.code}")
    assert (first.status, first.headers["location"]) == (303, "/")
    cookie = first.headers["set-cookie"]
    assert {"HttpOnly", "Path=/", "SameSite=strict"} <= set(re.split("; ", cookie))
    again = page.ask("GET", f"/open?code={page.code}")
    assert again.status == 401
    assert "set-cookie" not in again.headers
    assert page.code not in cookie
    page.host.quilt.close()


@pytest.mark.soak
def test_a_hundred_thousand_guesses(tmp_path: Path) -> None:
    page = Page(write_quilt(tmp_path / "quilt"))
    assert not any(page.keys.exchange(f"{page.code[:-1]}-{i}") for i in range(100_000))
    assert page.keys.exchange(page.code)
    page.host.quilt.close()


def test_what_is_written_comes_from_the_page_and_as_json(inside: Page) -> None:
    key = [("host", HOST), ("cookie", inside.cookie)]
    mine, json = [("origin", ORIGIN)], [("content-type", JSON)]
    ask = lambda headers: inside.ask("POST", "/api/undo", headers=headers, body=[b"{}"]).status  # noqa: E731
    assert ask([*key, *json]) == 403
    assert ask([*key, *json, ("sec-fetch-site", "cross-site")]) == 403
    assert ask([*key, *json, *mine, ("sec-fetch-site", "same-site")]) == 403
    assert ask([*key, *mine]) == 415
    assert ask([*key, *mine, ("content-type", "text/plain")]) == 415
    assert ask([*key, *mine, ("content-type", "multipart/form-data; boundary=x")]) == 415
    assert ask([*key, *mine, *json]) == 200
    assert ask([*key, *json, ("sec-fetch-site", "same-origin")]) == 200


def test_every_answer_has_the_headers(inside: Page, outside: Page) -> None:
    replies = [inside.ask(*address) for address in addresses()]
    replies += [outside.ask(*address) for address in addresses()]
    replies += [inside.ask("GET", "/nothing"), inside.ask("DELETE", "/"), inside.ask("HEAD", "/")]
    replies.append(outside.ask("GET", "/", headers=[("host", "evil.example")]))
    for reply in replies:
        for name, value in HEADERS.items():
            if name == "content-security-policy" and "svg" in reply.headers.get("content-type", ""):
                continue
            assert reply.headers[name] == value
        assert "server" not in reply.headers
    policy = HEADERS["content-security-policy"]
    assert "unsafe" not in policy
    for word in ("object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"):
        assert word in policy


def test_what_is_not_there_and_what_cannot_be_done(inside: Page) -> None:
    assert inside.ask("GET", "/api/nothing").status == 404
    assert inside.ask("DELETE", "/api/blocks/star").status == 405
    assert inside.ask("GET", "/api/undo").status == 405
    assert inside.ask("GET", "/static/nothing.js").status == 404
    assert inside.ask("GET", "/api/blocks/none").status == 404
    assert inside.ask("GET", "/api/blocks/star/panel/none").status == 404
    assert inside.ask("GET", "/api/jobs/7/file").status == 404


# Bodies -------------------------------------------------------------------------------------------


def put(page: Page, body: list[bytes], length: int | None = None, slow: float = 0) -> int:
    headers = [*page.usual("PUT"), ("if-match", "0")]
    headers += [] if length is None else [("content-length", str(length))]
    return page.ask("PUT", "/api/blocks/star", headers=headers, body=body, slow=slow).status


def test_a_body_may_be_as_large_as_its_address_allows_and_no_larger(inside: Page) -> None:
    assert put(inside, [b" " * LARGE_BODY], LARGE_BODY) == 422
    assert put(inside, [b" "], LARGE_BODY + 1) == 413
    assert inside.received == 0, "refused by the length that it tells"
    assert put(inside, [b" " * LARGE_BODY, b" "]) == 413
    assert put(inside, [b" "] * 10, 5) == 422, "a length that is not true does no harm"
    for length in ("x", "-1", "1e9", "9" * 400):
        headers = [*inside.usual("PUT"), ("content-length", length)]
        assert inside.ask("PUT", "/api/blocks/star", headers=headers).status == 413


def test_a_body_without_end_is_not_read_to_its_end(inside: Page) -> None:
    piece = b"x" * 65536
    assert put(inside, [piece] * (1024**3 // len(piece))) == 413
    assert inside.received <= LARGE_BODY + len(piece)


def test_a_body_that_drips_is_given_up(inside: Page) -> None:
    inside.gate.body_seconds = 0.2
    assert put(inside, [b"x"] * 200, slow=0.05) == 408


@pytest.mark.parametrize(
    "body",
    [
        b"[" * 100_000,
        b'{"a":' * 100_000,
        b"\xff\xfe",
        b"NaN",
        b"1e999",
        b'{"what":"x","drawing":null}',
        b'{"what":"x","drawing":{}}',
        b"{%s}" % b",".join(b'"k%d":1' % i for i in range(100_000)),
        b'{"what":"' + b"x" * 1000 + b'","drawing":{}}',
    ],
)
def test_a_body_that_makes_no_sense_is_refused_in_a_sentence(inside: Page, body: bytes) -> None:
    headers = [*inside.usual("PUT"), ("if-match", "0")]
    reply = inside.ask("PUT", "/api/blocks/star", headers=headers, body=[body])
    assert reply.status in (413, 422)
    assert reply.json["sentence"].endswith(".")
    assert "Traceback" not in reply.body.decode()
    assert inside.gate.faults == 0


# Paths --------------------------------------------------------------------------------------------

PIECES = [
    "..",
    ".",
    "%2e%2e",
    "%252e%252e",
    "\\",
    "%5c",
    "%00",
    "\0",
    "\u202e",
    "~",
    "C:",
    "\\\\srv",
]
PIECES += [
    "etc",
    "passwd",
    "quilt.yaml",
    "blocks",
    "star.yaml",
    "static",
    "",
    "x" * 300,
    "..;",
    "....//",
]
SPELLINGS = st.lists(st.sampled_from(PIECES), min_size=1, max_size=8)


def outside_texts(page: Page, path: str, method: str) -> None:
    reply = page.ask(method, path, body=[b"{}"])
    assert QUILT.encode()[:40] not in reply.body
    assert b"root:" not in reply.body
    assert b"import " not in reply.body
    assert reply.status < 500


@given(spelling=SPELLINGS, slash=st.sampled_from(["/", "//", "%2f", "\\", "/./"]))
@settings(max_examples=100)
def test_no_spelling_leads_out_of_the_project(
    entered: Page, spelling: list[str], slash: str
) -> None:
    path = slash.join(spelling)
    for before in ("/", "/static/", "/static/drawing/", "/api/blocks/", "/api/kept/", "/api/jobs/"):
        outside_texts(entered, before + path, "GET")
    outside_texts(entered, f"/api/blocks/{path}/picture", "GET")
    outside_texts(entered, f"/api/blocks/{path}/turn", "POST")


@pytest.mark.soak
@given(spelling=SPELLINGS)
@settings(max_examples=5000)
def test_five_thousand_spellings(entered: Page, spelling: list[str]) -> None:
    for method, path in addresses():
        inside_path = "/".join(
            "/".join(spelling) if part == "star" else part for part in path.split("/")
        )
        outside_texts(entered, inside_path, method)


# The page of the documentation --------------------------------------------------------------------


def test_the_reference_names_every_address_and_no_other() -> None:
    rows = re.findall(r"^\| `([A-Z]+) (/\S*)` \| .+\. \|$", DOCS.read_text("utf-8"), re.MULTILINE)
    assert rows == [(address.method, address.path) for address in TABLE]


def test_a_fault_is_a_number_and_not_a_traceback(
    inside: Page, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_arguments: object) -> None:
        raise KeyError("secret")

    monkeypatch.setattr(inside.host, "do", broken)
    reply = inside.ask("GET", "/api/history")
    assert reply.status == 500
    assert reply.json["reference"] == "fault 1"
    assert b"secret" not in reply.body
    assert "secret" in capsys.readouterr().err
