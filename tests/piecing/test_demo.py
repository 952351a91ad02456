"""The drawings of the demo: each can be sewn as planned, and its plan is as it was read and liked.

`tests/golden/piecing/<block>.txt` holds the plan of the demo's `<block>.yaml`, part by part
in sewing order. After a change that is meant, run with ``SEAMPROOF_ACCEPT=1`` and read the
difference.
"""

from __future__ import annotations

import difflib
import os
from fractions import Fraction
from importlib import resources
from pathlib import Path

import pytest

from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.plane.model import Placed
from seamproof.project.reading import read_block
from tests import cast
from tests.piecing.replaying import Replay, replay

DEMO = Path(str(resources.files("seamproof.project"))) / "demo" / "blocks"
GOLDEN = Path(__file__).parents[1] / "golden" / "piecing"
NAMES = sorted(path.stem for path in DEMO.glob("*.yaml"))


def test_there_are_thirteen() -> None:
    assert len(NAMES) == 13
    assert sorted(path.stem for path in GOLDEN.glob("*.txt")) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_plan(name: str) -> None:
    block = cast.understood(read_block(DEMO / f"{name}.yaml").drawing)
    made, _ = plan(block)
    text = told(block.name, made, replay(made, block))
    golden = GOLDEN / f"{name}.txt"
    if os.environ.get("SEAMPROOF_ACCEPT"):
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(text, encoding="utf-8", newline="\n")
    assert differences(golden.read_text(encoding="utf-8"), text) == []


def test_a_difference_is_shown() -> None:
    text = (GOLDEN / "breakwater.txt").read_text(encoding="utf-8")
    assert differences(text, text.replace("round 1", "round 2"))


def differences(expected: str, said: str) -> list[str]:
    return list(difflib.unified_diff(expected.splitlines(), said.splitlines(), "expected", "now"))


def told(name: str, made: PiecingPlan, done: Replay) -> str:
    kinds = {unit.part: unit.kind for unit in made.units}
    round_of = {n: i for i, numbers in enumerate(made.rounds, start=1) for n in numbers}
    how = {copy.part: copy for copy in done.copies}
    work = f"{made.patches} patches, {done.joins} joins, {done.stops} in two goes"
    lines = [
        f"{name}: {work}, {made.set_in_points} corners to set in",
        f"{made.sessions} steps at the machine, no plan has fewer than {made.sessions_bound}",
        "grid: " + " / ".join(" ".join(map(str, row)) for row in made.rows),
        "",
    ]
    for number, part in enumerate(made.parts):
        width, height = (max(p[axis] for p in part.outline) for axis in (0, 1))
        match part.made:
            case Leaf(fabric):
                doing = f"{fabric}, {len(part.outline)} corners"
            case Join(left, right):
                copy = how[number]
                bends = f", {copy.points} corners set in" if copy.points else ""
                doing = f"{side(left)} and {side(right)}, {copy.kind}{bends}"
            case Finish(of):
                doing = f"{side(of)}, {how[number].kind}"
            case other:
                raise AssertionError(other)
        when = f"round {round_of[number]}: " if number in round_of else ""
        kind = f"  = {kinds[number]}" if number in kinds else ""
        size = f"{inches(width)} x {inches(height)}"
        lines.append(f"{number:3} {part.uses:3} times {size:13} {when}{doing}{kind}")
    return "\n".join(lines) + "\n"


def side(its: Placed) -> str:
    turn = f" turned {its.turn}" if its.turn else ""
    return f"{its.part}{turn}"


def inches(value: Fraction) -> str:
    """Exact on the ruler, else four decimals."""
    return str(value) if value.denominator <= 64 else f"{float(value):.4f}"
