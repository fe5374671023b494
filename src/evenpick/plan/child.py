"""A process of ours run by the same Python, asked and answering in pickles.

Nothing is forked, so it runs alike on every system and beside threads. Imports nothing slow: it is started
before anything slow is loaded.
"""

from __future__ import annotations

import gc
import os
import pickle
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any


class ChildLost(RuntimeError):
    """A process of ours ended early; what it wrote is on standard error."""


class Child:
    """The function `main` of a module of ours in a process of its own; `doing` tells what it does.

    A break at the keyboard, which reaches every process of the terminal, is the asking process's to handle.
    """

    def __init__(self, module: str, doing: str, *arguments: str) -> None:
        self._doing = doing
        root = str(Path(__file__).parents[2])
        path = os.pathsep.join([root, *filter(None, [os.environ.get("PYTHONPATH")])])
        one = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
        deaf = "import signal; signal.signal(signal.SIGINT, signal.SIG_IGN)"
        garbage = f"import gc; gc.set_threshold({gc.get_threshold()[0]})"  # searched for as seldom as here
        with _breaks_held_back():
            self._process = subprocess.Popen(
                # -P: modules are never looked for in the folder of the garden
                [sys.executable, "-P", "-c", f"{deaf}; {garbage}; from {module} import main; main()",
                 *arguments],
                stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                env={**os.environ, **one, "PYTHONPATH": path},
            )

    def tell(self, pickled: bytes) -> None:
        assert self._process.stdin is not None
        try:
            self._process.stdin.write(pickled)
            self._process.stdin.flush()
        except BrokenPipeError as lost:
            raise self._lost() from lost

    def answer(self) -> Any:
        assert self._process.stdout is not None
        try:
            return pickle.load(self._process.stdout)
        except EOFError as lost:
            raise self._lost() from lost

    def _lost(self) -> ChildLost:
        return ChildLost(f"the process that {self._doing} ended early")

    def close(self) -> None:
        """End it, whatever it is doing."""
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                try:
                    pipe.close()
                except BrokenPipeError:  # something it never read
                    continue


@contextmanager
def _breaks_held_back() -> Iterator[None]:
    """A process begun meanwhile does not hear a break even before its first line is run; here it comes
    afterwards."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
