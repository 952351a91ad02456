"""What finishes a top: backing, batting and binding as they are told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from seamproof.pipeline.setting import TopWork
from seamproof.setting.model import Backing, Panels, Top


@dataclass(frozen=True, slots=True)
class PanelLine:
    """One way to make the backing: `panels` lengths of `length` inches, sewn `width` wide.
    `yards` is all of it, `buy` as it is said in a shop."""

    panels: int
    length: float
    width: float
    yards: float
    buy_in: float
    buy: str


@dataclass(frozen=True, slots=True)
class BackingLine:
    """The backing: its size, the margin on every side, both ways to make it."""

    width: float
    height: float
    margin: float
    seam: float
    usable_width: float
    fabric: str | None
    across: PanelLine
    lengthwise: PanelLine


@dataclass(frozen=True, slots=True)
class BattingLine:
    """The batting, and the smallest usual package that holds it."""

    width: float
    height: float
    package: str | None


@dataclass(frozen=True, slots=True)
class BindingLine:
    """The binding: `strips` of `width` as cut, `length` with `extra` beyond the way round; `buy` is
    the length of cloth in inches. On the bias it comes from one `square`: `by_area` is what rules
    promise, `makes` what really comes out."""

    way: Literal["cross-grain", "bias"]
    fabric: str | None
    strips: int
    width: float
    round: float
    length: float
    makes: float
    buy: float
    square: float | None
    by_area: float | None


def backing_line(backing: Backing, work: TopWork) -> BackingLine:
    """The backing as it is told."""
    buying = work.project.preferences.buying

    def way(panels: Panels) -> PanelLine:
        return PanelLine(
            panels=panels.count,
            length=float(panels.length),
            width=float(panels.width),
            yards=round(float(panels.yardage / 36), 4),
            buy_in=float(panels.buy),
            buy=buying.told(panels.buy),
        )

    return BackingLine(
        width=float(backing.width),
        height=float(backing.height),
        margin=float(backing.margin),
        seam=float(backing.seam),
        usable_width=float(backing.usable),
        fabric=backing.fabric,
        across=way(backing.across),
        lengthwise=way(backing.lengthwise),
    )


def binding_line(top: Top) -> BindingLine:
    """The binding as it is told."""
    binding = top.binding
    return BindingLine(
        way=binding.way,
        fabric=binding.fabric,
        strips=binding.strips,
        width=float(binding.width),
        round=float(binding.round),
        length=float(binding.length),
        makes=round(binding.makes, 3),
        buy=float(binding.buy),
        square=None if binding.square is None else float(binding.square),
        by_area=None if binding.by_area is None else round(binding.by_area, 3),
    )
