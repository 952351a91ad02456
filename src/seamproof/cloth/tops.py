"""What a top and its finishing ask of the cloth: strips, triangles, borders, binding, backing."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cloth.model import RULER_STEP
from seamproof.cloth.pooling import Joined, Source
from seamproof.cloth.standing import parted, standing_shares
from seamproof.cutting.model import Grain, Piece
from seamproof.length.rounding import Size, up
from seamproof.setting.backing import panels
from seamproof.setting.model import Backing, Panels, Setting, Top, TopPiece

BACKING = "backing"
BINDING = "binding"
"""What stands for the letter of a fabric where the setting names none for it."""

LOOSE = (BINDING, BACKING)
"""All of these, in the order of the work."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a top asks for: pieces, and strips that are joined."""

    sources: tuple[Source, ...] = ()
    joined: tuple[Joined, ...] = ()


def asked_by(
    top: Top,
    setting: Setting,
    usable: Mapping[str, Fraction],
    *,
    seam: Fraction,
    step: Fraction = RULER_STEP,
    directional: Collection[str] = (),
) -> Asked:
    """The pieces of a top besides its blocks.

    `usable` is the width of each fabric that strips are cut across, by letter, that of the fabrics
    :func:`backing_cloth` and :func:`binding_cloth` name among them. What may be joined is cut in
    one piece where the cloth is wide enough; longer strips are joined straight, each join takes
    two seam allowances. Binding is joined on the slant, which takes its width (common practice, no
    source). The last length of the backing is as wide as it must be, up to the next mark of the
    ruler, `step` apart. A border that is cut lengthwise, and the backing, are laid before all else.
    """
    sources: list[Source] = []
    lengths: dict[tuple[str, str, Fraction], Fraction] = {}
    shares = standing_shares(top.plan, directional) if directional else {}
    for piece in top.pieces:
        if piece.name in ("binding strip", "binding square"):
            continue
        long = piece.height.ruler > usable[piece.fabric]
        if long and piece.grain != "length" and (piece.may_join or piece.name == "sash"):
            key = (piece.name, piece.fabric, piece.width.ruler)
            lengths[key] = lengths.get(key, Fraction(0)) + piece.height.ruler * piece.count
        else:
            first = piece.name == "border strip" and piece.grain == "length"
            made = tuple(_standing(piece, shares, directional))
            sources.append(Source(piece.name, made, first=first))
    joined = [
        Joined(name, fabric, width, length, join=2 * seam)
        for (name, fabric, width), length in lengths.items()
    ]
    binding = top.binding
    cloth = binding_cloth(top)
    if binding.square is not None:
        square = _piece("binding square", cloth, binding.square, binding.square, 1)
        sources.append(Source("binding square", (square,)))
    else:
        joined.append(
            Joined("binding strip", cloth, binding.width, binding.length, join=binding.width)
        )
    cloth = backing_cloth(top, setting)
    sources.append(_backing(top.backing, cloth, usable[cloth], step, upright=cloth in directional))
    return Asked(tuple(sources), tuple(joined))


def binding_cloth(top: Top) -> str:
    """The letter of the binding's fabric, or what stands for it."""
    return top.binding.fabric or BINDING


def backing_cloth(top: Top, setting: Setting) -> str:
    """The letter of the backing's fabric, or what stands for it: a backing of another width than
    the rest is another bolt, even if it is of the same print."""
    own = top.backing.fabric is None or setting.backing.width is not None
    return BACKING if own else top.backing.fabric or BACKING


def _standing(
    piece: TopPiece, shares: Mapping[int, Fraction], directional: Collection[str]
) -> Iterator[Piece]:
    part = piece.parts[0] if piece.parts else -1
    whole = Piece(
        letter="",
        fabric=piece.fabric,
        shape="square" if piece.width.ruler == piece.height.ruler else "rectangle",
        width=piece.width,
        height=piece.height,
        count=piece.count,
        split=piece.split,
        grain=piece.grain,
        rounding=piece.rounding,
        part=part,
        unit=piece.name,
        method="",
    )
    found = [shares[part] for part in piece.parts if part in shares]
    if piece.fabric in directional and piece.grain == "either" and found:
        yield from parted(whole, sum(found, Fraction(0)) / len(found))
    else:
        yield whole


def _piece(
    name: str,
    fabric: str,
    width: Fraction,
    height: Fraction,
    count: int,
    grain: Grain = "either",
) -> Piece:
    short, long = sorted((width, height))
    return Piece(
        letter="",
        fabric=fabric,
        shape="square" if short == long else "rectangle",
        width=Size(short, float(short)),
        height=Size(long, float(long)),
        count=count,
        split="whole",
        grain=grain,
        rounding="on the ruler",
        part=-1,
        unit=name,
        method="",
    )


def _backing(
    backing: Backing, cloth: str, usable: Fraction, step: Fraction, *, upright: bool
) -> Source:
    """The lengths of cloth that the backing is sewn of: the way that takes less cloth, level seams
    if both take the same; a print with a direction stands."""
    across = panels(backing.width, backing.height, usable, backing.seam, step)
    down = panels(backing.height, backing.width, usable, backing.seam, step)
    level = not upright and across.yardage <= down.yardage
    chosen, over = (across, backing.height) if level else (down, backing.width)
    last = min(usable, up(over - (chosen.count - 1) * (usable - 2 * backing.seam), step))
    pieces = [_panel(cloth, usable, chosen, chosen.count - 1), _panel(cloth, last, chosen, 1)]
    return Source("backing", tuple(piece for piece in pieces if piece.count), first=True)


def _panel(cloth: str, width: Fraction, made: Panels, count: int) -> Piece:
    grain: Grain = "length" if width <= made.length else "cross"
    return _piece("backing", cloth, width, made.length, count, grain)
