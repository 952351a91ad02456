"""The process that does the heavy work: it takes orders on standard input and answers on standard
output.

Messages are JSON with their length before them. A thread listens: it notes that an order shall
stop, and ends the process at once when the other end is gone, however the server ended. So no
worker outlives its server, on any system.
"""

from __future__ import annotations

import contextlib
import json
import os
import queue
import struct
import sys
import threading
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, BinaryIO

# Nothing heavy is imported here: a worker that only just begins must listen already.
from seamproof.errors import InputError, SeamproofError, Stopped

if TYPE_CHECKING:
    from seamproof.pipeline.memory import Memory
    from seamproof.pipeline.model import Stop

Order = dict[str, Any]
Tell = Callable[[Any], None]
Task = Callable[[Order, Tell, "Stop", "Memory"], Any]
"""What does an order: it may tell things on the way, asks whether to stop, and returns JSON."""

LENGTH = struct.Struct(">I")

MOST_MEMORY = 2 * 1024**3
"""Bytes of address space, on systems that can limit it. The largest block takes a fifth."""

MOST_RESULTS = 48
"""Results kept in the process: the stages of the last few drawings of a block."""

POLITENESS = 5
"""How far a worker stands back behind the page (nice, of 19)."""


def run(tasks: Mapping[str, Task], warm: Callable[[], None] = lambda: None) -> None:
    """Do orders of these tasks until the other end is gone."""
    orders: queue.Queue[Order] = queue.Queue()
    stopped: set[int] = set()
    source, sink = sys.stdin.buffer, os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    # What some library prints must not come between the messages.
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    _limit()
    threading.Thread(target=_listen, args=(source, orders, stopped), daemon=True).start()
    from seamproof.pipeline.memory import Memory, users_folder

    memory = Memory(users_folder(), most_here=MOST_RESULTS)
    warm()
    _send(sink, {"ready": True})
    while True:
        order = orders.get()
        _do(order, tasks, memory, sink, stopped)


def _listen(source: BinaryIO, orders: queue.Queue[Order], stopped: set[int]) -> None:
    while True:
        message = receive(source)
        if message is None:
            os._exit(0)  # nobody is there any more; a running stage would only heat the room
        if "stop" in message:
            stopped.add(message["stop"])
        else:
            orders.put(message)


def receive(source: BinaryIO) -> Order | None:
    """The next message, None at the end."""
    head = source.read(LENGTH.size)
    if len(head) < LENGTH.size:
        return None
    body = source.read(LENGTH.unpack(head)[0])
    found: Order = json.loads(body)
    return found


def packed(message: Any) -> bytes:
    """A message as it goes through the pipe."""
    body = json.dumps(message, separators=(",", ":")).encode()
    return LENGTH.pack(len(body)) + body


def _send(sink: BinaryIO, message: Any) -> None:
    sink.write(packed(message))
    sink.flush()


def _do(
    order: Order, tasks: Mapping[str, Task], memory: Memory, sink: BinaryIO, stopped: set[int]
) -> None:
    number = order["id"]

    def tell(message: Any) -> None:
        _send(sink, {"id": number, "tell": message})

    try:
        done = tasks[order["task"]](order, tell, lambda: number in stopped, memory)
        _send(sink, {"id": number, "done": done})
    except Stopped:
        _send(sink, {"id": number, "stopped": True})
    except InputError as problem:
        _send(sink, {"id": number, "failed": problem.what, "mend": problem.mend})
    except SeamproofError as problem:
        _send(sink, {"id": number, "failed": str(problem), "mend": ""})
    except MemoryError:
        said = "this takes more memory than the program may use"
        _send(sink, {"id": number, "failed": said, "mend": "make the drawing smaller"})
    except Exception as problem:  # noqa: BLE001 - the last resort: the page gets a sentence
        _send(sink, {"id": number, "fault": f"{type(problem).__name__}: {problem}"})
    stopped.discard(number)


def _limit() -> None:
    """Keep one bad order from taking the whole machine."""
    with contextlib.suppress(ImportError, OSError, ValueError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    with contextlib.suppress(AttributeError, OSError):
        os.nice(POLITENESS)
