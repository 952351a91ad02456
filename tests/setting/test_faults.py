"""What can be written wrongly about a top: a finding each, with its place and what to do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.draft.model import Fabric
from seamproof.findings import Finding, Where
from seamproof.setting.model import (
    Available,
    BorderAsked,
    Coping,
    Measured,
    SetCell,
    Setting,
)
from tests.setting import tops
from tests.setting.tops import FABRICS, block, strip, worked

STAR, RAIL, BOAT = block("Star"), block("Rail"), block("Boat", 9)
HERE = Where("quilt.yaml", 7, 3)
PIECED = BorderAsked(
    Fraction(3),
    None,
    squares="d",
    units=(SetCell("a", plain=True), SetCell("b", plain=True)),
    where=HERE,
)


def at(setting: Setting, r: int, c: int) -> Setting:
    """The setting with one of its places known."""
    rows = [list(row) for row in setting.rows]
    rows[r][c] = replace(rows[r][c], where=HERE)
    return replace(setting, rows=tuple(map(tuple, rows)))


Case = tuple[int, Callable[[], Setting], tuple[Available, ...], str]

CASES: dict[str, Case] = {
    "named twice": (
        601,
        lambda: at(tops.straight("Star Star"), 0, 1),
        (replace(STAR, copies=1),),
        "copies: 2",
    ),
    "unknown": (602, lambda: at(tops.straight("Sta Rail"), 0, 0), (STAR, RAIL), '"Star"'),
    "a hole": (603, lambda: at(tops.straight("Star Rail", "Star"), 1, 0), (STAR, RAIL), "plain a"),
    "a hole on point": (
        603,
        lambda: at(tops.on_point("Star Star", "Star Star", "Star Star"), 1, 1),
        (STAR,),
        "take out",
    ),
    "ends short on point": (
        603,
        lambda: at(tops.on_point("Star Star", "Star"), 1, 0),
        (STAR,),
        "2",
    ),
    "too large": (
        604,
        lambda: at(tops.straight("Star", cell=(Fraction(9), Fraction(9))), 0, 0),
        (STAR,),
        "largest",
    ),
    "too small": (605, lambda: at(tops.straight("Star Boat"), 0, 1), (STAR, BOAT), "1 1/2 in of a"),
    "coping too wide": (
        605,
        lambda: tops.straight("Star Boat", coping=(Coping("Boat", (strip(2),), HERE),)),
        (STAR, BOAT),
        "1 1/2 in of b",
    ),
    "no cloth": (
        607,
        lambda: tops.straight("Star", borders=(BorderAsked(Fraction(4), None, where=HERE),)),
        (STAR,),
        "fabric: a",
    ),
    "sashing without cloth": (
        607,
        lambda: tops.straight("Star", sashing=replace(strip(2, None), where=HERE)),
        (STAR,),
        "fabric: a",
    ),
    "triangles without cloth": (
        607,
        lambda: tops.on_point("Star", triangles=None, where=HERE),
        (STAR,),
        "fabric: a",
    ),
    "unknown cloth": (
        608,
        lambda: tops.straight("Star", sashing=replace(strip(2, "z"), where=HERE)),
        (STAR,),
        "add the fabric",
    ),
    "a pieced border that does not divide": (
        609,
        lambda: tops.straight("Long", borders=(PIECED,)),
        (block("Long", 45, 61),),
        "1 in above and below",
    ),
    "a unit of another size": (
        610,
        lambda: tops.straight(
            "Star", borders=(replace(PIECED, units=(SetCell("Boat", where=HERE),)),)
        ),
        (STAR, BOAT),
        "width",
    ),
    "not square on point": (
        615,
        lambda: tops.on_point("Long", where=HERE),
        (block("Long", 9, 12),),
        "square",
    ),
    "too much": (623, lambda: tops.straight(*["Star " * 101] * 100, where=HERE), (STAR,), "parts"),
}


def found(setting: Setting, blocks: tuple[Available, ...], code: int) -> Finding:
    (one,) = [finding for finding in worked(setting, *blocks)[1] if finding.code == code]
    return one


@pytest.mark.parametrize("name", CASES)
def test_errors_have_a_place_and_a_mend_and_leave_no_top(name: str) -> None:
    code, setting, blocks, mend = CASES[name]
    assert worked(setting(), *blocks)[0] is None
    finding = found(setting(), blocks, code)
    assert finding.severity == "error"
    assert finding.where == HERE
    assert mend in finding.mend


def test_a_pieced_border_of_3_in_on_a_side_of_61_in() -> None:
    setting = tops.straight("Long", borders=(PIECED,))
    finding = found(setting, (block("Long", 45, 61),), 609)
    assert finding.what == "units of 3 in do not divide a side of 61 in"
    assert "1 in above and below" in finding.mend
    assert "0 in" not in finding.mend
    # With the spacer that is named it fits.
    spaced = replace(setting, borders=(replace(PIECED, spacer="a"),))
    top, more = worked(spaced, block("Long", 45, 61))
    assert top is not None, more
    (border,) = top.borders
    assert border.spacer is not None
    assert (border.spacer.beside, border.spacer.above) == (0, 1)
    assert border.along == (21, 15)
    assert (top.width, top.height) == (45 + 6, 63 + 6)


WARNINGS: dict[str, Case] = {
    "narrow coping": (
        606,
        lambda: tops.straight(
            "Star Buoy", coping=(Coping("Buoy", (strip("3/4"), strip("9/4")), HERE),)
        ),
        (STAR, block("Buoy", 6)),
        "allowances",
    ),
    "upright turned": (
        611,
        lambda: at(tops.straight("Star'"), 0, 0),
        (replace(STAR, upright=True),),
        "upright",
    ),
    "upright on point": (
        611,
        lambda: tops.on_point("Star"),
        (replace(STAR, upright=True),),
        "upright",
    ),
    "print turned": (612, lambda: at(tops.straight("Star'"), 0, 0), (STAR,), "unturned"),
    "not set": (613, lambda: tops.straight("Star"), (STAR, RAIL), "leave it out"),
    "too many made": (
        614,
        lambda: tops.straight("Star"),
        (replace(STAR, copies=2),),
        "copies: 1",
    ),
    "off the marks": (
        616,
        lambda: tops.straight("Star", "Star", sash=2, sashing=strip("2.3")),
        (STAR,),
        "between the marks",
    ),
    "wide sash": (617, lambda: tops.straight("Star", sash=4), (STAR,), "3 in"),
    "coping not needed": (
        618,
        lambda: tops.straight("Star", coping=(Coping("Star", (strip(1),), HERE),)),
        (STAR,),
        "take its coping out",
    ),
    "coping of nothing": (
        618,
        lambda: tops.straight("Star", coping=(Coping("Moon", (strip(1),), HERE),)),
        (STAR,),
        "correct the name",
    ),
    "came out small": (
        619,
        lambda: tops.straight("Star", measured=(Measured("Star", *[Fraction("12.25")] * 2),)),
        (STAR,),
        "press it again",
    ),
    "came out large": (
        620,
        lambda: tops.straight("Star", measured=(Measured("Star", *[Fraction("12.75")] * 2),)),
        (STAR,),
        "trim it",
    ),
    "finished typed": (
        621,
        lambda: tops.straight("Star", measured=(Measured("Star", *[Fraction(12)] * 2),)),
        (STAR,),
        "12 1/2 in",
    ),
    "no package": (622, lambda: tops.straight(*["Star " * 12] * 12), (STAR,), "yard"),
}


@pytest.mark.parametrize("name", WARNINGS)
def test_warnings_say_what_to_do_and_leave_a_top(name: str) -> None:
    code, setting, blocks, mend = WARNINGS[name]
    prints = tuple(replace(fabric, directional=True) for fabric in FABRICS)
    top, findings = worked(setting(), *blocks, fabrics=prints)
    mine = [finding for finding in findings if finding.code == code]
    assert mine
    assert all(mend in finding.mend for finding in mine)
    assert all(finding.severity != "error" for finding in mine)
    assert top is not None or code in (606, 618)


def test_every_sort_of_finding_is_tested() -> None:
    from seamproof.findings import Kind
    from seamproof.setting import checks

    kinds = {kind.code for kind in vars(checks).values() if isinstance(kind, Kind)}
    assert {case[0] for case in (*CASES.values(), *WARNINGS.values())} == kinds


def test_a_plain_print_may_be_turned() -> None:
    plain = [Fabric("a", "A", "#808080", "medium")]
    assert worked(tops.straight("Star'"), replace(STAR, copies=1), fabrics=plain)[1] == ()


def test_a_block_set_as_often_as_it_is_made_is_no_fault() -> None:
    top, findings = worked(tops.straight("Star Star"), replace(STAR, copies=2))
    assert top is not None
    assert findings == ()
