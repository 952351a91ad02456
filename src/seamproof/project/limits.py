"""How much the program promises to carry. One table; what exceeds it is refused in a sentence.

`docs/reference/files.md` shows the same table to its users.
"""

from __future__ import annotations

from fractions import Fraction

from seamproof.length.notation import MOST_DIGITS

FILE_BYTES = 1_000_000
"""Size of one file. The largest block that is allowed, written as polygons, takes a third."""

NESTING = 12
"""Lists and groups inside one another. The deepest file we describe has five."""

DIGITS = MOST_DIGITS
"""Digits of one number."""

NAME_LENGTH = 80
"""Characters of a name: what fits on one line of a page."""

TEXT_LENGTH = 400
"""Characters of any other text."""

SMALLEST = Fraction(1, 8)
"""Finished size of a block, in inches, at least: a seam on either side takes 1/4 in."""

LARGEST = Fraction(200)
"""Finished size of a block, in inches, at most: wider than any bed."""

COORDINATE = Fraction(400)
"""Distance of a typed point from zero, in inches, at most: the largest block may lie anywhere
round its own zero."""

PATCHES = 4_000
"""Patches of one block."""

CELLS = 20_000
"""Cells of one block, sub-blocks counted once: a patch may take several cells."""

SIDE = 400
"""Cells in one row, and rows."""

SEAMS = 8_000
"""Seam lines drawn in one block: a division into `PATCHES` rectangles has twice as many sides."""

CORNERS = 200
"""Corners of one patch."""

FIXINGS = 4_000
"""Entries of `press` and of `order`."""

UNITS = 100
"""Named sub-blocks of one block."""

METHODS = 100
"""Entries of `method`."""

COPIES = 10_000
"""Copies of one block: the size of the largest kit run."""

FABRICS = 300
"""Fabrics of one project: less than the one- and two-letter names there are."""

BLOCKS = 200
"""Blocks of one project."""

WIDEST_CLOTH = Fraction(130)
"""Usable width of a fabric, in inches, at most: backing cloth is woven up to 120 in wide."""

LONGEST_CLOTH = Fraction(4_000)
"""Length of a piece of cloth on the shelf, in inches, at most: a bolt of 100 yards is 3,600."""

PIECES_OF_CLOTH = 40
"""Entries of `shelf`, and of `cut from`, of one fabric."""

WIDEST_SEAM = Fraction(2)
"""Seam allowance and oversize, in inches, at most."""

MAKERS = 100_000
"""Makers of one rehearsal: more would show nothing that these do not."""

TABLE_ROWS = 5_000
"""Rows of a table of measurements or of sewn test copies: years of a workshop."""

MEASURED = 200
"""Readings of one kind that are typed for one measurement."""
