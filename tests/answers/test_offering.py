"""One more seam: the counts are those of the worked example in the explanation of piecing, and the
file that is written reads back as a block without a corner to set in."""

from __future__ import annotations

from pathlib import Path

import pytest

from seamproof.answers.asking import more_seams, piece
from seamproof.errors import SaveError
from seamproof.project.writing import drawing_of, write_block
from tests import cast

# Calculated by hand: one more patch for each corner that a seam is run through, unless one seam
# spares two corners.
WITH_MORE = {
    "lemoyne_star": (16, 24),
    "attic_window_mitred": (3, 4),
    "hexagon_flower_7": (7, 12),
    "tumbling_block": (3, 4),
}


@pytest.mark.parametrize("name", WITH_MORE)
def test_more_seams_leave_no_corner_to_set_in(name: str, tmp_path: Path) -> None:
    file, variant = tmp_path / "block.yaml", tmp_path / "variant.yaml"
    file.write_text(write_block(drawing_of(cast.reference_blocks()[name])), encoding="utf-8")
    answer = more_seams(file, output=variant)
    assert answer.drawn is not None
    assert answer.offered is not None
    assert (answer.drawn.patches, answer.offered.patches) == WITH_MORE[name]
    assert (answer.offered.set_in_points, answer.offered.partial) == (0, 0)
    assert sum(seam.removes for seam in answer.seams) == answer.drawn.set_in_points
    again = piece(variant)
    assert (again.patches, again.set_in_points) == (WITH_MORE[name][1], 0)
    with pytest.raises(SaveError):
        more_seams(file, output=variant)


def test_a_block_of_straight_seams_is_offered_none(tmp_path: Path) -> None:
    file = tmp_path / "block.yaml"
    file.write_text(write_block(drawing_of(cast.four_patch())), encoding="utf-8")
    answer = more_seams(file, output=tmp_path / "variant.yaml")
    assert (answer.seams, answer.offered, answer.written) == ((), None, None)
    assert not (tmp_path / "variant.yaml").exists()
