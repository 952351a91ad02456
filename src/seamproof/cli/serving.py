"""How the page is started from the terminal."""

from __future__ import annotations

import webbrowser
from pathlib import Path

from seamproof.cli.telling import say, tell


def serve(folder: Path, *, port: int | None, browser: bool) -> int:
    """Serve a quilt until Ctrl-C; the address stands on standard output."""
    from seamproof.web.serving import serve as serving

    def opened(address: str, told: list[str]) -> None:
        for line in told:
            tell(line)
        say(address)
        tell("This address opens the page once. Ctrl-C ends it; everything is saved as you go.")
        if browser:
            webbrowser.open(address)

    serving(folder, port=port, opened=opened)
    return 0
