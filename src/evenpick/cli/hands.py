"""Who does the planning: this machine, or the cluster that was named."""

from __future__ import annotations

from contextlib import AbstractContextManager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from evenpick.plan.hands import Hands


def hands_of(address: str | None) -> AbstractContextManager[Hands]:
    """Those of the cluster whose scheduler is at an address; of this machine for None."""
    if address is None:
        from evenpick.plan.beside import beside

        return beside("evenpick.plan.options")
    from evenpick.plan.cluster import cluster

    return cluster(address)
