"""How a top is sewn and pressed, as the booklet tells it, remembered like any other result."""

from __future__ import annotations

from seamproof.booklet.matter import BlockMatter, SewnKind, SewnTop
from seamproof.pipeline.memory import Memory, Stage
from seamproof.pipeline.model import Stop
from seamproof.pipeline.setting import TopWork
from seamproof.pipeline.top_pressing import press_top
from seamproof.setting.model import Top

SEWING: Stage[tuple[Top, tuple[BlockMatter, ...]], SewnTop | None] = Stage(
    "top-sewing",
    takes=tuple[Top, tuple[BlockMatter, ...]],
    gives=SewnTop | None,
    stands_on=("shapely", "numpy"),
)


def sewn_top(
    work: TopWork, blocks: tuple[BlockMatter, ...], *, memory: Memory, stop: Stop | None = None
) -> SewnTop | None:
    """The order of sewing with its presses; None if a block cannot be pressed. `blocks` are those
    of the work, as the booklet has them.

    Raises Stopped if `stop` says so.
    """

    def made() -> SewnTop | None:
        pressed, _ = press_top(work, memory=memory, stop=stop)
        if pressed is None:
            return None
        kinds = tuple(
            SewnKind(
                name,
                pressed.variants[name].called,
                pressed.variants[name].block,
                one.pressed.plan.presses,
            )
            for name, one in pressed.blocks.items()
            if one.pressed is not None
        )
        return SewnTop(pressed.top, pressed.presses, kinds)

    assert work.top is not None
    return memory.recall(SEWING, (work.top, blocks), made)
