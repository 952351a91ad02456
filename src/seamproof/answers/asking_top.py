"""The question about the top: from a project's folder to the answer about it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from seamproof.answers.hand_off import hand_off_pdf, hand_off_table
from seamproof.answers.pictures import save_picture
from seamproof.answers.proposals import target_line
from seamproof.answers.setting import TopAnswer, top_answer
from seamproof.booklet.model import Paper
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import ProjectProgress, Stop
from seamproof.pipeline.setting import what_if, work_top
from seamproof.pipeline.top_pressing import Bench, press_top, thick_spots
from seamproof.project.reading import read_project
from seamproof.project.saving import save_bytes, save_text
from seamproof.setting.model import Setting

PICTURES = (".svg", ".png")
"""Names that end so ask for a picture."""


def top(
    folder: Path | str,
    *,
    picture: Path | str | None = None,
    bulk: Path | str | None = None,
    hand_off: Path | str | None = None,
    paper: Paper | None = None,
    targets: tuple[str, ...] = (),
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> TopAnswer:
    """How the blocks of a project become a top, and what finishes it.

    If it can be set, it is drawn to `picture`, from the front and in its order of sewing, its
    layers of cloth to `bulk`, and the page for the longarm quilter to `hand_off` with a table
    beside it: as a picture if its name ends so, else as PDF on `paper` or what the project prints
    on. `targets` are sizes for which the nearest settings are looked for. Raises SaveError if a
    file cannot be written.
    """
    work = work_top(
        read_project(folder), until="cutting", memory=memory, progress=progress, stop=stop
    )
    bench, memory = Bench(), memory or Memory()
    pressed, found = press_top(work, bench=bench, memory=memory, progress=progress, stop=stop)
    aims = what_if(work, targets) if targets else ()
    counted: dict[Setting, int | None] = {}
    if pressed is not None:
        counted[work.setting] = len(pressed.layers.spots)

    def thick(setting: Setting) -> int | None:
        if setting not in counted:
            counted[setting] = thick_spots(work, setting, bench=bench, memory=memory, stop=stop)
        return counted[setting]

    answer = top_answer(work, tuple(target_line(aim, thick) for aim in aims), pressed, found)
    if work.top is None:
        return answer
    drawn = answer.sheet_svg() if picture is not None else None
    if picture is not None and drawn is not None:
        save_picture(picture, drawn)
        answer = replace(answer, picture=str(picture))
    map_ = answer.bulk_svg() if bulk is not None else None
    if bulk is not None and map_ is not None:
        save_picture(bulk, map_)
        answer = replace(answer, bulk=str(bulk))
    page = answer.quilter_svg() if hand_off is not None else None
    if hand_off is not None and page is not None:
        table = Path(hand_off).with_suffix(".csv")
        if Path(hand_off).suffix.lower() in PICTURES:
            save_picture(hand_off, page)
        else:
            paper = paper or work.project.preferences.sheet
            save_bytes(hand_off, hand_off_pdf(answer, paper))
        save_text(table, hand_off_table(answer))
        answer = replace(answer, hand_off=(str(hand_off), str(table)))
    return answer
