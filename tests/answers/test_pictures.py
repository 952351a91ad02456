from __future__ import annotations

from pathlib import Path

import pytest

from seamproof.answers.asking_press import bulk
from seamproof.answers.asking_top import top
from seamproof.answers.pictures import save_picture
from seamproof.errors import SaveError

SMALL = '<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in"></svg>'


@pytest.mark.parametrize(
    ("name", "begin"), [("map.svg", b"<svg"), ("map.png", b"\x89PNG"), ("MAP.PNG", b"\x89PNG")]
)
def test_the_name_decides(tmp_path: Path, name: str, begin: bytes) -> None:
    save_picture(tmp_path / name, SMALL)
    assert (tmp_path / name).read_bytes().startswith(begin)


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(SaveError):
        save_picture(tmp_path / "none" / "map.png", SMALL)


def test_the_layers_of_a_block_as_pixels(tmp_path: Path) -> None:
    block = tmp_path / "four.yaml"
    block.write_text("name: Four\nfinished: 4\ncells:\n  - a b\n  - b a\n", encoding="utf-8")
    bulk(block, output=tmp_path / "map.png")
    assert (tmp_path / "map.png").read_bytes().startswith(b"\x89PNG")


def test_every_picture_of_the_top_as_pixels(tmp_path: Path) -> None:
    """Pictures of a whole top go the same way as those of a block."""
    (tmp_path / "quilt.yaml").write_text(
        "name: Small\nfabrics:\n  - {letter: a, name: Ash}\n  - {letter: b, name: Bark}\n"
        "blocks: [four.yaml]\nsetting:\n  rows:\n    - [four]\n",
        encoding="utf-8",
    )
    block = "name: four\nfinished: 4\ncells:\n  - a b\n  - b a\n"
    (tmp_path / "four.yaml").write_text(block, encoding="utf-8")
    paths = [tmp_path / f"{name}.png" for name in ("picture", "bulk", "hand-off")]
    top(tmp_path, picture=paths[0], bulk=paths[1], hand_off=paths[2])
    for path in paths:
        assert path.read_bytes().startswith(b"\x89PNG"), path.name
