"""Values taken from the tree of a file, checked as they are taken, each refusal at its place."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from seamproof.errors import InputError, LengthError, LimitError
from seamproof.findings import Where
from seamproof.length.notation import Measure, exactly, parse, with_unit
from seamproof.plane.model import Line, Point
from seamproof.project import limits
from seamproof.project.yaml_tree import Document, Items, Keys, Node, Scalar, shortened

Word = TypeVar("Word", bound=str)

_ONE_LINE = 125
"""Characters of a list of words that is still read rather than skipped."""

_A_FEW = 6

_FABRIC = re.compile("[a-z]{1,2}")
_HAS_UNIT = re.compile(r"[^0-9 .,/\u2044-]")


@dataclass(frozen=True)
class Fields:
    """The document, what a number without a unit means in it, and the block it is about.

    `cell` is the (width, height) of a grid cell in inches if points count grid cells, else None.
    """

    document: Document
    measure: Measure = "in"
    block: str | None = None
    cell: Point | None = None

    def where(self, node: Node | int) -> Where:
        """The place of a node, as findings have it."""
        return self.document.where(node, self.block)

    def refusal(self, node: Node | int, what: str, mend: str = "") -> InputError:
        """What is wrong at a node, ready to be raised."""
        return self.document.refusal(node, what, mend)

    def too_much(self, node: Node, what: str, mend: str = "split it in two") -> InputError:
        """The same for what exceeds a limit."""
        return self.document.placed(LimitError(what, mend=mend), node)

    # Groups ---------------------------------------------------------------------------------------

    def keys(
        self, node: Node, what: str, known: Sequence[str], required: Sequence[str] = ()
    ) -> Mapping[str, Node]:
        """The values of a group by key; unknown, missing and empty ones are refused."""
        if not isinstance(node, Keys):
            raise self.refusal(node, f"{what} needs keys", f"such as {known[0]}:")
        for key, value in node.entries:
            if key.text not in known:
                raise self.refusal(
                    key,
                    f'"{shortened(key.text)}" is not a key of {what}',
                    _did_you_mean(key.text, known),
                )
            if isinstance(value, Scalar) and value.empty:
                raise self._empty(key)
        values = {key.text: value for key, value in node.entries}
        for key_name in required:
            if key_name not in values:
                raise self.refusal(node, f"{what} has no {key_name}:", f"add {key_name}:")
        return values

    def named(self, node: Node, what: str, most: int) -> Sequence[tuple[Scalar, Node]]:
        """The entries of a group whose keys are names."""
        if not isinstance(node, Keys):
            raise self.refusal(node, f"{what} needs keys", "write each as name: value")
        if len(node.entries) > most:
            raise self.too_much(node, f"{what} has more than {most:,} entries")
        for key, value in node.entries:
            if isinstance(value, Scalar) and value.empty:
                raise self._empty(key)
        return node.entries

    def items(self, node: Node, what: str, most: int, mend: str = "") -> Sequence[Node]:
        """The values of a list that is not empty."""
        if not isinstance(node, Items):
            raise self.refusal(node, f"{what} is not a list", mend or "begin each line with a dash")
        if not node.items:
            raise self.refusal(node, f"{what} is an empty list", mend or "fill it, or delete it")
        if len(node.items) > most:
            raise self.too_much(node, f"{what} has more than {most:,} entries")
        return node.items

    def _empty(self, key: Scalar) -> InputError:
        line = self.document.line(self.document.place(key).line)
        remark = re.search(r":\s*#", line)
        mend = "a # begins a remark: put the value in quotes" if remark else "give it a value"
        return self.refusal(key, f"{shortened(key.text)}: has no value", mend)

    # Single values --------------------------------------------------------------------------------

    def text(self, node: Node, what: str, most: int = limits.TEXT_LENGTH) -> str:
        """A text of one line."""
        scalar = self._scalar(node, what)
        text = scalar.text.strip()
        if not text:
            raise self.refusal(node, f"{what} is empty", "give it a value")
        if len(text) > most:
            raise self.too_much(node, f"{what} is longer than {most} characters", "shorten it")
        if not all(character.isprintable() or character.isspace() for character in text):
            raise self.refusal(node, f"{what} holds an invisible character", "delete it")
        return text

    def word(self, node: Node, what: str, words: Mapping[str, Word]) -> Word:
        """One of a few words."""
        text = self.text(node, what)
        if text.lower() not in words:
            raise self.refusal(
                node,
                f'{what} cannot be "{shortened(text)}"',
                _did_you_mean(text, tuple(words)),
            )
        return words[text.lower()]

    def yes(self, node: Node, what: str) -> bool:
        """Yes or no."""
        words = {"yes": "yes", "true": "yes", "no": "no", "false": "no"}
        return self.word(node, what, words) == "yes"

    def whole(self, node: Node, what: str, most: int) -> int:
        """A whole number from 1."""
        text = self.text(node, what)
        if not re.fullmatch(f"[0-9]{{1,{limits.DIGITS}}}", text) or int(text) < 1:
            raise self.refusal(
                node, f'{what} cannot be "{shortened(text)}"', "write a whole number from 1"
            )
        if int(text) > most:
            raise self.too_much(node, f"{what} is more than {most:,}", "check the number")
        return int(text)

    def length(
        self,
        node: Node,
        what: str,
        least: Fraction = limits.SMALLEST,
        most: Fraction = limits.LARGEST,
    ) -> Fraction:
        """A length in inches between two bounds."""
        value = self._length(node, what, self.measure, signed=False)
        if value < least:
            raise self.document.placed(
                LengthError(
                    f"{what} is less than {with_unit(least, self.measure)}", mend="check the number"
                ),
                node,
            )
        if value > most:
            raise self.too_much(
                node, f"{what} is more than {with_unit(most, self.measure)}", "check the number"
            )
        return value

    def amount(self, node: Node, what: str, most: Fraction) -> Fraction:
        """A small length in inches, of either sign, no further from nothing than `most`."""
        value = self._length(node, what, self.measure, signed=True)
        if abs(value) > most:
            raise self.too_much(
                node, f"{what} is more than {with_unit(most, self.measure)}", "check the number"
            )
        return value

    def share(self, node: Node, what: str) -> Fraction:
        """A length above nothing, to be taken in proportion to others."""
        value = self._length(node, what, self.measure, signed=False)
        if value == 0:
            raise self.refusal(node, f"{what} is 0", "leave it out, or give it a size")
        if value > limits.COORDINATE:
            raise self.too_much(
                node, f"{what} is more than {limits.COORDINATE}", "check the number"
            )
        return value

    def fabric(self, node: Node) -> str:
        """A fabric's letter."""
        text = self.text(node, "fabric")
        if not _FABRIC.fullmatch(text):
            small = text.lower()
            mend = f"write it small: {small}" if _FABRIC.fullmatch(small) else "such as a or ab"
            raise self.refusal(
                node, f'"{shortened(text)}" is not one or two small letters for a fabric', mend
            )
        return text

    # Points ---------------------------------------------------------------------------------------

    def point(self, node: Node, what: str = "a point") -> Point:
        """A point of the finished block in inches, written [x, y] in inches or grid cells."""
        if not isinstance(node, Items) or len(node.items) != 2:
            raise self.refusal(node, f"{what} is not two numbers", "write it as [x, y]")
        x, y = node.items
        if self.cell is None:
            return self._coordinate(x), self._coordinate(y)
        return self._cells(x) * self.cell[0], self._cells(y) * self.cell[1]

    def line(self, node: Node, what: str) -> Line:
        """A line from point to point, written [[x, y], [x, y]]."""
        if not isinstance(node, Items) or len(node.items) != 2:
            raise self.refusal(node, f"{what} is not two points", "write it as [[x, y], [x, y]]")
        first, last = (self.point(item) for item in node.items)
        if first == last:
            raise self.refusal(node, f"{what} ends where it begins", "give its two ends")
        return first, last

    def _coordinate(self, node: Node) -> Fraction:
        return self._bounded(node, self._length(node, "a coordinate", self.measure, signed=True))

    def _cells(self, node: Node) -> Fraction:
        scalar = self._scalar(node, "a coordinate")
        if _HAS_UNIT.search(scalar.text):
            try:
                parse(scalar.text, signed=True)
            except LengthError as problem:
                raise self.document.placed(problem, node) from None
            raise self.refusal(node, "points count grid cells here", "leave out the unit")
        return self._bounded(node, self._length(node, "a coordinate", "in", signed=True))

    def _bounded(self, node: Node, value: Fraction) -> Fraction:
        if abs(value) > limits.COORDINATE:
            most = exactly(limits.COORDINATE)
            raise self.too_much(node, f"a coordinate is beyond {most}", "check the number")
        return value

    def _length(self, node: Node, what: str, unit: Measure, *, signed: bool) -> Fraction:
        scalar = self._scalar(node, what)
        try:
            return parse(scalar.text, unit=unit, signed=signed)
        except LengthError as problem:
            raise self.document.placed(problem, node) from None

    def _scalar(self, node: Node, what: str) -> Scalar:
        if not isinstance(node, Scalar):
            raise self.refusal(node, f"{what} is a single value", "write it without brackets")
        if "\n" in self.document.text[node.start : node.end].strip():
            raise self.refusal(
                node,
                f"{what} runs over two lines",
                "write it on one; is a space missing behind a colon or dash in the next line?",
            )
        return node


def _did_you_mean(text: str, known: Sequence[str]) -> str:
    near = difflib.get_close_matches(shortened(text).lower(), known, n=1, cutoff=0.6)
    return f'did you mean "{near[0]}"?' if near else _one_of(known)


def _one_of(known: Sequence[str]) -> str:
    listed = ", ".join(known)
    few = ", ".join(known[:_A_FEW])
    return f"known are {listed}" if len(listed) <= _ONE_LINE else f"known are {few} and others"
