"""Machine code of a loop called on arrays, without the compiler: LLVM loads it and ctypes calls it.

A signature is the compiler's own: kinds b1 truth, i8 and f8 whole numbers and floats, f4 floats in single
precision; [:, ::1] an array of two dimensions, the last without gaps. Numba's code takes a place for the
result, one for an error, then the arguments, an array as two owners that ours do not have, its size, the
bytes of one of it, its place, its shape and its strides. ctypes is slow at so many, so a second piece of
code, the entry, takes the arrays themselves and reads all that where NumPy keeps it (its C interface,
PyArrayObject).
"""

from __future__ import annotations

import ctypes as c
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, cast

import llvmlite.binding as llvm
import numpy as np

ONE = re.compile(r"(b1|i8|f8|f4)(\[[^]]*\])?")
OF_ARRAYS = {"b1": np.dtype(np.bool_), "i8": np.dtype(np.int64), "f8": np.dtype(np.float64),
             "f4": np.dtype(np.float32)}
ALONE: dict[str, tuple[type[c.c_int64] | type[c.c_double], str]] = {
    "i8": (c.c_int64, "i64"), "f8": (c.c_double, "double"),
}
PLACE, SHAPE, STRIDES = 16, 32, 40  # bytes from an array's own place; of Python's 64-bit builds
ENTRY = "entry"
DONE = 0  # what the code returns when nothing went wrong


@dataclass(frozen=True, slots=True)
class _Array:
    """An array that a loop takes as an argument."""

    dtype: np.dtype[Any]
    ndim: int
    packed: bool

    def check(self, given: Any) -> None:
        """TypeError for what the code was not compiled for."""
        flags = given.flags
        if given.dtype != self.dtype or given.ndim != self.ndim or not (
            flags.carray if self.packed else flags.behaved
        ):
            raise TypeError(f"not {self}: {given.dtype}, {given.ndim} dimensions\n{flags}")


@dataclass(frozen=True, slots=True)
class Code:
    """Object files of this machine: a function of that name, and its entry."""

    name: str
    function: bytes
    entry: bytes


def called(code: Code, signature: str) -> Callable[..., Any]:
    """A loop of a signature. It raises TypeError for other arrays, and RuntimeError where the code fails, as
    by a division by nought."""
    engine = _engine(code)
    made, takes = _parsed(signature)
    result = _result(made)
    kinds = [c.py_object if isinstance(take, _Array) else ALONE[take][0] for take in takes]
    run = c.PYFUNCTYPE(c.c_int32, c.c_void_p, c.c_void_p, *kinds)(engine.get_function_address(ENTRY))
    arrays = [(n, take) for n, take in enumerate(takes) if isinstance(take, _Array)]

    def call(*given: Any) -> Any:
        for n, take in arrays:
            take.check(given[n])
        found, error = result(), c.c_void_p()
        if run(c.byref(found), c.byref(error), *given) != DONE:
            raise RuntimeError(f"the compiled loop {code.name} failed")
        told = tuple(getattr(found, f"_{n}") for n in range(len(made)))
        return told if len(told) > 1 else told[0] if told else None

    call.__dict__["engine"] = engine  # which holds the code
    return call


def entry(name: str, signature: str) -> bytes:
    """The object file of the entry to the function of that name."""
    _, takes = _parsed(signature)
    return cast(bytes, _machine().emit_object(llvm.parse_assembly("\n".join(_entry(name, takes)))))


def _entry(name: str, takes: Sequence[_Array | str]) -> Iterator[str]:
    """In LLVM's own words."""
    told = ["ptr" if isinstance(take, _Array) else ALONE[take][1] for take in takes]
    own = ", ".join(["ptr %result", "ptr %error", *(f"{kind} %a{n}" for n, kind in enumerate(told))])
    given = ["ptr %result", "ptr %error"]
    yield f"define i32 @{ENTRY}({own}) {{"
    for n, take in enumerate(takes):
        if not isinstance(take, _Array):
            given.append(f"{ALONE[take][1]} %a{n}")
            continue
        for field, at in (("place", PLACE), ("shape", SHAPE), ("strides", STRIDES)):
            yield from _loaded("ptr", f"%a{n}.{field}", f"%a{n}", at)
        size = "1"
        for k in range(take.ndim):
            yield from _loaded("i64", f"%a{n}.shape{k}", f"%a{n}.shape", 8 * k)
            yield from _loaded("i64", f"%a{n}.strides{k}", f"%a{n}.strides", 8 * k)
            yield f"%a{n}.size{k} = mul i64 {size}, %a{n}.shape{k}"
            size = f"%a{n}.size{k}"
        given += ["ptr null", "ptr null", f"i64 {size}", f"i64 {take.dtype.itemsize}", f"ptr %a{n}.place"]
        given += [f"i64 %a{n}.{field}{k}" for field in ("shape", "strides") for k in range(take.ndim)]
    yield f'%told = call i32 @"{name}"({", ".join(given)})'
    yield "ret i32 %told }"
    yield f'declare i32 @"{name}"({", ".join(one.partition(" ")[0] for one in given)})'


def _loaded(kind: str, name: str, base: str, at: int) -> tuple[str, str]:
    return f"{name}.at = getelementptr i8, ptr {base}, i64 {at}", f"{name} = load {kind}, ptr {name}.at"


def _parsed(signature: str) -> tuple[list[str], list[_Array | str]]:
    """The kinds that a loop returns and what it takes."""
    made, _, arguments = signature.rpartition("(")
    return [kind for kind, _ in ONE.findall(made)], [_taken(*one) for one in ONE.findall(arguments)]


def _taken(kind: str, dimensions: str) -> _Array | str:
    if not dimensions:
        return kind
    return _Array(OF_ARRAYS[kind], dimensions.count(",") + 1, dimensions.endswith("::1]"))


def _result(kinds: Sequence[str]) -> type[c.Structure]:
    """Where the code puts what it returns: nothing, a number, or several."""
    fields = [(f"_{n}", ALONE[kind][0]) for n, kind in enumerate(kinds)]
    return cast("type[c.Structure]", type("Result", (c.Structure,), {"_fields_": fields}))


def _machine() -> Any:
    llvm.initialize_native_target()
    llvm.initialize_native_asmprinter()
    return llvm.Target.from_default_triple().create_target_machine()


def _engine(code: Code) -> Any:
    engine = llvm.create_mcjit_compiler(llvm.parse_assembly(""), _machine())
    for each in (code.function, code.entry):
        engine.add_object_file(llvm.ObjectFileRef.from_data(each))
    engine.finalize_object()
    return engine
