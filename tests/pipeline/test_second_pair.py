"""A second process works out blocks of the same quilt, and nothing depends on it."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from seamproof.findings import Where
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.pressing import PRESSING
from seamproof.pipeline.second_pair import second_pair
from seamproof.pipeline.working import PIECING, nameless, work_block
from seamproof.project.model import Project
from seamproof.project.reading import read_block, read_project

BLOCK = "name: {}\nfinished: {}\ncells:\n  - a b\n  - b a/b\n"
AT_MOST = 60.0
"""Seconds that the second process may take on a busy machine."""

Started = list["subprocess.Popen[str]"]


@pytest.fixture
def quilt(tmp_path: Path) -> Project:
    folder = tmp_path / "quilt"
    folder.mkdir()
    for number, name in enumerate(("first", "second", "third")):
        (folder / f"{name}.yaml").write_text(BLOCK.format(name, 6 + number), "utf-8")
    return read_project(folder)


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> Started:
    """The processes that were started."""
    found: Started = []
    usual = subprocess.Popen

    def popen(*arguments: Any, **more: Any) -> Any:
        found.append(usual(*arguments, **more))
        return found[-1]

    monkeypatch.setattr(subprocess, "Popen", popen)
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    return found


def test_it_leaves_what_it_did_in_the_memory_and_is_gone(
    quilt: Project, tmp_path: Path, started: Started
) -> None:
    memory = Memory(tmp_path / "memory")
    copies = dict.fromkeys(quilt.blocks, 3)
    with second_pair(quilt, quilt.blocks, copies, memory) as turn:
        turn(quilt.blocks[0])
        end = time.monotonic() + AT_MOST
        while len(list(tmp_path.glob(f"memory/{PRESSING.name}-*"))) < 2:
            assert time.monotonic() < end, "the second process did nothing"
            time.sleep(0.02)
    assert [process.returncode is not None for process in started] == [True]
    known = []
    for path in quilt.blocks:
        block = work_block(read_block(path), until="draft").block
        assert block is not None
        known.append(memory.knows(PIECING, (nameless(block, Where())[0],)))
    assert known == [False, True, True]  # the first one was left to the first process
    last = read_block(quilt.blocks[-1])
    assert work_block(last, copies=3, memory=memory) == work_block(last, copies=3)


def test_one_that_dies_keeps_nobody_waiting(
    quilt: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, started: Started
) -> None:
    dies = tmp_path / "dies"
    dies.write_text(f"#!/bin/sh\necho begun {quilt.blocks[0]}\n", "utf-8")
    dies.chmod(0o755)
    monkeypatch.setattr(sys, "executable", str(dies))
    memory = Memory(tmp_path / "memory")
    with second_pair(quilt, quilt.blocks, {}, memory) as turn:
        started[0].wait(AT_MOST)
        for path in quilt.blocks:
            turn(path)


@pytest.mark.parametrize("why", ["no folder", "fresh", "few blocks", "one processor"])
def test_there_is_none_where_it_would_be_of_no_use(
    why: str, quilt: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, started: Started
) -> None:
    folder = None if why == "no folder" else tmp_path / "memory"
    if why == "one processor":
        monkeypatch.setattr(os, "cpu_count", lambda: 1)
    some = quilt.blocks[:2] if why == "few blocks" else quilt.blocks
    with second_pair(quilt, some, {}, Memory(folder, fresh=why == "fresh")) as turn:
        turn(quilt.blocks[0])
    assert started == []
