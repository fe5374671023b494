"""This machine's hands with a second process beside this one, for a command that grows crops once.

The process reads what the work is and then things to do, and answers. It is started before anything slow is
loaded here, so that both load at the same time. Which thing falls to whom never changes what comes of it.
"""

from __future__ import annotations

import os
import pickle
import sys
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from importlib import import_module
from io import BytesIO
from types import MappingProxyType, ModuleType
from typing import Any, TypeVar

from evenpick.plan.child import Child
from evenpick.plan.hands import HERE, Asked, Hands, idle
from evenpick.plan.seat import Process

S = TypeVar("S")
A = TypeVar("A")
B = TypeVar("B")
DESK = "desk"
"""asked to be one from now on"""


class Beside:
    """Hands of two processes, this one and one more, which loads the modules `ready` before it is asked."""

    def __init__(self, *ready: str) -> None:
        self._child = Child("evenpick.plan.beside", "helps to grow crops and plans some of the items", *ready)
        self._seated = False

    def map(
        self, work: Callable[[S, A], B], shared: S, several: Sequence[A],
        meanwhile: Callable[[], object] = idle,
    ) -> list[B]:
        if self._seated:
            return HERE.map(work, shared, several, meanwhile)
        from concurrent.futures import ThreadPoolExecutor  # the other process is to start before it is loaded

        left, found = deque(enumerate(several)), dict[int, B]()
        asked = _pickled((work, shared))  # before work is done here that may add to what is shared

        def there() -> None:
            self._child.tell(asked)
            for n, one in _taken(left.popleft):
                self._child.tell(_pickled(one))
                found[n] = self._child.answer()
            self._child.tell(_pickled(None))

        with ThreadPoolExecutor(1) as pool:
            helped = pool.submit(there)
            try:
                _load_what_comes_next()
                meanwhile()
                for n, one in _taken(left.popleft):
                    found[n] = work(shared, one)
                helped.result()
            except BaseException:  # a break: what is under way there is not waited for
                self._child.close()
                raise
            finally:
                left.clear()
        return [found[n] for n in range(len(several))]

    def together(self, calls: Sequence[Callable[[], B]]) -> list[B]:
        return HERE.together(calls)

    def seats(self, several: int) -> Sequence[Callable[[], Asked]]:
        """The other process is the first of them: it has all loaded."""
        return [self._seat, *HERE.seats(several - 1)] if several else []

    def _seat(self) -> Asked:
        self._seated = True
        self._child.tell(_pickled(DESK))
        return Process(self._child)

    def close(self) -> None:
        self._child.close()


class _Pickler(pickle.Pickler):
    """Read-only mappings, of which crops have some, are sent as well."""

    def reducer_override(self, thing: Any) -> Any:
        return (_read_only, (dict(thing),)) if isinstance(thing, MappingProxyType) else NotImplemented


def _pickled(thing: Any) -> bytes:
    written = BytesIO()
    _Pickler(written, pickle.HIGHEST_PROTOCOL).dump(thing)
    return written.getvalue()


def _read_only(entries: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(entries)


def _taken(take: Callable[[], tuple[int, A]]) -> Iterator[tuple[int, A]]:
    """One thing after another till none is left; others take from the same heap."""
    while True:
        try:
            yield take()
        except IndexError:
            return


def _load_what_comes_next() -> None:
    """What planning needs once the crops are grown, slow to load: meanwhile the other process works."""
    import highspy  # noqa: F401

    import evenpick.plan.bed_loops
    import evenpick.plan.loops  # noqa: F401


@contextmanager
def beside(*ready: str) -> Iterator[Hands]:
    """Hands of two processes where there are two cores, else of this one; `ready` as of `Beside`."""
    if (os.cpu_count() or 1) < 2 or not sys.executable:
        yield HERE
        return
    hands = Beside(*ready)
    try:
        yield hands
    finally:
        hands.close()


def main() -> None:
    """Work until nothing more is asked. What anything else prints goes to standard error."""
    asked, answers = sys.stdin.buffer, os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    for module in sys.argv[1:]:
        import_module(module)
    try:
        while True:
            question = pickle.load(asked)
            if question == DESK:
                _desk().serve(asked, answers)
                return
            work, shared = question
            while (one := pickle.load(asked)) is not None:
                answers.write(_pickled(work(shared, one)))
                answers.flush()
            _desk().load()  # while whoever asked goes on
    except EOFError:
        return
    except BrokenPipeError:  # whoever asked has gone: nobody is left to be told
        os._exit(0)


def _desk() -> ModuleType:
    from evenpick.plan import desk  # slow to load, and crops that are to be grown wait for none of it

    return desk
