"""What this run of the tests has worked out, in one folder for all its workers.

For tests that do not ask what a cold start does: the blocks of the demo quilt are wanted by many,
and working them out costs half a minute. `conftest.py` says where the folder is.
"""

from __future__ import annotations

import os
from pathlib import Path

from seamproof.pipeline.memory import Memory

FOLDER = "SEAMPROOF_TESTS_WORKED_OUT"
"""The variable of the environment that names the folder."""


def memory() -> Memory:
    """A memory of what any worker of this run has worked out; an empty one of its own while tests
    are still collected."""
    folder = os.environ.get(FOLDER)
    return Memory(None if folder is None else Path(folder) / "seamproof" / "memory")
