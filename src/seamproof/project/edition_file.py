"""What ``quilt.yaml`` says about other sizes and colourways of the same quilt."""

from __future__ import annotations

from collections.abc import Callable, Container, Sequence

from seamproof.draft.model import Fabric
from seamproof.project import limits
from seamproof.project.fields import Fields
from seamproof.project.model import Colourway, QuiltSize, Supply
from seamproof.project.setting_file import SETTING_KEYS, setting_of
from seamproof.project.yaml_tree import Keys, Node

COLOURWAY_KEYS = ("name", "fabrics")
SIZE_KEYS = ("name", *SETTING_KEYS)

MOST_EDITIONS = 24
"""Sizes, and colourways."""


def sizes_of(fields: Fields, node: Node, setting: Node | None) -> tuple[QuiltSize, ...]:
    """Other sizes: each a setting that says only what differs from the quilt's own.

    Raises InputError at the place of whatever cannot be read.
    """
    found: dict[str, QuiltSize] = {}
    for item in fields.items(node, "sizes", MOST_EDITIONS, "write each as - {name: Crib, rows: …}"):
        values = fields.keys(item, "a size", SIZE_KEYS, required=("name",))
        name = _name(fields, values["name"], found)
        assert isinstance(item, Keys)
        own = tuple(entry for entry in item.entries if entry[0].text != "name")
        given = {key.text for key, _ in own}
        base = setting.entries if isinstance(setting, Keys) else ()
        kept = tuple(entry for entry in base if entry[0].text not in given)
        merged = Keys((*kept, *own), item.flow, item.start, item.end)
        found[name] = QuiltSize(name, setting_of(fields, merged))
    return tuple(found.values())


def colourways_of(
    fields: Fields,
    node: Node,
    fabrics: Sequence[Fabric],
    read: Callable[[Fields, Node], tuple[tuple[Fabric, ...], tuple[tuple[str, Supply], ...]]],
) -> tuple[Colourway, ...]:
    """Other colourways: the fabrics that differ, under the letters that the quilt has."""
    letters = {fabric.letter for fabric in fabrics}
    found: dict[str, Colourway] = {}
    for item in fields.items(node, "colourways", MOST_EDITIONS, "write each as - {name: Dusk, …}"):
        values = fields.keys(item, "a colourway", COLOURWAY_KEYS, required=COLOURWAY_KEYS)
        name = _name(fields, values["name"], found)
        changed, supplies = read(fields, values["fabrics"])
        for fabric in changed:
            if fabric.letter not in letters:
                raise fields.refusal(
                    values["fabrics"],
                    f"the quilt has no fabric {fabric.letter.upper()} to be changed",
                    f"there are {', '.join(sorted(letters))}",
                )
        found[name] = Colourway(name, changed, supplies)
    return tuple(found.values())


def _name(fields: Fields, node: Node, taken: Container[str]) -> str:
    name = fields.text(node, "the name", limits.NAME_LENGTH)
    if name in taken:
        raise fields.refusal(node, f'the name "{name}" is already taken', "choose another")
    return name
