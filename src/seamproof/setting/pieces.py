"""What the top and its finishing are cut from: the leaves of the plan as pieces of cloth."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Grain
from seamproof.length.rounding import Rounding, Size, nearest, on_ruler, up
from seamproof.piecing.model import Leaf, PiecingPlan
from seamproof.plane.predicates import box
from seamproof.setting.binding import strips_for
from seamproof.setting.borders import MITRE
from seamproof.setting.model import Binding, BorderMade, LabelAsked, Role, Setting, TopPiece
from seamproof.setting.on_point import corner_square, setting_square

NAMES: Mapping[Role, str] = {"border": "border strip", "spacer": "spacer strip", "sash": "sash"}

JOINED: tuple[Role, ...] = ("border", "spacer")
"""What may be sewn together from shorter strips: long ones that do not show a join."""


def top_pieces(
    plan: PiecingPlan,
    roles: Mapping[int, Role],
    setting: Setting,
    borders: Sequence[BorderMade],
    block: Fraction,
    settings: CuttingSettings,
) -> tuple[TopPiece, ...]:
    """All that the strips, triangles and plain pieces of the top are cut from, by fabric and size.

    `block` is the finished side of a cell, for triangles. Equal pieces for the same end are one
    entry.
    """
    found: dict[tuple[object, ...], TopPiece] = {}
    for number, role in roles.items():
        made, uses = plan.parts[number].made, plan.parts[number].uses
        if not isinstance(made, Leaf) or not uses:
            continue
        piece = _piece(number, made, role, uses, setting, borders, block, settings)
        key = (piece.name, piece.fabric, piece.width, piece.height, piece.split, piece.grain)
        known = found.get(key)
        if known is None:
            found[key] = piece
        else:
            found[key] = _both(known, piece)
    return tuple(_whole_squares(piece) for piece in found.values())


def _both(one: TopPiece, other: TopPiece) -> TopPiece:
    return replace(one, count=one.count + other.count, parts=one.parts + other.parts)


def _whole_squares(piece: TopPiece) -> TopPiece:
    """Triangles counted so far; from here on the squares that they are cut from."""
    each = {"whole": 1, "once": 2, "twice": 4}[piece.split]
    return replace(piece, count=-(-piece.count // each))


def _piece(
    number: int,
    leaf: Leaf,
    role: Role,
    uses: int,
    setting: Setting,
    borders: Sequence[BorderMade],
    block: Fraction,
    settings: CuttingSettings,
) -> TopPiece:
    seam, step = settings.seam, settings.step
    if role == "setting triangle":
        size = setting_square(block, seam, step, setting.floating)
        return _square("setting triangle", leaf.fabric, size, uses, "twice", (number,))
    if role == "corner triangle":
        size = corner_square(block, seam, step, setting.floating)
        return _square("corner triangle", leaf.fabric, size, uses, "once", (number,))
    low, high = box(leaf.corners)
    sides = sorted((high[0] - low[0], high[1] - low[1]))
    if role == "cornerstone":  # one at the edge of an on-point top is cut whole and trimmed
        assert setting.sashing is not None
        sides = [setting.sashing.width, setting.sashing.width]
    grain: Grain = "either"
    if role == "border" and len(leaf.corners) == 4 and _slanted(leaf):
        need = float(sides[1]) + 2 * float(seam) * MITRE
        height, rounding = Size(up(need, step), need), "trimmed"
        width = _cut(sides[0] + 2 * seam, step)
    else:
        width, height = (_cut(side + 2 * seam, step) for side in sides)
        whole = all(on_ruler(side + 2 * seam, step) for side in sides)
        rounding = "on the ruler" if whole else "as cut"
    if role == "coping":
        width, rounding = _coping(sides[0], setting, settings)
    if role == "end piece" or (role == "cornerstone" and len(leaf.corners) != 4):
        rounding = "trimmed"
    if role == "border":
        grain = (
            "length" if any(b.lengthwise and leaf.fabric in b.fabrics for b in borders) else "cross"
        )
    return TopPiece(
        name=NAMES.get(role, role),
        fabric=leaf.fabric,
        width=width,
        height=height,
        count=uses,
        grain=grain,
        rounding=rounding,  # type: ignore[arg-type]
        may_join=role in JOINED and grain != "length",
        parts=(number,),
    )


def _cut(length: Fraction, step: Fraction) -> Size:
    """A side that is sewn as it is cut: on the nearest mark, with what geometry asks for."""
    on = length if on_ruler(length, step) else nearest(length, step)
    return Size(on, float(length))


def _coping(
    finished: Fraction, setting: Setting, settings: CuttingSettings
) -> tuple[Size, Rounding]:
    """The cut width of coping: the framed block is trimmed to its cell, so it may go up."""
    need = finished + 2 * settings.seam
    if on_ruler(need, settings.step) and not setting.trim:
        return Size(need, float(need)), "on the ruler"
    return Size(up(need + setting.trim, settings.step), float(need)), "trimmed"


def _slanted(leaf: Leaf) -> bool:
    xs = {x for x, _ in leaf.corners}
    return len(xs) > 2 or len({y for _, y in leaf.corners}) > 2


def _square(
    name: str, fabric: str, size: Size, count: int, split: str, parts: tuple[int, ...]
) -> TopPiece:
    return TopPiece(
        name=name,
        fabric=fabric,
        width=size,
        height=size,
        count=count,
        grain="either",
        rounding="trimmed",
        split=split,  # type: ignore[arg-type]
        parts=parts,
    )


def finishing_pieces(
    setting: Setting, binding: Binding, sleeve: Size | None, settings: CuttingSettings
) -> Iterator[TopPiece]:
    """Binding, sleeve and label as pieces of cloth, each if it has a fabric."""
    exact: Rounding = "on the ruler"
    if binding.fabric is not None:
        if binding.square is not None:
            yield _square("binding square", binding.fabric, _whole(binding.square), 1, "whole", ())
        else:
            yield TopPiece(
                name="binding strip",
                fabric=binding.fabric,
                width=_whole(binding.width),
                height=_whole(settings.usable(binding.fabric)),
                count=strips_for(binding.length, settings.usable(binding.fabric), binding.width),
                grain="cross",
                rounding=exact,
                may_join=True,
            )
    if sleeve is not None and setting.sleeve is not None and setting.sleeve.fabric is not None:
        depth = 2 * setting.sleeve.width + 2 * settings.seam
        width, height = sorted((depth, sleeve.ruler))
        yield TopPiece(
            name="hanging sleeve",
            fabric=setting.sleeve.fabric,
            width=_whole(width),
            height=_whole(height),
            count=1,
            grain="either",
            rounding=exact,
            may_join=True,
        )
    label: LabelAsked | None = setting.label
    if label is not None and label.fabric is not None:
        width, height = sorted((label.width + 2 * settings.seam, label.height + 2 * settings.seam))
        yield TopPiece(
            name="label",
            fabric=label.fabric,
            width=_whole(width),
            height=_whole(height),
            count=1,
            grain="either",
            rounding=exact,
        )


def _whole(length: Fraction) -> Size:
    return Size(length, float(length))


def off_the_marks(pieces: Iterable[TopPiece]) -> Iterator[TopPiece]:
    """Pieces that are sewn as they are cut and lie between two marks. The length of a border strip
    does not count: it is cut to what the top measures."""
    return (
        piece
        for piece in pieces
        if piece.rounding == "as cut" and not (piece.name in _EASED and not piece.width.surplus)
    )


_EASED = frozenset({NAMES["border"], NAMES["spacer"]})
