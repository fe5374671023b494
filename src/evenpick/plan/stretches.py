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


def metres(stretches: Iterable[Stretch]) -> float:
    return sum(high - low for low, high in stretches)
