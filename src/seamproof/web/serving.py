"""The server, from a folder to an address and back to the terminal."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable
from pathlib import Path

import uvicorn

from seamproof.errors import InputError
from seamproof.web.events import Events
from seamproof.web.gate import Keys
from seamproof.web.host import Host
from seamproof.web.routes import application

FIRST_PORT = 8631
"""Where a free port is looked for, upwards. No well-known service has it (from memory)."""

PORTS = 40
"""How many ports are tried."""

LOCAL = "127.0.0.1"


def serve(folder: Path, *, port: int | None, opened: Callable[[str, list[str]], None]) -> None:
    """Serve the quilt in a folder until somebody stops it.

    `opened` is told the address, with the launch code that works once, and what there is to say
    about the quilt. With `port` that one is taken or none. Raises InputError if no port is free,
    and InUse if the quilt is open already.
    """
    listener = _listener(port)
    try:
        host = Host(folder)
        keys = Keys()
        own = listener.getsockname()[1]
        gate = application(host, keys, own)
        server = _Server(
            uvicorn.Config(
                gate,
                log_level="warning",
                access_log=False,  # an address may carry a launch code
                server_header=False,
                date_header=False,
                proxy_headers=False,
                ws="none",
                lifespan="on",
                timeout_graceful_shutdown=2,
                h11_max_incomplete_event_size=64 * 1024,
            )
        )
        server.events = host.events
        opened(f"http://{LOCAL}:{own}/open?code={keys.code}", host.quilt.told)
        server.run(sockets=[listener])
    finally:
        listener.close()


class _Server(uvicorn.Server):
    """A server that ends its event streams first: they would keep it waiting."""

    events: Events

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Let pages go, then stop."""
        self.events.close()
        await super().shutdown(sockets)


def _listener(port: int | None) -> socket.socket:
    """A socket on this machine alone, at a port that is free."""
    wanted = range(FIRST_PORT, FIRST_PORT + PORTS) if port is None else (port,)
    for number in wanted:
        listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name == "posix":
            # A killed server leaves its port waiting; that is no other program. Elsewhere the same
            # words would let another program share the port.
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((LOCAL, number))
            listener.listen(128)
        except OSError:
            listener.close()
            continue
        return listener
    if port is not None:
        raise InputError(
            f"port {port} is taken by another program", mend="name another, or leave --port out"
        )
    raise InputError(
        f"no port from {FIRST_PORT} to {FIRST_PORT + PORTS - 1} is free",
        mend="name one with --port",
    )
