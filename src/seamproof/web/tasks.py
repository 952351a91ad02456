"""What a worker can be asked for; run as a program this module is the worker.

Each task loads what it needs when it is first asked for: a worker that only just begins must hear
already when its server is gone.
"""

from __future__ import annotations

import base64
from pathlib import Path
from typing import TYPE_CHECKING

from seamproof.web.worker import Order, Task, Tell, run

if TYPE_CHECKING:
    from seamproof.pipeline.memory import Memory
    from seamproof.pipeline.model import Stop


def _panels(order: Order, tell: Tell, stop: Stop, memory: Memory) -> None:
    from seamproof.web.orders import source_of
    from seamproof.web.panel_desk import Wanted
    from seamproof.web.panels import panels

    source = source_of(order)
    for name, panel in panels(source, order["panels"], Wanted(**order["wanted"]), memory, stop):
        tell({"panel": name, "made": panel})


def _view(order: Order, tell: Tell, stop: Stop, memory: Memory) -> Order:
    from seamproof.web.views import view

    def told(done: int, of: int, what: str) -> None:
        tell({"done": done, "of": of, "what": what})

    return view(order["view"], Path(order["folder"]), memory, told, stop)


def _made(order: Order, tell: Tell, stop: Stop, memory: Memory) -> Order:
    from seamproof.web.making import MADE

    def told(done: int, of: int, what: str) -> None:
        tell({"done": done, "of": of, "what": what})

    files = MADE[order["job"]](order, memory, told, stop)
    return {"files": [[name, base64.b64encode(data).decode()] for name, data in files]}


TASKS: dict[str, Task] = {"panels": _panels, "view": _view, "make": _made}


def warm() -> None:
    """Load what the first order would have to wait for."""
    from seamproof.pipeline.memory import Memory, code_mark
    from seamproof.project.reading import read_block_bytes
    from seamproof.web import panel_desk, panels

    source = read_block_bytes(b"name: Warm\nfinished: 6\ncells:\n  - a/b a\n  - a b\n", "warm")
    for _ in panels.panels(source, panels.PANELS, panel_desk.Wanted(), Memory(), lambda: False):
        pass
    code_mark()


if __name__ == "__main__":
    run(TASKS, warm)
