"""What the program says and returns when it can't answer: one table."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

import click

from evenpick.base.errors import BadFile, EvenpickError, Problem
from evenpick.base.language import tell

BAD_INPUT, PIPE_SHUT, STOPPED = 2, 141, 130
EXITS: tuple[tuple[type[BaseException], int], ...] = (
    (EvenpickError, BAD_INPUT),
    (click.UsageError, BAD_INPUT),
    (click.Abort, STOPPED),
    (KeyboardInterrupt, STOPPED),
    (BrokenPipeError, PIPE_SHUT),
)
"""128 + the signal's number for what a signal ended; anything not listed is a bug and raises"""


def run(command: Callable[[], object]) -> int:
    """Run a command and return the exit code; what the reader can mend is told in one line each."""
    try:
        given = _files_told(command)
    except tuple(kind for kind, _ in EXITS) as error:
        _tell(error)
        return next(code for kind, code in EXITS if isinstance(error, kind))
    return given if isinstance(given, int) else 0


def _files_told(command: Callable[[], object]) -> object:
    """What the system says of a file or folder that it names; without a name it is a bug."""
    try:
        return command()
    except OSError as error:
        if isinstance(error, BrokenPipeError) or not isinstance(error.filename, str | bytes):
            raise
        what = tell("this file or folder can't be read or written ({strerror}).", strerror=error.strerror)
        mend = tell("See that its folder is there, that it may be read and written, and that the disk has "
                    "room.")
        raise BadFile(Problem(what, mend, os.fsdecode(error.filename))) from error


def _tell(error: BaseException) -> None:
    match error:
        case EvenpickError():
            for problem in error.problems:
                click.echo(f"evenpick: {' '.join(str(problem).split())}", err=True)
        case click.UsageError():
            error.show()
        case BrokenPipeError():
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        case _:
            click.echo(str(error) or tell("Stopped."), err=True)
