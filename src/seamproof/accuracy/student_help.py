"""Help for somebody whose block came out wrong: likely causes with their reasons and tests, how to
save the block, and what not to do. The sentences of the terminal and of the booklet's help box."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from seamproof.accuracy.across import Way, points_at_edge
from seamproof.accuracy.diagnosis import (
    BELIEVABLE,
    Cause,
    CauseName,
    Reckoned,
    Sizes,
    reckon,
)
from seamproof.accuracy.model import Maker
from seamproof.accuracy.seam_words import thin
from seamproof.cutting.model import CuttingList, Piece
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, with_unit
from seamproof.piecing.model import PiecingPlan

IRON = "Iron and steam burn: keep fingers clear, and stand the iron up whenever you let go of it."

SAFE_ALLOWANCE = Fraction(3, 16)
"""The narrowest allowance that holds in use (common practice, no source)."""

NARROWEST_FRAME = Fraction(1, 2)
"""A block that is short by less than this, in inches, is not framed: its frame would be all
allowance (common practice, no source)."""

POINTS_KEEP = 1 / 32
"""Trimming may take this off a point on the outside of a block before it shows."""


@dataclass(frozen=True, slots=True)
class LikelyCause:
    """A cause as it is told. `share` is what of the difference most likely comes of it; `test` is
    what tells it from the next one."""

    name: CauseName
    share: float
    say: str
    why: str
    test: str


@dataclass(frozen=True, slots=True)
class Help:
    """What to tell a student. `says` how far the block is off; `first` is what to do before
    anything else; `save` are ways to use the block all the same, and `never` what spoils it.
    `causes` are the likeliest first. All but `says` are empty if the block is right."""

    says: str
    first: str
    causes: tuple[LikelyCause, ...]
    save: tuple[str, ...]
    never: tuple[str, ...]


def diagnose(
    plan: PiecingPlan,
    cutting: CuttingList,
    sizes: Sizes,
    *,
    seam: Fraction = Fraction(1, 4),
    measure: Measure = "in",
    maker: Maker | None = None,
) -> Help:
    """What to tell the maker of a block of which `sizes` were measured.

    Raises ValueError as :func:`~seamproof.accuracy.diagnosis.reckon` does.
    """
    found = reckon(plan, cutting, sizes, seam=float(seam), maker=maker)
    says = _says(found, measure)
    if not found.causes:
        return Help(says, "", (), (), ())
    tell = _Teller(cutting, found, seam, measure)
    small = found.most < 0
    first = (
        "Press it again before anything else: set each seam closed, open it, press without "
        f"pushing, let it cool, and measure. {IRON}"
        if small and not sizes.pressed_again
        else "Lay the block flat without pulling it, and measure again in three places."
    )
    return Help(
        says=says,
        first=first,
        causes=tuple(map(tell.cause, found.causes)),
        save=_save_small(found, seam, measure) if small else _save_large(found, plan, measure),
        never=_NEVER_SMALL if small else _NEVER_LARGE,
    )


def usual_help(
    plan: PiecingPlan,
    cutting: CuttingList,
    *,
    seam: Fraction = Fraction(1, 4),
    measure: Measure = "in",
) -> tuple[Help, Help]:
    """The two cases of a help box, before anybody has sewn: 1/8 in too small, and too large."""
    xs = [x for x, _ in plan.parts[plan.whole].outline]
    right = float(max(xs) - min(xs) + 2 * seam)
    step = float(CM) * 0.3 if measure == "cm" else 1 / 8

    def told(width: float) -> Help:
        return diagnose(plan, cutting, Sizes(width=width), seam=seam, measure=measure)

    return told(right - step), told(right + step)


def _says(found: Reckoned, measure: Measure) -> str:
    planned = with_unit(Fraction(found.planned).limit_denominator(10_000), measure)
    ways: list[Way] = ["width", "height"]
    parts = [
        f"{thin(off, measure)} too {_SIZES[way, off > 0]}"
        for way, off in zip(ways, found.off, strict=True)
        if off is not None and abs(off) > 1e-6
    ]
    if not found.causes:
        return f"It is right: planned are {planned}, and it is within 1/32 in of that."
    if found.off[0] == found.off[1]:
        return f"It is {thin(found.most, measure)} too {_small(found)} both ways."
    return f"It is {' and '.join(parts)}; planned: {planned}."


_SIZES = {
    ("width", False): "narrow",
    ("width", True): "wide",
    ("height", False): "short",
    ("height", True): "tall",
}


def _small(found: Reckoned) -> str:
    return "small" if found.most < 0 else "large"


@dataclass(frozen=True)
class _Teller:
    cutting: CuttingList
    found: Reckoned
    seam: Fraction
    measure: Measure

    def cause(self, cause: Cause) -> LikelyCause:
        say, why, test = getattr(self, f"_{cause.name.replace(' ', '_')}")(cause)
        return LikelyCause(cause.name, cause.share, say, why[:1].upper() + why[1:], test)

    @property
    def small(self) -> bool:
        return self.found.most < 0

    def _seam(self, _: Cause) -> tuple[str, str, str]:
        found, seams = self.found, _number(self.found.lies.seams)
        each = found.each or 0.0
        if self.small:
            say = "The seam takes up too much: its allowance is too wide for the fold to fit in."
            side = f"{thin(each / 2, self.measure)} too wide on each side"
        else:
            say = "The seam takes up too little: the allowance is too narrow."
            side = f"{thin(each / 2, self.measure)} too narrow on each side"
        why = (
            f"{seams} seams lie across. If all are alike, {thin(found.most, self.measure)} is "
            f"{thin(each, self.measure)} a seam: {side}."
        )
        if found.lies.most - found.lies.fewest > 0.5:
            why += (
                f" (They are between {_number(found.lies.fewest)} and {_number(found.lies.most)}, "
                "by the row.)"
            )
        return say, why, self._two_squares()

    def _two_squares(self) -> str:
        side = CM * 5 if self.measure == "cm" else Fraction(2)
        both = 2 * side - 2 * self.seam
        return (
            f"Sew two {with_unit(side, self.measure)} squares together and press: they must be "
            f"{with_unit(both, self.measure)} across. If they are, the seam is right, and it is "
            "something else."
        )

    def _pressing(self, _: Cause) -> tuple[str, str, str]:
        return (
            "A fold is left beside the seams: they were not pressed open to their stitching.",
            f"Each of {_number(self.found.lies.seams)} seams across can hide a little cloth.",
            (
                "Run a thumbnail along the front of each seam: if it opens further, that was it. "
                "After pressing again the block is larger; if it is not, the seam itself is too "
                "wide."
            ),
        )

    def _cutting(self, _: Cause) -> tuple[str, str, str]:
        piece = self._plain_piece()
        off = self.found.most / max(self.found.lies.pieces, 1.0)
        size = "cut too small" if self.small else "cut too large"
        test = "Lay a piece that is left over on the list: it must have the size that stands there."
        if piece is not None:
            test = (
                f"Cut one {piece.letter} anew and lay it on one of the others. It must measure "
                f"{_piece_size(piece, self.measure)}. Measure both with the same ruler: two "
                "rulers may differ."
            )
        why = (
            f"{_number(self.found.lies.pieces)} pieces lie across; {thin(off, self.measure)} each "
            "would do it."
        )
        return f"The pieces are {size}.", why, test

    def _plain_piece(self) -> Piece | None:
        plain = [
            piece
            for piece in self.cutting.pieces
            if piece.shape in ("square", "rectangle") and piece.split == "whole"
        ]
        return plain[0] if plain else next(iter(self.cutting.pieces), None)

    def _trimming(self, _: Cause) -> tuple[str, str, str]:
        size = "too small" if self.small else "too large, or not at all"
        sizes = sorted({recipe.trim for recipe in self.cutting.recipes if recipe.trim is not None})
        listed = " or ".join(_pair(width, height, self.measure) for width, height in sizes)
        return (
            f"The units were trimmed {size}.",
            (
                f"{_number(self.found.lies.trimmed)} trimmed units lie across; whatever each is "
                "off adds up."
            ),
            (
                f"Measure the units before they meet anything: they must be {listed}. In the "
                "block measure them from seam to seam: two allowances less."
            ),
        )

    def _unit(self, cause: Cause) -> tuple[str, str, str]:
        size = "small" if self.small else "large"
        return (
            f"The {cause.what} is too {size} by itself.",
            "It was measured, and is off by more than the seams elsewhere explain.",
            (
                "Measure the others of its kind: if only this one is off, one of its seams is; "
                "if all are, it is their cutting or trimming."
            ),
        )

    def _one_place(self, _: Cause) -> tuple[str, str, str]:
        size = "too wide" if self.small else "too narrow"
        return (
            f"One seam is {size}, or one piece is off, and the others are right.",
            "Cuts and seams vary a little, and it may have come together in this direction.",
            (
                "Lay a ruler across each row and measure every patch from seam to seam. The "
                "patch that differs from its like has the fault beside it. If all are alike, "
                "it is not one seam."
            ),
        )

    def _mistake(self, _: Cause) -> tuple[str, str, str]:
        side = (self.found.each or 0) / 2
        why = "No usual error of seams and cuts explains the sizes together."
        if abs(side) > BELIEVABLE:
            side_text = thin(side, self.measure)
            why = f"Every seam would have to be off by {side_text} on each side: that would show."
        return (
            (
                "This is more than a seam does: a piece of another size, two piles mixed, a seam "
                "too few or too many, or a ruler misread."
            ),
            why,
            (
                "Hold the block against the picture and count; then measure every patch from seam "
                "to seam and compare it with the cutting list."
            ),
        )


def _save_small(found: Reckoned, seam: Fraction, measure: Measure) -> tuple[str, ...]:
    short = abs(found.most)
    ways = []
    left = seam - Fraction(short).limit_denominator(1000) / 2
    if left >= SAFE_ALLOWANCE:
        ways.append(
            f"Use it as it is: where it meets its neighbours sew {thin(short / 2, measure)} "
            "nearer to its raw edge, and pin its middle and ends to theirs."
        )
    if found.each is not None and abs(found.each) / 2 <= BELIEVABLE:
        ways.append(
            "Or unpick one seam across at a time and sew it again nearer to the raw edge, "
            f"{thin(found.each / 2, measure)} on each side if you do all of them; press and "
            "measure after each."
        )
    if short >= NARROWEST_FRAME:
        ways.append("Or frame it with strips, cut too wide, and trim it to size all round.")
    else:
        ways.append(
            "Or, if all blocks are alike, go on with this size for all of them: give the "
            "measured size for the setting instead of the planned one."
        )
    first = ways[0].removeprefix("Or ").lstrip(", ")
    return (first[:1].upper() + first[1:], *ways[1:])


def _save_large(found: Reckoned, plan: PiecingPlan, measure: Measure) -> tuple[str, ...]:
    half = found.most / 2
    ways = []
    if half <= POINTS_KEEP or not points_at_edge(plan):
        ways.append(
            f"Trim it all round: {thin(half, measure)} off each side, measured from the middle. "
            "Close the blade each time you lay it down, and cut away from the body."
        )
    else:
        ways.append(
            f"Do not trim it: that would take {thin(half, measure)} off the points on its outside."
        )
    if found.each is not None and abs(found.each) / 2 <= BELIEVABLE:
        ways.append(
            f"Or sew seams across again, {thin(found.each / 2, measure)} deeper on each side if "
            "you do all of them, inside of the old stitching; press and measure after each."
        )
    return tuple(ways)


_NEVER_SMALL = (
    "Do not pull it to size with the iron: it waves, and shrinks back when it is washed.",
    "Do not trim it square: nothing can be trimmed up, and its points would be lost.",
    "Do not cut the next pieces larger before you know that the cutting was the fault.",
)

_NEVER_LARGE = (
    "Do not trim one side only: the middle of the block would lie off the middle.",
    "Do not ease it into its neighbours: fullness cannot be quilted out.",
)


def _number(value: float) -> str:
    return f"{value:.0f}" if abs(value - round(value)) < 0.05 else f"about {value:.1f}"


def _piece_size(piece: Piece, measure: Measure) -> str:
    return _pair(piece.width.ruler, piece.height.ruler, measure)


def _pair(width: Fraction, height: Fraction, measure: Measure) -> str:
    if width == height:
        return with_unit(width, measure)
    return f"{with_unit(width, measure)} by {with_unit(height, measure)}"
