"""How kits look in the terminal: cloth, cutting by stack, bolts, the bag, the money."""

from __future__ import annotations

from fractions import Fraction

from seamproof.answers.kits import KitFabricLine, KitsAnswer
from seamproof.booklet import cloth_wording, wording
from seamproof.cli.telling import say, show_notes, show_table
from seamproof.length.notation import inches, number, with_unit
from seamproof.programme.kits import level_of


def show_kits(answer: KitsAnswer) -> None:
    """What to buy, what to cut, what lies in each bag, what it costs."""
    what = f"{answer.name}, release {answer.release}" if answer.release else answer.name
    kits = f"{answer.kits} kit{'' if answer.kits == 1 else 's'}"
    spares = answer.kits - answer.people
    if spares:
        kits += f" ({answer.people} people and {spares} to spare)"
    say(f"{what}: {kits}, in each bag {level_of(answer.level)}", "")
    _cloth(answer)
    for line in answer.fabrics:
        _cutting(answer, line)
    say("", cloth_wording.STACKING, wording.CUTTER, "", "In each bag")
    _bag(answer)
    _money(answer)
    for file in answer.files:
        say(f"wrote {file}")
    sources = {work.drawing.name: work.source.lines for work in answer.work.works}
    show_notes([note for note in answer.findings if note.where.block not in sources])
    for name, lines in sources.items():
        show_notes([note for note in answer.findings if note.where.block == name], lines)


def _cloth(answer: KitsAnswer) -> None:
    priced = any(line.cost is not None for line in answer.fabrics)
    best = any(line.best_in is not None for line in answer.fabrics)
    rows = []
    for line in answer.fabrics:
        row = [line.fabric.upper(), line.name, line.exact]
        row += [_length(answer, line.best_in)] if line.best_in is not None else [""] * best
        told = f"{inches(Fraction(line.buy).limit_denominator(1000))} {line.unit}"
        row.append(" + ".join([*line.fixed, *([told] if line.buy else [])]))
        row += [f"{line.cost:.2f}" if line.cost is not None else ""] if priced else []
        rows.append(row)
    exact = f"Exact, {answer.work.measure}"
    heads = ["Fabric", "Name", exact, *(["Shortest lay"] if best else []), "Buy"]
    heads += ["Cost"] if priced else []
    show_table(heads, rows, right=heads[2:])


def _cutting(answer: KitsAnswer, line: KitFabricLine) -> None:
    say("", f"Fabric {line.fabric.upper()}, {line.name}")
    rows = [
        (
            f"  {one.times}",
            with_unit(Fraction(one.height_in), answer.work.measure),
            f"{one.stacks} × {one.layers}" if one.layers > 1 else str(one.stacks or one.times),
            "; ".join(one.into) or "into the bag as they are",
        )
        for one in line.across
    ]
    show_table(("  Cut", "Height", "Stacks × layers", "Each into"), rows, right=("  Cut", "Height"))
    first = 1
    for bolt in line.bolts:
        last = first + bolt.times - 1
        which = f"Bolt {first}" if first == last else f"Bolts {first} to {last}"
        strips = ", ".join(f"{n} of {_length(answer, height)}" for height, n in bolt.strips)
        length = _yards(answer, bolt.length_in)
        end = _length(answer, bolt.end_in)
        say(f"  {which}, {length}: {strips}; {end} {answer.work.measure} are left")
        first = last + 1
    if line.makes is not None:
        say(f"  The bolts that are there make {line.makes} of {answer.kits} kits.")


def _length(answer: KitsAnswer, value: float) -> str:
    return number(Fraction(value).limit_denominator(1 << 16), answer.work.measure)


def _yards(answer: KitsAnswer, length: float) -> str:
    return answer.work.buying.told(Fraction(length).limit_denominator(10_000))


def _bag(answer: KitsAnswer) -> None:
    rows = [
        (line.letter, str(line.count), line.what, line.name, line.source)
        for line in sorted(answer.bag, key=lambda line: (line.source, line.fabric))
    ]
    show_table(("Letter", "Count", "What", "Fabric", "For"), rows, right=("Count",))


def _pays(break_even: int | None) -> str:
    if break_even is None:
        return "never pays"
    return f"pays from {break_even} sold on" if break_even else ""


def _money(answer: KitsAnswer) -> None:
    costs, rules = answer.costs, answer.work.costs
    if not any((costs.cloth, costs.cutting, costs.bags, costs.once)):
        return
    say("", "The money")
    rate = f"{float(rules.wage):.2f} an hour, {rules.cut_seconds} s a pass of the cutter"
    rows = [
        ("Cloth, as it is bought", f"{costs.cloth:.2f}", ""),
        (f"Cutting, {costs.cutting_hours:g} hours", f"{costs.cutting:.2f}", rate),
        ("Bags, patterns, postage", f"{costs.bags:.2f}", f"for {answer.kits} kits"),
        ("A kit costs", f"{costs.each:.2f}", f"all of it over {answer.people} people"),
        (
            "A kit is sold for",
            f"{costs.price:.2f}",
            "as the quilt file says"
            if rules.price is not None
            else f"{float(rules.markup):g} times what it costs",
        ),
        ("Spent once", f"{costs.once:.2f}", "this release's share" if answer.release else ""),
        (
            "Left",
            f"{costs.left:.2f}",
            _pays(costs.break_even),
        ),
    ]
    show_table(("What", "Amount", "Rule"), rows, right=("Amount",))
