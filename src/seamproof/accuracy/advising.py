"""What to change, and what it brings, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from seamproof.accuracy.forecasting import Linear, linear, within
from seamproof.accuracy.model import NEAR_ENOUGH, Advice, Maker
from seamproof.accuracy.sewing import SEAM
from seamproof.accuracy.workshop import Setup, Squaring, Workshop

NEAR = float(NEAR_ENOUGH)

LEFT_OVER = 0.005
"""How far a seam still is off, from maker to maker, after a strip test and a moved needle
(assumption)."""

WORTH_SAYING = 0.01
"""Advice that helps fewer than one maker in a hundred is left out."""


def advise(setup: Setup, maker: Maker, now: Linear, workshop: Workshop) -> tuple[Advice, ...]:
    """What such makers can change, what helps most first. `now` are the weights of the block as it
    is planned, `workshop` the one they come from."""
    before = within(now, maker, NEAR)
    found = [
        Advice(change, what, was, then)
        for change, what, was, then in _changes(setup, maker, now, before, workshop)
        if then - was > WORTH_SAYING
    ]
    return tuple(sorted(found, key=lambda advice: advice.before - advice.within))


def _changes(
    setup: Setup, maker: Maker, now: Linear, before: float, workshop: Workshop
) -> Iterator[tuple[str, str, float, float]]:
    if setup.squarings:
        loose = linear(workshop.untrimmed(_as_cut(setup)))
        yield (
            "trim",
            "trim the units before they meet anything",
            within(loose, maker, NEAR),
            before,
        )
    tested = calibrated(maker, now)
    yield (
        "strip test",
        "sew a strip test first, and move the needle until it comes out",
        before,
        within(now, tested, NEAR),
    )
    steady = replace(maker, scatter=maker.scatter / 2)
    yield (
        "guide",
        "sew along a guide, so that one seam is twice as like the next",
        before,
        within(now, steady, NEAR),
    )
    if setup.squarings:
        careful = replace(maker, ruler=maker.ruler / 2, trim=maker.trim / 2)
        yield (
            "ruler",
            "lay the ruler twice as well when you trim",
            before,
            within(now, careful, NEAR),
        )
    cut = replace(maker, cut=maker.cut / 2, cut_bias=maker.cut_bias / 2)
    yield "cutting", "cut twice as well", before, within(now, cut, NEAR)
    if any(way != "open" for way in setup.presses.values()) or not setup.presses:
        yield "open", "press the seams open", before, within(now.opened(), maker, NEAR)


def calibrated(maker: Maker, weights: Linear) -> Maker:
    """The same maker after a strip test pressed as the block is: her seams take up what brings the
    block to its size on average."""
    level = replace(maker, seam=0.0)
    off, per_seam = weights.mean(level)[:2].sum(), weights.shared[:2, SEAM].sum()
    seam = -off / per_seam if abs(per_seam) > 1e-9 else maker.seam
    return replace(maker, seam=float(seam), between=min(maker.between, LEFT_OVER))


def _as_cut(setup: Setup) -> dict[int, Squaring]:
    """The units as they come out if they are cut without oversize."""
    return {
        number: replace(
            one,
            planned=tuple(max(out - float(one.oversize) / 2, 0.0) for out in one.planned),
            oversize=Fraction(0),
        )
        for number, one in setup.squarings.items()
    }
