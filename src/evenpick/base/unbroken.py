"""Where something holds without a break."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools


def unbroken(holds: Bools) -> list[tuple[int, int]]:
    """First and last place of each run of True in `holds`, (n,)."""
    edges = np.flatnonzero(np.diff(holds.astype(np.int8), prepend=0, append=0)).tolist()
    return [(first, after - 1) for first, after in zip(edges[::2], edges[1::2], strict=True)]
