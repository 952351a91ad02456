"""Ctrl-C: nothing to keep ends the command; the first one later keeps the best; the second ends."""

from __future__ import annotations

import signal

import pytest

from seamproof.cli.stopping import Interrupted, keeping_the_best


def test_without_anything_to_keep_the_command_ends() -> None:
    with keeping_the_best() as stop, pytest.raises(KeyboardInterrupt):
        signal.raise_signal(signal.SIGINT)
    assert not stop()


def test_the_best_so_far_is_kept_once() -> None:
    with keeping_the_best() as stop:
        stop.something = True
        signal.raise_signal(signal.SIGINT)
        assert stop()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)


def test_afterwards_ctrl_c_means_what_it_meant() -> None:
    before = signal.getsignal(signal.SIGINT)
    with keeping_the_best():
        assert signal.getsignal(signal.SIGINT) is not before
    assert signal.getsignal(signal.SIGINT) is before


def test_it_is_asked_as_a_question() -> None:
    assert (Interrupted()(), Interrupted(asked=True)()) == (False, True)
