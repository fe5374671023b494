"""Answers typed at a question: each is read as it is given, and asked again where it can't be."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial

import click

from evenpick.base.errors import EvenpickError


def ask(
    question: str, read: Callable[[str], object], default: str | None = None, shown: bool = True
) -> str:
    """What was typed, once `read` takes it; off a terminal nobody can type again, and its error is raised.
    `shown`: whether the default is told."""
    while True:
        said: str = click.prompt(question, default=default, show_default=shown and bool(default), err=True)
        if accepted(partial(read, said)):
            return said


def accepted(read: Callable[[], object]) -> bool:
    """Whether what was typed can be read; why not is told in a terminal, and raised elsewhere."""
    try:
        read()
    except EvenpickError as error:
        if not sys.stdin.isatty():
            raise
        for problem in error.problems:
            click.echo(" ".join(str(problem).split()), err=True)
        return False
    return True
