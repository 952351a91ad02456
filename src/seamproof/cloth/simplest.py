"""The fewest strip heights and ruler settings: every piece from a strip of exactly its height.

Pieces that may be turned choose which of their sides is the strip's, so that the fewest different
strips have to be cut, and after that the fewest different cross-cuts.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamproof.cloth.patterns import Kind
from seamproof.solving.zero_one import Problem, Row


def fewest_settings(kinds: Sequence[Kind]) -> tuple[Kind, ...]:
    """One kind per demand, so that they have the fewest heights, then the fewest widths.

    >>> [k.turned for k in fewest_settings([Kind(0, False, 9, 5), Kind(1, False, 5, 9),
    ...                                     Kind(1, True, 9, 5)])]
    [False, True]
    >>> fewest_settings([])
    ()
    """
    heights = sorted({kind.height for kind in kinds})
    widths = sorted({kind.width for kind in kinds if not kind.row})
    at_height = {height: len(kinds) + i for i, height in enumerate(heights)}
    at_width = {width: len(kinds) + len(heights) + i for i, width in enumerate(widths)}
    rows = [
        Row({i: 1.0 for i, k in enumerate(kinds) if k.demand == demand}, 1.0, 1.0)
        for demand in sorted({kind.demand for kind in kinds})
    ]
    for i, kind in enumerate(kinds):
        rows.append(Row({at_height[kind.height]: 1.0, i: -1.0}, lowest=0.0))
        if not kind.row:
            rows.append(Row({at_width[kind.width]: 1.0, i: -1.0}, lowest=0.0))
    problem = Problem(len(kinds) + len(heights) + len(widths), rows)
    solution = problem.solve(
        [dict.fromkeys(at_height.values(), 1.0), dict.fromkeys(at_width.values(), 1.0)]
    )
    if solution is None:
        return tuple(kinds)
    return tuple(kind for i, kind in enumerate(kinds) if solution.values[i])
