"""Seamproof: a test block without cloth.

The public names are loaded when they are first asked for, so that importing the package costs
nothing.

>>> import seamproof
>>> str(seamproof.parse_length("2 7/8 in"))
'23/8'
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from seamproof.answers.asking import cut, lay, piece, prove, sheet, understand
    from seamproof.answers.asking_kits import kits
    from seamproof.answers.asking_versions import redline, release
    from seamproof.cutting.model import CuttingList
    from seamproof.draft.model import Block
    from seamproof.errors import SeamproofError
    from seamproof.findings import Finding
    from seamproof.length.notation import parse as parse_length
    from seamproof.piecing.model import PiecingPlan
    from seamproof.pipeline.memory import Memory
    from seamproof.project.reading import read_block as read

__version__ = "0.1.0"

__all__ = [
    "read",
    "understand",
    "piece",
    "cut",
    "prove",
    "lay",
    "kits",
    "release",
    "redline",
    "sheet",
    "parse_length",
    "Memory",
    "Block",
    "PiecingPlan",
    "CuttingList",
    "Finding",
    "SeamproofError",
    "__version__",
]

_HOMES = {
    "read": ("seamproof.project.reading", "read_block"),
    "understand": ("seamproof.answers.asking", "understand"),
    "piece": ("seamproof.answers.asking", "piece"),
    "cut": ("seamproof.answers.asking", "cut"),
    "prove": ("seamproof.answers.asking", "prove"),
    "lay": ("seamproof.answers.asking", "lay"),
    "kits": ("seamproof.answers.asking_kits", "kits"),
    "release": ("seamproof.answers.asking_versions", "release"),
    "redline": ("seamproof.answers.asking_versions", "redline"),
    "sheet": ("seamproof.answers.asking", "sheet"),
    "Memory": ("seamproof.pipeline.memory", "Memory"),
    "parse_length": ("seamproof.length.notation", "parse"),
    "Block": ("seamproof.draft.model", "Block"),
    "PiecingPlan": ("seamproof.piecing.model", "PiecingPlan"),
    "CuttingList": ("seamproof.cutting.model", "CuttingList"),
    "Finding": ("seamproof.findings", "Finding"),
    "SeamproofError": ("seamproof.errors", "SeamproofError"),
}
"""Where each public name lives: module, and its name there."""


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, inner = _HOMES[name]
    value = getattr(import_module(module), inner)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
