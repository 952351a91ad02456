"""Everything the draft can find wrong, each kind once."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.findings import Finding, Kind, Where
from seamproof.length.exact import FINEST
from seamproof.plane.model import Point

# Patches and the outline
FEW_CORNERS = Kind(101, "error", "A patch has fewer than three corners")
CROSSES_ITSELF = Kind(102, "error", "The outline of a patch crosses or touches itself")
OVERLAP = Kind(103, "error", "Two patches lie over each other")
GAP = Kind(104, "error", "There is a gap between patches")
IN_PIECES = Kind(105, "error", "The block is not in one piece")
PINCHED = Kind(106, "error", "Patches touch at a point only")
ENCLOSED = Kind(107, "error", "A patch lies all round another")
SLIVER = Kind(108, "error", "A sliver: too small to sew")
SIZE_MISMATCH = Kind(109, "error", "The patches do not fill the finished size")
UNKNOWN_FABRIC = Kind(110, "error", "A fabric letter that the project does not have")
OFF_RULER = Kind(111, "note", "Sizes that are not on the ruler")
NO_PATCHES = Kind(112, "error", "There is nothing drawn")
TOO_MANY = Kind(113, "error", "More pieces than a block may have")
MADE_UP_FABRICS = Kind(114, "note", "Fabric letters that no quilt.yaml explains")

# Cells
NOT_A_CELL = Kind(120, "error", "A cell cannot be read")
RAGGED_ROWS = Kind(121, "error", "Rows of cells differ in length")
PROPORTIONS = Kind(122, "error", "Columns or rows do not match the cells")
NOTHING_TO_CONTINUE = Kind(123, "error", "There is nothing to continue at the left or above")
OTHER_FABRIC = Kind(124, "error", "Another fabric lies where the patch should continue")
NOT_A_RECTANGLE = Kind(125, "error", "An enlarged cell is not a whole rectangle")
UNKNOWN_UNIT = Kind(126, "error", "A unit that is not written down")
UNIT_IN_ITSELF = Kind(127, "error", "A unit contains itself")
UNUSED_UNIT = Kind(128, "note", "A unit that no cell uses")

# Seam lines
SEAM_ENDS_NOWHERE = Kind(130, "error", "A seam ends in the middle of a patch")
SEAM_OUTSIDE = Kind(131, "warning", "A seam lies outside the block or along its edge")
NO_FABRIC = Kind(132, "error", "A patch has no fabric")
TWO_FABRICS = Kind(133, "error", "Two fabrics are named for one patch")
POINT_ON_SEAM = Kind(134, "error", "The point that names a fabric lies on a seam")
POINT_OUTSIDE = Kind(135, "error", "The point that names a fabric lies outside the block")

# What the maker fixed
NO_SUCH_SEAM = Kind(140, "error", "A fixing names a line that is no seam")
NO_SUCH_CROSSING = Kind(141, "error", "A fixing names a point where no seams cross")
TOWARDS_NEITHER = Kind(142, "error", "A fixing points along its seam, not to a side")


def at(where: Where, block: str, point: Point | None = None) -> Where:
    """A place in the file, told which block and which point of it is meant."""
    return replace(where, block=where.block or block, at=point if point is not None else where.at)


def shown(value: Fraction | float) -> str:
    """A length for a sentence: a mixed number where it is one a ruler could show, else a decimal.

    >>> shown(Fraction(39, 8)), shown(Fraction(12, 5)), shown(2 ** 0.5), shown(Fraction(-1, 2))
    ('4 7/8', '2 2/5', '1.414', '-1/2')
    >>> shown(0)
    '0'
    """
    exact = Fraction(value)
    nice = exact.limit_denominator(64)
    if abs(nice - exact) > FINEST:
        return f"{float(exact):.3f}".rstrip("0").rstrip(".")
    sign = "-" if nice < 0 else ""
    whole, rest = divmod(abs(nice), 1)
    if rest == 0:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


def place_name(point: Point) -> str:
    """A point for a sentence.

    >>> place_name((Fraction(3), Fraction(7, 2)))
    '(3, 3 1/2)'
    """
    return f"({shown(point[0])}, {shown(point[1])})"


def towards_words(x: Fraction, y: Fraction) -> str:
    """A direction in words, as the block lies in front of one.

    >>> towards_words(Fraction(1), Fraction(0)), towards_words(Fraction(-1), Fraction(-1))
    ('to the right', 'to the upper left')
    """
    across = "" if abs(x) * 4 < abs(y) else "right" if x > 0 else "left"
    along = "" if abs(y) * 4 < abs(x) else "lower" if y > 0 else "upper"
    if not across:
        return "downwards" if along == "lower" else "upwards"
    return f"to the {along} {across}" if along else f"to the {across}"


def first_few(findings: list[Finding], limit: int = 12) -> list[Finding]:
    """The first findings of each code: a drawing with one slip repeated says it often enough."""
    seen: dict[int, int] = {}
    result = []
    for finding in findings:
        seen[finding.code] = seen.get(finding.code, 0) + 1
        if seen[finding.code] <= limit:
            result.append(finding)
    return result
