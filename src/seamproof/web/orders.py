"""What an order says of a block, read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from seamproof.project.model import Project, Source
from seamproof.project.quilt_file import quilt_project
from seamproof.project.reading import read_block_bytes
from seamproof.project.yaml_tree import document


def source_of(order: dict[str, Any]) -> Source:
    """The block of an order, read from the texts that it brings along: what is worked out is what
    the page saw, whatever happens on the disk meanwhile. Raises InputError."""
    folder, quilt = Path(order["folder"]), order["quilt"]
    project = Project(folder=folder, name=folder.name)
    if quilt is not None:
        project = quilt_project(document(quilt.encode(), "quilt.yaml"), folder)
    return read_block_bytes(order["text"].encode(), folder / order["file"], project)
