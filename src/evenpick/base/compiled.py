"""Loops compiled to machine code (Numba), kept between runs where the disk allows.

Numba is slow to load: rooms with such loops import them where they call them. Indices are not checked.
A signature's kinds: b1 truth, i8 and f8 whole numbers and floats, f4 floats in single precision; [:, ::1] an
array of two dimensions, the last without gaps.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba
import numba.np.linalg

Loop = TypeVar("Loop", bound=Callable[..., Any])


def _no_linear_algebra() -> None:
    raise ImportError("no compiled loop multiplies matrices")


# Numba loads scipy.linalg to see whether matrices can be multiplied: a third of its time to load
numba.np.linalg.ensure_blas = _no_linear_algebra


def compiled(signature: str) -> Callable[[Loop], Loop]:
    """A loop compiled for one signature, when its module is first imported."""
    def made(loop: Loop) -> Loop:
        try:
            return cast(Loop, numba.njit(signature, cache=True)(loop))
        except RuntimeError:  # nowhere to keep it: compiled anew by every process
            return cast(Loop, numba.njit(signature)(loop))

    return made
