"""A maker profile as a file, ``makers/NAME.yaml`` in the folder of a quilt.

`measured` is what ``seamproof measure`` found and may write anew; `typed` is what somebody wrote by
hand, goes before it, and is never touched. What neither says is that of the preset named in `like`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from seamproof.accuracy.model import MAKERS, Maker
from seamproof.errors import InputError
from seamproof.project import limits
from seamproof.project.block_file import check_format
from seamproof.project.fields import Fields
from seamproof.project.quilt_file import slug
from seamproof.project.writing import text as written_text
from seamproof.project.yaml_tree import Document, Node, document, read_document

FOLDER = "makers"

KEYS = ("seamproof", "name", "like", "from", "measured", "typed")

NUMBERS: Mapping[str, str] = {
    "seam": "seam",
    "between": "between",
    "scatter": "scatter",
    "drift": "drift",
    "cut": "cut",
    "cut bias": "cut_bias",
    "tilt": "tilt",
    "flush": "flush",
    "pin": "pin",
    "mark": "mark",
    "ruler": "ruler",
    "trim": "trim",
    "fold": "fold",
    "stretch": "stretch",
    "stretch scatter": "stretch_scatter",
}
"""The keys of `measured` and `typed`, and the field of the profile that each is."""

_SIGNED = ("seam", "cut bias")
_MOST = Fraction(1, 4)
"""What a maker errs by at most: a whole allowance. A stretch of a quarter is no cloth either."""

MEASURED = ("seam", "between", "scatter", "cut", "cut bias", "fold")
"""What a measurement may tell."""


@dataclass(frozen=True, slots=True)
class MakerFile:
    """A profile as it was read: what holds, what was measured, what was typed, and its text."""

    path: Path
    maker: Maker
    measured: Mapping[str, Fraction]
    typed: Mapping[str, Fraction]
    document: Document


@dataclass(frozen=True, slots=True)
class Change:
    """A measured number that a new measurement changes; None if it was not there."""

    key: str
    before: Fraction | None
    after: Fraction | None


def maker_path(folder: Path | str, name: str) -> Path:
    """Where the profile of a maker lies. Raises InputError for a name that a preset has.

    >>> maker_path("lamps", "Ada B.").as_posix()
    'lamps/makers/ada-b.yaml'
    """
    if not name.strip() or len(name) > limits.NAME_LENGTH:
        raise InputError("the maker has no usable name", mend="give her a short one")
    if slug(name) in MAKERS:
        raise InputError(
            f"{slug(name)} is the name of a profile that comes with the program",
            mend="choose another name",
        )
    return Path(folder) / FOLDER / f"{slug(name)}.yaml"


def known_makers(folder: Path | str) -> tuple[str, ...]:
    """The names, by file, of the profiles in the folder of a quilt."""
    place = Path(folder) / FOLDER
    return tuple(sorted(path.stem for path in place.glob("*.yaml"))) if place.is_dir() else ()


def read_maker(folder: Path | str, name: str) -> Maker:
    """The preset of that name, or the profile of that name in the folder of a quilt.

    Raises InputError if there is neither, or at the place of what cannot be read.
    """
    if name in MAKERS:
        return MAKERS[name]
    path = maker_path(folder, name)
    if not path.is_file():
        there = ", ".join([*MAKERS, *known_makers(folder)])
        raise InputError(f"there is no maker profile called {name}", mend=f"there are {there}")
    return maker_file(read_document(path), path).maker


def maker_file(made: Document, path: Path) -> MakerFile:
    """The profile that a file describes. Raises InputError at the place of what cannot be read."""
    said = Fields(made)
    values = said.keys(made.root, "a maker profile", KEYS, required=("name",))
    check_format(said, values)
    name = said.text(values["name"], "the name", limits.NAME_LENGTH)
    like = "everyday"
    if "like" in values:
        like = said.word(values["like"], "like", {key: key for key in MAKERS})
    if "from" in values:
        said.text(values["from"], "from")
    measured = _numbers(said, values.get("measured"), "measured")
    typed = _numbers(said, values.get("typed"), "typed")
    if not measured and not typed:
        raise said.refusal(made.root, "the profile says nothing", "add measured: or typed:")
    told = {NUMBERS[key]: float(value) for key, value in {**measured, **typed}.items()}
    maker = replace(MAKERS[like], name=name, assumed=not measured, **told)
    return MakerFile(path, maker, measured, typed, made)


def _numbers(said: Fields, node: Node | None, what: str) -> dict[str, Fraction]:
    if node is None:
        return {}
    found = {}
    for key, value in said.keys(node, what, tuple(NUMBERS)).items():
        number = said.amount(value, key, _MOST)
        if number < 0 and key not in _SIGNED:
            raise said.refusal(value, f"{key} is less than nothing", "leave out the minus")
        found[key] = number
    return found


def maker_text(maker: Maker, like: str, told: str, before: MakerFile | None = None) -> str:
    """The text of a profile's file. `told` says what it was measured from.

    Of the file that was there `before` only the group `measured` and `from` are written anew.
    """
    group = [f"measured:  # {_REMARK}", *_lines(maker, MAKERS[like])]
    if before is None:
        head = ["seamproof: 1", f"name: {written_text(maker.name)}", f"like: {like}"]
        return "\n".join([*head, f"from: {written_text(told)}", *group]) + "\n"
    made = before.document
    edits: list[tuple[int, int, str]] = []
    for key, value in made.root.entries:
        if key.text == "measured":
            edits.append((key.start, _line_end(made.text, value.end), "\n".join(group)))
        elif key.text == "from":
            edits.append((value.start, value.end, written_text(told)))
    text = made.text
    for begin, end, new in reversed(edits):
        text = text[:begin] + new + text[end:]
    if not any(key.text == "measured" for key, _ in made.root.entries):
        text = text.rstrip("\n") + "\n" + "\n".join(group) + "\n"
    maker_file(document(text.encode("utf-8"), str(before.path)), before.path)  # it must be read
    return text


_REMARK = "lengths in inches; what you write under typed: goes before it"


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end


def _lines(maker: Maker, like: Maker) -> list[str]:
    return [f"  {key}: {_shown(value)}" for key, value in measured_numbers(maker, like).items()]


def _shown(value: Fraction) -> str:
    return f"{float(value):.4f} in"


def measured_numbers(maker: Maker, like: Maker) -> dict[str, Fraction]:
    """What of a measured profile stands in its file, as it stands there: her seam, how well it is
    known, and whatever else is not that of the preset."""
    return {
        key: Fraction(f"{getattr(maker, NUMBERS[key]):.4f}")
        for key in MEASURED
        if key in ("seam", "between") or getattr(maker, NUMBERS[key]) != getattr(like, NUMBERS[key])
    }


def changes(before: MakerFile, maker: Maker, like: Maker) -> tuple[Change, ...]:
    """Which measured numbers a new measurement changes."""
    after = measured_numbers(maker, like)
    keys = [key for key in NUMBERS if key in before.measured or key in after]
    return tuple(
        Change(key, before.measured.get(key), after.get(key))
        for key in keys
        if before.measured.get(key) != after.get(key)
    )


__all__ = [
    "Change",
    "MakerFile",
    "changes",
    "known_makers",
    "maker_file",
    "maker_path",
    "maker_text",
    "measured_numbers",
    "read_maker",
]
