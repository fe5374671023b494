"""What takes long to answer is answered beside the request: a page says at once that it is on its way."""

from __future__ import annotations

import threading
from collections.abc import Callable, Hashable
from concurrent.futures import Future
from contextvars import copy_context
from typing import Any, TypeVar

Answer = TypeVar("Answer")
AT_ONCE = 0.7
"""s after which a page of a served garden says that its answer is on its way"""


class Soon:
    """Answers under way, each made once however often it is asked for. With `patience` s None all is waited
    for."""

    def __init__(self, patience: float | None = None) -> None:
        self.patience = patience
        self._lock = threading.Lock()
        self._under_way: dict[Hashable, Future[Any]] = {}

    def get(self, question: Hashable, answer: Callable[[], Answer]) -> Answer | None:
        """The answer, or what it raised; None where it is not there yet."""
        with self._lock:
            coming = self._under_way.get(question)
            if coming is None:
                coming = self._under_way[question] = _begun(answer)
        try:
            found: Answer = coming.result(self.patience)
        except TimeoutError:
            if not coming.done():
                return None
            raise
        finally:
            if coming.done():
                with self._lock:
                    self._under_way.pop(question, None)
        return found


def _begun(answer: Callable[[], Answer]) -> Future[Answer]:
    """Being made beside, in the language of who asks."""
    coming: Future[Answer] = Future()

    def work() -> None:
        try:
            coming.set_result(answer())
        except BaseException as error:  # whoever waits raises it
            coming.set_exception(error)

    threading.Thread(target=copy_context().run, args=(work,), daemon=True).start()
    return coming
