"""The witness finds what it is for: plans with one thing wrong are refused, each for its reason."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.draft.model import Block
from seamproof.piecing.model import Finish, Join, Leaf, Part, PiecingPlan
from seamproof.piecing.planning import plan
from tests import cast
from tests.piecing.replaying import replay

Spoil = Callable[[PiecingPlan], PiecingPlan]


@pytest.mark.parametrize("name", sorted(cast.CAST))
def test_the_cast_can_be_sewn(name: str) -> None:
    block = cast.CAST[name]()
    made, _ = plan(block)
    assert replay(made, block).joins == len(block.patches) - 1


def tee() -> Block:
    """Two patches over a long one: the short seam ends on the long one."""
    return cast.understood(cast.cells_drawing("tee", (6, 6), ["a b", "c ="]))


def first(made: PiecingPlan, wanted: Callable[[Part], bool]) -> int:
    return next(n for n, part in enumerate(made.parts) if wanted(part))


def joined(part: Part) -> bool:
    return isinstance(part.made, Join)


def changed(made: PiecingPlan, number: int, part: Part) -> PiecingPlan:
    return replace(made, parts=(*made.parts[:number], part, *made.parts[number + 1 :]))


def join_of(part: Part) -> Join:
    assert isinstance(part.made, Join)
    return part.made


def with_join(made: PiecingPlan, number: int, **changes: object) -> PiecingPlan:
    part = made.parts[number]
    return changed(made, number, replace(part, made=replace(join_of(part), **changes)))  # type: ignore[arg-type]


def sides_exchanged(made: PiecingPlan) -> PiecingPlan:
    join = join_of(made.parts[made.whole])
    return with_join(made, made.whole, left=join.right, right=join.left)


def moved(made: PiecingPlan) -> PiecingPlan:
    join = join_of(made.parts[made.whole])
    x, y = join.right.at
    return with_join(made, made.whole, right=replace(join.right, at=(x + 1, y)))


def turned(made: PiecingPlan) -> PiecingPlan:
    """A half-square triangle the wrong way round: its outline does not tell."""
    number = first(made, lambda part: joined(part) and join_of(part).left.part != made.whole - 1)
    join = join_of(made.parts[number])
    return with_join(
        made, number, left=replace(join.left, turn=(join.left.turn + Fraction(1, 2)) % 1)
    )


def recoloured(made: PiecingPlan) -> PiecingPlan:
    number = first(made, lambda part: isinstance(part.made, Leaf))
    part = made.parts[number]
    assert isinstance(part.made, Leaf)
    return changed(made, number, replace(part, made=replace(part.made, fabric="z")))


def counted_wrong(made: PiecingPlan) -> PiecingPlan:
    return changed(made, 0, replace(made.parts[0], uses=made.parts[0].uses + 1))


def drawn_out(made: PiecingPlan) -> PiecingPlan:
    """An outline with a corner too many."""
    part = made.parts[made.whole]
    a, b = part.outline[:2]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return changed(made, made.whole, replace(part, outline=(a, middle, *part.outline[1:])))


def sewn_short(made: PiecingPlan) -> PiecingPlan:
    ((a, b),) = join_of(made.parts[made.whole]).sewn
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return with_join(made, made.whole, sewn=((a, middle),))


def rounds_exchanged(made: PiecingPlan) -> PiecingPlan:
    return replace(made, rounds=tuple(reversed(made.rounds)))


def round_forgotten(made: PiecingPlan) -> PiecingPlan:
    return replace(made, rounds=made.rounds[1:])


def bound_too_high(made: PiecingPlan) -> PiecingPlan:
    return replace(made, sessions_bound=made.sessions + 1)


def twice(made: PiecingPlan) -> PiecingPlan:
    """One of two alike parts made a part of its own."""
    number = first(
        made, lambda part: joined(part) and join_of(part).left.part == join_of(part).right.part
    )
    join = join_of(made.parts[number])
    copy = made.parts[join.left.part]
    half = copy.uses // 2
    parts = list(made.parts)
    parts[join.left.part] = replace(copy, uses=copy.uses - half)
    parts.insert(number, replace(copy, uses=half))

    def later(part: Part) -> Part:
        if not isinstance(part.made, Join):
            return part
        sides = [
            replace(side, part=side.part + (side.part >= number))
            for side in (part.made.left, part.made.right)
        ]
        return replace(part, made=replace(part.made, left=sides[0], right=sides[1]))

    parts = [*parts[: number + 1], *(later(part) for part in parts[number + 1 :])]
    spoiled = join_of(parts[number + 1])
    parts[number + 1] = replace(
        parts[number + 1], made=replace(spoiled, right=replace(spoiled.right, part=number))
    )
    rounds = [tuple(n + (n >= number) for n in line) for line in made.rounds]
    if not isinstance(copy.made, Leaf):
        rounds[0] = (*rounds[0], number)
    return replace(made, parts=tuple(parts), rounds=tuple(rounds))


BREACHES: list[tuple[Callable[[], Block], Spoil, str]] = [
    (cast.nine_patch, sides_exchanged, "does not lie"),
    (cast.nine_patch, moved, "lies where none is drawn"),
    (cast.pinwheel, turned, "lies where none is drawn"),
    (cast.pinwheel, recoloured, "another fabric"),
    (cast.pinwheel, counted_wrong, "is used"),
    (cast.pinwheel, drawn_out, "another outline"),
    (cast.four_patch, sewn_short, "elsewhere than along the seam"),
    (cast.nine_patch, rounds_exchanged, "too early"),
    (cast.nine_patch, round_forgotten, "other parts than there are"),
    (cast.nine_patch, bound_too_high, "fewer things to do"),
    (cast.rail, lambda made: replace(made, set_in_points=1), "0 corners"),
    (cast.rail, lambda made: replace(made, patches=4), "miscounted"),
    (cast.pinwheel, twice, "are one, turned"),
]


@pytest.mark.parametrize(
    ("maker", "spoil", "why"), BREACHES, ids=[f"{i}" for i in range(len(BREACHES))]
)
def test_a_spoiled_plan_is_refused(maker: Callable[[], Block], spoil: Spoil, why: str) -> None:
    block = maker()
    made, _ = plan(block)
    replay(made, block)
    with pytest.raises(AssertionError, match=why):
        replay(spoil(made), block)


# Corners set in and seams in two goes -------------------------------------------------------------


def test_a_bend_that_is_not_named_is_refused() -> None:
    block = cast.ell()
    made, _ = plan(block)
    number = first(made, lambda part: joined(part) and bool(join_of(part).set_in))
    with pytest.raises(AssertionError, match="turns elsewhere"):
        replay(with_join(made, number, set_in=()), block)


def test_a_partial_seam_sewn_to_its_end_is_refused() -> None:
    """The ring cannot be closed then: a seam is sewn before the one that ends on it."""
    block = cast.spiral()
    made, _ = plan(block)
    number = first(made, lambda part: joined(part) and join_of(part).partial)
    seam = join_of(made.parts[number]).seam
    with pytest.raises(AssertionError, match="sewn twice"):
        replay(with_join(made, number, sewn=((seam[0], seam[-1]),)), block)


def test_a_seam_that_is_never_finished_is_refused() -> None:
    block = cast.spiral()
    made, _ = plan(block)
    assert isinstance(made.parts[-1].made, Finish)
    with pytest.raises(AssertionError, match="not sewn to its end"):
        replay(replace(made, parts=made.parts[:-1], rounds=made.rounds[:-1]), block)


def test_a_bound_above_what_was_found_is_refused() -> None:
    block = cast.spiral()
    made, _ = plan(block)
    with pytest.raises(AssertionError, match="fewer seams in two goes"):
        replay(replace(made, partial_bound=2), block)


def test_sewing_over_a_seam_that_is_still_open_is_refused() -> None:
    block = tee()
    made, _ = plan(block)
    stem = first(made, joined)
    a, b = join_of(made.parts[stem]).seam
    away = min(a, b), ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)  # the end at the block's edge
    with pytest.raises(AssertionError, match="before the seam that ends there"):
        replay(with_join(made, stem, sewn=(away if away[0] == a else away[::-1],)), block)
