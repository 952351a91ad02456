"""How each answer looks in the terminal. The words are a quilter's."""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from seamproof.answers.booklets import PatternAnswer
from seamproof.answers.comparing import CompareAnswer
from seamproof.answers.copying import CopiesAnswer
from seamproof.answers.cutting import CutAnswer
from seamproof.answers.diagnosing import DiagnoseAnswer
from seamproof.answers.drafting import DraftAnswer
from seamproof.answers.house import DoctorAnswer, NewAnswer, SchemaAnswer
from seamproof.answers.kits import KitsAnswer
from seamproof.answers.laying import ClothAnswer
from seamproof.answers.measuring import MeasureAnswer
from seamproof.answers.model import Answer
from seamproof.answers.offering import OfferAnswer
from seamproof.answers.piecing import PieceAnswer
from seamproof.answers.pressing import BulkAnswer, PressAnswer
from seamproof.answers.programme import ProgrammeAnswer
from seamproof.answers.proving import ProofAnswer
from seamproof.answers.rehearsing import RehearseAnswer
from seamproof.answers.setting import TopAnswer
from seamproof.answers.shapes import extent, part_name, size_text
from seamproof.answers.sheets import DemoAnswer, SheetAnswer
from seamproof.answers.versions import RedlineAnswer, ReleaseAnswer
from seamproof.booklet import wording
from seamproof.cli.kits import show_kits
from seamproof.cli.laying import show_cloth
from seamproof.cli.measuring import show_copies, show_diagnosis, show_measured
from seamproof.cli.pressing import show_bulk, show_press
from seamproof.cli.programme import show_programme
from seamproof.cli.rehearsing import show_rehearsal
from seamproof.cli.setting import show_top
from seamproof.cli.side_by_side import show_ways
from seamproof.cli.telling import say, show_notes, show_table, write_json
from seamproof.cli.versions import show_redline, show_release
from seamproof.length.exact import CM
from seamproof.length.notation import Measure
from seamproof.piecing.finishing import begun
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.pipeline.model import BlockWork

ROWS_PRICE = 1.1
"""Sewing in rows is offered while it takes no more than a tenth more steps at the machine."""


@functools.singledispatch
def show(answer: Answer) -> None:
    """The answer on standard output."""
    raise TypeError(f"nothing says how {type(answer).__name__} looks")


# A block ------------------------------------------------------------------------------------------


@show.register
def _draft(answer: DraftAnswer) -> None:
    work = answer.work
    say(_title(work))
    if answer.patches is not None and answer.fabrics is not None:
        say(f"{_counted(answer.patches, 'patch')}, {_counted(len(answer.fabrics), 'fabric')}", "")
        show_table(
            ("Fabric", "Name", "Patches"),
            [(line.letter.upper(), line.name or "", str(line.patches)) for line in answer.fabrics],
            right=("Patches",),
        )
        say("")
        alike = Counter(
            (patch.fabric, patch.shape, *_longer_first(patch.width, patch.height))
            for patch in answer.patches_list or ()
        )
        show_table(
            ("How many", "Fabric", "Patch", f"Finished, {work.measure}"),
            [
                (str(count), fabric.upper(), shape, _size(width, height, work.measure))
                for (fabric, shape, width, height), count in sorted(alike.items())
            ],
            right=("How many",),
        )
    if answer.picture:
        say("", f"wrote {answer.picture}")
    _notes(answer, work)


@show.register
def _piece(answer: PieceAnswer) -> None:
    work, plan = answer.work, answer.work.piecing
    say(_title(work))
    if plan is not None:
        say(_how_sewn(answer), "")
        _units(answer, plan, work.measure)
        _order(plan, work.measure)
        if answer.picture:
            say("", f"The steps drawn: {answer.picture}")
    elif answer.patches is not None:
        say(_counted(answer.patches, "patch"))
    _notes(answer, work)


show.register(PressAnswer, show_press)
show.register(RehearseAnswer, show_rehearsal)
show.register(MeasureAnswer, show_measured)
show.register(DiagnoseAnswer, show_diagnosis)
show.register(CopiesAnswer, show_copies)
show.register(BulkAnswer, show_bulk)
show.register(TopAnswer, show_top)
show.register(ProgrammeAnswer, show_programme)
show.register(KitsAnswer, show_kits)
show.register(ReleaseAnswer, show_release)
show.register(RedlineAnswer, show_redline)


def _how_sewn(answer: PieceAnswer) -> str:
    parts = [_counted(answer.patches or 0, "patch"), _counted(answer.joins or 0, "seam")]
    if answer.set_in_points:
        parts.append(f"{_counted(answer.set_in_points, 'corner')} to set in")
    if answer.partial:
        parts.append(f"{_counted(answer.partial, 'seam')} sewn in two goes")
    if answer.straight == answer.joins:
        parts.append("every seam straight from edge to edge")
    steps = f"{_counted(answer.sessions or 0, 'step')} at the machine"
    if answer.sessions == answer.sessions_bound:
        steps += ", fewer are not possible"
    lines = [f"{', '.join(parts)}.", f"{steps}."]
    plan = answer.work.piecing
    if plan is not None and plan.rounds:
        sets = len(plan.rounds)
        lines.append(f"Chain pieced, that is {_counted(sets, 'trip')} to the machine and the iron.")
        rows = plan.sessions_in_rows
        if rows is not None and plan.sessions < rows <= plan.sessions * ROWS_PRICE:
            lines.append(
                f"Units, then rows, then the block would take {rows}: write order: [rows] for it."
            )
    return "\n".join(lines)


def _units(answer: PieceAnswer, plan: PiecingPlan, measure: Measure) -> None:
    rows, columns = answer.grid or (0, 0)
    say(f"Units, in {_counted(rows, 'row')} of {columns}")
    fabrics = _fabrics(plan)
    show_table(
        ("How many", "Fabrics", "Unit", f"Finished, {measure}"),
        [
            (
                str(unit.count),
                " ".join(letter.upper() for letter in sorted(fabrics[unit.part])),
                unit.name,
                _size(unit.width, unit.height, measure),
            )
            for unit in answer.units or ()
        ],
        right=("How many",),
    )
    say("")


@show.register
def _offers(answer: OfferAnswer) -> None:
    say(_title(answer.work))
    if answer.drawn is None:
        show_notes(answer.findings)
        return
    if answer.offered is None:
        none = "No corner must be set in." if not answer.drawn.set_in_points else "No seam helps."
        say(none, "")
    else:
        say(f"{_counted(len(answer.seams), 'more seam')} would spare corners to set in.", "")
        show_table(
            ("", "Patches", "Seams", "Corners to set in", "Steps at the machine"),
            [
                (name, str(p.patches), str(p.seams), str(p.set_in_points), str(p.sessions))
                for name, p in (("as drawn", answer.drawn), ("with them", answer.offered))
            ],
            right=("Patches", "Seams", "Corners to set in", "Steps at the machine"),
        )
        measure = answer.work.measure
        whole = float(CM) if measure == "cm" else 1.0
        say("", f"Seams to draw, in {measure} from the upper left corner")
        show_table(
            ("From", "To"),
            [tuple(f"{x / whole:.3f}, {y / whole:.3f}" for x, y in s.line) for s in answer.seams],
        )
    if answer.mergers:
        free = sum(merger.free for merger in answer.mergers)
        dear = len(answer.mergers) - free
        say("", "Neighbours of one fabric that could be one patch, with a seam less each:")
        if free:
            say(f"  {_counted(free, 'pair')} at no cost")
        if dear:
            say(f"  {_counted(dear, 'pair')} with a corner more to set in, or pointing inwards")
    if answer.written:
        say("", f"The drawing with more seams: {answer.written}")
    show_notes(answer.findings)


def _fabrics(plan: PiecingPlan) -> list[frozenset[str]]:
    """The letters of the fabrics in each part."""
    found: list[frozenset[str]] = []
    for part in plan.parts:
        match part.made:
            case Leaf(fabric):
                found.append(frozenset({fabric}))
            case Join(left, right):
                found.append(found[left.part] | found[right.part])
            case Finish(of):
                found.append(found[of.part])
            case _:
                found.append(frozenset())
    return found


def _order(plan: PiecingPlan, measure: Measure) -> None:
    """The steps at the machine, round by round, each numbered."""
    say("Order of sewing")
    step = {part: number for number, part in enumerate(_sewn(plan), start=1)}
    rows = []
    for number, parts in enumerate(plan.rounds, start=1):
        for part in parts:
            made = plan.parts[part].made
            match made:
                case Join():
                    first, second = (
                        _named(plan, side.part, step, measure) for side in (made.left, made.right)
                    )
                    doing = f"{first} to {second}" + (", half-way" if made.partial else "")
                case Finish(of):
                    start = begun(plan, part)
                    doing = (
                        f"the seam left open in step {step[of.part]}"
                        if start is None
                        else f"the rest of the seam begun in step {step[start]}"
                    )
                case _:
                    continue
            gives = "block" if part == plan.whole else part_name(plan, part)
            uses = plan.parts[part].uses
            rows.append((str(number), str(step[part]), doing, gives, f"{uses} ×"))
    show_table(("Round", "Step", "Sew", "Gives", "Times"), rows, right=("Round", "Step", "Times"))


def _sewn(plan: PiecingPlan) -> Iterator[int]:
    for parts in plan.rounds:
        yield from (p for p in parts if isinstance(plan.parts[p].made, Join | Finish))


def _named(plan: PiecingPlan, part: int, step: dict[int, int], measure: Measure) -> str:
    made = plan.parts[part].made
    if isinstance(made, Leaf):
        size = size_text(*extent(plan.parts[part].outline), measure)
        return f"{made.fabric.upper()} {part_name(plan, part)} {size}"
    return f"{part_name(plan, part)} (step {step[part]})"


@show.register
def _cut(answer: CutAnswer) -> None:
    work, cutting = answer.work, answer.work.cutting
    say(_title(work))
    if answer.pieces is not None and cutting is not None:
        say(
            f"{_counted(sum(line.count for line in answer.pieces), 'piece')} to cut for "
            f"{_counted(work.copies, 'block')}",
            "",
        )
        rows = []
        for line, piece in zip(answer.pieces, cutting.pieces, strict=True):
            size = line.cut_width
            if line.cut_height != line.cut_width:
                size += f" × {line.cut_height}"
            rows.append(
                (
                    line.letter,
                    str(line.count),
                    line.shape,
                    size,
                    _SPLITS[piece.split],
                    line.unit,
                    line.method,
                    line.trim_to or "",
                )
            )
        show_table(
            (
                "Piece",
                "How many",
                "Shape",
                f"Cut, {work.measure}",
                "Then cut",
                "For",
                "How it is sewn",
                f"Trim to, {work.measure}",
            ),
            rows,
            right=("How many",),
        )
        say("", wording.CUTTER)
    _notes(answer, work)


_SPLITS = {"whole": "", "once": "once corner to corner", "twice": "twice corner to corner"}


@show.register
def _compare(answer: CompareAnswer) -> None:
    copies = _counted(answer.copies, "block")
    say(_title(answer.work), f"Ways to make its units, for {copies}")
    show_ways(answer)
    _notes(answer, answer.work)


@show.register
def _proof(answer: ProofAnswer) -> None:
    for line, work in zip(answer.blocks, answer.works, strict=True):
        if line.proven:
            say(
                f"{line.name}: every size comes out, from "
                f"{_counted(line.pieces or 0, 'cut piece')} in {_counted(line.steps or 0, 'step')}"
            )
        elif line.proven is None:
            say(f"{line.name}: could not be worked out")
        else:
            say(f"{line.name}: does not come out")
        _notes(answer, work)


@show.register
def _cloth(answer: ClothAnswer) -> None:
    show_cloth(answer)


@show.register
def _sheet(answer: SheetAnswer) -> None:
    if answer.file:
        say(f"wrote {answer.file}")
    else:
        say(f"{answer.name} does not come out, so no sheet was written")
    _notes(answer, answer.work)


@show.register
def _pattern(answer: PatternAnswer) -> None:
    for file in answer.files:
        say(f"wrote {file}")
    if not answer.files:
        say(f"{answer.name} does not come out, so nothing was written")
    show_notes(answer.findings)


@show.register
def _demo(answer: DemoAnswer) -> None:
    say(f"{answer.quilt}: {_counted(len(answer.blocks), 'block')}", "")
    rows = []
    for line, work in zip(answer.blocks, answer.works, strict=True):
        counts = (line.patches, line.seams, line.set_in, line.steps, line.pieces, line.notes)
        rows.append(
            (
                line.name,
                size_text(*work.drawing.finished, work.measure),
                *("–" if count is None else str(count) for count in counts),
                line.sheet or "none: it does not come out",
            )
        )
    numbers = (
        "Patches",
        "Seams",
        "Corners to set in",
        "Steps at the machine",
        "Pieces to cut",
        "Notes",
    )
    measure = answer.works[0].measure if answer.works else "in"
    show_table(("Block", f"Size, {measure}", *numbers, "File"), rows, right=numbers)
    if answer.kept:
        say("", "Your changes were kept in:", *(f"  {file}" for file in answer.kept))
    grave = replace(answer, findings=tuple(n for n in answer.findings if n.severity == "error"))
    for work in answer.works:
        _notes(grave, work)
    if len(grave.findings) < len(answer.findings):
        say("", f"The notes: seamproof proof {answer.folder}")


# The house ----------------------------------------------------------------------------------------


@show.register
def _new(answer: NewAnswer) -> None:
    for file in answer.files:
        say(f"wrote {file}")
    blocks = [file for file in answer.files if file.endswith("first-star.yaml")]
    say("", f"Now try: seamproof draft {blocks[0] if blocks else answer.folder}")


@show.register
def _schema(answer: SchemaAnswer) -> None:
    write_json(answer.schema)


@show.register
def _doctor(answer: DoctorAnswer) -> None:
    say(
        f"seamproof {answer.seamproof or 'not installed'}, Python {answer.python}, {answer.system}",
        "",
    )
    show_table(
        ("Package", "Version"),
        [(name, version or "is missing") for name, version in answer.packages.items()],
    )
    say("")
    show_table(
        ("Check", "", "Seen"),
        [(line.name, "fine" if line.fine else "NOT FINE", line.seen) for line in answer.checks],
    )


# Words --------------------------------------------------------------------------------------------


def _title(work: BlockWork) -> str:
    size = size_text(*work.drawing.finished, work.measure)
    return f"{work.drawing.name}, {size} {work.measure} finished"


def _notes(answer: Answer, work: BlockWork) -> None:
    mine = [n for n in answer.findings if n.where.block in (None, work.drawing.name)]
    show_notes(mine, work.source.lines)


def _size(width: float, height: float, measure: Measure) -> str:
    return size_text(Fraction(width), Fraction(height), measure)


def _longer_first(width: float, height: float) -> tuple[float, float]:
    return max(width, height), min(width, height)


def _counted(count: int, word: str) -> str:
    """How many, in words.

    >>> _counted(1, "patch"), _counted(2, "patch"), _counted(0, "seam")
    ('1 patch', '2 patches', '0 seams')
    """
    if count == 1:
        return f"1 {word}"
    return f"{count} {word}{'es' if word.endswith('ch') else 's'}"
