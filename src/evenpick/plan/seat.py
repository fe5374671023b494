"""A desk in a process of its own (`desk`), asked in pickles. Imports nothing slow."""

from __future__ import annotations

import pickle
from collections.abc import Sequence
from typing import Any

from evenpick.plan.child import Child


class Process:
    """A desk in a process of its own, or in one that was there and waits to be one."""

    def __init__(self, child: Child | None = None) -> None:
        self._child = Child("evenpick.plan.desk", "plans some of the items") if child is None else child

    def begin(self, request: Any, items: Sequence[int]) -> None:
        """What every later question is about; to be called once, first."""
        self._tell((request, list(items)))

    def _tell(self, thing: Any) -> None:
        self._child.tell(pickle.dumps(thing, pickle.HIGHEST_PROTOCOL))

    def ask(self, question: str, item: int, *rest: Any) -> Any:
        self._tell((question, item, *rest))
        return self._child.answer()

    def close(self) -> None:
        self._child.close()
