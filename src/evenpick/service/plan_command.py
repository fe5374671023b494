"""The command that makes a plan again, as a grower types it."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from evenpick.base.language import later, tell
from evenpick.base.typed import typed
from evenpick.garden.garden import Garden

TAKE_IN = later("Take it in with: {command}")
NO_COMMAND = ""
"""where answers are served: pages lead to their own plan, and the command names a file of this machine"""


class Noted(Protocol):
    """A plan as it can still be picked, of a garden or of several together."""

    @property
    def loss_note(self) -> str: ...
    @property
    def take_in(self) -> str: ...


def plan_command(cooperative: Path | None = None, mend: bool = False) -> str:
    """Of a garden by itself, or of the cooperative whose file that is: its farms are planned together."""
    of = "" if cooperative is None else f" --garden {typed(cooperative)}"
    return f"evenpick plan{of}{' --mend' if mend else ''}"


def mending(garden: Garden) -> str:
    """What takes into the plan what the diary of a garden, or of a farm, says since."""
    return plan_command(garden.cooperative, mend=True)


def with_command(note: str, command: str) -> str:
    """A note on what a plan does not know, as a terminal tells it: with the command that takes it in, if one
    does."""
    return f"{note} {tell(TAKE_IN, command=command)}" if command else note


def noted(plan: Noted) -> list[str]:
    """The note of a plan as a terminal tells it, if there is one."""
    return [with_command(plan.loss_note, plan.take_in)] if plan.loss_note else []
