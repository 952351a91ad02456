"""Ctrl-C while something is made better and better: the best so far is kept."""

from __future__ import annotations

import contextlib
import signal
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from types import FrameType


@dataclass(slots=True)
class Interrupted:
    """What Ctrl-C means at the moment: before there is anything to keep it ends the command, later
    it is `asked` for the best so far, and the second time it ends the command after all."""

    something: bool = False
    asked: bool = False

    def __call__(self) -> bool:
        """Whether the work shall come to its end."""
        return self.asked

    def on(self, number: int, frame: FrameType | None) -> None:
        """Ctrl-C has been pressed."""
        del number, frame
        if self.asked or not self.something:
            raise KeyboardInterrupt
        self.asked = True


@contextlib.contextmanager
def keeping_the_best() -> Iterator[Interrupted]:
    """Ctrl-C is asked about instead of ending the command; elsewhere than in the main thread, where
    it does not arrive, nothing changes."""
    made = Interrupted()
    if threading.current_thread() is not threading.main_thread():
        yield made
        return
    before = signal.signal(signal.SIGINT, made.on)
    try:
        yield made
    finally:
        signal.signal(signal.SIGINT, before)
