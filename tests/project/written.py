"""Drawings as somebody might write them down, for the tests of files: any shape of file, whether
or not the patches fit together."""

from __future__ import annotations

from fractions import Fraction
from typing import get_args

from hypothesis import strategies as st

from seamproof.cutting.naming import units_named
from seamproof.draft.model import (
    Cells,
    Drawing,
    DrawnPatch,
    DrawnSeam,
    FabricAt,
    Fixing,
    Polygons,
    Seams,
    Written,
)
from seamproof.findings import Where
from seamproof.length.exact import CM
from seamproof.piecing.model import UnitKind

NOWHERE = Where()

# One of each kind of number that people type.
_typed = st.one_of(
    st.integers(1, 1600).map(lambda n: Fraction(n, 8)),
    st.integers(125_000, 200_000_000).map(lambda n: Fraction(n, 10**6)),
    st.integers(2, 2000).map(lambda n: n * CM / 4),
    st.fractions(1, 200, max_denominator=15),
)
sizes = _typed.filter(lambda size: Fraction(1, 8) <= size <= 200)
coordinates = st.one_of(st.just(Fraction(0)), sizes, sizes.map(lambda size: -size))
points = st.tuples(coordinates, coordinates)
lines = st.tuples(points, points).filter(lambda line: line[0] != line[1])

_letters = st.characters(codec="utf-8", exclude_categories=["C", "Z"])
texts = st.one_of(
    st.sampled_from(["Lit Window", "no", "null", "12", "1e5", "a: b", "- x", "#1", "~", 'the "A"']),
    st.text(st.one_of(st.sampled_from(" \\\"'#:,[]{}"), _letters), min_size=1, max_size=30),
).filter(lambda text: text == text.strip())

fabric_letters = st.from_regex("[a-z]{1,2}", fullmatch=True)
unit_names = st.from_regex("[A-Z][A-Z0-9]{0,2}", fullmatch=True)
_cell_texts = st.from_regex(r"[abcfS=^][abcf/\\.=^']{0,6}", fullmatch=True)
_rows = st.lists(_cell_texts, min_size=1, max_size=4).map(
    lambda row: tuple(Written(text, NOWHERE) for text in row)
)
_shares = st.none() | st.lists(sizes, min_size=1, max_size=4).map(tuple)
_plain_cells = st.builds(
    Cells, st.lists(_rows, min_size=1, max_size=4).map(tuple), columns=_shares, rows=_shares
)
_units = st.dictionaries(unit_names, _plain_cells, max_size=2).map(lambda found: (*found.items(),))
cells = st.builds(
    Cells,
    st.lists(_rows, min_size=1, max_size=4).map(tuple),
    columns=_shares,
    rows=_shares,
    units=_units,
)
polygons = st.builds(
    Polygons,
    st.lists(
        st.builds(DrawnPatch, fabric_letters, st.lists(points, min_size=3, max_size=5).map(tuple)),
        min_size=1,
        max_size=4,
    ).map(tuple),
)
seams = st.builds(
    Seams,
    st.lists(st.builds(DrawnSeam, lines), min_size=1, max_size=4).map(tuple),
    st.lists(st.builds(FabricAt, fabric_letters, points), min_size=1, max_size=4).map(tuple),
)

pressed = st.one_of(
    st.builds(Fixing, lines, st.none(), st.just("towards"), points),
    st.builds(Fixing, lines, st.none(), st.just("open")),
    st.builds(
        Fixing,
        st.none(),
        points,
        st.just("spin"),
        st.none(),
        st.sampled_from([None, True, False]),
    ),
)
last = st.builds(Fixing, lines, st.none(), st.just("last"))

named_units = st.builds(
    units_named,
    st.sampled_from(get_args(UnitKind)),
    st.lists(fabric_letters, max_size=2),
    st.none() | st.tuples(sizes, sizes),
)

drawings = st.builds(
    Drawing,
    name=texts,
    finished=st.tuples(sizes, sizes),
    drawn=st.one_of(cells, polygons, seams),
    upright=st.booleans(),
    copies=st.integers(1, 10_000),
    fixings=st.tuples(st.lists(pressed, max_size=3), st.lists(last, max_size=2)).map(
        lambda both: (*both[0], *both[1])
    ),
    methods=st.dictionaries(named_units, texts.map(lambda t: Written(t, NOWHERE)), max_size=2).map(
        lambda found: (*found.items(),)
    ),
    order=st.sampled_from([(), ("rows",)]),
)
