"""What kits cost, what they are sold for, from how many on they pay. Exact until it is shown."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from seamproof.programme.model import Costs

SECONDS = 3600
CENT = Fraction(1, 100)


@dataclass(frozen=True, slots=True)
class Costing:
    """The money of a run of kits. `cloth` is what is bought, rounded as the shop cuts; `cutting`
    pays `hours` of it; `bags` is what comes into every bag. `each` is all that spread over the
    people: spare kits are paid by the kits that are sold. `price` is what one is sold for;
    `break_even` how many must be sold to earn what was spent `once`, None if that never happens."""

    cloth: Fraction
    hours: Fraction
    cutting: Fraction
    bags: Fraction
    once: Fraction
    each: Fraction
    price: Fraction
    break_even: int | None

    def left(self, people: int) -> Fraction:
        """What is left when so many are sold."""
        return (self.price - self.each) * people - self.once


def costing(costs: Costs, cloth: Fraction, knife: int, kits: int, people: int) -> Costing:
    """The money of `kits` kits for `people`, `knife` passes of the cutter and `cloth` in money.

    A pass takes `costs.cut_seconds`. A kit costs cloth, cutting and what comes into the bags of all
    kits, over the number of people. It is sold for `costs.price`, or for `costs.markup` times what
    it costs, to the next whole cent.

    >>> rules = Costs(wage=Fraction(18), bag=Fraction(1), once=Fraction(300))
    >>> run = costing(rules, Fraction(400), 360, 63, 60)
    >>> run.hours, str(run.cutting), float(run.each), float(run.price), run.break_even
    (Fraction(2, 1), '36', 8.316666666666666, 16.64, 37)
    """
    hours = Fraction(knife * costs.cut_seconds, SECONDS)
    cutting = hours * costs.wage
    bags = (costs.bag + costs.pattern + costs.postage) * kits
    each = (cloth + cutting + bags) / people
    price = costs.price
    if price is None:
        price = math.ceil(each * costs.markup / CENT) * CENT
    earned = price - each
    if not costs.once:
        even: int | None = 0 if earned >= 0 else None
    else:
        even = math.ceil(costs.once / earned) if earned > 0 else None
    return Costing(cloth, hours, cutting, bags, costs.once, each, price, even)
