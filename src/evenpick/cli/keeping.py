"""A plan kept before it is shown, and told of after, also where it could not be kept."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from evenpick.base.errors import EvenpickError
from evenpick.base.language import tell

Plan = TypeVar("Plan")


def if_readable(better: Callable[[], Plan | None]) -> Plan | None:
    """The plan kept, where it is the better one. Where the book can't be read, keeping the new one tells why,
    after it was shown."""
    try:
        return better()
    except (EvenpickError, OSError):
        return None


def it_stays(kept: float | None, new: float | None) -> str:
    """What is said where the plan kept is proven nearer (gaps)."""
    from evenpick.report.words import tenths

    return tell("The plan that was kept is proven nearer to the best possible, {kept} against {new} of "
                "this one: it stays.", kept=tenths(kept or 0.0), new=tenths(new or 0.0))


def keeping(keep: Callable[[], Path]) -> Callable[[], Path]:
    """Keep it; what tells where, or raises why not: a plan that took its time is shown before that."""
    try:
        kept = keep()
    except (EvenpickError, OSError) as error:
        failure = error  # the name in the clause ends with it

        def not_kept() -> Path:
            raise failure

        return not_kept
    return lambda: kept
