"""Pictures written to files."""

from __future__ import annotations

from pathlib import Path

from seamproof.project.saving import save_bytes, save_text


def save_picture(path: Path | str, svg: str) -> None:
    """Writes a picture to a file: as pixels if its name ends in .png, else as SVG.

    Raises SaveError if it cannot be written.
    """
    if Path(path).suffix.lower() == ".png":
        from seamproof.booklet.pixels import png

        save_bytes(path, png(svg))
    else:
        save_text(path, svg)
