"""A worker whose orders go wrong in every way there is, run in the place of the real one."""

from __future__ import annotations

import os
import signal
import time
from typing import Any

from seamproof.errors import InputError
from seamproof.web.worker import run


class Unspeakable(Exception):
    """Nothing that could be sent through a pipe."""

    def __init__(self) -> None:
        super().__init__(lambda: None)


def bad(order: dict[str, Any], tell: Any, stop: Any, memory: Any) -> Any:
    del memory
    match order["how"]:
        case "fine":
            return order["say"]
        case "tells":
            for number in range(5):
                tell({"number": number})
            return "told"
        case "eats":
            return len(bytearray(8 * 1024**3))
        case "spins":
            while True:
                pass
        case "sleeps":
            time.sleep(order["seconds"])
            return "slept"
        case "stops":
            while not stop():
                time.sleep(0.001)
            raise InputError("stopped as it was asked to")
        case "betters":
            best = 0
            while not stop():
                best += 1
                tell({"best": best})
                time.sleep(0.001)
            return best
        case "dies":
            os.kill(os.getpid(), signal.SIGSEGV)
        case "leaves":
            os._exit(3)
        case "raises":
            raise Unspeakable
        case "refuses":
            raise InputError("this cannot be sewn", mend="draw it anew")
        case "prints":
            print("to standard output")  # noqa: T201 - what a library might do
            return "printed"
        case _:
            return {1, 2}  # no JSON
    return None


if __name__ == "__main__":
    run({"bad": bad})
