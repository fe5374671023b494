"""Where something holds without a break."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools


def unbroken(holds: Bools) -> list[tuple[int, int]]:
    """First and last place of each run of True in `holds`, (n,)."""
    walled = np.zeros(holds.size + 2, dtype=bool)
    walled[1:-1] = holds
    edges = np.flatnonzero(walled[1:] != walled[:-1]).tolist()
    return [(first, after - 1) for first, after in zip(edges[::2], edges[1::2], strict=True)]
