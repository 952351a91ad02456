"""What a pattern tells its reader, fact by fact, from what the stages worked out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from seamproof.cloth.tops import LOOSE
from seamproof.cutting.model import CuttingList, Piece
from seamproof.draft.model import Block
from seamproof.length.notation import Measure, number, with_unit
from seamproof.piecing.model import PiecingPlan
from seamproof.pressing.model import PressedRun
from seamproof.programme.model import Entry, Need
from seamproof.programme.versions import Fact
from seamproof.setting.model import Top

SPLITS: Mapping[str, str] = {"once": ", once corner to corner", "twice": ", twice corner to corner"}


def block_facts(
    block: Block,
    plan: PiecingPlan,
    cutting: CuttingList,
    runs: Iterable[PressedRun],
    measure: Measure,
) -> Iterator[Fact]:
    """What is told of one block: sizes, pieces, units, steps, and how each seam is pressed."""
    name = block.name

    def told(what: str, says: object) -> Fact:
        return Fact(name, what, str(says))

    yield told("finished size", _size(block.width, block.height, measure))
    yield told("patches", plan.patches)
    yield told("steps at the machine", plan.sessions)
    yield told("corners to set in", plan.set_in_points)
    yield told("copies", cutting.copies)
    for piece in cutting.pieces:
        yield told(f"piece {piece.letter}", _piece(piece, measure))
    counts: dict[str, int] = {}
    for recipe in cutting.recipes:
        if not recipe.steps:
            continue
        n = counts[recipe.kind] = counts.get(recipe.kind, 0) + 1
        what = f"{recipe.kind} {n}"
        says = f"{recipe.method}, {recipe.made} made"
        if recipe.trim is not None:
            says += f", trimmed to {_size(*recipe.trim, measure)}"
        yield told(what, says)
    for n, step in enumerate(cutting.steps, start=1):
        if step.measure is not None and step.verb != "cut":
            width, height = (size.ruler for size in step.measure)
            yield told(f"step {n} measures", _size(width, height, measure))
    for run in runs:
        line = tuple(_place(spot, measure) for spot in (run.start, run.end))
        yield told(f"seam from {line[0]} to {line[1]}", _pressed(run, measure))


def _piece(piece: Piece, measure: Measure) -> str:
    size = _size(piece.width.ruler, piece.height.ruler, measure)
    shape = piece.shape + SPLITS.get(piece.split, "")
    return f"{piece.count} of {size}, {shape}, for {piece.unit}"


def _size(width: Fraction, height: Fraction, measure: Measure) -> str:
    if width == height:
        return with_unit(width, measure)
    return f"{number(width, measure)} × {with_unit(height, measure)}"


def _place(spot: tuple[float, float], measure: Measure) -> str:
    x, y = (number(Fraction(value).limit_denominator(1 << 16), measure) for value in spot)
    return f"({x}, {y})"


def _pressed(run: PressedRun, measure: Measure) -> str:
    press = run.press
    if press.spun:
        return f"spun {'clockwise' if press.clockwise else 'anticlockwise'} from the back"
    if press.way == "open" or run.towards is None:
        return "open"
    return f"towards {_place(run.towards, measure)}"


def top_facts(top: Top, measure: Measure) -> Iterator[Fact]:
    """What is told of the top and its finishing."""
    yield Fact("the top", "finished size", _size(top.width, top.height, measure))
    yield Fact("the top", "backing", _size(top.backing.width, top.backing.height, measure))
    yield Fact("the top", "batting", _size(top.batting.width, top.batting.height, measure))
    binding = top.binding
    told = f"{with_unit(binding.length, measure)} long, {with_unit(binding.width, measure)} wide"
    yield Fact("the top", "binding", told)
    counts: dict[str, int] = {}
    for piece in top.pieces:
        n = counts[piece.name] = counts.get(piece.name, 0) + 1
        size = _size(piece.width.ruler, piece.height.ruler, measure)
        says = f"{piece.count} of {size} of {piece.fabric.upper()}"
        yield Fact("the top", f"{piece.name} {n}", says + SPLITS.get(piece.split, ""))
    for n, block in enumerate(top.blocks, start=1):
        turned = f", turned {block.turn} of a full turn" if block.turn else ""
        x, y = (number(value, measure) for value in block.at)
        yield Fact("the top", f"place {n}", f"{block.name} at ({x}, {y}){turned}")


def cloth_facts(amounts: Iterable[tuple[str, Fraction, str]], measure: Measure) -> Iterator[Fact]:
    """What is told of each fabric: its letter, its bare length, and what is bought."""
    for letter, bare, told in amounts:
        about = called(letter)
        yield Fact(about, "bare length", with_unit(bare, measure))
        yield Fact(about, "buy", told)


def called(letter: str) -> str:
    """A fabric as facts speak of it; cloth that is no fabric of the quilt goes by its name.

    >>> called("a"), called("backing")
    ('fabric A', 'the backing')
    """
    return f"the {letter}" if letter in LOOSE else f"fabric {letter.upper()}"


def programme_facts(
    holds: Sequence[str],
    entries: Sequence[Entry],
    needs: Sequence[Need],
    pieces: Mapping[str, str],
    measure: Measure,
) -> Iterator[Fact]:
    """What is told of the releases: what each holds, its days, and its cloth. `pieces` says by the
    name of its kind what a piece is."""
    for n, held in enumerate(holds, start=1):
        about = f"release {n}"
        yield Fact(about, "holds", held)
        for entry in entries:
            if entry.release == n:
                begins, ends = str(entry.begins), str(entry.ends)
                yield Fact(about, entry.step, ends if begins == ends else f"{begins} to {ends}")
        save: dict[str, int] = {}
        for need in needs:
            if need.release != n:
                continue
            if need.length or need.pieces:
                count = sum(count for _, count in need.pieces)
                says = f"{with_unit(need.length, measure)} cut, pieces sewn: {count}"
                yield Fact(about, called(need.fabric), says)
            for one in need.save:
                what = f"save for release {one.used}: {pieces[one.piece]} of {called(need.fabric)}"
                save[what] = save.get(what, 0) + one.count
        for what, count in save.items():
            yield Fact(about, what, str(count))
