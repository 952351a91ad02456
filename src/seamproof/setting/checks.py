"""What setting has to say, each kind once."""

from __future__ import annotations

from seamproof.findings import Kind

SET_TOO_OFTEN = Kind(601, "error", "A block is set more often than it is made")
UNKNOWN_BLOCK = Kind(602, "error", "A block that this quilt does not have")
HOLE = Kind(603, "error", "The layout has a hole")
TOO_LARGE = Kind(604, "error", "A block is larger than its cell")
NOT_FILLED = Kind(605, "error", "A block and its coping do not fill the cell")
NARROW_COPING = Kind(606, "warning", "Coping finishes less than an inch wide")
NO_CLOTH = Kind(607, "error", "A strip without a fabric")
UNKNOWN_CLOTH = Kind(608, "error", "A fabric letter in the setting that the quilt does not have")
DOES_NOT_DIVIDE = Kind(609, "error", "A pieced border does not come out even")
UNIT_SIZE = Kind(610, "error", "A block in a pieced border has another size than its place")
UPRIGHT_TURNED = Kind(611, "warning", "A block with an upright way is turned")
PRINT_TURNED = Kind(612, "warning", "A block with a directional print is turned")
NOT_SET = Kind(613, "note", "A block of the quilt is not in the layout")
MADE_TOO_OFTEN = Kind(614, "note", "More of a block are made than are set")
NOT_SQUARE = Kind(615, "error", "Blocks on point must be square")
OFF_THE_MARKS = Kind(616, "warning", "A strip of the top lies between two marks of the ruler")
WIDE_SASH = Kind(617, "note", "Sashing is wider than a quarter of the block")
UNUSED_COPING = Kind(618, "warning", "Coping for a block that needs none")
CAME_OUT_SMALL = Kind(619, "warning", "A measured block came out small")
CAME_OUT_LARGE = Kind(620, "note", "A measured block came out large")
FINISHED_TYPED = Kind(621, "warning", "A measured size looks like the finished one")
NO_PACKAGE = Kind(622, "note", "No usual package of batting is so large")
TOO_MUCH = Kind(623, "error", "A top larger than the program promises to carry")
