"""Every number of a cutting list, changed one at a time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from typing import Any

from seamproof.cutting.model import CuttingList

Changed = tuple[str, Any]
"""Where a number stands (no indices: ``pieces.width.ruler``), and the whole with it changed."""

SPLITS = ("whole", "once", "twice")


def single_changes(cutting: CuttingList, step: Fraction) -> Iterator[tuple[str, CuttingList]]:
    """The list with one number changed: a length by one step of the ruler either way, a count by
    one, a share by one in twenty."""
    return _changes(cutting, "", step)


def _changes(value: Any, path: str, step: Fraction) -> Iterator[Changed]:
    if is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            inner = f"{path}.{field.name}" if path else field.name
            for where, changed in _changes(getattr(value, field.name), inner, step):
                yield where, replace(value, **{field.name: changed})
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            for where, changed in _changes(item, path, step):
                yield where, (*value[:index], changed, *value[index + 1 :])
    elif value in SPLITS and path.endswith("split"):
        yield from ((path, other) for other in SPLITS if other != value)
    elif isinstance(value, Fraction):
        yield from ((path, value + by) for by in (step, -step))
    elif isinstance(value, int):
        yield from ((path, value + by) for by in (1, -1))
    elif isinstance(value, float):
        by = 0.05 if path.endswith("waste") else float(step)
        yield from ((path, value + sign * by) for sign in (1, -1))
