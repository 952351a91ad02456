"""Settings side by side: what comes nearest to the size of a wall or a bed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.setting.model import Setting
from seamproof.setting.targets import Nearest, Proposal

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class ProposalLine:
    """One setting, by size, pieces and cloth. `cloth` is in square inches without the blocks;
    `thick_spots` counts the places above the limit, null if a block cannot be pressed."""

    setting: Literal["as set", "blocks once", "blocks repeated", "on point"]
    way: Literal["straight", "on point"]
    columns: int
    rows: int
    sashing: float
    border: float
    size: Pair
    off: Pair
    blocks: int
    pieces: int
    cloth: float
    seams: int
    thick_spots: int | None


@dataclass(frozen=True, slots=True)
class TargetLine:
    """A size to aim at, where it comes from, and what comes nearest to it."""

    name: str
    size: Pair
    source: str
    settings: tuple[ProposalLine, ...]


def target_line(aim: Nearest, thick: Callable[[Setting], int | None]) -> TargetLine:
    """A target and the settings nearest to it, as they are told; `thick` counts thick spots."""
    named = (
        ("as set", aim.as_set),
        ("blocks once", aim.once),
        ("blocks repeated", aim.more),
        ("on point", aim.on_point),
    )
    return TargetLine(
        name=aim.target.name,
        size=(float(aim.target.width), float(aim.target.height)),
        source=aim.target.source,
        settings=tuple(
            _proposal_line(name, made, thick(made.setting))
            for name, made in named
            if made is not None
        ),
    )


def _proposal_line(name: str, made: Proposal, thick: int | None) -> ProposalLine:
    return ProposalLine(
        setting=name,  # type: ignore[arg-type]
        way=made.way,
        columns=made.columns,
        rows=made.rows,
        sashing=float(made.sash),
        border=float(made.border),
        size=_pair(made.size),
        off=_pair(made.off),
        blocks=made.copies,
        pieces=made.pieces,
        cloth=float(made.cloth),
        seams=made.seams,
        thick_spots=thick,
    )


def _pair(pair: tuple[Fraction, Fraction]) -> Pair:
    return float(pair[0]), float(pair[1])
