"""What cloth there is for a fabric, as the project and the question say it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.checks import NO_SIZE, NO_WIDTH
from seamproof.cloth.model import Cloth, Fixed
from seamproof.cloth.tops import LOOSE
from seamproof.draft.model import Fabric
from seamproof.findings import Finding, Where
from seamproof.length.notation import number, with_unit
from seamproof.project.model import Project


@dataclass(frozen=True, slots=True)
class ClothWishes:
    """What somebody asks for besides what the project says.

    `width` is the usable width of every fabric. `fixed` and `shelf` are pieces by the letter of
    their fabric, "" for every fabric; with `fixed` nothing is bought by length unless `yardage`.
    `kits` is how many times everything is cut. `simple` asks for few strip widths before little
    cloth; `quick` takes the first good lay. With `third_cut` what is cross-cut
    from a strip may be cut once more.
    """

    width: Fraction | None = None
    fixed: tuple[tuple[str, Fixed], ...] = ()
    shelf: tuple[tuple[str, Fixed], ...] = ()
    yardage: bool = False
    kits: int = 1
    simple: bool = False
    quick: bool = False
    third_cut: bool = False


def called(fabric: Fabric) -> str:
    """A fabric in a sentence: what the setting names no fabric for goes by its name.

    >>> called(Fabric("a", "Chalk", "#F1EBDD", "light"))
    'fabric A'
    """
    return f"the {fabric.letter}" if fabric.letter in LOOSE else f"fabric {fabric.letter.upper()}"


def cloth_for(
    project: Project, fabric: Fabric, wishes: ClothWishes
) -> tuple[Cloth | None, list[Finding]]:
    """What there is to cut a fabric from, and what is wrong with it."""
    measure, letter = project.preferences.measure, fabric.letter
    supply = project.supply(letter)
    findings: list[Finding] = []
    width = fabric.usable_width if wishes.width is None else wishes.width
    if width <= 0:
        findings.append(
            NO_WIDTH.found(
                f"{called(fabric)} has no width that can be used: {with_unit(width, measure)}",
                mend="measure from selvage to selvage and take off both selvages; "
                "most quilting cloth leaves 40 in, or 100 cm",
            )
        )
        return None, findings
    whose = (letter,) if letter in LOOSE else ("", letter)
    asked = [(piece, Where()) for for_, piece in wishes.fixed if for_ in whose]
    fixed = asked or list(supply.fixed)
    shelf = [(piece, Where()) for for_, piece in wishes.shelf if for_ in whose]
    kept: dict[str, list[Fixed]] = {"fixed": [], "shelf": []}
    for what, pieces in (("fixed", fixed), ("shelf", [*shelf, *supply.shelf])):
        for piece, where in pieces:
            if piece.width > 0 and piece.length > 0:
                kept[what].append(piece)
                continue
            size = f"{number(piece.width, measure)} × {with_unit(piece.length, measure)}"
            findings.append(
                NO_SIZE.found(
                    f"a piece of {called(fabric)} cannot measure {size}",
                    mend="measure it again: width × length, both more than nothing; "
                    "it is left out until then",
                    where=where,
                )
            )
    yardage = wishes.yardage if asked else supply.yardage
    return (
        Cloth(letter, width, yardage, _named_once(kept["fixed"]), _named_once(kept["shelf"])),
        findings,
    )


def _named_once(pieces: Sequence[Fixed]) -> tuple[Fixed, ...]:
    """Pieces of equal size together, so that every name is one size and every size one name."""
    found: dict[tuple[Fraction, Fraction], Fixed] = {}
    for piece in pieces:
        size = (piece.width, piece.length)
        if size not in found:
            found[size] = piece
            continue
        one, other = found[size].count, piece.count
        count = None if one is None or other is None else one + other
        found[size] = replace(found[size], count=count)
    return tuple(found.values())


def strip_width(cloth: Cloth) -> Fraction:
    """How long a strip across the cloth is: the widest that there will be enough of."""
    if cloth.yardage:
        return cloth.width
    return max((piece.width for piece in (*cloth.fixed, *cloth.shelf)), default=cloth.width)
