"""Saves and is killed, again and again: a program of its own, which starts the one that saves.

    python killed.py FOLDER TIMES BYTES SEED SECONDS

Writes one line for each kill that did not leave a whole text, and at the end the count of kills.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from pathlib import Path

from seamproof.project.open_quilt import OpenQuilt, revision

FILE = "blocks/one.yaml"
AT = "2026-01-01T10:00:00+00:00"


def say(line: object) -> None:
    sys.stdout.write(f"{line}\n")


def text(number: int, size: int) -> bytes:
    head = f"# {number}\nname: One\nfinished: 6\ncells:\n  - a\n".encode()
    return head + b"#" + bytes([97 + number % 26]) * (size - len(head) - 2) + b"\n"


def whole(data: bytes, size: int) -> int | None:
    """The number of a text that is whole, else None."""
    head = data[2:].partition(b"\n")[0]
    if not head.isdigit() or data != text(int(head), size):
        return None
    return int(head)


def save_for_ever(folder: Path, size: int, number: int, told: int) -> None:
    quilt = OpenQuilt(folder, at=AT)
    base = revision(quilt.text(FILE))
    while True:
        number += 1
        base = quilt.save(FILE, text(number, size), base=base, what=f"Save {number}", at=AT)
        os.write(told, b"%d\n" % number)


def main(folder: Path, times: int, size: int, seed: int, within: float) -> None:
    dice = random.Random(seed)
    (folder / "blocks").mkdir(parents=True)
    (folder / FILE).write_bytes(text(0, size))
    number = 0
    for kill in range(times):
        out, told = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(out)
            save_for_ever(folder, size, number, told)
        os.close(told)
        lines = os.read(out, 1 << 16)  # at least one save is told
        time.sleep(dice.random() * 0.03)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        while more := os.read(out, 1 << 16):
            lines += more
        os.close(out)
        acknowledged = int(lines.split()[-1])
        found = whole((folder / FILE).read_bytes(), size)
        if found is None or not acknowledged <= found <= acknowledged + 1:
            say(f"kill {kill}: told {acknowledged}, found {found}")
        begun = time.monotonic()
        quilt = OpenQuilt(folder, at=AT)
        took = time.monotonic() - begun
        found = whole(quilt.text(FILE) or b"", size)
        step = quilt.journal.next_undone()
        if found is None or step is None or step.what != f"Save {found}":
            say(f"kill {kill}: opened at {found}, the history at {step}")
        left = [p.name for p in folder.rglob("*") if p.name.endswith((".tmp", "-journal"))]
        if left or took > within:
            say(f"kill {kill}: left {left}, opened in {took:.1f} s")
        quilt.close()
        number = found or 0
    say(times)


if __name__ == "__main__":
    main(
        Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4]), float(sys.argv[5])
    )
