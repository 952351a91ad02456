"""Units made of whole rectangular patches: bars side by side, and rows of cells."""

from __future__ import annotations

from fractions import Fraction

from seamproof.length.rounding import SAME
from seamproof.piecing.model import UnitKind
from seamproof.plane.model import Polygon
from seamproof.plane.predicates import box

Roles = tuple[tuple[str, Polygon], ...]


def grid_of(
    width: Fraction, height: Fraction, patches: tuple[Polygon, ...]
) -> tuple[UnitKind, Roles] | None:
    """How two or more patches divide a rectangle into rows and columns of whole cells, if they do.

    The patches lie in an upright frame with the upper left corner at (0, 0). One column is a rail,
    whose bars are counted from the top; two rows of two are a four-patch and three rows of three a
    nine-patch, also with unlike rows and columns; any other grid is a checkerboard. One row is
    nothing here: seen from its side it is a rail.

    >>> o, h, w = Fraction(0), Fraction(2), Fraction(4)
    >>> upper, lower = ((o, o), (w, o), (w, h), (o, h)), ((o, h), (w, h), (w, w), (o, w))
    >>> grid_of(w, w, (lower, upper))[0], grid_of(w, h, (upper,))
    ('rail', None)
    """
    boxes = [box(patch) for patch in patches if len(patch) == 4]
    if len(boxes) != len(patches) or len(boxes) < 2:
        return None
    across = _lines([x for low, high in boxes for x in (low[0], high[0])], width)
    down = _lines([y for low, high in boxes for y in (low[1], high[1])], height)
    columns, rows = len(across) - 1, len(down) - 1
    if rows < 2 or rows * columns != len(patches):
        return None
    cells = tuple(
        (
            f"bar {i + 1}" if columns == 1 else f"row {i + 1} column {j + 1}",
            (
                (across[j], down[i]),
                (across[j + 1], down[i]),
                (across[j + 1], down[i + 1]),
                (across[j], down[i + 1]),
            ),
        )
        for i in range(rows)
        for j in range(columns)
    )
    return _kind(rows, columns), cells


def _kind(rows: int, columns: int) -> UnitKind:
    if columns == 1:
        return "rail"
    named: dict[tuple[int, int], UnitKind] = {(2, 2): "four-patch", (3, 3): "nine-patch"}
    return named.get((rows, columns), "checkerboard")


def _lines(values: list[Fraction], end: Fraction) -> list[Fraction]:
    """Where the sides of the patches lie, those that lie on one line once; the outermost ones are
    those of the unit itself."""
    lines: list[Fraction] = []
    for value in sorted(values):
        if not lines or value - lines[-1] > SAME:
            lines.append(value)
    return [Fraction(0), *lines[1:-1], end]
