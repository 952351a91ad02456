"""Which way the seams of a setting are pressed."""

from __future__ import annotations

from seamproof.piecing.model import Join
from seamproof.pressing.tables import LEFT, OPEN, RIGHT
from seamproof.setting.model import BorderAsked, Coping, Top
from seamproof.setting.seams import SetPress, alternating, presses
from tests.setting.tops import block, on_point, straight, strip, worked


def pressed(top: Top | None, odd: frozenset[str] = frozenset()) -> tuple[SetPress, ...]:
    assert top is not None
    return presses(top.plan, dict(top.roles), odd)


def test_everything_goes_to_the_sashing() -> None:
    top, _ = worked(straight("A A A", "A A A", sash=2), block("A"))
    assert {press.towards for press in pressed(top)} == {"to the sash"}
    assert top is not None
    assert not alternating(top.plan, dict(top.roles))


def test_rows_without_sashing_are_pressed_in_turn() -> None:
    top, _ = worked(straight("A B", "C D"), *map(block, "ABCD"))
    assert top is not None
    assert alternating(top.plan, dict(top.roles))
    told = {
        press.towards: press
        for press in pressed(top, frozenset("CD"))
        if isinstance(top.plan.parts[press.part].made, Join)
    }
    assert (told["to the right"].way, told["to the left"].way) == (RIGHT, LEFT)
    assert told["down"].rule == "one way"


def test_coping_borders_and_mitres() -> None:
    setting = straight(
        "A A",
        cell=(14, 14),
        coping=(Coping("A", (strip(1, "c"),)),),
        borders=(
            BorderAsked(strip(3).width, "d", "squares", "e"),
            BorderAsked(strip(3).width, "d", "mitred"),
        ),
    )
    top, _ = worked(setting, block("A"))
    said = [press.towards for press in pressed(top)]
    assert said[:4] == ["to the coping"] * 4
    assert "to the border" in said
    mitres = [press for press in pressed(top) if press.rule == "mitre"]
    assert len(mitres) == 4
    assert {press.way for press in mitres} == {OPEN}


def test_on_point_seams_go_to_the_triangles() -> None:
    top, _ = worked(on_point("A A", "A", "A A"), block("A"))
    said = {press.towards for press in pressed(top)}
    assert {"to the setting triangle", "to the corner triangle"} <= said
