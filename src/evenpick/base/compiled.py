"""Loops compiled to machine code (Numba), kept between runs where the disk allows.

Numba is slow to load, and a loop that was kept does without it (base/native, where signatures are told). It
is compiled when its module is first imported on a machine, which takes seconds: rooms with such loops import
them where they call them. Indices are not checked. Loops make no arrays (Numba refuses), so their code calls
nothing of Numba's. How compiled code is called is of one release of Numba: pyproject.toml names it. On builds
of Python whose objects are not understood Numba compiles and calls every loop itself, which is only slower.
"""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable, Iterator
from functools import cache
from hashlib import sha256
from pathlib import Path
from types import FunctionType
from typing import Any, TypeVar, cast

import llvmlite
import llvmlite.binding as llvm

from evenpick.base import native

Loop = TypeVar("Loop", bound=Callable[..., Any])
LENGTH = sha256().digest_size


def compiled(signature: str) -> Callable[[Loop], Loop]:
    """A loop compiled for one signature, or kept since it was."""
    def made(loop: Loop) -> Loop:
        function = cast(FunctionType, loop)
        if not native.understood():
            return cast(Loop, _readied(function, signature))
        source = _digest(function, signature)
        name = f"{Path(function.__code__.co_filename).stem}.{function.__name__}-{_processor()}"
        found = _kept(function, name, source)
        if found is None:
            found = _compile(function, signature)
            _keep(function, name, source, found)
        return cast(Loop, native.called(found, function.__name__))

    return made


class Part:
    """A loop that others of its module call: compiled with the first of them, for what they give it."""

    def __init__(self, loop: FunctionType) -> None:
        self._loop, self._readied = loop, None

    def readied(self, there: dict[str, Any]) -> Any:
        """For the compiler, among what is `there` in the module."""
        if self._readied is None:
            self._readied = _njit()(_among(self._loop, there))
        return self._readied


def part(loop: Loop) -> Loop:
    """Marks a loop as a `Part`."""
    return cast(Loop, Part(cast(FunctionType, loop)))


def _njit(**how: bool) -> Any:
    """Numba's, of loops that make no arrays and touch nothing of Python's."""
    import numba

    return cast(Any, numba.njit)(_nrt=False, nogil=True, **how)


def _among(loop: FunctionType, there: dict[str, Any]) -> FunctionType:
    return FunctionType(loop.__code__, there, loop.__name__, loop.__defaults__)


def _readied(loop: FunctionType, signature: str, **how: bool) -> Any:
    """As a function of the compiler's own."""
    there = dict(loop.__globals__)
    there |= {name: each.readied(there) for name, each in there.items() if isinstance(each, Part)}
    found = _njit(**how)(_among(loop, there))
    found.compile(signature)
    return found


def _compile(loop: FunctionType, signature: str) -> native.Code:
    found = _readied(loop, signature, no_cpython_wrapper=True, no_cfunc_wrapper=True)
    (made,) = found.overloads.values()
    name, (_, _, (code, _)) = made.fndesc.llvm_func_name, made.library.serialize_using_object_code()
    return native.Code(name, code, native.entry(name, signature))


def _digest(loop: FunctionType, signature: str) -> bytes:
    """Of all that the code comes of, and of how it is called."""
    numbers = sorted((name, each) for name, each in loop.__globals__.items() if isinstance(each, int | float))
    told = repr((loop.__qualname__, signature, numbers, llvmlite.__version__)).encode()
    return sha256(told + _text(loop.__code__.co_filename) + _text(native.__file__)).digest()


@cache
def _text(file: str) -> bytes:
    return Path(file).read_bytes()


@cache
def _processor() -> str:
    """Short for the processor that the code is for."""
    told = (llvm.get_process_triple(), llvm.get_host_cpu_name(), llvm.get_host_cpu_features().flatten())
    return sha256("".join(told).encode()).hexdigest()[:12]


def _folders(loop: FunctionType) -> Iterator[Path]:
    """Where code is kept: beside what Python itself compiled, else in the user's own folder."""
    yield Path(loop.__code__.co_filename).parent / "__pycache__"
    own = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA") or os.path.expanduser("~/.cache")
    if os.path.isabs(own):  # a user may have no home
        yield Path(own) / "evenpick"


def _kept(loop: FunctionType, name: str, source: bytes) -> native.Code | None:
    """What was kept whole, of the same source."""
    for folder in _folders(loop):
        try:
            whole = (folder / name).read_bytes()
        except OSError:  # not kept here
            continue
        of, digest, rest = whole[:LENGTH], whole[LENGTH : 2 * LENGTH], whole[2 * LENGTH :]
        if of == source and digest == sha256(rest).digest():
            return cast(native.Code, pickle.loads(rest))
    return None


def _keep(loop: FunctionType, name: str, source: bytes, found: native.Code) -> None:
    from evenpick.base.whole import write_whole  # which most processes never need

    rest = pickle.dumps(found)
    for folder in _folders(loop):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            write_whole(folder / name, source + sha256(rest).digest() + rest)
        except OSError:  # not writable: the next, or compiled anew by every process
            continue
        return
