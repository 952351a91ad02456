"""The published sizes of tests/trade_tables/trade_facts.csv, read."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from fractions import Fraction

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
        found = re.search(rf"(?:^|[;, ]){name}=([\d.]+)", self.inputs)
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
