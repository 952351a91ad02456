"""The question of the kits: from a block, a quilt or one release of it to what lies in the bags."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from seamproof.answers.kits import KitsAnswer, bag_csv, bolts_csv, kits_answer
from seamproof.errors import InputError
from seamproof.findings import worst
from seamproof.pipeline.kits import KitWishes, work_kits
from seamproof.pipeline.laying import ClothProgress
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import ProjectProgress, Stop
from seamproof.programme.model import Level
from seamproof.project import limits
from seamproof.project.amounts import share_of, shop_length
from seamproof.project.saving import make_folder, save_bytes, save_text

_HAVE = re.compile(r" *([A-Za-z]{1,2}) *: *(.+)", re.DOTALL)


def kits(
    where: Path | str,
    *,
    people: int | None = None,
    spares: str | None = None,
    level: Level | None = None,
    release: int | None = None,
    have: Iterable[str] = (),
    size: str | None = None,
    colourway: str | None = None,
    output: Path | str | None = None,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    laying: ClothProgress | None = None,
    stop: Stop | None = None,
) -> KitsAnswer:
    """Kits for `people` of the block in a file, of the quilt in a folder, or of one `release`.

    What is None is as the quilt file's programme says. `spares` is a share, ``5%``; `have` names
    bolts that are there, ``a: 12 yd, 9 1/2 yd``. `size` and `colourway` are others than the quilt's
    own, by name. With `output` sheets to print and two lists are
    written to that folder. Raises InputError for what cannot be used, and SaveError if a file
    cannot be written.
    """
    memory = memory or Memory()
    if people is not None and not 1 <= people <= limits.COPIES:
        raise InputError(f"kits are for 1 to {limits.COPIES:,} people", mend="check the number")
    wishes = KitWishes(
        people=people,
        spares=None if spares is None else share_of(spares),
        level=level,
        release=release,
        have=tuple(_bolts(have)),
        size=size,
        colourway=colourway,
    )
    work = work_kits(where, wishes, memory=memory, progress=progress, laying=laying, stop=stop)
    answer = kits_answer(work)
    if output is None or worst(work.findings) == "error":
        return answer
    place = Path(output)
    make_folder(place)
    files = [place / "kits.pdf", place / "bag-list.csv", place / "bolts.csv"]
    from seamproof.pipeline.kit_pages import kit_pages

    save_bytes(files[0], kit_pages(work, answer.bag_pages()))
    save_text(files[1], bag_csv(answer))
    save_text(files[2], bolts_csv(answer))
    return replace(answer, files=tuple(map(str, files)))


def _bolts(have: Iterable[str]) -> Iterator[tuple[str, Fraction]]:
    for text in have:
        found = _HAVE.fullmatch(text)
        if found is None:
            raise InputError(
                f'"{text}" does not say of which fabric', mend='write it as "a: 12 yd, 9 1/2 yd"'
            )
        for part in found[2].split(","):
            yield found[1].lower(), shop_length(part)
