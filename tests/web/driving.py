"""A page without a browser: it speaks to the application, or to a server that runs."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

ROOT = Path(__file__).resolve().parents[2]

QUILT = """\
# A quilt to try things on.
seamproof: 1
name: Trial
fabrics:
  - {letter: a, name: Light, colour: "#F1EBDD", value: light}
  - {letter: b, name: Dark, colour: "#2F5A48", value: dark}
blocks:
  - Star
  - Pair     # the second
"""

STAR = """\
# My first block.
name: Star
finished: 6
cells:
  - a   a/b a
  - a\\b b   b\\a
  - a   b/a a
"""

PAIR = """\
name: Pair
finished: 6
seams:
  lines:
    - [[3, 0], [3, 6]]
  fabrics:
    - {fabric: a, at: [1, 3]}
    - {fabric: b, at: [5, 3]}
"""


def write_quilt(folder: Path) -> Path:
    """A small quilt of two blocks, one in cells and one in seams."""
    (folder / "blocks").mkdir(parents=True)
    for name, text in (("quilt", QUILT), ("blocks/star", STAR), ("blocks/pair", PAIR)):
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder


@dataclass
class Reply:
    """What the server answered."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def json(self) -> Any:
        return json.loads(self.body)


class _Stay(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_args: Any, **_kept: Any) -> None:
        return None


_OPENER = urllib.request.build_opener(urllib.request.ProxyHandler({}), _Stay())


@dataclass
class Server:
    """A server that runs in a process of its own, and a page that speaks to it."""

    process: subprocess.Popen[str]
    address: str
    told: list[str] = field(default_factory=list)
    cookie: str = ""

    @property
    def root(self) -> str:
        parts = urlsplit(self.address)
        return f"{parts.scheme}://{parts.netloc}"

    @property
    def port(self) -> int:
        return urlsplit(self.address).port or 80

    def enter(self) -> None:
        """Exchange the launch code for the cookie."""
        reply = self.ask("GET", self.address.removeprefix(self.root))
        assert reply.status == 303, reply
        self.cookie = reply.headers["set-cookie"].partition(";")[0]

    def ask(
        self,
        method: str,
        path: str,
        body: Any = None,
        *,
        base: str | None = None,
        headers: dict[str, str] | None = None,
        wait: float = 60,
    ) -> Reply:
        sent = {"Origin": self.root, "Cookie": self.cookie}
        if base is not None:
            sent["If-Match"] = f'"{base}"'
        data = None
        if body is not None or method != "GET":
            data = json.dumps(body or {}).encode()
            sent["Content-Type"] = "application/json"
        request = urllib.request.Request(
            self.root + path, data=data, headers={**sent, **(headers or {})}, method=method
        )
        try:
            with _OPENER.open(request, timeout=wait) as answer:
                found = {k.lower(): v for k, v in answer.headers.items()}
                return Reply(answer.status, found, answer.read())
        except urllib.error.HTTPError as answer:
            found = {k.lower(): v for k, v in answer.headers.items()}
            return Reply(answer.code, found, answer.read())

    def panel(self, block: str, name: str, query: str = "", wait: float = 90) -> Any:
        """A panel, waited for."""
        end = time.monotonic() + wait
        while time.monotonic() < end:
            reply = self.ask("GET", f"/api/blocks/{block}/panel/{name}{query}")
            if reply.status == 200:
                return reply.json
            assert reply.status == 202, reply
            time.sleep(0.1)
        raise AssertionError(f"{name} did not come")

    def kill(self) -> None:
        """As a power cut would."""
        self.process.kill()
        self.process.wait()

    def end(self) -> None:
        """As Ctrl-C would."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
            try:
                self.process.wait(15)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()


def start(folder: Path, *options: str) -> Server:
    """A server for a folder, once it says where it is."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    command = ("serve", str(folder), "--no-browser", "--json", *options)
    process = subprocess.Popen(
        [sys.executable, "-m", "seamproof", *command],
        stdout=subprocess.PIPE,
        text=True,
        env=environment,
    )
    assert process.stdout is not None
    text = ""
    while True:
        line = process.stdout.readline()
        text += line
        if not line or line.rstrip() == "}" or (text.strip() and _whole(text)):
            break
    process.stdout.close()
    if not _whole(text):
        process.wait()
        raise AssertionError(f"the server did not start: {text} ({process.returncode})")
    answer = json.loads(text)
    if "error" in answer:
        process.wait()
        raise RuntimeError(answer["error"]["what"])
    return Server(process, answer["address"], answer["told"])


def _whole(text: str) -> bool:
    try:
        json.loads(text)
    except ValueError:
        return False
    return True


@contextlib.contextmanager
def served(folder: Path, *options: str) -> Iterator[Server]:
    """A server with the page let in, ended afterwards."""
    server = start(folder, *options)
    try:
        server.enter()
        yield server
    finally:
        server.end()
