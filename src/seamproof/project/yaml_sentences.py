"""What the YAML library says about a file, in a quilter's words."""

from __future__ import annotations

from ruamel.yaml.error import MarkedYAMLError

_LINE_UP = "begin the keys of one group, and the dashes of one list, in the same column"


def sentence(problem: MarkedYAMLError, text: str) -> tuple[str, str, int]:
    """What is wrong, what to do about it, and the offset in `text` where it is."""
    said = f"{problem.problem or ''} {problem.context or ''}"
    here = _offset(problem.problem_mark, text)
    began = _offset(problem.context_mark, text) if problem.context_mark else here
    what, mend, at_beginning = _translated(said, text, here, began)
    return what, mend, began if at_beginning else here


def _translated(said: str, text: str, here: int, began: int) -> tuple[str, str, bool]:
    """What, mend, and whether the place is where the thing began rather than where it failed."""
    if "quoted scalar" in said:
        return "this quote is not closed", "put the same quote sign at the end", True
    if "could not find expected ':'" in said:
        return *_no_colon(text, began), True
    if "mapping values are not allowed" in said:
        return _colon(text, here)
    if "sequence entries are not allowed" in said:
        return (
            "a list cannot begin here",
            "write the list beneath its key, each line beginning with a dash and a space",
            False,
        )
    if "cannot start any token" in said:
        if text[here : here + 1] == "\t":
            return "a tab stands here", "indent with spaces", False
        return (
            f"a value cannot begin with {text[here : here + 1]}",
            "put the text in quotes",
            False,
        )
    if "flow sequence" in said or "flow mapping" in said or "flow node" in said:
        return _in_brackets(text, here, began)
    if "<block end>" in said:
        return _out_of_line(text, here)
    if "document start" in said or "document end marker" in said:
        return "this stands outside of the keys", _LINE_UP, False
    if "block scalar" in said:
        return "a text cannot begin like this", "put it in quotes", False
    if "anchor" in said or "alias" in said or "tag" in said or "URI" in said:
        return "a value cannot begin with &, * or !", "put the text in quotes", False
    if "directive" in said or "YAML" in said:
        return "a line cannot begin with %", "delete the line", False
    if "node content" in said:
        return "a value is missing here", "write one, or delete the key", False
    return "this cannot be read", _LINE_UP, False


def _no_colon(text: str, began: int) -> tuple[str, str]:
    line = text[began:].partition("\n")[0]
    if line.startswith("-"):
        return "there is no space behind the dash", "write a dash, a space and then the value"
    if ":" in line:
        return "there is no space behind the colon", "write it as key: value"
    return "there is no colon behind this key", "write it as key: value"


def _colon(text: str, here: int) -> tuple[str, str, bool]:
    line_start = text.rfind("\n", 0, here) + 1
    if ":" in text[line_start:here]:
        return "there is a second colon in this line", "put a text that holds one in quotes", False
    return (
        "this key cannot begin here",
        f"is a colon missing in the line above? Otherwise {_LINE_UP}",
        False,
    )


def _in_brackets(text: str, here: int, began: int) -> tuple[str, str, bool]:
    opening = text[began : began + 1]
    closing = {"[": "]", "{": "}"}.get(opening)
    if closing is None:
        return "a value is missing here", "write one between the commas", False
    if here >= len(text.rstrip()) or "\n" in text[began:here]:
        return f"this {opening} is not closed", f"put {closing} at the end", True
    return (
        "something is wrong inside these brackets",
        f"part the values with commas and close with {closing}",
        False,
    )


def _out_of_line(text: str, here: int) -> tuple[str, str, bool]:
    line_start = text.rfind("\n", 0, here) + 1
    if text[line_start:here].strip(" -"):
        return (
            "this does not belong here",
            "put a text with signs in it in quotes, all of it; close every bracket once",
            False,
        )
    return "this line does not line up with those above", _LINE_UP, False


def _offset(mark: object, text: str) -> int:
    """The offset of a mark; the end of the file counts as the end of its last written line."""
    index = getattr(mark, "index", 0)
    return min(int(index), len(text.rstrip()))
