from __future__ import annotations

from importlib.resources import files

import pytest

from seamproof.accuracy.model import MAKERS
from seamproof.errors import Stopped
from seamproof.pipeline import rehearsing
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.rehearsing import RehearsedWork, forecast_block, rehearse_block
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block_bytes
from tests.worked_out import memory

DEMO = files("seamproof.project") / "demo" / "blocks"
EVERYDAY = MAKERS["everyday"]
PINWHEEL = "name: Pinwheel\nfinished: 6\ncells:\n  - a\\b a/b\n  - b/a b\\a\n"
PLAIN = "name: Plain\nfinished: 6\ncells:\n  - a\n"
GAP = "name: Gap\nfinished: 8\ncells:\n  - a b\n  - b\n"


def worked(text: str | bytes) -> BlockWork:
    raw = text if isinstance(text, bytes) else text.encode()
    return work_block(read_block_bytes(raw, "b.yaml"), until="cutting", memory=memory())


def rehearsed(text: str | bytes, **asked: object) -> RehearsedWork:
    return rehearse_block(worked(text), EVERYDAY, **({"makers": 300, "seed": 1} | asked))  # type: ignore[arg-type]


@pytest.mark.parametrize("block", sorted(p.name for p in DEMO.iterdir() if p.name.endswith("yaml")))
def test_every_block_of_the_demo_is_rehearsed(block: str) -> None:
    done = rehearsed((DEMO / block).read_bytes())
    told = done.rehearsal
    assert told is not None
    # No everyday maker's block is half an inch off, and none comes out all alike.
    assert abs(told.width.mean - told.wanted[0]) < 0.25
    assert 0.01 < told.width.sd < 0.25
    assert sum(cost.share for cost in told.costs) == pytest.approx(1)
    assert all(advice.within > advice.before for advice in told.advice)
    assert [f.code for f in done.findings if f.code == 501] == [501]


def test_a_rehearsal_is_remembered_by_all_it_depends_on(monkeypatch: pytest.MonkeyPatch) -> None:
    memory = Memory()
    first = rehearsed(PINWHEEL, memory=memory)
    other = rehearsed(PINWHEEL, memory=memory, seed=2)
    assert other.rehearsal != first.rehearsal
    monkeypatch.setattr(rehearsing, "_rehearsed", lambda _: pytest.fail("drawn again"))
    assert rehearsed(PINWHEEL, memory=memory) == first
    renamed = PINWHEEL.replace("name: Pinwheel", "name: Mill")
    assert rehearsed(renamed, memory=memory).rehearsal == first.rehearsal


def test_the_same_seed_gives_the_same_makers() -> None:
    assert rehearsed(PINWHEEL).rehearsal == rehearsed(PINWHEEL).rehearsal


def test_one_patch_is_not_rehearsed() -> None:
    done = rehearsed(PLAIN)
    assert done.rehearsal is None
    assert [finding.code for finding in done.findings][-1] == 503
    assert forecast_block(worked(PLAIN), EVERYDAY) is None


def test_a_block_that_was_not_understood_is_not_rehearsed() -> None:
    done = rehearsed(GAP)
    assert done.rehearsal is None
    assert any(finding.severity == "error" for finding in done.findings)


def test_the_answer_at_once_is_near_the_makers() -> None:
    told = rehearsed(PINWHEEL, makers=4000).rehearsal
    at_once = forecast_block(worked(PINWHEEL), EVERYDAY)
    assert told is not None
    assert at_once is not None
    assert at_once.width.sd == pytest.approx(told.width.sd, rel=0.05)
    assert at_once.width.mean == pytest.approx(told.width.mean, abs=0.006)
    assert at_once.costs == told.costs
    for (limit, share), (same, drawn) in zip(at_once.within, told.within, strict=True):
        assert limit == same
        assert share == pytest.approx(drawn, abs=0.04)


def test_somebody_stops_it() -> None:
    answers = iter([False, True])
    with pytest.raises(Stopped):
        rehearsed(PINWHEEL, stop=lambda: next(answers))
