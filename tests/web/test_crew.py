"""Work that hangs, eats, dies or is not wanted any more hurts nobody else."""

from __future__ import annotations

import asyncio
import os
import random
import sys
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import pytest

from seamproof.web.crew import GRACE, Crew, Failed
from tests.web.calling import apart

PROGRAM = (sys.executable, str(Path(__file__).with_name("bad_worker.py")))


@pytest.fixture(autouse=True)
def sources(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", str(Path(__file__).parents[2] / "src"))


def with_crew(work: Callable[[Crew], Awaitable[Any]], **options: Any) -> Any:
    """What comes out of some work with a crew; afterwards none of its processes is left."""

    async def all_of_it() -> Any:
        crew = Crew(program=PROGRAM, **options)
        await crew.start()
        try:
            return await work(crew)
        finally:
            processes = crew.processes
            await crew.close()
            assert [p for p in processes if running(p)] == []

    return apart(all_of_it())


def running(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


async def gone(processes: set[int], within: float) -> float:
    """How long it takes until none of some processes runs."""
    begun = time.monotonic()
    while any(map(running, processes)):
        assert time.monotonic() - begun < within, "a worker outlived its work"
        await asyncio.sleep(0.005)
    return time.monotonic() - begun


def order(how: str, **more: Any) -> dict[str, Any]:
    return {"how": how, **more}


def test_orders_are_done_and_told() -> None:
    async def work(crew: Crew) -> None:
        told: list[Any] = []
        assert await crew.do("bad", order("fine", say=[1, None])) == [1, None]
        assert await crew.do("bad", order("tells"), told.append) == "told"
        assert told == [{"number": n} for n in range(5)]
        assert await crew.do("bad", order("prints")) == "printed"
        many = [crew.do("bad", order("fine", say=n)) for n in range(20)]
        assert await asyncio.gather(*many) == list(range(20))

    with_crew(work)


BAD = [
    ("eats", "more memory"),
    ("dies", "signal 11"),
    ("leaves", "code 3"),
    ("raises", "fault of seamproof"),
    ("refuses", "cannot be sewn"),
    ("no JSON", "fault of seamproof"),
]


def test_whatever_goes_wrong_has_a_reason_and_the_others_go_on() -> None:
    async def work(crew: Crew) -> None:
        other = asyncio.create_task(crew.do("bad", order("sleeps", seconds=1)))
        for how, reason in BAD:
            with pytest.raises(Failed, match=reason):
                await crew.do("bad", order(how))
            assert await crew.do("bad", order("fine", say=how)) == how
        assert await other == "slept"

    with_crew(work)


def test_what_takes_too_long_is_stopped() -> None:
    async def work(crew: Crew) -> None:
        await asyncio.sleep(0)
        assert await crew.do("bad", order("fine", say=1)) == 1
        with pytest.raises(Failed, match="longer than"):
            await crew.do("bad", order("spins"))

    with_crew(work, longest=3.0)


LATE = 10.0
"""Seconds that the short runs allow for what takes a fraction of one: a busy machine is not a fault
of the program. The long run is for a machine that has nothing else to do."""


def cancelling(times: int, seed: int) -> tuple[list[float], list[float]]:
    """Seconds from cancelling work at random moments until its worker is free or gone, and until
    whoever asked for it could go on."""
    dice = random.Random(seed)
    waited: list[float] = []

    async def work(crew: Crew) -> list[float]:
        took: list[float] = []
        for _ in range(times):
            how = dice.choice(["spins", "sleeps", "stops"])
            task = asyncio.create_task(crew.do("bad", order(how, seconds=60)))
            await asyncio.sleep(dice.random() * 0.05)
            before = set(crew.processes)
            begun = time.monotonic()
            task.cancel()
            with pytest.raises(asyncio.CancelledError):
                await task
            waited.append(time.monotonic() - begun)
            while crew.winding_down:
                await asyncio.sleep(0.002)
            took.append(time.monotonic() - begun)
            left = set(crew.processes)
            assert await crew.do("bad", order("fine", say=1)) == 1
            await gone(before - left, LATE)
        return took

    return with_crew(work), waited


def test_what_is_not_wanted_any_more_ends_soon() -> None:
    took, waited = cancelling(5, 1)
    assert max(took) < GRACE + LATE
    assert max(waited) < LATE


@pytest.mark.soak
def test_two_hundred_cancelled() -> None:
    took, waited = cancelling(200, 2)
    assert max(took) < 0.5
    assert max(waited) < 0.1


def test_what_is_enough_is_the_best_so_far() -> None:
    async def work(crew: Crew) -> None:
        enough = asyncio.Event()
        told: list[int] = []

        def tell(message: dict[str, int]) -> None:
            told.append(message["best"])
            if len(told) == 5:
                enough.set()

        best = await crew.do("bad", {"how": "betters"}, tell, enough=enough)
        assert best == told[-1] >= 5
        assert await crew.do("bad", order("fine", say="still there")) == "still there"

    with_crew(work)
