"""The program and its commands; the module of a command is loaded when that is asked for."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import copy_context
from importlib import import_module
from typing import Any

import click

from evenpick import __version__
from evenpick.base.language import choose, later, system_language
from evenpick.cli.exits import PipeShut, run
from evenpick.cli.output import write_anything
from evenpick.cli.speaking import Group

GARBAGE = 50_000  # objects made before the youngest are searched for what nobody holds
EPILOG = later("Begin with: evenpick demo. Every answer also comes as JSON: --json (see docs/interface.md).")
SETTINGS = {"help_option_names": ["-h", "--help"], "max_content_width": 100}
COMMANDS: Mapping[str, tuple[str, str]] = {
    "begin": ("setting_up", "begin"), "calendar": ("printing", "calendar"), "check": ("book", "check"),
    "demo": ("setting_up", "demo"), "export": ("book", "export"), "ground": ("beds", "ground"),
    "import": ("book", "import_"), "lessons": ("learned", "lessons"), "log": ("log", "log"),
    "losses": ("losing", "losses"), "month": ("here", "month"), "outlook": ("here", "outlook"),
    "pickings": ("plans", "pickings"), "plan": ("plans", "plan"), "print": ("printing", "print_"),
    "saving": ("seed_tin", "saving"), "serve": ("serving", "serve"), "settle": ("book", "settle"),
    "tin": ("seed_tin", "tin"), "today": ("plans", "today"), "trial": ("trial", "trial"),
    "versions": ("book", "versions"), "water": ("water", "water"), "weather": ("weather", "weather"),
    "why": ("here", "why"),
    "windows": ("here", "windows"),
}
"""where each command stands: module of this package, name in it"""


def command(name: str) -> click.Command:
    """A command by its name; KeyError where there is none."""
    module, function = COMMANDS[name]
    found: click.Command = getattr(import_module(f"evenpick.cli.{module}"), function)
    return found


@contextmanager
def _pipe_told() -> Iterator[None]:
    """Click would leave with 1 where a pipe is shut, as though that were a bug."""
    try:
        yield
    except BrokenPipeError as error:
        raise PipeShut from error


class OnDemand(Group):
    """A group whose commands are loaded one by one."""

    def make_context(
        self, info_name: str | None, args: list[str], parent: click.Context | None = None, **extra: Any
    ) -> click.Context:
        with _pipe_told():
            return super().make_context(info_name, args, parent, **extra)

    def invoke(self, ctx: click.Context) -> Any:
        with _pipe_told():
            return super().invoke(ctx)

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        return command(cmd_name) if cmd_name in COMMANDS else None


@click.group(cls=OnDemand, context_settings=SETTINGS, epilog=EPILOG)
@click.version_option(__version__, prog_name="evenpick", message="%(prog)s %(version)s")
def evenpick() -> None:
    """What to sow now, how much, where and under what cover; what it gives and when."""


def main(arguments: Sequence[str] | None = None) -> None:
    """The program's entry: run a command and leave with its exit code."""
    if arguments is None:  # a process of its own, which loads sooner when what it makes is seldom searched
        gc.set_threshold(GARBAGE)
        os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # products are small, threads wait busily
        write_anything()
    code = copy_context().run(run, lambda: _speak(arguments))
    if arguments is None:
        gc.freeze()  # and ends sooner when what is left is not searched at all
    sys.exit(code)


def _speak(arguments: Sequence[str] | None) -> object:
    """Help and questions are in the system's language; a command goes over to its garden's."""
    choose(system_language(os.environ))
    return evenpick.main(arguments, prog_name="evenpick", standalone_mode=False)
