"""The page: how long from letting go of a line until the last panel is new.

In parts, since all of it takes the better part of an hour: `start`, each block of the demo quilt by
its name, `many` (a block of 256 patches) and `unwatched` (a thousand edits). A number among them is
how many edits are made of each block, instead of 200.

1. A page without a browser gives one patch of a block another fabric, again and again, waits for
   the save and for every panel (the answer at once for Fit included), and fetches each as it comes.
   Times are from sending the drawing; p50 and p95 of all edits of a block. Beside it the same
   panels worked out in a process that is started for the edit, as a page without workers that
   wait would have to. Promised: a save is answered before the first panel is there.
2. A block of 256 patches, likewise.
3. Starting: from the command to the address, and to the first panel. Promised: the address within
   5 seconds.
4. A thousand edits that nobody waits for, of which each ends the work on the one before: memory of
   the server and of its workers before and after. Promised: the server grows by less than 50 MB,
   and no worker is left over.
"""

from __future__ import annotations

import http.client
import json
import os
import queue
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import seamproof.project
from benchmarks.measuring import Row, seconds
from seamproof.project.reading import read_project
from seamproof.project.starting import copy_demo
from seamproof.web.panels import PANELS
from tests.web.driving import ROOT, Server, start

EDITS = 200
MANY = 1000
LAST = PANELS[-1]
STARTS_WITHIN = 5.0
GROWS_BY = 50.0

ALONE = """
import sys
from seamproof.pipeline.memory import Memory
from seamproof.project.reading import read_block
from seamproof.web.panels import PANELS, Wanted, panels
for _ in panels(read_block(sys.argv[1]), PANELS, Wanted(), Memory(), lambda: False):
    pass
"""


DEMO = Path(seamproof.project.__file__).parent / "demo"
BLOCKS = tuple(path.stem for path in read_project(DEMO).blocks)
PARTS = ("start", *BLOCKS, "many", "unwatched")
QUICK = ("start", *BLOCKS[:2], "many", "unwatched")


def run(quick: bool = False, parts: Sequence[str] = ()) -> list[Row]:
    edits, many = (3, 30) if quick else (EDITS, MANY)
    edits = next((int(part) for part in parts if part.isdigit()), edits)
    parts = [part for part in parts if not part.isdigit()] or (QUICK if quick else PARTS)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "quilt"
        copy_demo(folder)
        (folder / "blocks" / "many.yaml").write_text(many_patches(16), encoding="utf-8")
        listed = (folder / "quilt.yaml").read_text("utf-8")
        listed = listed.replace("blocks:\n", "blocks:\n  - Many\n", 1)
        (folder / "quilt.yaml").write_text(listed, encoding="utf-8")
        begin = time.perf_counter()
        server = start(folder)
        started = time.perf_counter() - begin
        try:
            server.enter()
            told = listening(server)
            first = time.perf_counter()
            server.ask("GET", f"/api/blocks/{BLOCKS[0]}")
            wait_for(told, BLOCKS[0], "front")
            rows = [starting(started, time.perf_counter() - first)] if "start" in parts else []
            surveyed(server)
            for part in parts:
                if part in BLOCKS:
                    rows.append(edited(server, told, folder, part, edits))
                elif part == "many":
                    rows.append(edited(server, told, folder, part, max(2, edits // 20)))
                elif part == "unwatched":
                    rows.append(left_over(server, told, many))
        finally:
            server.end()
    assert started <= STARTS_WITHIN, f"started in {seconds(started)}"
    return rows


def surveyed(server: Server) -> None:
    """Waits until every block of the list has its picture and its mark."""
    end = time.perf_counter() + 120
    while any(b["mark"] == "working" for b in server.ask("GET", "/api/project").json["blocks"]):
        assert time.perf_counter() < end, "the list of blocks is not done"
        time.sleep(0.2)


def many_patches(across: int) -> str:
    """A block of as many squares across as down."""
    rows = "\n".join(
        "  - " + " ".join("ab"[(x + y) % 2] for x in range(across)) for y in range(across)
    )
    return f"name: Many\nfinished: {across}\ncells:\n{rows}\n"


def row(case: str, **columns: str) -> Row:
    heads = ("saved", "front", "last p50", "last p95", "alone", "MB")
    return Row(case, tuple((head, columns.get(head.replace(" ", "_"), "")) for head in heads))


def starting(started: float, first: float) -> Row:
    return row("start", saved=seconds(started), front=seconds(first))


def edited(
    server: Server, told: queue.Queue[dict[str, Any]], folder: Path, block: str, edits: int
) -> Row:
    """The times of some edits of one block."""
    drawing = server.ask("GET", f"/api/blocks/{block}").json
    base, drawn = drawing["revision"], drawing["drawing"]
    wait_for(told, block, LAST, base)
    saves, fronts, lasts = [], [], []
    letters = "abcdef"
    for number in range(edits):
        patch = drawn["patches"][number % len(drawn["patches"])]
        patch["fabric"] = letters[(letters.index(patch["fabric"]) + 1) % len(letters)]
        begin = time.perf_counter()
        reply = server.ask(
            "PUT", f"/api/blocks/{block}", {"what": "Fabric given", "drawing": drawn}, base=base
        )
        assert reply.status == 200, reply
        saves.append(time.perf_counter() - begin)
        base = reply.json["revision"]
        for panel in PANELS:
            wait_for(told, block, panel, base)
            server.ask("GET", f"/api/blocks/{block}/panel/{panel}?revision={base}")
            if panel == "front":
                fronts.append(time.perf_counter() - begin)
        lasts.append(time.perf_counter() - begin)
    begin = time.perf_counter()
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    file = str(folder / "blocks" / f"{block}.yaml")
    subprocess.run([sys.executable, "-c", ALONE, file], check=True, env=environment)
    alone = time.perf_counter() - begin
    return row(
        block,
        saved=seconds(statistics.median(saves)),
        front=seconds(statistics.median(fronts)),
        last_p50=seconds(statistics.median(lasts)),
        last_p95=seconds(share(lasts, 0.95)),
        alone=seconds(alone),
    )


def share(times: list[float], part: float) -> float:
    """The time that a part of all times is at or below."""
    return sorted(times)[min(len(times) - 1, int(part * len(times)))]


def left_over(server: Server, told: queue.Queue[dict[str, Any]], many: int) -> Row:
    """A thousand edits, none waited for but the last."""
    drawing = server.ask("GET", "/api/blocks/lit-window").json
    base, drawn = drawing["revision"], drawing["drawing"]
    wait_for(told, "lit-window", LAST, base)
    before = megabytes(server.process.pid)
    workers = len(children(server.process.pid))
    times = []
    for number in range(many):
        patch = drawn["patches"][number % len(drawn["patches"])]
        patch["fabric"] = "abcdef"[number % 6]
        begin = time.perf_counter()
        reply = server.ask(
            "PUT", "/api/blocks/lit-window", {"what": "Fabric given", "drawing": drawn}, base=base
        )
        times.append(time.perf_counter() - begin)
        base = reply.json["revision"]
    wait_for(told, "lit-window", LAST, base)
    time.sleep(1)
    after = megabytes(server.process.pid)
    now = children(server.process.pid)
    assert len(now) <= max(workers, 3), f"{len(now)} workers"
    assert after - before < GROWS_BY, f"the server grew from {before:.0f} to {after:.0f} MB"
    return row(
        f"{many} edits",
        saved=seconds(statistics.median(times)),
        last_p95=seconds(share(times, 0.99)) + " (save, p99)",
        MB=f"{before:.0f} → {after:.0f}, workers {', '.join(f'{megabytes(p):.0f}' for p in now)}",
    )


def megabytes(process: int) -> float:
    """What a process holds of the memory."""
    text = Path(f"/proc/{process}/status").read_text("utf-8")
    line = next(line for line in text.splitlines() if line.startswith("VmRSS"))
    return int(line.split()[1]) / 1024


def children(process: int) -> list[int]:
    """The processes that a process started."""
    listed = Path(f"/proc/{process}/task/{process}/children").read_text("utf-8")
    return [int(number) for number in listed.split()]


def listening(server: Server) -> queue.Queue[dict[str, Any]]:
    """The panels that are told, as they come."""
    told: queue.Queue[dict[str, Any]] = queue.Queue()
    line = http.client.HTTPConnection("127.0.0.1", server.port)
    line.request("GET", "/api/events", headers={"Cookie": server.cookie})
    answer = line.getresponse()

    def read() -> None:
        for event, data in events(answer):
            if event == "panel":
                told.put(json.loads(data))

    threading.Thread(target=read, daemon=True).start()
    return told


def events(answer: http.client.HTTPResponse) -> Iterator[tuple[str, str]]:
    """The events of a stream and what they say."""
    event = ""
    while text := answer.fp.readline().decode():
        if text.startswith("event: "):
            event = text[7:].strip()
        elif text.startswith("data: "):
            yield event, text[6:]


SEEN: set[tuple[str, str, str | None]] = set()
"""Panels that were told: block, panel, revision; with None for any revision."""


def wait_for(
    told: queue.Queue[dict[str, Any]], block: str, panel: str, base: str | None = None
) -> None:
    """Until a panel is told."""
    end = time.perf_counter() + 120
    while (block, panel, base) not in SEEN:
        found = told.get(timeout=max(0.1, end - time.perf_counter()))
        for revision in (found["revision"], None):
            SEEN.add((found.get("block", ""), found["panel"], revision))
