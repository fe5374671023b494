"""What the program says and returns when it can't answer: one table."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Callable
from typing import TextIO

import click

from evenpick.base.errors import BadFile, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.base.typed import as_typed


class PipeShut(Exception):
    """The reader of the output went away."""


BAD_INPUT, PIPE_SHUT, STOPPED = 2, 141, 130
EXITS: tuple[tuple[type[BaseException], int], ...] = (
    (EvenpickError, BAD_INPUT),
    (click.UsageError, BAD_INPUT),
    (click.Abort, STOPPED),
    (KeyboardInterrupt, STOPPED),
    (BrokenPipeError, PIPE_SHUT),
    (PipeShut, PIPE_SHUT),
)
"""128 + the signal's number for what a signal ended; anything not listed is a bug and raises"""


NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


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
        if error.errno in NO_ROOM and error.filename is None:
            _hush(sys.stdout)
            what = tell("nothing more can be written ({strerror}).", strerror=error.strerror)
            raise BadFile(Problem(what, tell("See to the disk and its room."))) from error
        if isinstance(error, BrokenPipeError) or not isinstance(error.filename, str | bytes):
            raise
        what = tell("this file or folder can't be read or written ({strerror}).", strerror=error.strerror)
        mend = tell("See that its folder is there, that it may be read and written, and that the disk has "
                    "room.")
        raise BadFile(Problem(what, mend, os.fsdecode(error.filename))) from error


def _hush(stream: TextIO) -> None:
    """What still waits to be written goes nowhere, or the end of the program would fail on it again."""
    try:
        stream.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _tell(error: BaseException) -> None:
    match error:
        case EvenpickError():
            for problem in error.problems:
                click.echo(f"evenpick: {as_typed(' '.join(str(problem).split()))}", err=True)
        case click.UsageError():
            error.show()
        case BrokenPipeError() | PipeShut():
            _hush(sys.stdout)
        case _:
            click.echo(str(error) or tell("Stopped."), err=True)
