"""What to buy, the swatch card, a page to colour in, and how every cloth is cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from seamproof.booklet import book_wording, cloth_wording, finishing_wording, wording
from seamproof.booklet.matter import ClothMatter, Matter
from seamproof.booklet.model import (
    Beside,
    Caution,
    Cautions,
    Heading,
    Part,
    Picture,
    Section,
    Table,
    Words,
)
from seamproof.cloth.model import Lay
from seamproof.cloth.ordering import counted, strips_of
from seamproof.cloth.pooling import Kind
from seamproof.cloth.tops import LOOSE
from seamproof.drawing.scene import Cloth, Paint, Scene
from seamproof.figures.cloth import Paints
from seamproof.figures.cloth import paints as paints_of
from seamproof.figures.lays import lay_scale, lay_scene
from seamproof.figures.top import top_scene
from seamproof.length.notation import with_unit
from seamproof.plane.predicates import same_length


def _changes_hands(kind: Kind) -> bool:
    """Whether a diagram turned over might show a piece as its mirror twin. A diamond is its own."""
    if kind.outline == "slanted":
        short, long = kind.sides
        return not same_length(short, long)
    return kind.outline in ("alternating", "template")


def materials(matter: Matter, paints: Paints) -> Section:
    """Every fabric with its job and how much of it to buy; batting last."""
    rows: list[tuple[str, ...]] = []
    swatches: list[Paint | None] = []
    for cloth in matter.cloths:
        fabric = cloth.fabric
        rows.append(
            (
                cloth_wording.mark_of(fabric.letter),
                fabric.name,
                "" if fabric.letter in LOOSE else fabric.value,
                fabric.role,
                _amount(cloth, matter),
                _with_spare(cloth, matter),
            )
        )
        swatches.append(None if fabric.letter in LOOSE else paints.get(fabric.letter))
    if matter.top is not None:
        batting = matter.top.batting
        size = wording.extent((batting.width, batting.height), matter.measure)
        package = f", {batting.package} package" if batting.package else ""
        rows.append(("", "Batting", "", "between top and backing", size + package, ""))
        swatches.append(None)
    table = Table(
        "materials",
        ("Letter", "Fabric", "Value", "For", "Buy", "With a spare cut"),
        tuple(rows),
        (5, 11, 9, 21, 11, 10),
        swatches=tuple(swatches),
    )
    said = [book_wording.buy_said("")]
    if matter.top is not None:
        said.append(
            finishing_wording.backing_ways(matter.top.backing, matter.buying, matter.measure)
        )
    return Section(
        "materials", book_wording.MATERIALS, (table, Words(tuple(said), small=True)), opens=True
    )


def _amount(cloth: ClothMatter, matter: Matter) -> str:
    told = []
    if cloth.purchase is not None and cloth.purchase.bare:
        told.append(matter.buying.told(cloth.purchase.buy))
    lays = () if cloth.laid is None else cloth.laid.lays
    counts: dict[str, int] = {}
    shelf = {piece.name for piece in cloth.cloth.shelf}
    for lay in lays:
        if lay.cloth == "fixed" and lay.stock not in shelf:
            counts[lay.stock] = counts.get(lay.stock, 0) + lay.times
    told += [f"{count} × {stock}" for stock, count in counts.items()]
    return ", ".join(told) or "–"


def _with_spare(cloth: ClothMatter, matter: Matter) -> str:
    buy = cloth.purchase
    return matter.buying.told(buy.buy_spare) if buy is not None and buy.spare_asked else ""


def swatch_card(matter: Matter, paints: Paints) -> Section:
    """The key, with room for snippets of the maker's own cloth."""
    rows = tuple((f.letter.upper(), f.name, f.value, "") for f in matter.fabrics)
    table = Table(
        "swatches",
        ("Letter", "Fabric", "Value", "Your cloth"),
        rows,
        (1, 3, 2, 6),
        swatches=tuple(paints[f.letter] for f in matter.fabrics),
    )
    return Section("swatches", book_wording.SWATCHES, (table,), lead=book_wording.SWATCHES_LEAD)


def colouring(matter: Matter, paints: Paints) -> Section | None:
    """The top as lines alone; None if there is no top."""
    if matter.top is None:
        return None
    whole = top_scene(matter.top, matter.drawn, paints, scale=1.0)
    lines = Scene(
        tuple(shape for shape in whole.shapes if not isinstance(shape, Cloth)),
        "the top as an outline drawing, to colour in",
    )
    return Section(
        "colouring",
        book_wording.COLOURING,
        (Picture(lines, height=8.0, fine=True),),
        lead=book_wording.COLOURING_LEAD,
        opens=True,
    )


def cut_first(matter: Matter, paints: Paints) -> Section | None:
    """The strips of every cloth in cutting order, and what each is for; None without cloth."""
    rows: list[tuple[str, ...]] = []
    swatches: list[Paint | None] = []
    for cloth in matter.cloths:
        if cloth.laid is None:
            continue
        shown = None if cloth.fabric.letter in LOOSE else paints.get(cloth.fabric.letter)
        for cells in _strips(cloth, matter):
            rows.append((cloth_wording.mark_of(cloth.fabric.letter), *cells))
            swatches.append(shown)
    if not rows:
        return None
    table = Table(
        "cut-first",
        ("Fabric", "Strips", "High", "Cut into", "For"),
        tuple(rows),
        (5, 5, 7, 20, 24),
        right=(1,),
        swatches=tuple(swatches),
    )
    return Section(
        "cut-first",
        book_wording.CUT_FIRST,
        (table,),
        lead=book_wording.CUT_FIRST_LEAD,
        opens=True,
        rule=True,
    )


def _strips(cloth: ClothMatter, matter: Matter) -> Iterator[tuple[str, ...]]:
    assert cloth.laid is not None
    kinds = cloth.kinds
    for lay in cloth.laid.lays:
        for strip in strips_of(lay):
            times = strip.times * lay.times
            into = cloth_wording.cut_into(cloth_wording.pieces_of(strip.pieces, kinds), times)
            uses = dict.fromkeys(use.source for name, _ in strip.pieces for use in kinds[name].uses)
            yield (
                str(times),
                with_unit(strip.height, matter.measure),
                into,
                _sources(uses),
            )


def _sources(names: Iterable[str]) -> str:
    return wording.listed(name[:1].upper() + name[1:] for name in names)


def cutting(matter: Matter, *, left: bool = False) -> Section | None:
    """Every cloth with its cutting diagram and what its letters mean; None without cloth. For a
    `left`-handed maker the diagrams are turned over, unless slanted cuts would change hands."""
    parts: list[Part] = [
        Cautions((Caution(wording.CUTTER_TITLE, wording.CUTTER),)),
        Words(
            (
                book_wording.begins_at(left=left),
                book_wording.DIAGRAM_MARKS,
                cloth_wording.STACKING,
            ),
            small=True,
        ),
    ]
    found = False
    for cloth in matter.cloths:
        if cloth.laid is None or not cloth.laid.lays:
            continue
        found = True
        heading = cloth_wording.heading(cloth.fabric.letter, cloth.fabric.name)
        parts.append(Heading(heading, _bought(cloth, matter)))
        *others, last = [_diagram(cloth, lay, matter, left=left) for lay in cloth.laid.lays]
        parts += others
        parts.append(Beside(last, _kinds_table(cloth, matter)))
    if not found:
        return None
    return Section(
        "cutting",
        book_wording.CUTTING,
        tuple(parts),
        lead=book_wording.CUTTING_LEAD,
        opens=True,
        rule=True,
    )


def _bought(cloth: ClothMatter, matter: Matter) -> str:
    if cloth.purchase is None or not cloth.purchase.bare:
        return ""
    bare = with_unit(cloth.purchase.bare, matter.measure)
    return f"Buy {matter.buying.told(cloth.purchase.buy)}; the diagram takes {bare}."


def _diagram(cloth: ClothMatter, lay: Lay, matter: Matter, *, left: bool) -> Picture:
    bought = cloth.purchase.buy if cloth.purchase is not None and lay.cloth == "yardage" else None
    scale = lay_scale(lay, bought)
    scene = lay_scene(
        lay,
        cloth.kinds,
        paints_of([cloth.fabric])[cloth.fabric.letter],
        matter.measure,
        scale=scale,
        bought=bought,
    )
    stays = left and any(map(_changes_hands, cloth.pool.kinds))
    if left and not stays:
        scene = scene.mirrored()
    caption = ""
    if lay.cloth == "fixed":
        caption = f"{lay.times} × {lay.stock}" if lay.times > 1 else lay.stock
    elif lay.times > 1:
        caption = f"Cut {wording.count_word(lay.times)} lengths like this."
    if stays:
        caption = f"{caption.rstrip('.')}. {book_wording.NOT_TURNED}".removeprefix(". ")
    says = f"{cloth_wording.heading(cloth.fabric.letter, cloth.fabric.name)}: {scene.says}"
    return Picture(Scene(scene.shapes, says), caption, width=1.0, height=5.2, steady=True)


def _kinds_table(cloth: ClothMatter, matter: Matter) -> Table:
    """What is cut from one cloth: mark, how many, what, and for which blocks under which letter."""
    assert cloth.laid is not None
    there = counted(cloth.laid.lays)
    rows = tuple(
        (
            kind.mark,
            cloth_wording.kind_line(kind, matter.measure),
            "; ".join(_use(use.source, use.letter, use.count) for use in kind.uses),
        )
        for kind in cloth.pool.kinds
        if kind.demand.name in there
    )
    return Table(f"cutting-{cloth.fabric.letter}", ("Mark", "Cut", "For"), rows, (4, 26, 26))


def _use(source: str, letter: str, count: int) -> str:
    name = source[:1].upper() + source[1:]
    return f"{name} {letter}: {count}" if letter else f"{name}: {count}"
