"""A plan kept before it is shown, and told of after, also where it could not be kept."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from evenpick.base.errors import EvenpickError


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
