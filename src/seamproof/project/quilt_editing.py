"""A quilt file changed in single places; everything else stays as it was written.

Each function takes the text of a quilt file and gives the text with one thing changed. What comes
out is to be read before it is saved: whether a value fits is the reader's to say.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from seamproof.errors import InputError
from seamproof.project.writing import text as quoted
from seamproof.project.yaml_tree import Document, Items, Keys, Node, Scalar, document

NAMES_BLOCKS = ("blocks", "setting")
"""The keys under which blocks are called by their names."""

_TURNS = re.compile(r"(.*?)(['’′]*)", re.DOTALL)

Value = str | Sequence["Value"] | Mapping[str, "Value"]
"""What can stand in a quilt file: a text, a list, or keys with values."""


def begun(name: str) -> str:
    r"""The first lines of a quilt file.

    >>> print(begun("Lamps"), end="")
    seamproof: 1
    name: Lamps
    """
    return f"seamproof: 1\nname: {quoted(name)}\n"


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
    return _appended(made, listed, title)


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


def with_value(text: str, path: Sequence[str], value: Value | None) -> str:
    r"""The quilt with a value at the end of a path of keys; None takes the key away. In a list a
    part of the path is the number of an entry, from 0; the number after the last one adds an entry.
    A list or keys take the place of the whole value that was there, its comments too. Raises
    InputError if the path leads nowhere.

    >>> print(with_value("name: Q\npreferences:\n  seam: 1/4   # mine\n",
    ...     ["preferences", "seam"], "3/8"), end="")
    name: Q
    preferences:
      seam: 3/8   # mine
    >>> print(with_value("name: Q\n", ["setting", "rows"], [["One", "One'"], ["One", "Two"]]),
    ...     end="")
    name: Q
    setting:
      rows:
        - [One, One']
        - [One, Two]
    """
    made = _document(text)
    node: Node = made.root
    for depth, part in enumerate(path):
        last = depth == len(path) - 1
        if isinstance(node, Items):
            if last and value is not None and node.items and part == str(len(node.items)):
                return _appended(made, node, value)
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
            if isinstance(value, str) and isinstance(found, Scalar):
                return _put(made, found, value, path)
            return _replaced(made, node, part, value)
        node = found
    raise _nowhere(path)


def path_at(text: str, line: int, column: int) -> tuple[str, ...]:
    r"""The path to what stands at a place of a quilt file, counted from 1: the keys and numbers
    that lead to the innermost value there; () if there is none.

    >>> path_at("name: Q\nsetting:\n  rows:\n    - [One, Two]\n", 4, 13)
    ('setting', 'rows', '0', '1')
    """
    made = _document(text)
    node: Node = made.root
    path: list[str] = []
    while True:
        inner: list[tuple[str, int, Node]] = []
        if isinstance(node, Keys):
            inner = [(key.text, key.start, value) for key, value in node.entries]
        elif isinstance(node, Items):
            inner = [(str(i), item.start, item) for i, item in enumerate(node.items)]
        found = [
            (name, value)
            for name, start, value in inner
            if _before(made, start, line, column) and not _before(made, value.end, line, column)
        ]
        if not found:
            return tuple(path)
        name, node = found[-1]
        path.append(name)


def _before(made: Document, at: int, line: int, column: int) -> bool:
    """Whether an offset lies at a place or before it."""
    place = made.place(at)
    return (place.line, place.column) <= (line, column)


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


def _put(made: Document, node: Node, value: Value | None, path: Sequence[str]) -> str:
    """Another value in the place of an entry or of a text."""
    if value is None or (isinstance(node, Scalar) and node.style == "block"):
        raise _nowhere(path)
    return _spliced(made.text, node.start, node.end, _on_a_line(value))


def _replaced(made: Document, group: Keys, key: str, value: Value) -> str:
    """A value in the place of a whole list or of whole keys, or of a text that becomes one."""
    name, old = next((k, v) for k, v in group.entries if k.text == key)
    if group.flow:
        return _spliced(made.text, old.start, old.end, _on_a_line(value))
    return _spliced(made.text, name.end, old.end, f":{_below(value, _column(made, name))}")


def _appended(made: Document, listed: Items, value: Value) -> str:
    """A list with one more entry."""
    last = listed.items[-1]
    if listed.flow:
        return _spliced(made.text, last.end, last.end, f", {_on_a_line(value)}")
    place = made.place(last)
    dash = made.line(place.line)[: place.column - 1].rfind("-")
    end = made.text.find("\n", last.end)
    end = len(made.text) if end < 0 else end
    return _spliced(made.text, end, end, f"\n{' ' * max(dash, 0)}- {_on_a_line(value)}")


_PLAIN = re.compile(r"[0-9]+(?: [0-9]+/[0-9]+|/[0-9]+|\.[0-9]+)?(?: of [a-z]{1,2})?")


def _on_a_line(value: Value) -> str:
    """A value as it is written on a line: numbers as they are, texts in quotes where they need
    them."""
    if isinstance(value, str):
        return value if _PLAIN.fullmatch(value) or value in ("yes", "no") else quoted(value)
    if isinstance(value, Mapping):
        entries = (f"{quoted(key)}: {_on_a_line(one)}" for key, one in value.items())
        return f"{{{', '.join(entries)}}}"
    return f"[{', '.join(map(_on_a_line, value))}]"


def _below(value: Value, column: int) -> str:
    """A value behind its key and the colon, the key in this column, from 0: the entries of a list
    of lists or keys, and keys, each on a line of their own."""
    indent = f"\n{' ' * (column + 2)}"
    if isinstance(value, Mapping):
        return "".join(f"{indent}{quoted(key)}: {_on_a_line(one)}" for key, one in value.items())
    if isinstance(value, str) or not value or isinstance(value[0], str):
        return f" {_on_a_line(value)}"
    return "".join(f"{indent}- {_on_a_line(one)}" for one in value)


def _column(made: Document, key: Scalar) -> int:
    return made.place(key).column - 1


def _without(made: Document, node: Keys, key: str, path: Sequence[str]) -> str:
    if len(node.entries) == 1 and len(path) > 1:
        return with_value(made.text, path[:-1], None)  # nothing is left of the group
    if node.flow or len(node.entries) == 1:
        raise _nowhere(path)
    name, value = next((k, v) for k, v in node.entries if k.text == key)
    start = made.text.rfind("\n", 0, name.start) + 1
    end = made.text.find("\n", value.end)
    return _spliced(made.text, start, len(made.text) if end < 0 else end + 1, "")


def _added(made: Document, node: Keys, path: Sequence[str], value: Value) -> str:
    """A key that was not there, with the groups around it."""
    if node.flow:
        end = made.text.rfind("}", node.start, node.end)
        if len(path) != 1 or end < 0:
            raise _nowhere(path)
        return _spliced(made.text, end, end, f", {quoted(path[0])}: {_on_a_line(value)}")
    column = _column(made, node.entries[0][0]) if node.entries else 0
    lines = [f"{' ' * (column + 2 * i)}{quoted(part)}:" for i, part in enumerate(path)]
    lines[-1] += _below(value, column + 2 * (len(path) - 1))
    last = node.entries[-1][1].end if node.entries else node.end
    end = made.text.find("\n", last)
    end = len(made.text) if end < 0 else end
    return _spliced(made.text, end, end, "".join(f"\n{line}" for line in lines))
