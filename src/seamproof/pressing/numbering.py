"""Rows of numbers, many at once: ranges laid one after the other, and equal rows found."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


def spread(first: Ints, count: Ints) -> tuple[Ints, Ints]:
    """Ranges of `count` numbers from `first` on, one after the other: the range each belongs to,
    and the numbers.

    >>> owner, number = spread(np.array([7, 0, 3]), np.array([2, 0, 1]))
    >>> owner.tolist(), number.tolist()
    ([0, 0, 2], [7, 8, 3])
    """
    owner = np.repeat(np.arange(len(count)), count)
    number = np.arange(len(owner)) + (first - np.cumsum(count) + count)[owner]
    return owner, number


def numbered(*columns: Ints) -> tuple[Ints, Ints]:
    """Rows numbered in ascending order, equal ones alike: the number of every row, and for each
    number the first row that has it. The first column weighs most.

    >>> number, first = numbered(np.array([5, 2, 5]), np.array([1, 9, 1]))
    >>> number.tolist(), first.tolist()
    ([1, 0, 1], [1, 0])
    >>> [rows.tolist() for rows in numbered(np.array([], dtype=np.int64))]
    [[], []]
    """
    order = np.lexsort(columns[::-1])
    new = np.zeros(len(order), dtype=np.bool_)
    new[:1] = True
    for column in columns:
        sorted_ = column[order]
        new[1:] |= sorted_[1:] != sorted_[:-1]
    number = np.empty(len(order), dtype=np.int64)
    number[order] = np.cumsum(new) - 1
    return number, order[new]


def ranked(owner: Ints) -> Ints:
    """How many before it belong to the same one, for each of rows that are ordered by owner.

    >>> ranked(np.array([3, 3, 4, 6, 6, 6])).tolist()
    [0, 1, 0, 0, 1, 2]
    """
    start = np.searchsorted(owner, owner)
    ranks: Ints = np.arange(len(owner)) - start
    return ranks


def side_by_side(owner: Ints, count: int, number: Ints) -> tuple[Ints, ...]:
    """Lists of numbers as columns, filled up with -1: row k holds the numbers of owner k. `owner`
    is in ascending order and below `count`.

    >>> [c.tolist() for c in side_by_side(np.array([0, 2, 2]), 3, np.array([5, 6, 7]))]
    [[5, -1, 6], [-1, -1, 7]]
    """
    rank = ranked(owner)
    most = int(rank.max()) + 1 if len(rank) else 0
    found = np.full((most, count), -1, dtype=np.int64)
    found[rank, owner] = number
    return tuple(found)
