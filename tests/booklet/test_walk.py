"""A walk through the whole demo booklet: every size is added up again from the page's own text, by
rules that stand here and nowhere in the program. That the PDF says what the model says is tested by
place."""

from __future__ import annotations

import functools
import re
from collections import defaultdict
from fractions import Fraction

from seamproof.booklet.checks import check
from seamproof.booklet.model import Beside, Chapter, Edition, Table, TurnedOver
from seamproof.booklet.reading import Said, lines_of
from tests.booklet.demo import model

NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d+)"
SIZE = re.compile(rf"({NUMBER}) × ({NUMBER}) in")
PIECE = re.compile(r"(?:square|rectangle|strip|triangle|diamond|piece)s? ([A-Z][a-z])")

Size = tuple[Fraction, Fraction]


@functools.cache
def lines() -> dict[str, list[Said]]:
    """The lines by section."""
    found: dict[str, list[Said]] = defaultdict(list)
    for line in lines_of(model()):
        found[line.section].append(line)
    return dict(found)


def number(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split(" ")), Fraction(0))


def sizes(text: str) -> list[Size]:
    return [(number(a), number(b)) for a, b in SIZE.findall(text)]


def at(section: str, place: str) -> str:
    (found,) = [line.text for line in lines()[section] if line.place == place]
    return found


def seam() -> Fraction:
    said = " ".join(line.text for line in lines()["notes"])
    found = re.search(rf"Seams are ({NUMBER}) in wide", said)
    assert found is not None
    return number(found[1])


def blocks() -> list[str]:
    return [key for key in lines() if key.startswith("block:")]


def fits(one: Size, other: Size, made: Size, seam_: Fraction) -> bool:
    """Whether two pieces, turned as may be, sew to a third."""
    return any(
        a[1] == b[1] and (a[0] + b[0] - 2 * seam_, a[1]) in (made, made[::-1])
        for a in (one, one[::-1])
        for b in (other, other[::-1])
    )


def units_of(section: str) -> dict[str, Size]:
    """What the last size in the making of each unit is, by its mark."""
    found: dict[str, Size] = {}
    for line in lines()[section]:
        head = re.match(r"Units? ([\d, and]+): .*, step \d+(, measure)?$", line.place)
        if head and sizes(line.text) and "Across" not in line.text:
            for mark in re.findall(r"\d+", head[1]):
                found[f"unit {mark}"] = sizes(line.text)[0]
    return found


def pieces_of(section: str) -> dict[str, Size]:
    found: dict[str, Size] = {}
    for line in lines()[section]:
        place = re.match(r"Cutting: cutting [A-Z]+, ([A-Z][a-z])$", line.place)
        if place and sizes(line.text):
            found[place[1]] = sizes(line.text)[0]
    return found


def test_nothing_is_wrong_with_it() -> None:
    assert check(model(), Edition()) == ()


def test_every_block_is_as_large_as_its_last_step_and_two_seams_larger_than_finished() -> None:
    assert len(blocks()) == 12
    for section in blocks():
        (finished,), (unfinished,) = (
            sizes(at(section, "Finished")),
            sizes(at(section, "Unfinished")),
        )
        assert unfinished == (finished[0] + 2 * seam(), finished[1] + 2 * seam())
        making = [line for line in lines()[section] if ", step " in line.place]
        last = [size for line in making for size in sizes(line.text)]
        assert unfinished in (last[-1], last[-1][::-1]), section


def test_every_straight_step_adds_up_from_what_it_is_sewn_of() -> None:
    walked = 0
    for section in blocks():
        names = {**units_of(section), **pieces_of(section)}
        until = 0  # the step that closes a seam which was left open: till then nothing is square
        for line in lines()[section]:
            step = re.fullmatch(r"Making the block, step (\d+)", line.place)
            if step is None:
                continue
            measure = at(section, f"{line.place}, measure")
            (made,) = sizes(measure)
            names[f"step {step[1]}"] = made
            left_open = re.search(r"open until step (\d+)", line.text)
            until = int(left_open[1]) if left_open else until
            if int(step[1]) <= until:
                continue
            twice = re.match(r"Sew two of (.+?) to each other\. ", line.text)
            sewn = None if twice else re.match(r"Sew (.+?) to (.+?)\. ", line.text)
            if "dot" in line.text or "cross," in line.text or "about" in measure:
                continue  # set in, or off the ruler: no plain sum
            if sewn is None and twice is None:
                assert "begun in" in line.text, line
                continue
            said = list(sewn.groups()) if sewn else [twice[1], twice[1]] if twice else []
            both = [names[called(name)] for name in said]
            assert fits(both[0], both[1], made, seam()), (section, line, both, made)
            walked += 1
    assert walked > 40


def called(name: str) -> str:
    """What a thing is called where its size stands: its step, its letter, or its unit."""
    step = re.search(r"step \d+", name)
    name = name.removeprefix("the pieces from ").removeprefix("the piece from ")
    if step:
        return step[0]
    piece = PIECE.search(name)
    return piece[1] if piece else name.removesuffix(", mirrored")


def test_every_piece_is_cut_from_cloth_as_often_as_its_block_asks() -> None:
    asked: dict[tuple[str, str], int] = {}
    for section in blocks():
        name = at(section, "title")
        for line in lines()[section]:
            place = re.match(r"Cutting: cutting [A-Z]+, ([A-Z][a-z])$", line.place)
            if place:
                asked[name, place[1]] = int(line.text.split(" ", 1)[0])
    cut: dict[tuple[str, str], int] = defaultdict(int)
    for line in lines()["cutting"]:
        if line.place.endswith(", For"):
            for name, letter, count in re.findall(r"([^;:]+) ([A-Z][a-z]): (\d+)", line.text):
                cut[name.strip(), letter] += int(count)
    assert dict(cut) == asked


def test_every_kind_is_cut_as_often_as_it_is_used() -> None:
    for line in lines()["cutting"]:
        if line.place.endswith(", Cut"):
            uses = at("cutting", line.place.removesuffix("Cut") + "For")
            total = sum(int(count) for count in re.findall(r": (\d+)", uses))
            told = int(line.text.split(" ", 1)[0])
            assert told == total, (line, uses)


def test_the_top_adds_up_from_its_layout() -> None:
    table = [line for line in lines()["setting"] if line.place.startswith("table layout")]
    rows = {re.findall(r"line (\d+)", line.place)[0] for line in table}
    columns = {line.place.rpartition(" ")[2] for line in table if "Column" in line.place}
    assert (len(rows), len(columns)) == (4, 3)
    assert sum("Column" in line.place for line in table) == 12
    (quilt,) = sizes(at("cover", "Quilt"))
    pieces = _setting_pieces()
    ((width, length, sashes),) = pieces["sashes"]
    ((stone, _, stones),) = pieces["cornerstones"]
    s = 2 * seam()
    assert quilt == (
        3 * (length - s) + 4 * (width - s),
        4 * (length - s) + 5 * (width - s),
    )
    assert stone == width
    assert stones == 4 * 5
    assert sashes == 3 * 5 + 4 * 4


def _setting_pieces() -> dict[str, list[tuple[Fraction, Fraction, int]]]:
    found: dict[str, list[tuple[Fraction, Fraction, int]]] = defaultdict(list)
    table = [line for line in lines()["setting"] if "table setting-pieces" in line.place]
    for line in table:
        if line.place.endswith(", Piece"):
            head = line.place.removesuffix("Piece")
            ((width, length),) = sizes(at("setting", f"{head}Size, width × length"))
            count = int(at("setting", f"{head}Cut"))
            found[line.text].append((width, length, count))
    return dict(found)


def test_every_frame_brings_its_block_to_the_size_it_says() -> None:
    table = [line for line in lines()["setting"] if "table frames" in line.place]
    block = ""
    size: Size = (Fraction(0), Fraction(0))
    for n in dict.fromkeys(re.findall(r"line (\d+)", " ".join(line.place for line in table))):
        row = {
            line.place.partition(f"line {n}, ")[2]: line.text
            for line in table
            if f"line {n}, " in line.place
        }
        if row.get("Block"):
            block = row["Block"]
            (key,) = [k for k in blocks() if at(k, "title") == block]
            (size,) = sizes(at(key, "Unfinished"))
        (beside,), (above,) = sizes(row["Cut for the sides"]), sizes(row["Cut for above and below"])
        assert beside[1] == size[1], (block, row)
        wide = size[0] + 2 * (beside[0] - 2 * seam())
        assert above[1] == wide, (block, row)
        size = (wide, size[1] + 2 * (above[0] - 2 * seam()))
        assert sizes(row["Should measure"]) == [size], (block, row)
    assert block


def test_backing_and_binding_reach_round_the_quilt() -> None:
    (quilt,) = sizes(at("cover", "Quilt"))
    said = " ".join(line.text for line in lines()["finishing"])
    (margin,) = re.findall(rf"reaches ({NUMBER}) in beyond", said)
    (backing,) = re.findall(rf"backing is ({NUMBER} × {NUMBER} in)", said)
    assert sizes(backing) == [tuple(side + 2 * number(margin) for side in quilt)]
    (length, extra) = re.findall(
        rf"sewn together to ({NUMBER}) in: once round, and ({NUMBER}) in", said
    )[0]
    assert number(length) == 2 * sum(quilt) + number(extra)


def test_strips_give_as_many_pieces_as_are_cut() -> None:
    """What stands after "each" is cut of every strip of its line."""
    parts = [part for section in model().sections for part in section.parts]
    shown = [part.table if isinstance(part, Beside) else part for part in parts]
    tables = {part.name: part for part in shown if isinstance(part, Table)}
    cut: dict[tuple[str, str], int] = {}
    for fabric, strips, _, into, _ in tables["cut-first"].rows:
        assert into.startswith("each: ") == (int(strips) > 1)
        for count, mark in re.findall(r"(\d+) [\w-]+ ([a-z])\b", into):
            cut[fabric, mark] = cut.get((fabric, mark), 0) + int(strips) * int(count)
    letters = {fabric for fabric, _ in cut} - {"–"}
    for letter in letters:
        for mark, what, _ in tables[f"cutting-{letter.lower()}"].rows:
            assert cut[letter, mark] == int(what.split()[0]), (letter, mark)
    assert len(letters) == 6


def test_a_step_pressed_to_a_side_is_not_among_those_said_to_be_open() -> None:
    """Seams within a unit are told by the unit, whatever step sews it on."""
    walked = 0
    for section in model().sections:
        turned = [part for part in section.parts if isinstance(part, TurnedOver)]
        steps = [
            step
            for part in section.parts
            if isinstance(part, Chapter) and not part.by
            for step in part.steps
        ]
        aside = {step.number for step in steps if "Press towards" in step.text}
        for reason in (reason for part in turned for reason in part.reasons):
            named, _, way = reason.partition(": ")
            if way.startswith("open"):
                told = re.search(r"[Ss]teps? (.*)", named)
                walked += 1
                assert not aside & {int(n) for n in re.findall(r"\d+", told[1] if told else "")}
    assert walked > 12
