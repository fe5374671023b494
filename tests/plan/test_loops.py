"""Compiled loops: they load soon because they make no arrays."""

from __future__ import annotations

import numpy as np
import pytest
from numba.core.errors import NumbaError

from evenpick.base.compiled import compiled


def sums(count: int) -> float:
    return float(np.zeros(count).sum())


def test_a_loop_that_makes_an_array_is_refused() -> None:
    with pytest.raises(NumbaError):
        compiled("f8(i8)")(sums)
