"""What the server tells open pages by itself: server-sent events, as the HTML standard has them."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any

BEAT = 15.0
"""Seconds after which a silent stream says that it is alive."""

MOST_WAITING = 500
"""Events that may wait for a page. One that does not read them is let go; it comes back and asks
anew for what it shows."""


class Events:
    """Tells every listener the same."""

    def __init__(self) -> None:
        self._listeners: set[asyncio.Queue[bytes | None]] = set()

    def tell(self, kind: str, /, **what: Any) -> None:
        """Tell all pages that are open."""
        data = f"event: {kind}\ndata: {json.dumps(what, separators=(',', ':'))}\n\n".encode()
        for listener in list(self._listeners):
            try:
                listener.put_nowait(data)
            except asyncio.QueueFull:
                self._listeners.discard(listener)

    async def listen(self) -> AsyncIterator[bytes]:
        """The stream of one page, until the server closes."""
        mine: asyncio.Queue[bytes | None] = asyncio.Queue(MOST_WAITING)
        self._listeners.add(mine)
        try:
            yield b"retry: 1000\n\n"
            while mine in self._listeners or not mine.empty():
                try:
                    data = await asyncio.wait_for(mine.get(), BEAT)
                except TimeoutError:
                    data = b": still here\n\n"
                if data is None:
                    return
                yield data
        finally:
            self._listeners.discard(mine)

    def close(self) -> None:
        """End all streams."""
        for listener in list(self._listeners):
            while listener.full():
                listener.get_nowait()
            listener.put_nowait(None)

    @property
    def listeners(self) -> int:
        """How many pages listen."""
        return len(self._listeners)
