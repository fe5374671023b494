"""Stretches of a bed: pairs (low, high) of metres, low < high, in order and apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias

Stretch: TypeAlias = tuple[float, float]
HAIR = 1e-7
"""m; what is shorter is nothing"""


def without(stretches: Iterable[Stretch], taken: Sequence[Stretch]) -> list[Stretch]:
    """What is left of stretches when others, in any order, are taken out of them."""
    cuts = sorted(taken)
    left: list[Stretch] = []
    for low, high in stretches:
        at = low
        for start, end in cuts:
            if end <= at or start >= high:
                continue
            if start - at > HAIR:
                left.append((at, start))
            at = max(at, end)
        if high - at > HAIR:
            left.append((at, high))
    return left


def joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The same metres with what touches or overlaps made one."""
    found: list[Stretch] = []
    for low, high in sorted(stretches):
        if found and low <= found[-1][1] + HAIR:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def within(stretches: Iterable[Stretch], low: float, high: float) -> list[Stretch]:
    """The parts that lie between two points."""
    cut = ((max(start, low), min(end, high)) for start, end in stretches)
    return [(start, end) for start, end in cut if end - start > HAIR]


def metres(stretches: Iterable[Stretch]) -> float:
    return sum(high - low for low, high in stretches)
