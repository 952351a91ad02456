"""What ``quilt.yaml`` says, taken from its tree into a project."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Literal

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Fabric
from seamproof.errors import InputError
from seamproof.length.notation import Measure
from seamproof.project import limits
from seamproof.project.block_file import check_format
from seamproof.project.cloth_fields import BUYING_KEYS, SUPPLY_KEYS, buying, supply
from seamproof.project.edition_file import colourways_of, sizes_of
from seamproof.project.fields import Fields
from seamproof.project.model import Colourway, Preferences, Project, QuiltSize, Supply
from seamproof.project.palette import Value, fabrics_from_palette, value_of
from seamproof.project.press_fields import PRESS_KEYS, press_settings
from seamproof.project.programme_file import programme_of
from seamproof.project.setting_file import setting_of
from seamproof.project.unit_fields import methods, unit_kind
from seamproof.project.words_file import WORDS_FILE
from seamproof.project.yaml_tree import Document, Node, Scalar, read_document, shortened

QUILT_FILE = "quilt.yaml"
BLOCK_ENDINGS = (".yaml", ".yml")

KEYS = (
    "seamproof",
    "name",
    "fabrics",
    "preferences",
    "blocks",
    "setting",
    "programme",
    "sizes",
    "colourways",
)
FABRIC_KEYS = (
    *("letter", "name", "role", "colour", "value", "usable width", "directional"),
    *SUPPLY_KEYS,
)
PREFERENCE_KEYS = (
    *("measure", "seam", "ruler", "sizes", "oversize", "maker", "method", "paper"),
    *BUYING_KEYS,
    *PRESS_KEYS,
)

VALUES: Mapping[str, Value] = {
    "light": "light",
    "light-medium": "light-medium",
    "medium-light": "medium-light",
    "medium": "medium",
    "medium-dark": "medium-dark",
    "dark": "dark",
}
MEASURES: Mapping[str, Measure] = {
    "inches": "in",
    "inch": "in",
    "in": "in",
    "cm": "cm",
    "centimetres": "cm",
    "centimeters": "cm",
}

AUTO: Mapping[str, int] = {"auto": 95, "auto 99": 99}
"""How an oversize is left to the program, and for how many of 100 makers it shall be enough."""

_COLOUR = re.compile("#?([0-9A-Fa-f]{6})")
_FINEST_STEP = Fraction(1, 64)
_NARROWEST_CLOTH = Fraction(1)


def quilt_project(document: Document, folder: Path) -> Project:
    """The project that a quilt file in `folder` describes; block files are looked for there.

    Raises InputError at the place of whatever cannot be read.
    """
    fields = Fields(document)
    values = fields.keys(document.root, "a quilt", KEYS, required=("name", "fabrics"))
    check_format(fields, values)
    name = fields.text(values["name"], "the name", limits.NAME_LENGTH)
    preferences = _preferences(fields, values["preferences"]) if "preferences" in values else None
    preferences = preferences or Preferences()
    fields = Fields(document, preferences.measure)
    fabrics, supplies = _fabrics(fields, values["fabrics"])
    files = block_files(folder)
    if "blocks" in values:
        files = _in_order(fields, values["blocks"], files)
    if len(files) > limits.BLOCKS:
        raise fields.too_much(document.root, f"the quilt has more than {limits.BLOCKS} blocks")
    setting = setting_of(fields, values["setting"]) if "setting" in values else None
    programme = programme_of(fields, values["programme"]) if "programme" in values else None
    sizes: tuple[QuiltSize, ...] = ()
    if "sizes" in values:
        sizes = sizes_of(fields, values["sizes"], values.get("setting"))
    colourways: tuple[Colourway, ...] = ()
    if "colourways" in values:
        colourways = colourways_of(fields, values["colourways"], fabrics, _fabrics)
    return Project(
        *(folder, name, fabrics, preferences, files),
        given=True,
        supplies=supplies,
        setting=setting,
        programme=programme,
        sizes=sizes,
        colourways=colourways,
    )


def block_files(folder: Path) -> tuple[Path, ...]:
    """The block files of a folder: those in ``blocks`` and those beside the quilt file, by name."""
    found: list[Path] = []
    for place in (folder / "blocks", folder):
        if place.is_dir():
            found += sorted(
                path
                for path in place.iterdir()
                if path.suffix in BLOCK_ENDINGS
                and path.name not in (QUILT_FILE, WORDS_FILE)
                and not path.name.startswith(".")
                and path.is_file()
            )
    return tuple(found)


def slug(name: str) -> str:
    """A file name, without ending, for a name: small letters, digits and hyphens.

    Names that Windows keeps for devices get a word in front.

    >>> slug("Lit Window"), slug("Cardinal Mark, straight seams"), slug("Café №5"), slug("***")
    ('lit-window', 'cardinal-mark-straight-seams', 'café-5', 'block')
    >>> slug("Con")
    'block-con'
    """
    words = re.findall(r"[^\W_]+", name.lower())
    made = "-".join(word for word in words if word.isalnum())[: limits.NAME_LENGTH].strip("-")
    reserved = re.fullmatch("con|prn|aux|nul|com[0-9]|lpt[0-9]", made)
    return f"block-{made}" if reserved else made or "block"


def _fabrics(
    fields: Fields, node: Node
) -> tuple[tuple[Fabric, ...], tuple[tuple[str, Supply], ...]]:
    """The fabrics, and by letter what there is of those of which more is said."""
    mend = 'write each as - {letter: a, name: Sea mist, colour: "#F2EFE6"}'
    fabrics: dict[str, Fabric] = {}
    supplies: dict[str, Supply] = {}
    for item in fields.items(node, "fabrics", limits.FABRICS, mend):
        values = fields.keys(item, "a fabric", FABRIC_KEYS, required=("letter",))
        letter = fields.fabric(values["letter"])
        if letter in fabrics:
            raise fields.refusal(
                values["letter"], f'the letter "{letter}" is already taken', "choose another"
            )
        fabrics[letter] = _fabric(fields, letter, values)
        if any(key in values for key in SUPPLY_KEYS):
            supplies[letter] = supply(fields, values)
    return tuple(fabrics.values()), tuple(supplies.items())


def _fabric(fields: Fields, letter: str, values: Mapping[str, Node]) -> Fabric:
    usual = fabrics_from_palette([letter])[0]
    colour = _colour(fields, values["colour"]) if "colour" in values else usual.colour
    name = fields.text(values["name"], "the name", limits.NAME_LENGTH) if "name" in values else ""
    value = fields.word(values["value"], "value", VALUES) if "value" in values else None
    width = Preferences(fields.measure).cutting().usable_width
    if "usable width" in values:
        width = fields.length(
            values["usable width"], "the usable width", _NARROWEST_CLOTH, limits.WIDEST_CLOTH
        )
    return Fabric(
        letter=letter,
        name=name or ("Fabric " + letter.upper() if "colour" in values else usual.name),
        colour=colour,
        value=value or value_of(colour),
        role=fields.text(values["role"], "role") if "role" in values else "",
        usable_width=width,
        directional="directional" in values and fields.yes(values["directional"], "directional"),
    )


def _colour(fields: Fields, node: Node) -> str:
    text = fields.text(node, "colour")
    match = _COLOUR.fullmatch(text)
    if not match:
        raise fields.refusal(
            node,
            f'"{shortened(text)}" is not a colour',
            'write it as six signs 0-9 and A-F, in quotes: "#7AB0AD"',
        )
    return f"#{match[1].upper()}"


def _preferences(fields: Fields, node: Node) -> Preferences:
    values = fields.keys(node, "preferences", PREFERENCE_KEYS)
    measure: Measure = "in"
    if "measure" in values:
        measure = fields.word(values["measure"], "measure", MEASURES)
    fields = Fields(fields.document, measure)
    seam = ruler = None
    if "seam" in values:
        seam = fields.length(values["seam"], "the seam", _FINEST_STEP, limits.WIDEST_SEAM)
    if "ruler" in values:
        ruler = fields.length(values["ruler"], "the ruler's step", _FINEST_STEP, Fraction(1))
    sizes: Mapping[str, Literal["trimmed", "exact"]] = {"trimmed": "trimmed", "exact": "exact"}
    papers: Mapping[str, Literal["letter", "a4"]] = {"letter": "letter", "a4": "a4"}
    oversize, auto = _oversize(fields, values["oversize"]) if "oversize" in values else ((), ())
    maker = "everyday"
    if "maker" in values:
        maker = fields.text(values["maker"], "the maker", limits.NAME_LENGTH)
    return Preferences(
        measure=measure,
        seam=seam,
        ruler=ruler,
        sizes=fields.word(values["sizes"], "sizes", sizes) if "sizes" in values else "trimmed",
        oversize=oversize,
        auto=auto,
        maker=maker,
        methods=methods(fields, values["method"]) if "method" in values else (),
        paper=fields.word(values["paper"], "paper", papers) if "paper" in values else None,
        bought=buying(fields, values, measure)
        if any(key in values for key in BUYING_KEYS)
        else None,
        pressing=press_settings(fields, values),
    )


def _oversize(
    fields: Fields, node: Node
) -> tuple[tuple[tuple[str, Fraction], ...], tuple[tuple[str, int], ...]]:
    """What is added to kinds of units, and of which it is worked out for how many of 100 makers."""
    if isinstance(node, Scalar):
        share = AUTO[fields.word(node, "oversize", {word: word for word in AUTO})]
        return (), tuple((kind, share) for kind in CuttingSettings().oversize)
    found: dict[str, Fraction] = {}
    auto: dict[str, int] = {}
    for key, value in fields.named(node, "oversize", limits.UNITS):
        kind = unit_kind(fields, key)
        if kind in found or kind in auto:
            raise fields.refusal(key, f"the oversize of {kind} is given twice", "keep one")
        if isinstance(value, Scalar) and value.text.strip().lower() in AUTO:
            auto[kind] = AUTO[value.text.strip().lower()]
        else:
            found[kind] = fields.length(value, "the oversize", Fraction(0), limits.WIDEST_SEAM)
    return tuple(found.items()), tuple(auto.items())


def _in_order(fields: Fields, node: Node, files: Sequence[Path]) -> tuple[Path, ...]:
    """The block files that `blocks` names, by file name, by slug or by the name in the file."""
    by_word: dict[str, Path] = {}
    for file in reversed(files):
        by_word |= {file.name: file, file.stem: file, f"{file.parent.name}/{file.name}": file}
    chosen: list[Path] = []
    for item in fields.items(node, "blocks", limits.BLOCKS, "write each on a line: - Lit Window"):
        word = fields.text(item, "a block")
        path = by_word.get(word) or by_word.get(slug(word)) or _by_name(word, files)
        if path is None:
            near = difflib.get_close_matches(slug(word), [file.stem for file in files], n=1)
            raise fields.refusal(
                item,
                f'there is no block "{shortened(word)}" in this folder',
                f'did you mean "{near[0]}"?' if near else "put its file into the folder blocks",
            )
        if path in chosen:
            raise fields.refusal(item, f'"{shortened(word)}" is listed twice', "keep one")
        chosen.append(path)
    return tuple(chosen)


def _by_name(name: str, files: Sequence[Path]) -> Path | None:
    for path in files:
        try:
            node = read_document(path).root.get("name")
        except InputError:
            continue  # whoever asks for that block hears what is wrong with it
        if isinstance(node, Scalar) and node.text == name:
            return path
    return None
