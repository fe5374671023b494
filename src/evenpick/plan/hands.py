"""Who does the work: this machine, or others asked in the same way (docs/design/cooperative.md, 7)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Protocol, TypeVar

from evenpick.plan.seat import Process

S = TypeVar("S")
A = TypeVar("A")
B = TypeVar("B")


def idle() -> None:
    """Nothing."""


class Asked(Protocol):
    """Some items' work at one desk: told once what it is about, then asked."""

    def begin(self, request: Any, items: Sequence[int]) -> None: ...

    def ask(self, question: str, item: int, *rest: Any) -> Any: ...

    def close(self) -> None: ...


class Hands(Protocol):
    """Who does it never changes what comes of it."""

    def map(
        self, work: Callable[[S, A], B], shared: S, several: Sequence[A],
        meanwhile: Callable[[], object] = idle,
    ) -> list[B]:
        """`work` on each of several things, with what they share, in their order; `meanwhile` this process
        does something else first, where others can begin without it."""
        ...

    def together(self, calls: Sequence[Callable[[], B]]) -> list[B]:
        """Calls that themselves ask for work, answered in their order."""
        ...

    def seats(self, several: int) -> Sequence[Callable[[], Asked]]:
        """So many desks to be opened on this machine; or all that are elsewhere."""
        ...


class Here:
    """This process. Threads would grow no sooner: what grows is many small sums."""

    def map(
        self, work: Callable[[S, A], B], shared: S, several: Sequence[A],
        meanwhile: Callable[[], object] = idle,
    ) -> list[B]:
        return [work(shared, one) for one in several]

    def together(self, calls: Sequence[Callable[[], B]]) -> list[B]:
        return [call() for call in calls]

    def seats(self, several: int) -> Sequence[Callable[[], Asked]]:
        return [Process] * several


HERE = Here()
