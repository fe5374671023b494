"""The program and its commands."""

from __future__ import annotations

import sys
from collections.abc import Sequence

import click

from evenpick import __version__
from evenpick.cli import (
    beds,
    book,
    here,
    learned,
    log,
    losing,
    plans,
    printing,
    seed_tin,
    serving,
    setting_up,
    trial,
    water,
)
from evenpick.cli.exits import run

EPILOG = "Begin with: evenpick demo. Every answer also comes as JSON: --json (see docs/interface.md)."
SETTINGS = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


@click.group(context_settings=SETTINGS, epilog=EPILOG)
@click.version_option(__version__, prog_name="evenpick", message="%(prog)s %(version)s")
def evenpick() -> None:
    """What to sow now, how much, where and under what cover; what it gives and when."""


for command in (
    setting_up.demo, setting_up.begin, plans.plan, plans.today, plans.pickings, beds.ground, here.windows,
    here.month, here.outlook, here.why, water.water, learned.lessons, log.log, losing.losses,
    seed_tin.tin, seed_tin.saving,
    trial.trial, book.check, book.export, book.import_, book.versions, book.settle,
    serving.serve, printing.print_, printing.calendar,
):
    evenpick.add_command(command)


def main(arguments: Sequence[str] | None = None) -> None:
    """The program's entry: run a command and leave with its exit code."""
    sys.exit(run(lambda: evenpick.main(arguments, prog_name="evenpick", standalone_mode=False)))
