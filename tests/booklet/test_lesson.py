"""The lesson sheet of a block: its times, its samples and what is cut for them, and the film's
chapters."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from seamproof.booklet.block_chapters import sheet_of
from seamproof.booklet.cues import cues
from seamproof.booklet.lesson import lesson, stages, timed
from seamproof.booklet.matter import BlockMatter, Matter, Own, OwnBlock
from seamproof.booklet.model import BookletModel, Edition, Picture, Pictures, Table
from seamproof.booklet.printing import print_booklet
from seamproof.booklet.reading import lines_of
from tests.booklet.quilts import matter
from tests.booklet.test_wording import NEVER

OWN = Own(blocks=(("Star", OwnBlock(aims=("See a star.",), minutes=(("Unit 1", Fraction(45)),))),))


def star() -> BlockMatter:
    one = next(one for one in matter().blocks if one.name == "Star")
    return replace(one, usual=one.pressed)


def tables(model: BookletModel) -> dict[str, Table]:
    return {p.name: p for s in model.sections for p in s.parts if isinstance(p, Table)}


def test_the_last_sample_takes_what_one_block_takes() -> None:
    made = sheet_of(matter(), star())
    last = stages(star(), made)[-1]
    one_block = {p.letter: -(-p.count // star().copies) for p in star().cutting.pieces}
    assert dict(last.pieces) == one_block


def test_what_is_cut_for_samples_is_what_they_take_and_a_spare_set() -> None:
    samples = stages(star(), sheet_of(matter(), star()))
    for mark, _, taken, spare, cut in tables(lesson(matter(), star()))["step-outs-cutting"].rows:
        counts = [dict(stage.pieces).get(mark, 0) for stage in samples]
        assert int(taken) == sum(counts)
        assert int(spare) == max(counts)
        assert int(cut) == int(taken) + int(spare)


def test_the_teachers_own_times_and_aims_replace_estimates() -> None:
    own: Matter = replace(matter(), own=OWN)
    made = sheet_of(own, star())
    (unit,) = [line for line in timed(own, star(), made) if line.own]
    assert (unit.name, unit.minutes) == ("Unit 1", Fraction(45))
    said = [line.text for line in lines_of(lesson(own, star()))]
    assert "See a star." in said
    assert "yours" in said


def test_the_film_has_a_chapter_for_each_line_of_the_time_table() -> None:
    times = timed(matter(), star(), sheet_of(matter(), star()))
    text = cues(times)
    assert text.startswith("WEBVTT\n\n1\n00:00:00.000 --> ")
    found = re.findall(r"^(\S+) --> (\S+)$", text, re.MULTILINE)
    assert len(found) == len(times)
    assert [end for _, end in found[:-1]] == [start for start, _ in found[1:]]


def test_the_two_maps_stand_side_by_side() -> None:
    model = lesson(matter(), star())
    (talk,) = [section for section in model.sections if section.key == "talk"]
    maps = talk.parts[0]
    assert isinstance(maps, Pictures)
    assert len(maps.pictures) == 2
    assert all(isinstance(one, Picture) for one in maps.pictures)


def test_a_lesson_is_set_and_holds_no_word_of_the_code() -> None:
    model = lesson(matter(), star())
    assert [line for line in lines_of(model) if NEVER.search(line.text)] == []
    assert print_booklet(model, Edition()) == print_booklet(model, Edition())
