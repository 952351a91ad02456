"""A quilt file changed in single places; everything else stays as it was written.

Each function takes the text of a quilt file and gives the text with one thing changed. What comes
out is to be read before it is saved: whether a value fits is the reader's to say.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from seamproof.errors import InputError
from seamproof.project.writing import text as quoted
from seamproof.project.yaml_tree import Document, Items, Keys, Node, Scalar, document

NAMES_BLOCKS = ("blocks", "setting")
"""The keys under which blocks are called by their names."""

_TURNS = re.compile(r"(.*?)(['’′]*)", re.DOTALL)


def with_block(text: str, title: str) -> str:
    r"""The quilt with one more block at the end of its list, if it has one.

    >>> print(with_block("name: Q\nblocks:\n  - One\n", "Two"), end="")
    name: Q
    blocks:
      - One
      - Two
    """
    made = _document(text)
    listed = made.root.get("blocks")
    if not isinstance(listed, Items) or not listed.items:
        return text
    last = listed.items[-1]
    if listed.flow:
        return _spliced(made.text, last.end, last.end, f", {quoted(title)}")
    column = made.place(last).column
    line = made.line(made.place(last).line)
    dash = line[: column - 1].rfind("-")
    end = made.text.find("\n", last.end)
    end = len(made.text) if end < 0 else end
    return _spliced(made.text, end, end, f"\n{' ' * max(dash, 0)}- {quoted(title)}")


def renamed(text: str, old: str, new: str) -> str:
    r"""The quilt with a block called by another name wherever it is called by its name.

    >>> print(renamed("name: One\nblocks: [One, Two]\nsetting:\n  rows: [[One', Two]]", "One",
    ...     "Three"))
    name: One
    blocks: [Three, Two]
    setting:
      rows: [[Three', Two]]
    """
    made = _document(text)
    changed = made.text
    places = [
        scalar
        for key in NAMES_BLOCKS
        if (node := made.root.get(key)) is not None
        for scalar in _scalars(node)
    ]
    for scalar in sorted(places, key=lambda s: s.start, reverse=True):
        match = _TURNS.fullmatch(scalar.text)
        if match is not None and match[1] == old:
            changed = _spliced(changed, scalar.start, scalar.end, _called(new, match[2]))
    return changed


def with_value(text: str, path: Sequence[str], value: str | None) -> str:
    r"""The quilt with a value at the end of a path of keys; None takes the key away. In a list of
    groups a part of the path is the number of the group, from 0. Raises InputError if the path
    leads nowhere.

    >>> print(with_value("name: Q\npreferences:\n  seam: 1/4   # mine\n",
    ...     ["preferences", "seam"], "3/8"), end="")
    name: Q
    preferences:
      seam: 3/8   # mine
    >>> print(with_value("name: Q\n", ["preferences", "paper"], "a4"), end="")
    name: Q
    preferences:
      paper: a4
    """
    made = _document(text)
    node: Node = made.root
    for depth, part in enumerate(path):
        last = depth == len(path) - 1
        if isinstance(node, Items):
            if not part.isdigit() or int(part) >= len(node.items):
                raise _nowhere(path)
            node = node.items[int(part)]
            if last:
                return _put(made, node, value, path)
            continue
        if not isinstance(node, Keys):
            raise _nowhere(path)
        found = node.get(part)
        if found is None:
            return text if value is None else _added(made, node, path[depth:], value)
        if last:
            if value is None:
                return _without(made, node, part, path)
            return _put(made, found, value, path)
        node = found
    raise _nowhere(path)


def _document(text: str) -> Document:
    return document(text.encode("utf-8"), "quilt.yaml")


def _nowhere(path: Sequence[str]) -> InputError:
    return InputError(
        f"there is no place {' / '.join(path)} in the quilt file", mend="choose another"
    )


def _spliced(text: str, start: int, end: int, new: str) -> str:
    return text[:start] + new + text[end:]


def _scalars(node: Node) -> Iterator[Scalar]:
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, Items):
        for item in node.items:
            yield from _scalars(item)
    else:
        for key, value in node.entries:
            yield key
            yield from _scalars(value)


def _called(name: str, turns: str) -> str:
    return quoted(name + turns) if quoted(name) != name else name + turns


def _put(made: Document, node: Node, value: str | None, path: Sequence[str]) -> str:
    if not isinstance(node, Scalar) or node.style == "block" or value is None:
        raise _nowhere(path)
    return _spliced(made.text, node.start, node.end, _plain(value))


_PLAIN = re.compile(r"[0-9]+(?: [0-9]+/[0-9]+|/[0-9]+|\.[0-9]+)?")


def _plain(value: str) -> str:
    """A value as it is written: numbers as they are, texts in quotes where they need them."""
    return value if _PLAIN.fullmatch(value) or value in ("yes", "no") else quoted(value)


def _without(made: Document, node: Keys, key: str, path: Sequence[str]) -> str:
    if node.flow or len(node.entries) == 1:
        raise _nowhere(path)
    name, value = next((k, v) for k, v in node.entries if k.text == key)
    start = made.text.rfind("\n", 0, name.start) + 1
    end = made.text.find("\n", value.end)
    return _spliced(made.text, start, len(made.text) if end < 0 else end + 1, "")


def _added(made: Document, node: Keys, path: Sequence[str], value: str) -> str:
    """A key that was not there, with the groups around it."""
    if node.flow:
        end = made.text.rfind("}", node.start, node.end)
        if len(path) != 1 or end < 0:
            raise _nowhere(path)
        return _spliced(made.text, end, end, f", {path[0]}: {_plain(value)}")
    column = made.place(node.entries[0][0]).column - 1 if node.entries else 0
    lines = [f"{' ' * (column + 2 * i)}{part}:" for i, part in enumerate(path)]
    lines[-1] += f" {_plain(value)}"
    last = node.entries[-1][1].end if node.entries else node.end
    end = made.text.find("\n", last)
    end = len(made.text) if end < 0 else end
    return _spliced(made.text, end, end, "".join(f"\n{line}" for line in lines))
