"""Bodies without end, or too slow, sent to a server that runs: it stays small and goes on."""

from __future__ import annotations

import contextlib
import socket
import threading
import time
from pathlib import Path

import pytest

from tests.web.driving import Server

PIECE = b"10000\r\n" + b"x" * 0x10000 + b"\r\n"


def head(page: Server, *more: str) -> bytes:
    lines = [
        "PUT /api/blocks/star HTTP/1.1",
        f"Host: 127.0.0.1:{page.port}",
        f"Origin: {page.root}",
        f"Cookie: {page.cookie}",
        "Content-Type: application/json",
        'If-Match: "0"',
        *more,
    ]
    return ("\r\n".join(lines) + "\r\n\r\n").encode()


def megabytes(process: int) -> float:
    text = Path(f"/proc/{process}/status").read_text("utf-8")
    return int(next(x for x in text.splitlines() if x.startswith("VmRSS")).split()[1]) / 1024


def without_end(page: Server, most: int) -> tuple[bytes, int]:
    """What is answered to a body in pieces, and how much of it could be sent."""
    with socket.create_connection(("127.0.0.1", page.port), timeout=20) as line:
        line.sendall(head(page, "Transfer-Encoding: chunked"))
        sent = 0
        with contextlib.suppress(ConnectionError, TimeoutError):
            while sent < most:
                line.sendall(PIECE)
                sent += len(PIECE)
        with contextlib.suppress(ConnectionError, TimeoutError):
            return line.recv(200), sent
        return b"", sent


def pings(page: Server, until: threading.Event) -> list[float]:
    """How long the page waits for an answer meanwhile."""
    times = []
    while not until.is_set():
        begin = time.perf_counter()
        assert page.ask("GET", "/api/history").status == 200
        times.append(time.perf_counter() - begin)
        time.sleep(0.02)
    return times


def dripping(page: Server, count: int, seconds: float) -> None:
    """Many bodies that come by a byte a second, none to its end."""
    with contextlib.ExitStack() as all_of_them:
        lines = []
        for _ in range(count):
            line = socket.create_connection(("127.0.0.1", page.port), timeout=20)
            all_of_them.enter_context(line)
            line.sendall(head(page, "Content-Length: 1000"))
            lines.append(line)
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            for line in lines:
                with contextlib.suppress(ConnectionError):
                    line.sendall(b" ")
            time.sleep(1)


def hurt(page: Server, most: int, drips: int, seconds: float) -> list[float]:
    before = megabytes(page.process.pid)
    done, times = threading.Event(), []
    pinging = threading.Thread(target=lambda: times.extend(pings(page, done)))
    pinging.start()
    try:
        answer, sent = without_end(page, most)
        assert sent < most, "the server read on and on"
        assert not answer or answer.startswith(b"HTTP/1.1 413")
        dripping(page, drips, seconds)
    finally:
        done.set()
        pinging.join()
    assert megabytes(page.process.pid) - before < 50
    return sorted(times)


def test_a_body_without_end_and_a_few_that_drip(page: Server) -> None:
    assert len(hurt(page, 200 * 1024**2, 5, 3)) > 3


@pytest.mark.soak
def test_a_gigabyte_and_two_hundred_that_drip(page: Server) -> None:
    times = hurt(page, 1024**3, 200, 30)
    assert times[len(times) // 2] < 0.1
