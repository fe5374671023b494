"""Hands of two processes: the same as one process comes to, in the same order."""

from __future__ import annotations

import operator
import os
import signal
from types import MappingProxyType

import pytest

from evenpick.plan.beside import Beside, beside
from evenpick.plan.child import ChildLost
from evenpick.plan.hands import HERE, Here


def test_what_two_processes_do_is_what_one_does() -> None:
    several = list(range(40))
    with beside("evenpick.plan.options") as hands:
        assert hands.map(pow, 3, several) == [3**n for n in several] == HERE.map(pow, 3, several)
        assert hands.map(pow, 2, several) == [2**n for n in several]  # the same hands, asked again
        assert hands.map(pow, 2, []) == []


def test_meanwhile_something_else_is_done_once() -> None:
    done: list[str] = []
    hands = Beside()
    try:
        assert hands.map(pow, 2, [1, 2, 3], lambda: done.append("here")) == [2, 4, 8]
    finally:
        hands.close()
    assert done == ["here"]


def test_a_read_only_mapping_is_sent() -> None:
    shared = MappingProxyType({n: MappingProxyType({"n": n}) for n in range(20)})
    hands = Beside()
    try:
        assert hands.map(operator.getitem, shared, range(20)) == list(shared.values())
    finally:
        hands.close()


def test_a_helper_that_is_lost_is_told() -> None:
    hands = Beside()
    hands.close()
    with pytest.raises((ChildLost, ValueError)):  # its pipe is shut
        hands.map(pow, 2, list(range(40)))


@pytest.mark.skipif(os.name == "nt", reason="breaks are sent in another way there")
def test_a_break_is_not_heard_by_a_process_of_ours() -> None:
    """Not even before its first line is run, where nothing in it could yet say so."""
    hands = Beside()
    try:
        for _ in range(3):
            hands._child._process.send_signal(signal.SIGINT)
            assert hands.map(pow, 2, [3, 4]) == [8, 16]
    finally:
        hands.close()


def test_one_core_works_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("os.cpu_count", lambda: 1)
    with beside() as hands:
        assert isinstance(hands, Here)
