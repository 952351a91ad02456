r"""A hand-written file as a tree in which every text stays as written and knows its place.

The files are YAML 1.2, of which ruamel.yaml reads the marks. Nothing is *loaded*: plain loading
turns ``"a\b"`` into a backspace, ``no`` into False and a cell ``=`` into a tagged value. What YAML
has beyond lists and keys (tags, anchors, aliases, merges, several documents) is refused at its
place. The events are walked without recursion, so that no depth of brackets can hurt.
"""

from __future__ import annotations

import functools
import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from ruamel.yaml import YAML
from ruamel.yaml import events as yaml_events
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.reader import ReaderError
from ruamel.yaml.scanner import Scanner

from seamproof.errors import InputError, LimitError, Place
from seamproof.findings import Where
from seamproof.project import limits
from seamproof.project.yaml_sentences import sentence

KEPT = 64
"""Files that are kept read: every block asks for the quilt file that it lies beside."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """A text. `raw` is what stands in the file, between the quotes if there are any; `text` is
    what it means. `start` and `end` are offsets in the document, quotes included."""

    text: str
    raw: str
    style: Literal["plain", "single", "double", "block"]
    start: int
    end: int

    @property
    def empty(self) -> bool:
        """Whether nothing was written, or one of YAML's words for nothing."""
        return self.style == "plain" and self.text in ("", "~", "null", "Null", "NULL")


@dataclass(frozen=True, slots=True)
class Items:
    """A list; `flow` if it is written in brackets on a line."""

    items: tuple[Node, ...]
    flow: bool
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Keys:
    """A group of keys with their values, in the order written; `flow` if in curly brackets."""

    entries: tuple[tuple[Scalar, Node], ...]
    flow: bool
    start: int
    end: int

    def get(self, name: str) -> Node | None:
        """The value of a key, or None."""
        return next((value for key, value in self.entries if key.text == name), None)


Node = Scalar | Items | Keys


@dataclass(frozen=True)
class Document:
    """A file that was read: its text with LF line ends and no byte order mark, and its tree."""

    file: str
    text: str
    root: Keys = field(default_factory=lambda: Keys((), False, 0, 0))

    def __post_init__(self) -> None:
        starts = [0, *(m.end() for m in re.finditer("\n", self.text))]
        object.__setattr__(self, "_line_starts", starts)

    def place(self, at: int | Node) -> Place:
        """Line and column, from 1, of an offset or of where a node begins."""
        offset = at if isinstance(at, int) else at.start
        starts: list[int] = self._line_starts  # type: ignore[attr-defined]
        line = bisect_right(starts, offset) - 1
        return Place(self.file, line + 1, offset - starts[line] + 1)

    def where(self, at: int | Node, block: str | None = None) -> Where:
        """The same place, as findings have it."""
        place = self.place(at)
        return Where(place.file, place.line, place.column, block)

    def line(self, number: int) -> str:
        """The text of a line, counted from 1."""
        return self.text.split("\n")[number - 1]

    def refusal(self, at: int | Node, what: str, mend: str = "") -> InputError:
        """What is wrong at a place, ready to be raised."""
        return self.placed(InputError(what, mend=mend), at)

    def placed(self, error: InputError, at: int | Node) -> InputError:
        """`error`, told that it happened here."""
        place = self.place(at)
        return error.located(place, self.line(place.line))


def read_document(path: Path) -> Document:
    """The tree of a file. Raises InputError, with the place, for whatever cannot be read."""
    return document(file_bytes(path), str(path))


def file_bytes(path: Path) -> bytes:
    """The bytes of a file, no more than the limit. Raises InputError naming the file."""
    here = Place(str(path))
    try:
        with path.open("rb") as stream:
            data = stream.read(limits.FILE_BYTES + 1)
    except FileNotFoundError:
        raise InputError("there is no such file", mend="check the name", place=here) from None
    except IsADirectoryError:
        raise InputError("this is a folder", mend="name a file in it", place=here) from None
    except (OSError, ValueError) as problem:
        reason = getattr(problem, "strerror", None) or "its name cannot be used"
        raise InputError(f"the file cannot be opened ({reason.lower()})", place=here) from None
    if len(data) > limits.FILE_BYTES:
        raise LimitError(
            f"the file is larger than {limits.FILE_BYTES:,} bytes",
            mend="a block or project file is far smaller; is it the right one?",
            place=here,
        )
    return data


def document(data: bytes, file: str) -> Document:
    r"""The tree of a file's bytes; `file` names it in what is said about it.

    >>> made = document(b"name: Star\nfinished: [9, 6]", "star.yaml")
    >>> [(key.text, str(made.place(value))) for key, value in made.root.entries]
    [('name', 'star.yaml:1:7'), ('finished', 'star.yaml:2:11')]
    >>> document(b"", "star.yaml")
    Traceback (most recent call last):
    ...
    seamproof.errors.InputError: star.yaml:1:1: the file is empty; begin it with name: …
    """
    if len(data) > limits.FILE_BYTES:
        raise LimitError(f"the file is larger than {limits.FILE_BYTES:,} bytes", place=Place(file))
    return _document(file, decoded_text(data, file))


@functools.lru_cache(maxsize=KEPT)
def _document(file: str, text: str) -> Document:
    plain = Document(file, text)
    if not plain.text.strip():
        raise plain.refusal(0, "the file is empty", "begin it with name: …")
    root = _Walk(plain).tree()
    if not isinstance(root, Keys):
        raise plain.refusal(root, "the file does not begin with a key", "begin it with name: …")
    return Document(file, plain.text, root)


def decoded_text(data: bytes, file: str) -> str:
    """The text of bytes in UTF-8, with LF line ends and no byte order mark. Raises InputError at
    the place of what is no plain text."""
    text = _decoded(data, file)
    _refuse_strange_characters(Document(file, text))
    return text


def _decoded(data: bytes, file: str) -> str:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        # The offset counts without the byte order mark, which does not move line or column.
        good = problem.object[: problem.start].decode("utf-8", "replace")
        good = good.replace("\r\n", "\n").replace("\r", "\n")
        plain = Document(file, f"{good}\ufffd")
        raise plain.refusal(
            len(good), "the file is not written in UTF-8", "save it as UTF-8 text"
        ) from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


# Control characters, line ends that only some programs see, and what is no character at all.
_STRANGE = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\U0001fffe\U0001ffff]"
)


def _refuse_strange_characters(plain: Document) -> None:
    found = _STRANGE.search(plain.text)
    if found:
        raise plain.refusal(
            found.start(),
            f"an invisible character (U+{ord(found[0]):04X}) stands here",
            "delete it, or save the file as plain text",
        )


class _Letters(dict[str, str]):
    """Any character, escaped, stands for itself with its backslash: nothing is unescaped."""

    def __contains__(self, key: object) -> bool:
        return key not in ("\n", "\0")

    def __missing__(self, key: str) -> str:
        return f"\\{key}"


class _PlainScanner(Scanner):
    """Leaves backslashes in double quotes alone, so that a quoted row of cells can be read."""

    ESCAPE_REPLACEMENTS = _Letters()
    ESCAPE_CODES: dict[str, int] = {}  # noqa: RUF012 - the base class declares it so


class _Walk:
    """One pass over the events of a document, with an explicit stack of open groups."""

    def __init__(self, plain: Document) -> None:
        self.plain = plain
        self.open: list[_Open] = []
        self.done: Node | None = None

    def tree(self) -> Node:
        documents = 0
        for event in self._events():
            at = self._offset(event.start_mark)
            if isinstance(event, yaml_events.DocumentStartEvent):
                documents += 1
                self._refuse_extra_documents(event, at, documents)
            elif isinstance(event, yaml_events.AliasEvent):
                raise self.plain.refusal(
                    at, "a value cannot begin with *", "write it out, or put it in quotes"
                )
            elif isinstance(event, yaml_events.NodeEvent):
                self._node(event, at)
            elif isinstance(event, yaml_events.CollectionEndEvent):
                self._put(self.open.pop().closed(self._offset(event.end_mark)))
        if self.done is None:
            raise self.plain.refusal(0, "the file is empty", "begin it with name: …")
        return self.done

    def _events(self) -> Iterator[Any]:
        reader = YAML(typ="safe", pure=True)
        reader.Scanner = _PlainScanner
        try:
            yield from reader.parse(self.plain.text)
        except InputError:
            raise
        except MarkedYAMLError as problem:
            what, mend, at = sentence(problem, self.plain.text)
            raise self.plain.refusal(at, what, mend) from None
        except ReaderError as problem:
            raise self.plain.refusal(
                min(problem.position, len(self.plain.text)),
                "a character here cannot be read",
                "delete it",
            ) from None
        except (ValueError, LookupError, TypeError, AttributeError, AssertionError):
            # What the library lets slip on malformed input, such as a version of 5,000 digits.
            raise self.plain.refusal(
                0, "the file is not written as YAML", "compare it with one that works"
            ) from None

    def _node(self, event: Any, at: int) -> None:
        if event.anchor is not None:
            raise self.plain.refusal(
                at, "a value cannot begin with &", "leave it out, or put the text in quotes"
            )
        if event.tag is not None:
            raise self.plain.refusal(
                at, "a value cannot begin with !", "leave it out, or put the text in quotes"
            )
        if isinstance(event, yaml_events.ScalarEvent):
            self._put(self._scalar(event, at))
            return
        if len(self.open) >= limits.NESTING:
            raise self.plain.placed(
                LimitError(
                    f"more than {limits.NESTING} lists inside one another",
                    mend="is a bracket not closed?",
                ),
                at,
            )
        keys = isinstance(event, yaml_events.MappingStartEvent)
        self.open.append(_Open(self.plain, keys, bool(event.flow_style), at))

    def _scalar(self, event: Any, at: int) -> Scalar:
        end = self._offset(event.end_mark)
        written = self.plain.text[at:end]
        if event.style == '"':
            return Scalar(_unescaped(event.value), written[1:-1], "double", at, end)
        if event.style == "'":
            return Scalar(event.value, written[1:-1], "single", at, end)
        if event.style in ("|", ">"):
            return Scalar(event.value, written, "block", at, end)
        return Scalar(event.value, written, "plain", at, end)

    def _put(self, node: Node) -> None:
        if self.open:
            self.open[-1].add(node)
        else:
            self.done = node

    def _offset(self, mark: Any) -> int:
        return min(int(mark.index), len(self.plain.text))

    def _refuse_extra_documents(self, event: Any, at: int, count: int) -> None:
        if count > 1:
            raise self.plain.refusal(at, "a second document begins here", "one file, one block")
        if event.version or event.tags:
            raise self.plain.refusal(
                self.plain.text.find("%"), "a line cannot begin with %", "delete the line"
            )


@dataclass
class _Open:
    """A list or a group of keys that is not closed yet."""

    plain: Document
    keys: bool
    flow: bool
    start: int
    items: list[Node] = field(default_factory=list)
    entries: list[tuple[Scalar, Node]] = field(default_factory=list)
    seen: dict[str, int] = field(default_factory=dict)
    key: Scalar | None = None

    def add(self, node: Node) -> None:
        if not self.keys:
            self.items.append(node)
        elif self.key is None:
            self.key = self._checked(node)
        else:
            self.entries.append((self.key, node))
            self.key = None

    def closed(self, end: int) -> Items | Keys:
        # The end of a group without brackets is known by its last value: the mark given for it
        # lies behind the comments and blank lines that follow.
        last = [*self.items, *(value for _, value in self.entries)][-1:]
        if not self.flow:
            end = last[0].end if last else self.start
        if self.keys:
            return Keys(tuple(self.entries), self.flow, self.start, end)
        return Items(tuple(self.items), self.flow, self.start, end)

    def _checked(self, node: Node) -> Scalar:
        if not isinstance(node, Scalar):
            raise self.plain.refusal(node, "a key is a single word", "write it as key: value")
        if node.text == "<<":
            raise self.plain.refusal(node, "<< is not used here", "write the keys out")
        if node.text in self.seen:
            first = self.plain.place(self.seen[node.text]).line
            raise self.plain.refusal(
                node,
                f'"{shortened(node.text)}" is already given in line {first}',
                "keep one of the two",
            )
        self.seen[node.text] = node.start
        return node


_ESCAPE = re.compile(r'\\(?:(["\\/])|x([0-9A-Fa-f]{2})|u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8}))')


def _unescaped(raw: str) -> str:
    def meant(match: re.Match[str]) -> str:
        if match[1]:
            return str(match[1])
        code = int(match[2] or match[3] or match[4], 16)
        printable = code < 0x110000 and chr(code).isprintable()
        return chr(code) if printable else str(match[0])

    return _ESCAPE.sub(meant, raw)


def shortened(text: str) -> str:
    """A text of the file as it is shown in a sentence: one line, no longer than a line.

    >>> shortened("star"), shortened("x" * 100)
    ('star', 'xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…')
    """
    seen = "".join(c if c.isprintable() else "\ufffd" for c in text)
    return seen if len(seen) <= 40 else f"{seen[:37]}…"
