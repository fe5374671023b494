"""A day that was typed and is still to come by the clock: it is asked about before anything is written."""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

import click

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell

clock: Callable[[], date] = date.today


def typed_day(on: str | None) -> date | None:
    """The day by the clock, against which a day that was typed is held; None where none was."""
    return clock() if on else None


def check_day(garden: Path, on: str | None, day: date, yes: bool) -> None:
    """BadRequest where the day typed is still to come and nobody says that it is meant."""
    from evenpick.service.log_doubts import still_to_come

    now = typed_day(on)
    asked = "" if now is None or yes else still_to_come(garden, day, now)
    if not asked or (sys.stdin.isatty() and click.confirm(asked, default=False, err=True)):
        return
    raise BadRequest(Problem(asked, tell("Mend --on, or say that it is so with --yes."), field="--on"))
