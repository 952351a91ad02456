"""What the page can have made as files: a block's sheet, the booklet, the lists of the cloth.

Made in a worker and handed over whole: nothing is written to the disk on the way, so nothing is
left there by whoever stops it.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Literal

from seamproof.booklet.model import Edition, Paper
from seamproof.errors import InputError
from seamproof.findings import Finding
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import StageName, Stop
from seamproof.project.quilt_file import slug
from seamproof.project.reading import read_project
from seamproof.web.orders import source_of
from seamproof.web.views import Told, blocks_told, fabrics_told

Name = Literal["sheet", "booklet", "cloth"]

JOBS: tuple[Name, ...] = ("sheet", "booklet", "cloth")
"""What can be made."""

PAPERS: tuple[Paper, ...] = ("letter", "a4")

Files = list[tuple[str, bytes]]
Order = dict[str, Any]


def sheet(order: Order, memory: Memory, told: Told, stop: Stop) -> Files:
    """The sheet of one block, as PDF."""
    from seamproof.pipeline.sheets import make_sheet
    from seamproof.pipeline.working import work_block

    stages: list[StageName] = []

    def progress(stage: StageName) -> None:
        told(len(stages), 6, stage)
        stages.append(stage)

    source = source_of(order)
    work = work_block(source, memory=memory, progress=progress, stop=stop)
    pdf = make_sheet(work, paper=order["paper"], memory=memory, progress=progress, stop=stop)
    if pdf is None:
        raise _nothing(work.drawing.name, work.findings)
    return [(f"{source.path.stem}.pdf", pdf)]


def booklet(order: Order, memory: Memory, told: Told, stop: Stop) -> Files:
    """The pattern of the quilt: as PDF on one paper or both, and as one HTML page."""
    from seamproof.pipeline.booklets import page_of_pattern, print_pattern, work_booklet

    project = read_project(Path(order["folder"]))
    papers = PAPERS if order["paper"] is None else (order["paper"],)
    work = work_booklet(
        project, memory=memory, progress=blocks_told(told), laying=fabrics_told(told), stop=stop
    )
    if work.matter is None:
        raise _nothing(project.name, work.findings)
    options = {key: bool(order[key]) for key in ("large", "left", "line_art")}
    stem = "-".join(
        [slug(work.matter.name), *(k.replace("_", "-") for k, v in options.items() if v)]
    )
    files = []
    for number, paper in enumerate(papers):
        told(number, len(papers) + 1, "pages")
        edition = Edition(paper, *options.values())
        pdf = print_pattern(work.matter, edition, memory=memory, stop=stop)
        files.append((f"{stem}-{paper}.pdf", pdf))
    told(len(papers), len(papers) + 1, "page for the screen")
    edition = Edition(papers[0], *options.values())
    page = page_of_pattern(work.matter, edition, memory=memory, stop=stop)
    return [*files, (f"{stem}.html", page.encode())]


def cloth(order: Order, memory: Memory, told: Told, stop: Stop) -> Files:
    """What is cut, in which order, and what to buy, for a spreadsheet."""
    from seamproof.answers.asking_cloth import lay
    from seamproof.answers.cloth_lists import cutting_csv, order_csv, shopping_csv

    answer = lay(
        Path(order["folder"]),
        memory=memory,
        progress=blocks_told(told),
        laying=fabrics_told(told),
        stop=stop,
    )
    return [
        ("cutting-list.csv", cutting_csv(answer.work).encode()),
        ("cutting-order.csv", order_csv(answer.work).encode()),
        ("shopping-list.csv", shopping_csv(answer.work).encode()),
    ]


def _nothing(name: str, findings: tuple[Finding, ...]) -> InputError:
    first = next((finding.what for finding in findings if finding.severity == "error"), "")
    reason = f": {first}" if first else ""
    return InputError(
        f"{name} does not come out, so nothing is printed{reason}",
        mend="the notes say what to mend",
    )


MADE: dict[Name, Callable[[Order, Memory, Told, Stop], Files]] = {
    "sheet": sheet,
    "booklet": booklet,
    "cloth": cloth,
}
