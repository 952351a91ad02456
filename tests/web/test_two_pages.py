"""Two pages, eight writers, another program: whatever was drawn is saved, or refused and kept."""

from __future__ import annotations

import threading
import time
from pathlib import Path
from typing import Any

import pytest

from tests.web.driving import PAIR, Server, served


def drawn(page: Server, block: str, x: str, base: str, what: str = "Seam moved") -> Any:
    """The seam of the block of two patches, moved."""
    drawing = {
        "title": "Pair",
        "width": "6",
        "height": "6",
        "seams": [{"from": [x, "0"], "to": [x, "6"]}],
        "patches": [{"at": ["1/64", "3"], "fabric": "a"}, {"at": ["5 63/64", "3"], "fabric": "b"}],
    }
    return page.ask("PUT", f"/api/blocks/{block}", {"what": what, "drawing": drawing}, base=base)


def rounds(page: Server, file: Path, count: int) -> None:
    """Two pages that know the same revision save one after the other."""
    for number in range(count):
        base = page.ask("GET", "/api/blocks/pair").json["revision"]
        one, two = f"1 {number % 31 + 1}/32", f"2 {number % 31 + 1}/32"
        first = drawn(page, "pair", one, base)
        assert first.status == 200
        second = drawn(page, "pair", two, base)
        assert second.status == 412
        told = second.json
        assert told["revision"] == told["theirs"]["revision"] == first.json["revision"]
        assert told["theirs"]["drawing"]["seams"][0]["from"][0] == lowest(one)
        assert told["yours"]["drawing"]["seams"][0]["from"][0] == lowest(two)
        kept = page.ask("GET", f"/api/kept/{told['yours']['kept']}").json
        assert kept["drawing"] == told["yours"]["drawing"]
        assert f"[[{lowest(one)}, 0]" in file.read_text("utf-8")
        if number % 2:  # keep mine
            assert drawn(page, "pair", two, told["revision"]).status == 200
            assert f"[[{lowest(two)}, 0]" in file.read_text("utf-8")


def lowest(text: str) -> str:
    """A mixed number in lowest terms, as a file has it."""
    from seamproof.length.notation import exactly, parse

    return exactly(parse(text))


def test_a_stale_save_is_refused_and_both_are_kept(quilt: Path) -> None:
    with served(quilt) as page:
        rounds(page, quilt / "blocks" / "pair.yaml", 6)
        history = page.ask("GET", "/api/history?block=pair").json
        assert len(history["entries"]) == 9
        assert len(history["kept"]) == 6


@pytest.mark.soak
def test_five_hundred_rounds(quilt: Path) -> None:
    with served(quilt) as page:
        rounds(page, quilt / "blocks" / "pair.yaml", 500)


def writers(page: Server, count: int, seconds: float) -> tuple[int, int]:
    """Writers who save as fast as they can to what they last saw: how many saves were accepted,
    and how many were refused."""
    accepted = [0] * count
    refused = [0] * count
    faults: list[Any] = []
    end = time.monotonic() + seconds

    def write(me: int) -> None:
        number = 0
        while time.monotonic() < end:
            base = page.ask("GET", "/api/blocks/pair").json["revision"]
            number += 1
            x = f"{1 + me % 4} {1 + (me * 37 + number) % 63}/64"
            reply = drawn(page, "pair", x, base, f"{me}: {number}")
            if reply.status == 200:
                accepted[me] += reply.json["revision"] != base
            elif reply.status == 412:
                refused[me] += 1
            else:
                faults.append(reply)

    threads = [threading.Thread(target=write, args=(me,)) for me in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    return sum(accepted), sum(refused)


@pytest.mark.parametrize("seconds", [2, pytest.param(10, marks=pytest.mark.soak)])
def test_eight_writers_lose_nothing(quilt: Path, seconds: float) -> None:
    with served(quilt) as page:
        accepted, _ = writers(page, 8, seconds)
        assert accepted > 0
        undone = 0
        while page.ask("POST", "/api/undo", {"block": "pair"}).json["what"] is not None:
            undone += 1
        assert undone == accepted
        assert (quilt / "blocks" / "pair.yaml").read_text("utf-8") == PAIR


def test_another_program_changes_a_file_under_the_page(quilt: Path) -> None:
    file = quilt / "blocks" / "pair.yaml"
    with served(quilt) as page:
        base = page.ask("GET", "/api/blocks/pair").json["revision"]
        file.write_text(PAIR.replace("[3, ", "[4, "), encoding="utf-8")
        reply = drawn(page, "pair", "2", base)
        assert reply.status == 412
        assert reply.json["theirs"]["drawing"]["seams"][0]["from"][0] == "4"
        assert "[[4, 0]" in file.read_text("utf-8"), "nothing is written before somebody chose"
        entries = page.ask("GET", "/api/history?block=pair").json["entries"]
        assert [entry["by"] for entry in entries] == ["outside"]
        # Take theirs, undo it, and it is as it was.
        assert page.ask("POST", "/api/undo", {}).json["block"] == "pair"
        assert file.read_text("utf-8") == PAIR
        # A file that says no block any more can still be looked at and undone.
        file.write_text("name: Pair\nfinished: six inches\n", encoding="utf-8")
        told = page.ask("GET", "/api/blocks/pair").json
        assert "pair.yaml:2:11" in told["can_draw"]
        assert told["drawing"] is None
        page.ask("POST", "/api/undo", {})
        assert file.read_text("utf-8") == PAIR
        # A file that is gone is not there, and comes back.
        file.unlink()
        assert page.ask("GET", "/api/blocks/pair").status == 404
        assert page.ask("POST", "/api/undo", {}).json["block"] == "pair"
        assert file.read_text("utf-8") == PAIR


def test_the_page_is_told_what_another_program_wrote(
    quilt: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    with served(quilt) as page:
        told: list[str] = []
        listening = threading.Thread(target=listen, args=(page, told), daemon=True)
        listening.start()
        time.sleep(0.5)
        text = PAIR.replace("[3, ", "[4, ")
        (quilt / "blocks" / "pair.yaml").write_text(text, encoding="utf-8")
        end = time.monotonic() + 20
        while not {"disk", "project"} <= set(told):
            assert time.monotonic() < end, told
            time.sleep(0.1)
    listening.join(10)
    assert not listening.is_alive(), "the stream ends with the server"
    assert "Traceback" not in capfd.readouterr().err


def listen(page: Server, told: list[str]) -> None:
    """The names of the events, as they come."""
    import http.client

    line = http.client.HTTPConnection("127.0.0.1", page.port, timeout=30)
    line.request("GET", "/api/events", headers={"Cookie": page.cookie})
    answer = line.getresponse()
    while text := answer.fp.readline():
        if text.startswith(b"event: "):
            told.append(text[7:].strip().decode())
    answer.close()
    line.close()
