from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.proof.cloth_geometry import (
    HAIR,
    Motion,
    Polygon,
    Ray,
    area,
    chord,
    common,
    convex_faces,
    inside,
    motion,
    nothing,
    pushed_out,
    right_of,
    straightened,
    without,
)

SQUARE: Polygon = (0j, 4 + 0j, 4 + 4j, 4j)
GNOMON: Polygon = (0j, 4 + 0j, 4 + 1j, 1 + 1j, 1 + 4j, 4j)
NEEDLE: Polygon = (0j, 8 + 0j, 8 + 0.00001j)

numbers = st.floats(-8, 8).map(lambda x: round(x, 3))
places = st.builds(complex, numbers, numbers)


@st.composite
def convex(draw: st.DrawFn) -> Polygon:
    """Corners on a circle, in the order of their angles: clockwise as seen with y downwards."""
    middle, radius = draw(places), draw(st.floats(0.5, 6))
    shares = draw(st.lists(st.integers(0, 47), min_size=3, max_size=7, unique=True))
    return tuple(middle + radius * cmath.exp(2j * math.pi * k / 48) for k in sorted(shares))


@st.composite
def rays(draw: st.DrawFn) -> Ray:
    return Ray(draw(places), cmath.exp(1j * draw(st.floats(0, 6.28))))


motions = st.builds(
    lambda angle, shift, over: Motion(cmath.exp(1j * angle), shift, over),
    st.floats(0, 6.28),
    places,
    st.booleans(),
)


@given(convex(), rays())
def test_the_two_sides_of_a_cut_are_the_whole(shape: Polygon, line: Ray) -> None:
    halves = area(right_of(shape, line)) + area(right_of(shape, line.back()))
    assert halves == pytest.approx(area(shape), abs=1e-9)


@given(convex(), convex())
def test_what_is_common_and_what_is_left_are_the_whole(one: Polygon, other: Polygon) -> None:
    left = without(one, other)
    assert sum(map(area, left)) + area(common(one, other)) == pytest.approx(
        area(one), abs=HAIR * 50
    )
    assert all(area(common(face, other)) <= HAIR * 50 for face in left)
    assert area(common(one, other)) == pytest.approx(area(common(other, one)), abs=1e-6)


@given(convex(), motions, motions)
def test_a_motion_keeps_size_and_sense_and_is_found_again(
    shape: Polygon, first: Motion, second: Motion
) -> None:
    moved = second.after(first)
    assert moved(shape[0]) == pytest.approx(second(first(shape[0])))
    assert area(moved.shape(shape)) == pytest.approx(area(shape))
    found = motion(shape, [moved(p) for p in shape], over=moved.over)
    assert found is not None
    assert all(found(p) == pytest.approx(moved(p)) for p in shape)


@given(convex(), rays())
def test_cloth_turned_over_twice_lies_where_it_lay(shape: Polygon, line: Ray) -> None:
    for p in shape:
        assert line.turned_over(line.turned_over(p)) == pytest.approx(p)
        assert line.off(line.turned_over(p)) == pytest.approx(-line.off(p))


@given(convex(), rays())
def test_a_chord_is_as_far_as_a_line_runs_inside(shape: Polygon, line: Ray) -> None:
    run = chord(shape, line)
    if run is not None:
        middle = line.at(sum(run) / 2)
        assert inside(shape, middle)
        assert all(abs(max_off(shape, line.at(end))) < 1e-6 for end in run)


def max_off(shape: Polygon, p: complex) -> float:
    """How far p lies outside a convex shape; 0 on its edge."""
    return max(-Ray.through(a, b).off(p) for a, b in zip(shape, shape[1:] + shape[:1], strict=True))


def test_a_shape_that_turns_in_is_divided_into_convex_faces() -> None:
    faces = convex_faces(GNOMON)
    assert sum(map(area, faces)) == area(GNOMON) == 7
    runs = [run for face in faces if (run := chord(face, Ray(-1 + 2j, 1 + 0j)))]
    assert (min(a for a, _ in runs), max(b for _, b in runs)) == (1, 2)
    assert inside(GNOMON, 0.5 + 3j)
    assert not inside(GNOMON, 2 + 2j)


def test_a_shape_and_its_allowance() -> None:
    assert pushed_out(SQUARE, 0.25) == (-0.25 - 0.25j, 4.25 - 0.25j, 4.25 + 4.25j, -0.25 + 4.25j)
    grown = pushed_out(GNOMON, 0.25)
    assert grown[3] == 1.25 + 1.25j  # a corner that turns in moves into the opening
    triangle = pushed_out((0j, 4 + 0j, 4j), 0.25)
    assert abs(triangle[1] - triangle[0]) == pytest.approx(4 + 0.25 * (2 + math.sqrt(2)))


def test_degenerate_shapes() -> None:
    assert nothing(NEEDLE)
    assert nothing(())
    assert not nothing(SQUARE)
    assert area(()) == 0
    assert right_of((), Ray(0j, 1 + 0j)) == ()
    assert without(SQUARE, (9 + 9j, 10 + 9j, 9 + 10j)) == [SQUARE]
    assert without(SQUARE, SQUARE) == []
    assert motion(SQUARE, SQUARE[:3], over=False) is None
    assert straightened((0j, 2 + 0j, 4 + 0j, 4j)) == (0j, 4 + 0j, 4j)


def test_a_stretched_shape_is_no_motion() -> None:
    assert motion(SQUARE, [p * 1.0001 for p in SQUARE], over=False) is None
    assert motion(SQUARE, [p.conjugate() for p in SQUARE], over=True) is not None
