"""What is cut, in which order, and what is bought, as tables for a spreadsheet."""

from __future__ import annotations

from seamproof.answers.laying import money
from seamproof.answers.spreadsheets import csv_text
from seamproof.booklet import cloth_wording
from seamproof.booklet.cloth_wording import mark_of
from seamproof.cloth.ordering import how_handled, strips_of
from seamproof.cloth.stacking import handling, stacked
from seamproof.length.notation import number, with_unit
from seamproof.pipeline.laying import ClothWork


def cutting_csv(work: ClothWork) -> str:
    """The cutting list: a line for each kind of piece of each fabric."""
    measure = work.measure
    rows: list[tuple[str, ...]] = [
        (
            *("fabric", "name", "piece", "count", "shape", f"width {measure}"),
            *(f"length {measure}", "then cut corner to corner", "stacks", "layers", "for"),
        )
    ]
    for one in work.fabrics:
        for kind in one.pool.kinds:
            stacks = stacked(kind.count, handling(kind))
            splits = [
                f"{sum(use.count for use in kind.uses if use.split == split)} {split}"
                for split in ("once", "twice")
                if any(use.split == split for use in kind.uses)
            ]
            uses = "; ".join(f"{use.count} {use.source} {use.letter}".strip() for use in kind.uses)
            rows.append(
                (
                    *(mark_of(one.fabric.letter), one.fabric.name, kind.demand.name),
                    *(str(kind.count), kind.shape),
                    *(number(side, measure) for side in kind.sides),
                    *("; ".join(splits), str(stacks.count), str(stacks.layers), uses),
                )
            )
    return csv_text(rows)


def order_csv(work: ClothWork) -> str:
    """The order of cutting: a line for each sort of strip of each lay, as they are cut."""
    measure = work.measure
    rows: list[tuple[str, ...]] = [
        (
            *("fabric", "name", "from", "cut", f"width {measure}", f"length {measure}"),
            *("each into", "layers", f"left over {measure}"),
        )
    ]
    for one in work.fabrics:
        head = (mark_of(one.fabric.letter), one.fabric.name)
        kinds = one.kinds
        handled = {name: handling(kind) for name, kind in kinds.items()}
        for lay in () if one.laid is None else one.laid.lays:
            shelf = one.from_shelf(lay)
            source = "bolt"
            if lay.cloth == "fixed":
                source = cloth_wording.stock(lay, measure, shelf=shelf)
            for strip in strips_of(lay):
                stacks = stacked(strip.times * lay.times, how_handled(strip, handled))
                left = cloth_wording.left(strip.left, measure).removesuffix(f" {measure}")
                rows.append(
                    (
                        *(*head, source, str(strip.times)),
                        *(number(side, measure) for side in (strip.height, strip.width)),
                        *(cloth_wording.pieces_of(strip.pieces, kinds), str(stacks.layers), left),
                    )
                )
    return csv_text(rows)


def shopping_csv(work: ClothWork) -> str:
    """The shopping list: a line for each fabric by length, and one for each fixed piece."""
    measure, unit = work.measure, work.buying.unit
    rows: list[tuple[str, ...]] = [
        (
            *("fabric", "name", "what", "buy", "with one spare cut", f"usable width {measure}"),
            *(f"bare {measure}", f"straightening {measure}", f"shrinkage {measure}", "cost"),
        )
    ]
    for one in work.fabrics:
        head = (mark_of(one.fabric.letter), one.fabric.name)
        rows += [
            (*head, piece.name, str(piece.count), *([""] * 6))
            for piece, shelf in one.fixed_used
            if not shelf
        ]
        buy = one.purchase
        if buy is None or not buy.bare:
            continue
        amount = work.buying.amount(buy.buy)
        cost = "" if one.price is None else f"{money(amount * one.price):.2f}"
        rows.append(
            (
                *(*head, unit),
                *(f"{float(work.buying.amount(n)):g}" for n in (buy.buy, buy.buy_spare)),
                *(number(n, measure) for n in (one.cloth.width, buy.bare, buy.straightening)),
                *(cloth_wording.taken(buy.shrinkage, measure), cost),
            )
        )
    if work.top is not None:
        batting = work.top.batting
        size = f"{number(batting.width, measure)} × {with_unit(batting.height, measure)}"
        what = size if batting.package is None else f"{size}, {batting.package} package"
        rows.append(("–", "Batting", what, "1", *([""] * 6)))
    return csv_text(rows)
