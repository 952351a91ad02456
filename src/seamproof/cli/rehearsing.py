"""How a rehearsal looks in the terminal."""

from __future__ import annotations

from fractions import Fraction

from seamproof.accuracy.model import MISSES, SHOWS, Rehearsal, Source, Spread, Tip
from seamproof.answers.rehearsing import RehearseAnswer
from seamproof.cli.telling import say, show_notes, show_table
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, inches, with_unit

SOURCES: dict[Source, str] = {
    "cut": "pieces not cut alike",
    "tilt": "cuts that run out",
    "seam bias": "seams that are all too wide or all too narrow",
    "seam scatter": "one seam unlike the next",
    "drift": "seams that run out along their length",
    "edges not flush": "raw edges not flush",
    "pins": "matching",
    "marking": "drawn lines",
    "ruler": "where the ruler is laid",
    "trimming": "trimming",
    "stretch": "bias that stretches",
    "shrink": "bias that stretches",
}

LEAST_COST = 0.005
"""What costs less than this share is not worth a line."""

MOST_PLACES = 8
"""So many crossings and points, the worst first; the JSON has them all."""


def show_rehearsal(answer: RehearseAnswer) -> None:
    """Sizes, shares, what shows, what costs most, what to change, and what to cut larger."""
    told, work = answer.rehearsal, answer.work
    name = work.drawing.name
    assumed = " (an assumption)" if answer.maker.assumed else ""
    say(f"{name}: {answer.makers:,} makers, profile {answer.maker.name}{assumed}")
    if told is not None:
        _sizes(told, work.measure)
        _places(told, work.measure)
        _costs(told)
        _advice(answer)
        _units(told, work.measure)
    if answer.picture:
        say("", f"wrote {answer.picture}")
    show_notes(answer.findings, work.source.lines)


def _sizes(told: Rehearsal, measure: Measure) -> None:
    say("")
    rows = [
        ("width", _length(told.wanted[0], measure), *_spread(told.width, measure)),
        ("height", _length(told.wanted[1], measure), *_spread(told.height, measure)),
        ("diagonals differ by", "0", *_spread(told.out_of_square, measure)),
    ]
    show_table(
        (
            f"Raw edge to raw edge, {measure}",
            "Planned",
            "On average",
            "90 of 100 lie between",
            "and",
        ),
        rows,
        right=("Planned", "On average", "90 of 100 lie between", "and"),
    )
    say("")
    for tolerance, share in told.within:
        say(f"{_of_100(share)} of 100 makers come within {with_unit(tolerance, measure)} both ways")
    if told.whole is not None:
        shows = with_unit(SHOWS, measure)
        say(f"{_of_100(told.whole)} of 100 makers keep every point whole, to {shows}")


def _places(told: Rehearsal, measure: Measure) -> None:
    if told.crossings:
        over = f"of 100 miss by over {with_unit(MISSES, measure)}"
        worst = sorted(told.crossings, key=lambda c: (-round(c.rms, 4), c.y, c.x))
        say("")
        show_table(
            (
                "Crossing at, across and down",
                f"95 of 100 match within, {measure}",
                over,
            ),
            [
                (_place(c.x, c.y, measure), _length(c.p95, measure), _of_100(c.over))
                for c in worst[:MOST_PLACES]
            ],
            right=(f"95 of 100 match within, {measure}", over),
        )
        _more(len(worst), "crossing")
    if told.points:
        worst_at: dict[tuple[float, float], Tip] = {}
        for point in sorted(told.points, key=lambda p: (-round(p.cut_off, 3), p.y, p.x)):
            worst_at.setdefault((point.x, point.y), point)
        points = list(worst_at.values())
        say("")
        show_table(
            ("Point at, across and down", "of 100 cut it off", "of 100 leave it floating"),
            [
                (_place(p.x, p.y, measure), _of_100(p.cut_off), _of_100(p.floating))
                for p in points[:MOST_PLACES]
            ],
            right=("of 100 cut it off", "of 100 leave it floating"),
        )
        _more(len(points), "place")


def _more(count: int, what: str) -> None:
    more = count - MOST_PLACES
    if more > 0:
        say(f"and {more} more {what}{'s' if more > 1 else ''}, no worse")


def _costs(told: Rehearsal) -> None:
    rows = [
        (SOURCES[cost.source], f"{round(100 * cost.share)} %")
        for cost in told.costs
        if cost.share >= LEAST_COST
    ]
    if rows:
        say("")
        show_table(("What the size varies by", "Share"), rows, right=("Share",))


def _advice(answer: RehearseAnswer) -> None:
    if answer.advice:
        say("", "What to change")
        for advice in answer.advice:
            say(f"  {advice.say}")


def _units(told: Rehearsal, measure: Measure) -> None:
    if not told.units:
        return
    say("")
    heads = ("of 100 can be trimmed", "Cut over", "so that 95 of 100 makers can", "so that 99 can")
    show_table(
        ("Unit to square up", "Needed", *heads),
        [
            (
                unit.kind,
                f"{unit.uses} ×",
                _of_100(unit.trimmable),
                with_unit(unit.oversize, measure),
                with_unit(unit.marks95, measure),
                with_unit(unit.marks99, measure),
            )
            for unit in told.units
        ],
        right=("Needed", *heads),
    )


def _of_100(share: float) -> str:
    """A share as makers of a hundred; what is neither none nor all never looks so."""
    if 0 < share < 0.01:
        return "under 1"
    if 0.99 < share < 1:
        return "99"
    return str(round(100 * share))


def _spread(spread: Spread, measure: Measure) -> tuple[str, str, str]:
    return (
        _length(spread.mean, measure),
        _length(spread.p05, measure),
        _length(spread.p95, measure),
    )


def _length(value: float, measure: Measure) -> str:
    """A measured length: to the hundredth of an inch, or of a centimetre."""
    return f"{value if measure == 'in' else value / float(CM):.2f}"


def _place(x: float, y: float, measure: Measure) -> str:
    if measure == "cm":
        return f"{x / float(CM):.1f}, {y / float(CM):.1f}"
    places = (Fraction(v).limit_denominator(16) for v in (x, y))
    return ", ".join(map(inches, places))
