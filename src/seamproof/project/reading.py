"""From files to drawings and projects: the two entrances to everything that reads.

    read_block(path)       one block file, in whatever project it lies
    read_project(folder)   the quilt file of a folder, or the defaults

Raised is only :class:`~seamproof.errors.InputError`, with file, line, column, what and mend, for
any bytes whatsoever.
"""

from __future__ import annotations

from pathlib import Path

from seamproof.project.block_file import block_drawing
from seamproof.project.model import Project, Source
from seamproof.project.quilt_file import QUILT_FILE, block_files, quilt_project
from seamproof.project.yaml_tree import document, file_bytes, read_document


def read_block(path: Path | str) -> Source:
    """The block file at `path`, with the project it lies in.

    A project is looked for in the file's folder and in the one above. A broken ``quilt.yaml``
    refuses the block too, with a place in the quilt file: it says what lengths mean.
    """
    path = Path(path)
    data = file_bytes(path)
    return read_block_bytes(data, path, _project_of(path))


def read_block_bytes(data: bytes, path: Path | str, project: Project | None = None) -> Source:
    r"""The same from bytes that are at hand; `path` only names them.

    >>> source = read_block_bytes(b"name: One\nfinished: 6\ncells:\n  - a", "one.yaml")
    >>> source.drawing.name, source.project.given
    ('One', False)
    """
    project = project or Project()
    made = document(data, str(path))
    drawing = block_drawing(made, project.preferences.measure)
    return Source(Path(path), drawing, project, made.text)


def read_project(folder: Path | str) -> Project:
    """The project in a folder, or that of a quilt file; the defaults if there is none."""
    folder = Path(folder)
    if folder.is_file():
        folder = folder.parent
    quilt = folder / QUILT_FILE
    if not quilt.is_file():
        return Project(folder=folder, name=folder.resolve().name, blocks=block_files(folder))
    return quilt_project(read_document(quilt), folder)


def _project_of(path: Path) -> Project:
    here = path.parent
    above = here / ".." if here.name in ("", "..") else here.parent
    for folder in (here, above):
        if (folder / QUILT_FILE).is_file():
            return read_project(folder)
    return Project()
