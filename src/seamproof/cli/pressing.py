"""How a press plan and the thickness of a block look in the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from seamproof.answers.pressing import BulkAnswer, PressAnswer, PressLine, SpotLine
from seamproof.answers.shapes import size_text
from seamproof.answers.top_press import BesideLine
from seamproof.booklet import wording
from seamproof.cli.telling import say, show_notes, show_table
from seamproof.draft.checks import towards_words
from seamproof.length.notation import Measure, number
from seamproof.pipeline.pressing import PressedWork
from seamproof.pressing.model import PressSettings

_MEASURES: dict[Measure, str] = {"in": "inches", "cm": "centimetres"}


def show_press(answer: PressAnswer) -> None:
    """The plan in sewing order, with its reasons, and how thick it gets."""
    _title(answer.work)
    if answer.seams is not None:
        measure = answer.work.work.measure
        say(_in_short(answer, answer.seams), "")
        show_table(
            ("Round", "Seam", "Press", "Why"),
            [
                (
                    str(line.round),
                    f"{_spot(line.start, measure)} to {_spot(line.end, measure)}",
                    _way(line),
                    line.reason,
                )
                for line in answer.seams
            ],
        )
        say(
            "",
            f"Places are in {_MEASURES[measure]} from the upper left corner, seen from the front.",
        )
        _thick(answer, measure)
        if answer.missed:
            say("", *answer.missed)
        if answer.plans:
            _beside(answer)
        if answer.beside:
            say("", *_many(answer.beside))
        say("", f"{wording.IRON_TITLE}: {wording.IRON}")
    _notes(answer)


def show_bulk(answer: BulkAnswer) -> None:
    """How many layers lie where, and the file that shows it."""
    _title(answer.work)
    if answer.max_layers is not None and answer.layers_area is not None:
        measure = answer.work.work.measure
        whole = sum(answer.layers_area.values())
        show_table(
            ("Layers", "Sq in", "Share of the block"),
            [
                (count, f"{area:.3f}", f"{100 * area / whole:.1f} %")
                for count, area in answer.layers_area.items()
            ],
            right=("Layers", "Sq in", "Share of the block"),
        )
        _thick(answer, measure)
        if answer.beside:
            say("", *_many(answer.beside))
        if answer.picture:
            drawn = "Their layers" if answer.beside else "The back and its layers"
            say("", f"{drawn} drawn: {answer.picture}")
    _notes(answer)


_PATTERNS = {
    "all alike": "all pressed alike",
    "every other block": "pressed by plans A and B in turn, as on a chessboard",
    "every other row": "pressed by plan A in one row, by plan B in the next",
    "every other column": "pressed by plan A in one column, by plan B in the next",
}


def _many(line: BesideLine) -> Iterator[str]:
    """What a block comes to beside itself."""
    yield f"{line.columns} × {line.rows} of it edge to edge, {_PATTERNS[line.pattern]}:"
    if line.meeting:
        yield f"{line.nested} of {line.meeting} seams that meet across an edge nest."
        if not line.nested:
            yield "Those that lie open cannot: pin them on both sides of the seam."
    if line.pattern != "all alike":
        yield "Plan B: seamproof press FILE --plan b."
    x, y = line.max_at
    places = {0: "no place lies", 1: "1 place lies"}
    told = places.get(line.thick_spots, f"{line.thick_spots} places lie")
    yield (
        f"The thickest place has {line.max_layers} layers, {x:.1f} in from the left and {y:.1f} in "
        f"from the top; {told} above the limit."
    )
    if line.max_layers == line.usual.max_layers:
        yield f"With the seams between them open: {line.opened.max_layers} layers."
    else:
        yield (
            f"That is with the seams between them open; as is usual, {line.usual.max_layers} "
            "layers would lie there."
        )


def _title(work: PressedWork) -> None:
    drawing = work.work.drawing
    size = size_text(*drawing.finished, work.work.measure)
    say(f"{drawing.name}, {size} {work.work.measure} finished")


def _in_short(answer: PressAnswer, seams: tuple[PressLine, ...]) -> str:
    ways = [line.way for line in seams]
    counted = [
        f"{ways.count(way)} {words}"
        for way, words in (("open", "open"), ("towards", "to one side"), ("spin", "spun"))
        if way in ways
    ]
    seam = "1 seam" if len(seams) == 1 else f"{len(seams)} seams"
    usual = f"{answer.usual} of {len(seams)} as is usual."
    lines = [f"{seam} to press: {', '.join(counted)}. {usual}"]
    if answer.crossings:
        lines.append(f"{answer.nested} of {answer.crossings} crossings nest.")
    if answer.proved:
        lines.append("No plan does better by these wishes.")
    return "\n".join(lines)


def _way(line: PressLine) -> str:
    fixed = ", as you fixed it" if line.fixed else ""
    if line.way == "open":
        return f"open{fixed}"
    if line.way == "spin":
        turn = "clockwise" if line.clockwise else "anticlockwise"
        return f"spun {turn} from the back{fixed}"
    assert line.towards is not None
    middle = ((line.start[0] + line.end[0]) / 2, (line.start[1] + line.end[1]) / 2)
    x, y = line.towards[0] - middle[0], line.towards[1] - middle[1]
    return f"{towards_words(Fraction(x), Fraction(y))}{fixed}"


def _thick(answer: PressAnswer | BulkAnswer, measure: Measure) -> None:
    settings: PressSettings = answer.work.settings
    assert answer.max_at is not None
    say(
        "",
        f"Thickest: {answer.max_layers} layers ({answer.max_mm:.2f} mm, if one layer is "
        f"{settings.cloth_mm:g} mm) at {_spot(answer.max_at, measure)}.",
    )
    spots = answer.thick_spots or ()
    limit = f"{settings.limit} layers or {settings.limit_mm:g} mm"
    if not spots:
        say(f"No place is above the limit of {limit}.")
        return
    say(f"{len(spots)} place{'s' if len(spots) != 1 else ''} above the limit of {limit}:")
    show_table(
        ("Layers", "mm", "Sq in", "Place"),
        [_line(spot, measure) for spot in spots],
        right=("Layers", "mm", "Sq in"),
    )


def _line(spot: SpotLine, measure: Measure) -> tuple[str, str, str, str]:
    place = _spot((spot.x, spot.y), measure)
    return str(spot.layers), f"{spot.mm:.2f}", f"{spot.area:.3f}", place


def _beside(answer: PressAnswer) -> None:
    say("", "Plans side by side")
    show_table(
        ("Plan", "Layers", "Sq in of 6 and more", "Nest", "As is usual"),
        [
            (
                row.name,
                str(row.max_layers),
                f"{row.thick_area:.3f}",
                f"{row.nested} of {row.crossings}",
                f"{row.usual} of {row.seams}",
            )
            for row in answer.plans or ()
        ],
        right=("Layers", "Sq in of 6 and more", "Nest", "As is usual"),
    )


def _spot(spot: tuple[float, float], measure: Measure) -> str:
    return f"({_place(spot[0], measure)}, {_place(spot[1], measure)})"


def _place(length: float, measure: Measure) -> str:
    """To the nearest sixteenth of an inch, or millimetre: nobody looks closer at a block."""
    if measure == "cm":
        return f"{length * 2.54:.1f}"
    return number(Fraction(round(length * 16), 16), measure)


def _notes(answer: PressAnswer | BulkAnswer) -> None:
    work = answer.work.work
    show_notes(
        [n for n in answer.findings if n.where.block in (None, work.drawing.name)],
        work.source.lines,
    )
