"""Seeded randomness: one recorded seed, an independent stream for every named use."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np

DEFAULT_SEED = 20270301


def stream(seed: int, *names: str) -> np.random.Generator:
    """A generator that depends on the seed and on the names alone, never on the order of calls."""
    import numpy as np  # slow to load, and not every command draws

    digest = hashlib.sha256("/".join(names).encode()).digest()
    if not 0 <= seed < 2**32:
        words = [int.from_bytes(digest[i : i + 4], "little") for i in range(0, 16, 4)]
        return np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, *words])))
    # numpy comes to the same stream a third sooner from an array than from numbers
    entropy = np.frombuffer(seed.to_bytes(4, "little") + digest[:16], dtype="<u4").astype(np.uint32)
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence(entropy)))
