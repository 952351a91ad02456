"""From files to drawings and projects: the two entrances to everything that reads.

    read_block(path)       one block file, in whatever project it lies
    read_project(folder)   the quilt file of a folder, or the defaults

Raised is only :class:`~seamproof.errors.InputError`, with file, line, column, what and mend, for
any bytes whatsoever.
"""

from __future__ import annotations

from pathlib import Path

from seamproof.errors import InputError, Place
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
    """The project in a folder, or that of a quilt file; the defaults if there is none.

    Raises InputError if there is no such folder.
    """
    folder = Path(folder)
    if not folder.exists():
        raise InputError("there is no such folder", mend="check the name", place=Place(str(folder)))
    if folder.is_file():
        folder = folder.parent
    quilt = folder / QUILT_FILE
    if not quilt.is_file():
        return Project(folder=folder, name=folder.resolve().name, blocks=block_files(folder))
    return quilt_project(read_document(quilt), folder)


def no_blocks(project: Project) -> InputError:
    """The refusal of a project without blocks, ready to be raised.

    >>> str(no_blocks(Project()))
    'there is neither a quilt.yaml nor a block in this folder; give the folder of a quilt, or make \
one with seamproof new'
    """
    what = "there is no block" if project.given else "there is neither a quilt.yaml nor a block"
    return InputError(f"{what} in this folder", mend=_MAKE, place=_folder_of(project))


def not_said(project: Project, what: str, mend: str) -> InputError:
    """The refusal of a project whose quilt file has no key for `what`, or that has no such file."""
    if not project.given:
        missing = f"there is no {QUILT_FILE} in this folder, so it has no {what}"
        return InputError(missing, mend=_MAKE, place=_folder_of(project))
    where = str(project.folder / QUILT_FILE) if project.folder else None
    return InputError(f"the quilt file has no {what}", mend=mend, place=Place(where))


_MAKE = "give the folder of a quilt, or make one with seamproof new"


def _folder_of(project: Project) -> Place:
    return Place(str(project.folder) if project.folder else None)


def _project_of(path: Path) -> Project:
    here = path.parent
    above = here / ".." if here.name in ("", "..") else here.parent
    for folder in (here, above):
        if (folder / QUILT_FILE).is_file():
            return read_project(folder)
    return Project()
