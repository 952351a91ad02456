"""Notes on paper: alike things once, nothing about the file."""

from __future__ import annotations

from seamproof.booklet.notes import notes_on_paper
from seamproof.cutting.checks import CUT_FULL, METHOD_UNUSED, OFF_THE_RULER, SPARES
from seamproof.draft.checks import UNUSED_UNIT
from seamproof.findings import Finding
from seamproof.piecing.checks import CORNER_SET_IN


def full(mark: str, more: str) -> Finding:
    what = f"{mark} is cut up to {more} in larger than the sewing needs"
    return CUT_FULL.found(what, mend="let it lie on the outside")


def test_pieces_with_the_same_trouble_are_one_note() -> None:
    (note,) = notes_on_paper([full("Aa", "0.036"), full("Ea", "0.095"), full("Fa", "0.04")])
    assert note.text == "Aa, Ea and Fa are cut up to 0.095 in larger than the sewing needs"
    assert note.mend == "let it lie on the outside"


def test_one_piece_keeps_its_words() -> None:
    (note,) = notes_on_paper([full("Ca", "0.07")])
    assert note.text == "Ca is cut up to 0.07 in larger than the sewing needs"


def test_unlike_sizes_stay_apart() -> None:
    found = [
        OFF_THE_RULER.found(f"{mark} should be {size} in and no mark shows that", mend="…")
        for mark, size in (("Aa", "4.015"), ("Da", "2.985"), ("Fa", "2.985"))
    ]
    assert [note.text for note in notes_on_paper(found)] == [
        "Aa should be 4.015 in and no mark shows that",
        "Da and Fa should be 2.985 in and no mark shows that",
    ]


def test_spares_of_several_fabrics_are_one_note() -> None:
    found = [
        SPARES.found(
            f"half-square triangle of A and {other}: 2 are made, and 1 is needed",
            mend="keep the rest for a test, or name another method",
        )
        for other in "DB"
    ]
    (note,) = notes_on_paper(found)
    assert note.text.startswith("half-square triangles of A and D, and of A and B: 2 are made")
    assert note.mend == "Keep the rest for a test."


def test_what_speaks_of_the_file_is_not_printed() -> None:
    found = [kind.found("a unit is not used", mend="…") for kind in (UNUSED_UNIT, METHOD_UNUSED)]
    assert notes_on_paper(found) == ()


def test_places_are_counted() -> None:
    corner = CORNER_SET_IN.found("a corner must be set in", mend="draw one more seam")
    (note,) = notes_on_paper([corner] * 8)
    assert note.text == "at eight places: a corner must be set in"
    assert "draw" not in note.mend
