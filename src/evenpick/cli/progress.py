"""Long work told on standard error: a bar on a terminal, else a plain line for each stage."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event
from types import FrameType

import click

from evenpick.base.language import tell

Progress = Callable[[str, float], None]
OUT, ERR = 1, 2


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


@contextmanager
def gently() -> Iterator[Callable[[], bool]]:
    """Whether Ctrl-C was pressed. Once, it asks for the best so far; pressed again it breaks off."""
    asked = Event()

    def pressed(number: int, frame: FrameType | None) -> None:
        if asked.is_set():
            raise KeyboardInterrupt
        asked.set()
        click.echo("Stopping: the best plan so far is kept. Ctrl-C again drops it.", err=True)

    before = signal.signal(signal.SIGINT, pressed)
    try:
        yield asked.is_set
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
