"""The server is killed, stopped, started twice: nothing of it stays behind, and nothing is lost."""

from __future__ import annotations

import os
import random
import signal
import socket
import time
from pathlib import Path

import pytest

from tests.web.driving import Server, served, start
from tests.web.test_two_pages import drawn, lowest


def children(process: int) -> list[int]:
    """The processes that a process started."""
    listed = Path(f"/proc/{process}/task/{process}/children").read_text("utf-8")
    return [int(number) for number in listed.split()]


def free(port: int) -> bool:
    with socket.socket() as trying:
        try:
            trying.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


def alive(process: int) -> bool:
    """Whether a process runs; one that only waits to be asked how it ended does not."""
    try:
        state = Path(f"/proc/{process}/stat").read_text("utf-8").rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def kill_while_working(folder: Path, dice: random.Random, within: float) -> None:
    """One server, at work, killed: its workers go, its port is free, no file is half."""
    page = start(folder)
    page.enter()
    page.ask("GET", "/api/blocks/star")
    page.ask("POST", "/api/jobs", {"job": "sheet", "block": "star"})
    time.sleep(dice.random())
    workers = children(page.process.pid)
    assert workers
    page.kill()
    begun = time.monotonic()
    while any(map(alive, workers)):
        assert time.monotonic() - begun < within, "a worker outlived its server"
        time.sleep(0.01)
    with socket.socket() as again:
        again.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        again.bind(("127.0.0.1", page.port))
    left = [p.name for p in folder.rglob("*") if p.suffix in (".tmp", ".pdf")]
    assert left == []


def test_nothing_outlives_a_killed_server(quilt: Path) -> None:
    kill_while_working(quilt, random.Random(1), within=20)  # a busy machine may take its time


@pytest.mark.soak
def test_a_hundred_killed_servers(quilt: Path) -> None:
    dice = random.Random(2)
    for _ in range(100):
        kill_while_working(quilt, dice, within=2)


def edit_and_kill(folder: Path, edits: int, dice: random.Random) -> None:
    """A robot edits, the server is killed: what was told as saved is there, and can be undone."""
    page = start(folder)
    page.enter()
    base = page.ask("GET", "/api/blocks/pair").json["revision"]
    x = ""
    for _ in range(edits):
        x = lowest(f"{dice.randint(1, 4)} {dice.randint(1, 63)}/64")
        saved = drawn(page, "pair", x, base)
        assert saved.status == 200
        base = saved.json["revision"]
    page.kill()
    with served(folder) as again:
        found = again.ask("GET", "/api/blocks/pair").json
        assert found["revision"] == base
        assert found["drawing"]["seams"][0]["from"][0] == x
        assert again.ask("GET", "/api/history?block=pair").json["undo"] == "Seam moved"
        assert again.ask("POST", "/api/undo", {"block": "pair"}).json["what"] == "Seam moved"
        assert again.ask("POST", "/api/redo", {"block": "pair"}).json["revision"] == base


def test_edits_and_their_history_survive_a_kill(quilt: Path) -> None:
    edit_and_kill(quilt, 5, random.Random(3))


@pytest.mark.soak
def test_fifty_killed_robots(quilt: Path) -> None:
    dice = random.Random(4)
    for _ in range(50):
        edit_and_kill(quilt, dice.randint(1, 40), dice)


def test_a_server_that_slept_goes_on(quilt: Path) -> None:
    with served(quilt) as page:
        base = page.ask("GET", "/api/blocks/pair").json["revision"]
        page.process.send_signal(signal.SIGSTOP)
        time.sleep(1)
        page.process.send_signal(signal.SIGCONT)
        first = drawn(page, "pair", "2", base)
        assert first.status == 200, "no conflict that is none"
        _backdated(quilt)
        second = drawn(page, "pair", "1", first.json["revision"])
        assert second.status == 200, "the time of a file is not asked"
        assert len(page.ask("GET", "/api/history").json["entries"]) == 2


def _backdated(folder: Path) -> None:
    """All files as if the clock had been set back a day."""
    yesterday = time.time() - 86_400
    for path in (folder / "blocks").iterdir():
        os.utime(path, (yesterday, yesterday))


def test_the_next_port_is_taken_if_one_is_not_free(quilt: Path, page: Server) -> None:
    with served(quilt) as other:
        assert other.port > 0
        assert other.port != page.port
        assert not free(page.port)


def test_the_code_stands_in_no_log(quilt: Path, capfd: pytest.CaptureFixture[str]) -> None:
    with served(quilt) as page:
        code = page.address.partition("code=")[2]
        page.ask("GET", f"/open?code={code}")
        page.ask("GET", "/api/nothing")
    assert code not in "".join(capfd.readouterr())
    for path in quilt.rglob("*"):
        assert path.is_dir() or code.encode() not in path.read_bytes()
