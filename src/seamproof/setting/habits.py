"""What the trade takes for granted about a top, for projects in inches and in centimetres.

Nobody cuts a converted inch: where one measures in centimetres a longarm margin is 10 cm, not
10.16. All lengths are in inches here too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from seamproof.length.exact import CM
from seamproof.length.notation import Measure


@dataclass(frozen=True, slots=True)
class Habits:
    """The usual sizes of one measure.

    `margin`: what backing and batting stick out on every side for the longarm frame.
    `backing_seam`: the seam allowance in the backing. `binding`: the cut width of double-fold
    binding, `extra` its length beyond the way round, for joining and handling. `hem`: how much
    shorter a sleeve is than the quilt. `narrowest`: finished width of coping below which it is
    warned of, and of the plain strip in a pieced border. `ease`: what is eased in over a whole
    side. `press_again`: a block short by up to this is pressed again before anything else.
    `whole`: what a batting's size is rounded up to, and the steps in which a proposal makes borders
    wider; it makes sashes wider in steps of `sash_step`, from `least_sash`. `price`: edge-to-edge
    quilting, a square inch.
    """

    margin: Fraction
    backing_seam: Fraction
    binding: Fraction
    extra: Fraction
    hem: Fraction
    narrowest: Fraction
    ease: Fraction
    press_again: Fraction
    whole: Fraction
    sash_step: Fraction
    least_sash: Fraction
    price: Fraction


INCHES = Habits(
    # Most quilters ask for 4 in; 3 to 6 are found (trade tables, longarm and backing_extra).
    margin=Fraction(4),
    # Trade tables, longarm; 5/8 is found, too.
    backing_seam=Fraction(1, 2),
    binding=Fraction(5, 2),  # common practice, no source
    # Four writers say 0, 16, 20 and 24 (trade tables, binding_extra): it is a setting and is shown.
    extra=Fraction(20),
    hem=Fraction(1),  # common practice, no source
    # All allowance: 1/4 in on either side of a strip cut 1 1/2 in (common practice, no source).
    narrowest=Fraction(1),
    ease=Fraction(1, 8),  # common practice, no source
    # Seams that are not pressed fully open take it up (common practice, no source).
    press_again=Fraction(1, 4),
    whole=Fraction(1),  # a magazine's rule: rounded up, and the margin
    sash_step=Fraction(1, 2),
    least_sash=Fraction(1),
    price=Fraction(2, 100),  # 0.01 to 0.03 are asked
)

CENTIMETRES = Habits(
    # No metric source was found for any of these: they are what one reads off a metric ruler where
    # others read INCHES, common practice, no source.
    margin=10 * CM,
    backing_seam=CM * 3 / 2,
    binding=CM * 13 / 2,
    extra=50 * CM,
    hem=CM * 5 / 2,
    narrowest=CM * 5 / 2,
    ease=CM * 3 / 10,
    press_again=CM * 6 / 10,
    whole=CM,
    sash_step=CM,
    least_sash=2 * CM,
    price=Fraction(3, 1000) / CM**2,
)

HABITS: Mapping[Measure, Habits] = {"in": INCHES, "cm": CENTIMETRES}
