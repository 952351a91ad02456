from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.cutting.model import CuttingSettings
from seamproof.pipeline import memory as memory_module
from seamproof.pipeline.memory import Memory, Stage, users_folder

Sum = Stage[tuple[Fraction, int], tuple[Fraction, ...] | None]

SUM: Sum = Stage("sum", takes=tuple[Fraction, int], gives=tuple[Fraction, ...] | None)
OTHER: Sum = Stage("other", takes=tuple[Fraction, int], gives=tuple[Fraction, ...] | None)

INPUTS = (Fraction(39, 8), 3)
RESULT = (Fraction(1, 3), Fraction(7))


class Work:
    """Counts how often it is done."""

    def __init__(self, result: tuple[Fraction, ...] | None = RESULT) -> None:
        self.result = result
        self.times = 0

    def __call__(self) -> tuple[Fraction, ...] | None:
        self.times += 1
        return self.result


def test_what_was_worked_out_is_found_again_in_the_process() -> None:
    memory, work = Memory(), Work()
    assert [memory.recall(SUM, INPUTS, work) for _ in range(3)] == [RESULT] * 3
    assert work.times == 1


def test_and_by_another_process(tmp_path: Path) -> None:
    work = Work()
    assert [Memory(tmp_path).recall(SUM, INPUTS, work) for _ in range(3)] == [RESULT] * 3
    assert work.times == 1


def test_that_there_is_no_result_is_a_result(tmp_path: Path) -> None:
    work = Work(None)
    assert [Memory(tmp_path).recall(SUM, INPUTS, work) for _ in range(2)] == [None, None]
    assert work.times == 1


@pytest.mark.parametrize(
    ("stage", "inputs"), [(OTHER, INPUTS), (SUM, (Fraction(39, 8), 4)), (SUM, (Fraction(5), 3))]
)
def test_what_changed_has_another_key(
    tmp_path: Path, stage: Sum, inputs: tuple[Fraction, int]
) -> None:
    Memory(tmp_path).recall(SUM, INPUTS, Work())
    other = Work((Fraction(2),))
    assert Memory(tmp_path).recall(stage, inputs, other) == (Fraction(2),)
    assert other.times == 1


def test_other_code_has_another_key(monkeypatch: pytest.MonkeyPatch) -> None:
    before = SUM.key(INPUTS)
    monkeypatch.setattr(memory_module, "code_mark", lambda: "0" * 64)
    assert SUM.key(INPUTS) != before


def test_the_solvers_version_is_in_the_key(monkeypatch: pytest.MonkeyPatch) -> None:
    stage: Sum = Stage("sum", takes=SUM.takes, gives=SUM.gives, stands_on=("highspy",))
    before = stage.key(INPUTS)
    monkeypatch.setattr(memory_module, "version_of", lambda _name: "9.9")
    assert stage.key(INPUTS) != before != SUM.key(INPUTS)


def test_settings_are_in_the_key_in_their_order() -> None:
    stage: Stage[CuttingSettings, int] = Stage("s", takes=CuttingSettings, gives=int)
    one = CuttingSettings(methods={"hst": "two", "geese": "four"})
    again = CuttingSettings(methods={"hst": "two", "geese": "four"})
    other = CuttingSettings(methods={"geese": "four", "hst": "two"})
    assert stage.key(one) == stage.key(again)
    assert len({stage.key(each) for each in (one, other, CuttingSettings())}) == 3


def test_fresh_looks_nothing_up_but_keeps(tmp_path: Path) -> None:
    Memory(tmp_path).recall(SUM, INPUTS, Work((Fraction(9),)))
    assert Memory(tmp_path, fresh=True).recall(SUM, INPUTS, Work()) == RESULT
    assert Memory(tmp_path).recall(SUM, INPUTS, Work((Fraction(9),))) == RESULT


def test_a_damaged_file_is_as_good_as_none(tmp_path: Path) -> None:
    Memory(tmp_path).recall(SUM, INPUTS, Work())
    (file,) = tmp_path.iterdir()
    whole = file.read_bytes()
    damages = [whole[:n] for n in range(len(whole))]
    damages += [
        whole[:n] + bytes([whole[n] ^ bit]) + whole[n + 1 :]
        for n in range(len(whole))
        for bit in (1, 128)
    ]
    for damage in damages:
        file.write_bytes(damage)
        work = Work()
        assert Memory(tmp_path).recall(SUM, INPUTS, work) == RESULT
        assert work.times == 1, damage


def test_a_file_of_another_form_is_as_good_as_none(tmp_path: Path) -> None:
    Memory(tmp_path).recall(SUM, INPUTS, Work())
    (file,) = tmp_path.iterdir()
    plain = b'{"neither": "a sum"}'
    file.write_bytes(memory_module._mark(plain).encode() + b"\n" + plain)
    assert Memory(tmp_path).recall(SUM, INPUTS, Work()) == RESULT


def test_what_was_of_no_use_for_longest_goes_first(tmp_path: Path) -> None:
    def inputs(number: int) -> tuple[Fraction, int]:
        return Fraction(number), number

    def path(number: int) -> Path:
        return tmp_path / f"sum-{SUM.key(inputs(number))}.json"

    memory = Memory(tmp_path)
    for number in range(10):
        memory.recall(SUM, inputs(number), Work())
        os.utime(path(number), (1_000_000 + number, 1_000_000 + number))
    size = path(0).stat().st_size
    Memory(tmp_path).recall(SUM, inputs(0), Work())  # of use again, so no longer the oldest
    Memory(tmp_path, most_bytes=10 * size).recall(SUM, inputs(10), Work())
    left = {number for number in range(11) if path(number).exists()}
    assert left == {0, 4, 5, 6, 7, 8, 9, 10}, "cleared down to four fifths, the oldest first"


def test_the_folder_stays_bounded(tmp_path: Path) -> None:
    memory = Memory(tmp_path, most_bytes=1000)
    for number in range(60):
        memory.recall(SUM, (Fraction(number), number), Work())
        assert sum(file.stat().st_size for file in tmp_path.iterdir()) <= 1000


def test_a_folder_that_cannot_be_written_to_does_not_matter(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    memory, work = Memory(tmp_path / "file"), Work()
    assert [memory.recall(SUM, INPUTS, work) for _ in range(2)] == [RESULT, RESULT]
    assert work.times == 1
    assert (tmp_path / "file").read_text(encoding="utf-8") == "in the way"


def test_what_failed_is_not_kept(tmp_path: Path) -> None:
    def fail() -> tuple[Fraction, ...]:
        raise KeyboardInterrupt

    memory = Memory(tmp_path)
    with pytest.raises(KeyboardInterrupt):
        memory.recall(SUM, INPUTS, fail)
    assert memory.recall(SUM, INPUTS, Work()) == RESULT


def test_a_write_that_is_stopped_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(_self: Path, _target: Path) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", stopped)
    with pytest.raises(KeyboardInterrupt):
        Memory(tmp_path).recall(SUM, INPUTS, Work())
    assert list(tmp_path.iterdir()) == []


def test_files_are_json_after_their_mark(tmp_path: Path) -> None:
    Memory(tmp_path).recall(SUM, INPUTS, Work())
    (file,) = tmp_path.iterdir()
    mark, plain = file.read_bytes().split(b"\n")
    assert len(mark) == 64
    assert plain == b'["1/3","7"]'


def test_the_users_folder_is_in_the_cache(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert "seamproof" in users_folder().parts
    assert not users_folder().exists()
