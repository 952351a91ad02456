"""Where the page of a quilt is: the answer of ``seamproof serve``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from seamproof.answers.model import Answer


@dataclass(frozen=True, kw_only=True)
class ServeAnswer(Answer):
    """The page is open. `address` opens it once, `told` is what was found in the folder: what a
    crash left behind, and what was done about it."""

    command: ClassVar[str] = "serve"

    folder: str
    address: str
    told: tuple[str, ...]
