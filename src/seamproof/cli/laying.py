"""How the cloth looks in the terminal: amounts, then each fabric strip by strip."""

from __future__ import annotations

from seamproof.answers.laying import ClothAnswer, FabricClothLine
from seamproof.booklet import cloth_wording, wording
from seamproof.cli.telling import say, show_notes, show_table
from seamproof.cloth.model import Lay
from seamproof.cloth.ordering import how_handled, measures, strips_of
from seamproof.cloth.stacking import handling, stacked
from seamproof.length.notation import Measure, number, with_unit
from seamproof.pipeline.laying import FabricCloth


def show_cloth(answer: ClothAnswer) -> None:
    """The shopping list as a table, the cutting in its order, cautions, and where it is drawn."""
    work = answer.work
    what = f"{answer.name}: cloth"
    kits = f"{work.wishes.kits} kits" if work.wishes.kits > 1 else ""
    copies = work.works[0].copies if work.top is None and len(work.works) == 1 else 1
    blocks = f"{copies} blocks" if copies > 1 else ""
    asked = " of ".join(part for part in (kits, blocks) if part)
    what += f" for {asked}" if asked else ""
    say(what, "")
    _amounts(answer)
    for line, one in zip(answer.fabrics, work.fabrics, strict=True):
        _fabric(answer, line, one)
    if answer.batting is not None and work.top is not None:
        batting = work.top.batting
        size = f"{number(batting.width, work.measure)} × {with_unit(batting.height, work.measure)}"
        package = "" if batting.package is None else f": a {batting.package} package holds it"
        say("", f"Batting: {size}{package}")
    if any(one.laid is not None and one.laid.lays for one in work.fabrics):
        say("", cloth_wording.STACKING, wording.CUTTER)
    for line in answer.fabrics:
        for picture in line.pictures:
            say(f"wrote {picture}")
    for file in (answer.cutting_list, answer.cutting_order, answer.shopping_list):
        if file is not None:
            say(f"wrote {file}")
    sources = {block.drawing.name: block.source.lines for block in work.works}
    show_notes([note for note in answer.findings if note.where.block not in sources])
    for name, lines in sources.items():
        show_notes([note for note in answer.findings if note.where.block == name], lines)


def _amounts(answer: ClothAnswer) -> None:
    work = answer.work
    measure = work.measure
    shrinks = any(one.purchase is not None and one.purchase.shrinkage for one in work.fabrics)
    priced = any(line.cost is not None for line in answer.fabrics)
    lengths = [f"Usable width, {measure}", f"Bare, {measure}", "Straightening"]
    lengths += ["Shrinkage"] if shrinks else []
    lengths += ["Buy", "With one spare cut"]
    lengths += ["Cost"] if priced else []
    rows = []
    for line, one in zip(answer.fabrics, work.fabrics, strict=True):
        row = [cloth_wording.mark_of(line.letter), line.name, number(one.cloth.width, measure)]
        row += _amount(answer, one, shrinks=shrinks)
        row += ["" if line.cost is None else f"{line.cost:.2f}"] if priced else []
        rows.append(row)
    show_table(("Fabric", "Name", *lengths), rows, right=lengths)


def _amount(answer: ClothAnswer, one: FabricCloth, *, shrinks: bool) -> list[str]:
    """The lengths of one fabric, from the bare one to what is bought."""
    measure, buying, buy = answer.work.measure, answer.work.buying, one.purchase
    fixed = [
        cloth_wording.fixed(piece.name, piece.count or 0, piece.width, piece.length, measure)
        for piece, shelf in one.fixed_used
        if not shelf
    ]
    if buy is None or not buy.bare:
        lost = ["–"] * (3 if shrinks else 2)
        return [*lost, " + ".join(fixed) or "–", "–"]
    row = [number(buy.bare, measure), number(buy.straightening, measure)]
    row += [cloth_wording.taken(buy.shrinkage, measure)] if shrinks else []
    return [*row, " + ".join([*fixed, buying.told(buy.buy)]), buying.told(buy.buy_spare)]


def _fabric(answer: ClothAnswer, line: FabricClothLine, one: FabricCloth) -> None:
    if one.laid is None or not one.laid.lays:
        return
    measure = answer.work.measure
    for lay in one.laid.lays:
        what = cloth_wording.heading(line.letter, line.name)
        if lay.cloth == "fixed":
            what += f": {cloth_wording.stock(lay, measure, shelf=one.from_shelf(lay))}"
        say("", what)
        _strips(lay, one, measure)
    marks = [(f"  {kind.mark}", cloth_wording.kind_line(kind, measure)) for kind in one.pool.kinds]
    show_table(("  Mark", "What it is"), marks)
    _how_good(answer, line, one)
    if one.kept:
        say(f"  {cloth_wording.kept(one.kept, measure)}")


def _strips(lay: Lay, one: FabricCloth, measure: Measure) -> None:
    """The strips of a lay in cutting order."""
    kinds, first = one.kinds, one.pool.first
    handled = {name: handling(kind) for name, kind in kinds.items()}
    rows = []
    for strip in strips_of(lay):
        alike = strip.times * lay.times
        stacks = stacked(alike, how_handled(strip, handled))
        what = "length" if any(name in first for name, _ in strip.pieces) else "strip"
        rows.append(
            (
                f"  {strip.times}",
                wording.named(what, strip.times),
                f"{number(strip.height, measure)} × {with_unit(strip.width, measure)}",
                cloth_wording.pieces_of(strip.pieces, kinds),
                f"{stacks.layers} at once" if stacks.layers > 1 and what == "strip" else "",
                cloth_wording.left(strip.left, measure),
            )
        )
    show_table(("  Cut", "", "Size", "Each into", "Layers", "Left over"), rows, right=("  Cut",))


def _how_good(answer: ClothAnswer, line: FabricClothLine, one: FabricCloth) -> None:
    laid, shortest, measure = one.laid, one.shortest, answer.work.measure
    if laid is None or line.bound_in is None or one.purchase is None:
        return
    if all(kind.first for kind in one.pool.kinds):  # lengths side by side: nothing to choose
        return
    told = cloth_wording.how_good(
        one.purchase.bare,
        line.bound_in,
        line.area_bound_in or line.bound_in,
        measure,
        proved=bool(line.proved),
    )
    say(f"  {told}")
    if answer.work.wishes.simple and shortest is not None:
        simple = cloth_wording.simplicity(
            measures(laid.lays), laid.length - shortest.length, measures(shortest.lays), measure
        )
        say(f"  {simple}")
