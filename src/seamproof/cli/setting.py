"""How a top looks in the terminal: its size, what is cut, how it is sewn and finished."""

from __future__ import annotations

from fractions import Fraction

from seamproof.answers.proposals import ProposalLine, TargetLine
from seamproof.answers.setting import BorderLine, TopAnswer
from seamproof.answers.shapes import size_text
from seamproof.booklet import wording
from seamproof.cli.telling import say, show_notes, show_table
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, number, with_unit
from seamproof.length.rounding import INCH_STEP, METRIC_STEP, nearest


def show_top(answer: TopAnswer) -> None:
    """The top: size, layout, pieces to cut, order of sewing, finishing; or why it cannot be set."""
    measure = answer.work.measure
    if answer.finished is None:
        say(f"{answer.name}: the top cannot be set")
        _notes(answer)
        return
    say(f"{answer.name}: the top, {answer.finished} {measure} finished", "")
    _facts(answer, measure)
    _pieces(answer, measure)
    _order(answer)
    _press(answer, measure)
    for number_, border in enumerate(answer.borders, start=1):
        say("", *_border(border, number_, measure))
    _measured(answer, measure)
    for target in answer.what_if:
        _target(target, measure)
    if answer.picture:
        say("", f"wrote {answer.picture}")
    if answer.bulk:
        say(f"wrote {answer.bulk}")
    for file in answer.hand_off:
        say(f"wrote {file}")
    _notes(answer)


def _facts(answer: TopAnswer, measure: Measure) -> None:
    assert answer.backing is not None
    assert answer.batting is not None
    assert answer.binding is not None
    top = answer.work.top
    assert top is not None
    rows = [
        ("Layout", f"{top.columns} × {top.rows} blocks, {top.way}"),
        ("Cell", f"{_size(top.cell, measure)} {measure} finished"),
    ]
    for name, line in (("Sashes", answer.sashes), ("Cornerstones", answer.cornerstones)):
        if line is not None:
            cut = ", ".join(line.cut)
            rows.append((name, f"{line.count} of {line.fabric.upper()}, cut {cut} {measure}"))
    backing, binding = answer.backing, answer.binding
    rows.append(
        (
            "Backing",
            f"{_size((top.backing.width, top.backing.height), measure)} {measure} with "
            + with_unit(top.backing.margin, measure)
            + " on every side",
        )
    )
    for name, way in (("across", backing.across), ("lengthwise", backing.lengthwise)):
        panels = "1 length" if way.panels == 1 else f"{way.panels} lengths"
        long = with_unit(Fraction(way.length), measure)
        rows.append((f"  seams {name}", f"{way.buy}: {panels} of {long}"))
    package = f", package: {answer.batting.package}" if answer.batting.package else ""
    rows.append(
        (
            "Batting",
            f"{_size((top.batting.width, top.batting.height), measure)} {measure}{package}",
        )
    )
    width = number(top.binding.width, measure)
    if top.binding.square is None:
        told = f"{binding.strips} strips {width} {measure} wide across the cloth"
    else:
        told = (
            f"bias, {width} {measure} wide from a square of "
            f"{with_unit(top.binding.square, measure)}: {binding.strips} whole turns give "
            f"{_about(binding.makes, measure)} of the {_about(binding.by_area or 0.0, measure)} "
            "its area promises"
        )
    extra = with_unit(top.binding.length - top.binding.round, measure)
    rows.append(("Binding", told))
    rows.append(("", f"{with_unit(top.binding.length, measure)} long, {extra} of it for joining"))
    if top.sleeve is not None:
        rows.append(("Sleeve", f"{with_unit(top.sleeve.ruler, measure)} long"))
    rows.append(
        (
            "Quilting",
            f"{answer.quilting_price:.2f}: {answer.square()}",
        )
    )
    show_table(("Top", ""), rows)


def _pieces(answer: TopAnswer, measure: Measure) -> None:
    if not answer.pieces:
        return
    say("", "To cut besides the blocks")
    show_table(
        ("How many", "Fabric", "Piece", f"Cut, {measure}", "Then cut", "Notes"),
        [
            (
                str(piece.count),
                piece.fabric.upper(),
                piece.name,
                piece.cut_width
                if piece.cut_width == piece.cut_height
                else f"{piece.cut_width} × {piece.cut_height}",
                _SPLITS[piece.split],
                _remark(piece.may_join, piece.grain),
            )
            for piece in answer.pieces
        ],
        right=("How many",),
    )
    say("", wording.CUTTER)


_SPLITS = {"whole": "", "once": "once corner to corner", "twice": "twice corner to corner"}


def _remark(may_join: bool, grain: str) -> str:
    along = "along the cloth" if grain == "length" else ""
    return ", ".join(word for word in (along, "may be joined" if may_join else "") if word)


def _order(answer: TopAnswer) -> None:
    say("", "Order of sewing")
    show_table(
        ("Round", "Step", "Sew", "To", "Press", "Gives", "Times"),
        [
            (
                str(line.round),
                str(line.step),
                line.first,
                line.second,
                line.press or "",
                line.gives.partition(" (step")[0],
                f"{line.times} ×",
            )
            for line in answer.order
        ],
        right=("Round", "Step", "Times"),
    )


MOST_SPOTS = 12
"""Thick spots that are told in the terminal; all of them are in the JSON and in the hand-off."""


def _press(answer: TopAnswer, measure: Measure) -> None:
    """How blocks are pressed for each other, and how thick the top gets."""
    line, spots = answer.press, answer.thick_spots
    if line is None or spots is None or answer.max_at is None or answer.opened is None:
        say("", "A block of the top cannot be pressed yet: see the notes.")
        return
    lines = ["Each step is pressed before the next; each block by its own plan (seamproof press)."]
    if line.meeting:
        lines.append(
            f"{line.nested} of {line.meeting} seams that meet where blocks touch nest with blocks "
            f"pressed {_PATTERNS[line.pattern]}."
        )
    if line.second:
        lines.append(f"Plan B (seamproof press --plan b): {', '.join(line.second)}.")
    x, y = (_length(v, measure) for v in answer.max_at)
    lines.append(
        f"The thickest place has {answer.max_layers} layers, {x} {measure} from the left and {y} "
        f"{measure} from the top edge; {_counted(len(spots))} above the limit."
    )
    if line.setting == "open" and answer.usual is not None:
        lines.append(
            "Seams of the setting lie open where the table says so: by the usual rules there would "
            f"be {answer.usual.max_layers} layers, and {_counted(answer.usual.thick_spots)} above "
            "the limit."
        )
    elif answer.opened.max_layers != answer.max_layers or answer.opened.thick_spots != len(spots):
        lines.append(
            f"With every seam of the setting open: {answer.opened.max_layers} layers, "
            f"{_counted(answer.opened.thick_spots)} above the limit."
        )
    say("", *lines, "", wording.IRON)
    if spots:
        say("", "Thick spots, front view")
        show_table(
            (f"Left, {measure}", f"From the top, {measure}", "Layers", "mm", "Area, sq in"),
            [
                (
                    _length(s.x, measure),
                    _length(s.y, measure),
                    str(s.layers),
                    f"{s.mm:.2f}",
                    f"{s.area:.3f}",
                )
                for s in spots[:MOST_SPOTS]
            ],
            right=(f"Left, {measure}", f"From the top, {measure}", "Layers", "mm", "Area, sq in"),
        )
        if len(spots) > MOST_SPOTS:
            say(f"and {len(spots) - MOST_SPOTS} more")


def _about(inches: float, measure: Measure) -> str:
    return f"{inches if measure == 'in' else inches / float(CM):.0f} {measure}"


def _length(inches: float, measure: Measure) -> str:
    return f"{inches if measure == 'in' else inches / float(CM):.1f}"


_PATTERNS = {
    "all alike": "all alike",
    "every other block": "by plans A and B in turn, as on a chessboard",
    "every other row": "by plan A in one row, by plan B in the next",
    "every other column": "by plan A in one column, by plan B in the next",
}


def _counted(count: int) -> str:
    return {0: "no place lies", 1: "1 place lies"}.get(count, f"{count} places lie")


def _border(border: BorderLine, count: int, measure: Measure) -> list[str]:
    """What to do for one border: measure, cut, sew."""
    outer = _size(_marks(border.outer, measure), measure)
    lines = [f"Border {count}, {border.kind}: the top is then {outer} {measure}"]
    if border.spacer is not None:
        told = [
            f"{with_unit(Fraction(n), measure)} {where}"
            for n, where in zip(border.spacer, ("at the sides", "above and below"), strict=True)
            if n
        ]
        lines.append(f"  First a plain strip, finished {', '.join(told)}.")
    if border.units is not None:
        return [
            *lines,
            f"  {border.units[0]} units at each side, {border.units[1]} above and below.",
        ]
    side, end = (with_unit(Fraction(n), measure) for n in (border.cut_sides, border.cut_ends))
    how = "in one piece along the cloth" if border.strips == "lengthwise" else "across the cloth"
    lines += [
        "  Measure the top from edge to edge at three places, left, in the middle and right, and",
        f"  take the mean of the three. Strips are cut {how}.",
    ]
    if border.kind == "mitred":
        lines += [
            f"  Mark the mean on both side strips, as much over at either end: {side} altogether.",
            f"  The same from side to side for those above and below: {end} altogether.",
            "  Sew between the marks, stop at the corners, and close the mitres last.",
        ]
    else:
        lines.append(f"  Cut both side strips to it: it should be {side}.")
        lines.append("  Mark quarters on strip and top, pin mark to mark, ease what is between.")
        lines.append(f"  Then the same from side to side for those above and below: {end}.")
    return lines


def _measured(answer: TopAnswer, measure: Measure) -> None:
    if not answer.measured:
        return
    say("", "Blocks as measured, finished")
    show_table(
        ("Block", f"Planned, {measure}", f"Measured, {measure}", "Do"),
        [
            (
                line.block,
                _size((Fraction(line.planned[0]), Fraction(line.planned[1])), measure),
                _size((Fraction(line.finished[0]), Fraction(line.finished[1])), measure),
                line.advice,
            )
            for line in answer.measured
        ],
    )
    other = answer.resashing
    if other is not None:
        cell = _size((Fraction(other.cell[0]), Fraction(other.cell[1])), measure)
        beside, above = (
            with_unit(Fraction(n).limit_denominator(64), measure)
            for n in (other.beside, other.above)
        )
        say(
            f"Or trim every block to finish {cell} {measure}, and make the sashes {beside} wide "
            f"between columns, {above} between rows: the top keeps its size."
        )


def _target(target: TargetLine, measure: Measure) -> None:
    size = _size((Fraction(target.size[0]), Fraction(target.size[1])), measure)
    say("", f"{target.name.capitalize()}, {size} {measure}: {target.source}")
    numbers = ("Blocks", "Pieces", f"Cloth, sq {measure}", "Steps", "Thick spots")
    show_table(
        ("Setting", "Layout", "Sashing", "Border", f"Size, {measure}", "Off", *numbers),
        [_proposal(line, measure) for line in target.settings],
        right=numbers,
    )


def _proposal(line: ProposalLine, measure: Measure) -> tuple[str, ...]:
    off = " × ".join(_signed(n, measure) for n in _marks(line.off, measure))
    return (
        line.setting,
        f"{line.columns} × {line.rows}",
        number(Fraction(line.sashing), measure) if line.sashing else "–",
        number(Fraction(line.border), measure) if line.border else "–",
        _size(_marks(line.size, measure), measure),
        off,
        str(line.blocks),
        str(line.pieces),
        f"{line.cloth if measure == 'in' else line.cloth / float(CM) ** 2:.0f}",
        str(line.seams),
        "–" if line.thick_spots is None else str(line.thick_spots),
    )


def _marks(size: tuple[float, float], measure: Measure) -> tuple[Fraction, Fraction]:
    """A size on the marks of a ruler."""
    step = INCH_STEP if measure == "in" else METRIC_STEP
    return nearest(size[0], step), nearest(size[1], step)


def _signed(value: Fraction, measure: Measure) -> str:
    return f"{'+' if value > 0 else '−' if value < 0 else ''}{number(abs(value), measure)}"


def _size(size: tuple[Fraction, Fraction], measure: Measure) -> str:
    return size_text(size[0], size[1], measure)


def _notes(answer: TopAnswer) -> None:
    lines: tuple[str, ...] = ()
    show_notes(answer.findings, lines)
