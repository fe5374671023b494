"""Loops compiled to machine code (Numba), kept between runs where the disk allows.

Numba is slow to load: rooms with such loops import them where they call them. Indices are not checked. What
is kept is read by the ways of one release of Numba: pyproject.toml names it. Loops make no arrays (Numba
refuses): what would count who holds them takes as long to load as the rest.
A signature's kinds: b1 truth, i8 and f8 whole numbers and floats, f4 floats in single precision; [:, ::1] an
array of two dimensions, the last without gaps.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from functools import partial
from typing import Any, TypeVar, cast

import numba
from numba.core.caching import FunctionCache

Loop = TypeVar("Loop", bound=Callable[..., Any])
_readied: Any = partial(numba.njit, _nrt=False)  # no arrays made


class _Kept(FunctionCache):
    """Numba's own cache, loading sooner: Numba need not make ready all it knows of Python and NumPy. Its
    compiler does that itself, and a loop that was kept needs none of it."""

    def load_overload(self, sig: Any, target_context: Any) -> Any:
        with self._guard_against_spurious_io_errors():
            return self._load_overload(sig, target_context)  # type: ignore[no-untyped-call]


def compiled(signature: str) -> Callable[[Loop], Loop]:
    """A loop compiled for one signature, when its module is first imported."""
    def made(loop: Loop) -> Loop:
        found = _readied(loop)
        with suppress(RuntimeError):  # nowhere to keep it: compiled anew by every process
            found._cache = _Kept(loop)  # type: ignore[no-untyped-call]
        found.compile(signature)
        found.disable_compile()
        return cast(Loop, found)

    return made


def part(loop: Loop) -> Loop:
    """A loop that others of its module call: compiled when they are, for what they give it."""
    return cast(Loop, _readied(loop))
