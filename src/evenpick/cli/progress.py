"""Long work told on standard error: a bar on a terminal, else a plain line for each stage."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

import click

from evenpick.base.language import later, tell

Progress = Callable[[str, float], None]
OUT, ERR = 1, 2
KEEPS = later("Stopping: the best plan so far is kept. Ctrl-C again drops it.")
WAITS = later("Stopping with the first plan, which is not there yet. Ctrl-C again stops at once without it.")
DROPPED = later("Stopped; the plan found is dropped. What was kept before stays.")
NOTHING = later("Stopped before there was a plan: none is kept. What was kept before stays.")


@contextmanager
def told() -> Iterator[Progress]:
    """A function of the stage's words and the share done, 0 to 1; standard output stays clean meanwhile."""
    with _libraries_on_standard_error():
        if not sys.stderr.isatty():
            yield _plain()
            return
        from rich.console import Console
        from rich.progress import BarColumn, TextColumn, TimeElapsedColumn
        from rich.progress import Progress as Bars

        columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
        with Bars(*columns, console=Console(stderr=True), transient=True) as bars:
            task = bars.add_task("", total=1.0)
            yield lambda stage, share: bars.update(task, description=tell(stage), completed=share)


class Breaks:
    """Ctrl-C as a search hears it: called, it says whether to hand over the best so far. A search calls it
    once it has something to hand over, and not before."""

    def __init__(self) -> None:
        self._pressed = self._found = self._settled = False

    def __call__(self) -> bool:
        self._found = True
        return self._pressed

    def settle(self) -> None:
        """The search is over: what follows is quick, and is not broken off half-way."""
        self._settled = True

    def press(self, number: int, frame: FrameType | None) -> None:
        """Once, it asks for the best so far; pressed again it breaks off."""
        if self._settled:
            return
        if self._pressed:
            raise KeyboardInterrupt
        self._pressed = True
        said = tell(KEEPS if self._found else WAITS)
        try:
            click.echo(said, err=True)
        except RuntimeError:  # pressed while a line is being written: its writer can't be entered twice
            os.write(ERR, f"{said}{os.linesep}".encode())

    def dropped(self) -> str:
        return tell(DROPPED if self._found else NOTHING)


@contextmanager
def gently() -> Iterator[Breaks]:
    """Ctrl-C ends a search with its best so far; pressed again it ends the command (click.Abort)."""
    breaks = Breaks()
    before = signal.signal(signal.SIGINT, breaks.press)
    try:
        yield breaks
    except KeyboardInterrupt as error:
        raise click.Abort(breaks.dropped()) from error
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _libraries_on_standard_error() -> Iterator[None]:
    """What compiled libraries print (the solver greets when it is made) must not stand in the answer."""
    sys.stdout.flush()
    kept = os.dup(OUT)
    os.dup2(ERR, OUT)
    try:
        yield
    finally:
        os.dup2(kept, OUT)
        os.close(kept)


def _plain() -> Progress:
    before: set[str] = set()

    def show(stage: str, share: float) -> None:
        if stage not in before:
            before.add(stage)
            click.echo(f"{share * 100:3.0f} %  {tell(stage)}", err=True)

    return show
