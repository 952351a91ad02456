"""New folders: the demo quilt to try things on, and a small quilt to begin one's own with."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

from seamproof.project import limits
from seamproof.project.quilt_file import QUILT_FILE
from seamproof.project.saving import make_folder, refuse_old, save_new_text, save_text
from seamproof.project.writing import text

DEMO_NAME = "Lamps Along the Quay"

_NEW_QUILT = """\
# The quilt: its fabrics, and how its blocks are cut. The blocks are in the folder blocks.
seamproof: 1
name: {name}

# A block file names a fabric by its letter. Colours stand in quotes: # alone begins a remark.
fabrics:
  - {{letter: a, name: Background, colour: "#F1EBDD", value: light}}
  - {{letter: b, name: Star, colour: "#2F5A48", value: dark}}
  - {{letter: c, name: Centre, colour: "#E9CB74", value: light-medium}}

preferences:
  measure: inches     # or cm
  seam: 1/4           # the seam allowance
  sizes: trimmed      # cut larger and trimmed to size; or: exact
  paper: letter       # or a4
"""

_NEW_BLOCK = r"""# A block is drawn in rows of cells, each cell a fabric's letter.
#   a/b   split on the diagonal /: the letter written first fills the left, here the upper left
#   a\b   split on the other diagonal: a fills the lower left, b the upper right
seamproof: 1
name: First Star
finished: 9           # the size once it is sewn into the quilt
cells:
  - a   a/b a
  - a\b c   b\a
  - a   b/a a
"""


def copy_demo(folder: Path | str, *, keep: bool = False) -> tuple[Path, ...]:
    """Writes the demo quilt into `folder`, which is made if it is not there; returns its files.

    Files of the same names are written over, each whole or not at all; with `keep` they are left
    as they are, and those that differ from the demo's are not among those returned. Raises
    SaveError.
    """
    target = Path(folder)
    make_folder(target / "blocks")
    demo = resources.files("seamproof.project") / "demo"
    given = []
    for name in demo_files():
        content = (demo / name).read_text(encoding="utf-8")
        if keep and (target / name).exists():
            if not _holds(target / name, content):
                continue
        else:
            save_text(target / name, content)
        given.append(target / name)
    return tuple(given)


def demo_files() -> tuple[str, ...]:
    """The names of the demo quilt's files in its folder, the quilt file first.

    >>> demo_files()[0]
    'quilt.yaml'
    """
    blocks = resources.files("seamproof.project") / "demo" / "blocks"
    return (QUILT_FILE, *sorted(f"blocks/{file.name}" for file in blocks.iterdir()))


def _holds(path: Path, content: str) -> bool:
    try:
        return path.read_text(encoding="utf-8") == content
    except (OSError, UnicodeDecodeError):
        return False


def new_project(folder: Path | str, name: str = "") -> tuple[Path, ...]:
    """Writes a small quilt with one block into `folder`; returns its files.

    `name` is the quilt's; by default it is made from the folder's. Refuses with SaveError to write
    over a file.
    """
    target = Path(folder)
    quilt, block = target / QUILT_FILE, target / "blocks" / "first-star.yaml"
    name = (
        name.strip()[: limits.NAME_LENGTH]
        or target.resolve().name.replace("-", " ").replace("_", " ")
        or "My quilt"
    )
    for file in (quilt, block):
        refuse_old(file)  # both, before the first is written
    make_folder(block.parent)
    save_new_text(quilt, _NEW_QUILT.format(name=text(name)))
    save_new_text(block, _NEW_BLOCK)
    return quilt, block
