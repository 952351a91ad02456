"""The published sizes of tests/trade_tables/trade_facts.csv, read."""

from __future__ import annotations

import csv
import re
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction

import pytest

from tests.cast import TABLES


@dataclass(frozen=True)
class Fact:
    """One row: `relation` says how our number has to stand to the `expected` one.

    *equals*: the size to cut, or what is asked for, is that number. *need*: the size that geometry
    asks for is that number, to its last digit. *at_most*: no more than ours. *rule:…*: what that
    rule of the trade makes of it. *prose*: told in words, not checked.
    """

    id: str
    family: str
    relation: str
    inputs: str
    expected: str
    source: str

    def given(self, name: str) -> Fraction:
        """A number of the inputs: ``finished=4.5;rule=…``."""
        found = re.search(rf"(?:^|[;, (]){name}=([\d.]+)", self.inputs)
        assert found is not None, (self.id, name)
        return Fraction(found[1])

    @property
    def numbers(self) -> list[Fraction]:
        """The expected numbers, in order."""
        return [Fraction(text) for text in re.findall(r"\d+(?:\.\d+)?", self.expected)]

    @property
    def number(self) -> Fraction:
        """The only expected number."""
        (number,) = self.numbers
        return number

    @property
    def last_digit(self) -> float:
        """Half of what the last digit of the expected number counts."""
        _, _, places = self.expected.partition(".")
        return 0.5 * 10.0 ** -len(places)


def facts(*families: str) -> list[Fact]:
    """The rows of these families, in the order of the table."""
    with (TABLES / "trade_facts.csv").open(encoding="utf-8", newline="") as file:
        return [
            Fact(r["id"], r["family"], r["relation"], r["inputs"], r["expected"], r["source"])
            for r in csv.DictReader(file)
            if r["family"] in families
        ]


def checked(*families: str) -> list[Fact]:
    """Those of them that are numbers."""
    return [fact for fact in facts(*families) if fact.relation != "prose"]


@dataclass(frozen=True)
class Disputed:
    """One row that does not hold: what was published, what does hold, and why."""

    id: str
    family: str
    inputs: str
    published: str
    holds_up: str
    source: str
    why: str


def disputed(*families: str) -> list[Disputed]:
    """The published numbers of these families that do not hold."""
    with (TABLES / "disputed.csv").open(encoding="utf-8", newline="") as file:
        return [
            Disputed(*(r[name] for name in Disputed.__dataclass_fields__))
            for r in csv.DictReader(file)
            if r["family"] in families
        ]


class Tally:
    """Which rows of some families a module tests: `counted` says how many each family has, prose
    included, so that a row that is lost, or added and not tested, is noticed."""

    def __init__(self, **counted: int) -> None:
        self.counted = counted
        self.tested: set[str] = set()

    def rows(self, *families: str) -> pytest.MarkDecorator:
        """A test of all rows of these families that are numbers."""
        chosen = checked(*families)
        self.tested.update(fact.id for fact in chosen)
        return pytest.mark.parametrize("fact", chosen, ids=lambda fact: fact.id)

    def faults(self) -> tuple[dict[str, int], set[str]]:
        """Families whose count is another, and rows that no test was given."""
        counts = Counter(fact.family for fact in facts(*self.counted))
        wrong = {name: counts[name] for name, n in self.counted.items() if counts[name] != n}
        return wrong, {fact.id for fact in checked(*self.counted)} - self.tested
