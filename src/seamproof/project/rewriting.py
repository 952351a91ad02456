"""A changed drawing put into the text it came from: only what changed is written anew.

Comments, the order of keys, blank lines and the writing of everything else stay as they were.
"""

from __future__ import annotations

import dataclasses
import difflib
from dataclasses import dataclass
from typing import Any

from seamproof.draft.model import Drawing, Seams
from seamproof.errors import InputError
from seamproof.findings import Where
from seamproof.length.notation import Measure
from seamproof.plane.model import Point
from seamproof.project.block_file import KEYS, block_drawing
from seamproof.project.fields import Fields
from seamproof.project.writing import Listed, Value, entry, values, write_block
from seamproof.project.yaml_tree import Document, Items, Scalar, document


def rewritten(text: str, drawing: Drawing, measure: Measure = "in") -> str:
    r"""`text`, a block file, changed to say what `drawing` says.

    If it says so already, nothing changes. Raises InputError if `text` is not a block file.

    >>> before = "name: Two   # my first\nfinished: 6\ncells:\n  - a b\n"
    >>> two = block_drawing(document(before.encode(), "two.yaml"))
    >>> print(rewritten(before, dataclasses.replace(two, name="Pair", copies=4)), end="")
    name: Pair   # my first
    finished: 6
    cells:
      - a b
    copies: 4
    """
    before = document(text.encode("utf-8"), "block")
    old = block_drawing(before, measure)
    if without_places(old) == without_places(drawing):
        return text
    changed = _Edits(before).changed(
        values(old, measure, _cell(before, old)), values(drawing, measure, _cell(before, drawing))
    )
    # A text may be written in ways that are not worth a rule each, such as all in one bracket.
    # Whatever comes out is read, and if it does not say what it must, all is written anew.
    try:
        after = block_drawing(document(changed.encode("utf-8"), "block"), measure)
    except InputError:
        after = None
    if after is None or without_places(after) != without_places(drawing):
        return write_block(drawing, measure)
    return changed


def without_places(thing: Any) -> Any:
    """A drawing, or any part of one, with every place in a file blanked, to compare what is said.

    >>> from seamproof.draft.model import Written
    >>> without_places((Written("a", Where("a.yaml", 3, 5)),)) == (Written("a", Where()),)
    True
    """
    if isinstance(thing, Where):
        return Where()
    if isinstance(thing, tuple):
        return tuple(map(without_places, thing))
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        fields = dataclasses.fields(thing)
        return type(thing)(**{f.name: without_places(getattr(thing, f.name)) for f in fields})
    return thing


def _cell(before: Document, drawing: Drawing) -> Point | None:
    """Size of a grid cell of `drawing` in a file whose points count grid cells, else None."""
    node = before.root.get("grid")
    if node is None or not isinstance(drawing.drawn, Seams):
        return None
    counts = node.items if isinstance(node, Items) else (node, node)
    fields = Fields(before)
    across, down = (fields.whole(count, "grid", 10**6) for count in counts)
    return drawing.finished[0] / across, drawing.finished[1] / down


@dataclass
class _Edits:
    """Replacements in a text, collected by offset and made at once."""

    before: Document

    def __post_init__(self) -> None:
        self.text = self.before.text if self.before.text.endswith("\n") else self.before.text + "\n"
        self.edits: list[tuple[int, int, str]] = []
        root = self.before.root
        self.indent = " " * (self.before.place(root).column - 1)
        self.keys = {key.text: key for key, _ in root.entries}
        self.nodes = {key.text: value for key, value in root.entries}

    def changed(self, old: dict[str, Value], new: dict[str, Value]) -> str:
        insert_at = self._line_start(self.before.root.start)
        for key in KEYS:
            if key in self.nodes:
                insert_at = self._next_line(self.nodes[key].end)
            if key == "grid" and key in self.nodes and "seams" not in new:
                self._delete(key)
            elif key in new and key not in self.nodes:
                lines = (f"{self.indent}{line}\n" for line in entry(key, new[key]))
                self.edits.append((insert_at, insert_at, "".join(lines)))
            elif key in old and key not in new:
                self._delete(key)
            elif key in new and new[key] != old.get(key):
                self._replace(key, old.get(key), new[key])
        return self._made()

    def _delete(self, key: str) -> None:
        start = self._line_start(self.keys[key].start)
        self.edits.append((start, self._next_line(self.nodes[key].end), ""))

    def _replace(self, key: str, old: Value | None, new: Value) -> None:
        node = self.nodes[key]
        if isinstance(new, str) and (isinstance(node, Scalar) or node.flow):
            self.edits.append((node.start, node.end, new))
        elif (
            isinstance(old, Listed)
            and isinstance(new, Listed)
            and isinstance(node, Items)
            and not node.flow
            and len(old.items) == len(node.items)
        ):
            self._replace_items(node, old.items, new.items)
        else:
            end = self.keys[key].end
            head = self.text[end : node.start].partition("\n")[0].rstrip()
            first, *more = entry(key, new)
            value = first.removeprefix(f"{key}:")
            colon, _, remark = head.partition(" ")
            lines = [f"{colon}{value}" + (f"  {remark.lstrip()}" if remark.strip() else "")]
            lines += (f"{self.indent}{line}" for line in more)
            self.edits.append((end, node.end, "\n".join(lines)))

    def _replace_items(self, node: Items, old: tuple[str, ...], new: tuple[str, ...]) -> None:
        dashes = self._dashes(node)
        column = node.start - self._line_start(node.start)
        matcher = difflib.SequenceMatcher(a=old, b=new, autojunk=False)
        for _, a, a_end, b, b_end in (op for op in matcher.get_opcodes() if op[0] != "equal"):
            both = min(a_end - a, b_end - b)
            for i in range(both):
                item = node.items[a + i]
                self.edits.append((item.start, item.end, new[b + i]))
            for i in range(a + both, a_end):
                start = self._line_start(dashes[i])
                self.edits.append((start, self._next_line(node.items[i].end), ""))
            more = "".join(f"{' ' * column}- {item}\n" for item in new[b + both : b_end])
            if more:
                last = a + both - 1
                at = (
                    self._next_line(node.items[last].end)
                    if last >= 0
                    else self._line_start(dashes[0])
                )
                self.edits.append((at, at, more))

    def _dashes(self, node: Items) -> list[int]:
        ends = [node.start, *(item.end for item in node.items)]
        return [
            self.text.find("-", end, item.start + 1)
            for end, item in zip(ends, node.items, strict=False)
        ]

    def _line_start(self, offset: int) -> int:
        return self.text.rfind("\n", 0, offset) + 1

    def _next_line(self, offset: int) -> int:
        return self.text.find("\n", offset) + 1

    def _made(self) -> str:
        pieces, done = [], 0
        for start, end, new in sorted(self.edits, key=lambda edit: edit[:2]):
            pieces += [self.text[done:start], new]
            done = end
        return "".join([*pieces, self.text[done:]])
