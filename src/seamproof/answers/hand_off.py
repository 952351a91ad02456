"""What goes with a top to the longarm quilter: the page, and a table of the same facts."""

from __future__ import annotations

import csv
import io
from collections import Counter

from seamproof.answers.setting import TopAnswer
from seamproof.booklet.hand_off import DitchLine, HandOff, from_its_side, hand_off
from seamproof.booklet.model import Edition, Paper
from seamproof.booklet.printing import print_booklet
from seamproof.figures.cloth import paints
from seamproof.figures.top import quilter_scene
from seamproof.pipeline.top_pressing import PressedTop
from seamproof.pressing.model import ThickSpot, limit_of


def hand_off_pdf(answer: TopAnswer, paper: Paper) -> bytes:
    """The page as a PDF; the top must be one that can be set."""
    work, top = answer.work, answer.work.top
    assert top is not None
    shown = paints(work.project.fabrics)
    spots, thick = shown_spots(answer.pressed)
    told = HandOff(
        name=answer.name,
        top=top,
        scene=quilter_scene(top, work.drawn, shown, (), measure=work.measure),
        measure=work.measure,
        pieced_edge=work.pieced_edge,
        price=answer.quilting_price or 0.0,
        rate=float(work.setting.price),
        spots=spots,
        thick=thick,
        limit=8 if answer.pressed is None else limit_of(answer.pressed.settings),
        ditches=ditches(answer.pressed),
    )
    return print_booklet(hand_off(told), Edition(paper=paper))


def shown_spots(pressed: PressedTop | None) -> tuple[tuple[ThickSpot, ...], bool]:
    """The places above the limit, or the thickest place if there are none; and which of the two."""
    if pressed is None:
        return (), False
    layers = pressed.layers
    if layers.spots:
        return layers.spots, True
    return (ThickSpot(layers.most_at, layers.most, 0.0, layers.mm),), False


def ditches(pressed: PressedTop | None) -> tuple[DitchLine, ...]:
    """The seams of the setting by what they are pressed to and where their ditch lies."""
    if pressed is None:
        return ()
    counts: Counter[tuple[str, str | None]] = Counter()
    for press in pressed.presses:
        counts[press.towards, press.ditch] += pressed.top.plan.parts[press.part].uses
    return tuple(DitchLine(*key, count) for key, count in counts.most_common())


def hand_off_table(answer: TopAnswer) -> str:
    """What the longarm quilter is told, one fact a line: what, value, unit."""
    assert answer.backing is not None
    assert answer.batting is not None
    price = answer.work.setting.price
    rows: list[tuple[str, object, str]] = [
        ("quilt", answer.name, ""),
        ("top width", answer.width, "in"),
        ("top height", answer.height, "in"),
        ("backing width", answer.backing.width, "in"),
        ("backing height", answer.backing.height, "in"),
        ("margin on every side", answer.backing.margin, "in"),
        ("seam allowance in the backing", answer.backing.seam, "in"),
        ("batting width", answer.batting.width, "in"),
        ("batting height", answer.batting.height, "in"),
        ("edge of the top", "pieced" if answer.work.pieced_edge else "one strip a side", ""),
        ("area", round((answer.width or 0) * (answer.height or 0), 3), "sq in"),
        ("price of a square inch", float(price), ""),
        ("price of quilting", answer.quilting_price, ""),
    ]
    spots, thick = shown_spots(answer.pressed)
    rows.append(("places above the limit", len(spots) if thick else 0, ""))
    for number, spot in enumerate(spots, start=1):
        name = f"thick spot {number}" if thick else "thickest place"
        along, down = from_its_side(spot.at, answer.height or 0.0)
        rows += [
            (f"{name}, loaded by the top edge, from the left", round(spot.at[0], 2), "in"),
            (f"{name}, loaded by the top edge, down", round(spot.at[1], 2), "in"),
            (f"{name}, loaded by the left side, from the left", round(along, 2), "in"),
            (f"{name}, loaded by the left side, down", round(down, 2), "in"),
            (f"{name}, layers", spot.layers, ""),
            (f"{name}, thickness", round(spot.mm, 3), "mm"),
        ]
    for line in ditches(answer.pressed):
        ditch = f"ditch on the side of {line.ditch}" if line.ditch else "no ditch"
        rows.append((f"seams pressed {line.pressed}, {ditch}", line.count, ""))
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("what", "value", "unit"))
    writer.writerows(rows)
    return out.getvalue()
