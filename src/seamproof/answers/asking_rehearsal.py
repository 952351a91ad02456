"""The question of the rehearsal: from a file to how it comes out in real hands."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from seamproof.answers.pictures import save_picture
from seamproof.answers.rehearsing import RehearseAnswer, rehearse_answer
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import Progress, Stop
from seamproof.pipeline.rehearsing import rehearse_block
from seamproof.pipeline.working import work_block
from seamproof.project.maker_file import read_maker
from seamproof.project.reading import read_block


def rehearse(
    file: Path | str,
    *,
    maker: str | None = None,
    makers: int = 10_000,
    seed: int = 1,
    picture: Path | str | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> RehearseAnswer:
    """How the block in a file comes out when `makers` of the profile `maker` sew it; else of the
    one that the project names.

    The same `seed` gives the same makers. If it was rehearsed, a hundred of them are drawn to
    `picture` as SVG. Raises InputError if there is no such profile, and SaveError if the picture
    cannot be written.
    """
    source = read_block(file)
    profile = read_maker(
        source.project.folder or Path(file).parent, maker or source.project.preferences.maker
    )
    work = work_block(source, until="cutting", memory=memory, progress=progress, stop=stop)
    done = rehearse_block(
        work, profile, makers=makers, seed=seed, memory=memory, progress=progress, stop=stop
    )
    answer = rehearse_answer(done, makers, seed)
    drawn = answer.svg() if picture is not None else None
    if picture is None or drawn is None:
        return answer
    save_picture(picture, drawn)
    return replace(answer, picture=str(picture))
