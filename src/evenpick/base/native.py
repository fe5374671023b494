"""Machine code of a loop called on arrays, without the compiler: LLVM loads it and ctypes calls it.

A signature is the compiler's own: kinds b1 truth, i8 and f8 whole numbers and floats, f4 floats in single
precision; [:, ::1] an array of two dimensions, the last without gaps. Numba's code takes a place for the
result, one for an error, then the arguments, an array as two owners that ours do not have, its size, the
bytes of one of it, its place, its shape and its strides. ctypes is slow at so many, so a second piece of
code, the entry, takes the arrays themselves, sees that they are what the loop was compiled for, and reads all
that where NumPy keeps it (its C interface, PyArrayObject and PyArray_Descr).
"""

from __future__ import annotations

import ctypes as c
import re
import sys
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
TYPE, PLACE, NDIM, SHAPE, STRIDES, DESCR, FLAGS = 8, 16, 24, 32, 40, 56, 64
"""bytes from an array's own place, of Python's 64-bit builds"""
BYTE_ORDER, TYPE_NUMBER = 26, 28  # from its descr's
PACKED, BEHAVED = 0x1, 0x100 | 0x400  # flags: without gaps; aligned and writeable
SWAPPED = ord(">" if sys.byteorder == "little" else "<")
ENTRY = "entry"
DONE, UNFIT = 0, -100  # what the entry returns when nothing went wrong, and for other arrays


@dataclass(frozen=True, slots=True)
class _Array:
    """An array that a loop takes as an argument."""

    dtype: np.dtype[Any]
    ndim: int
    packed: bool


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
    run = c.PYFUNCTYPE(c.c_int32, *[c.c_void_p] * 3, *kinds)(engine.get_function_address(ENTRY))
    array, fields = id(np.ndarray), [f"_{n}" for n in range(len(made))]

    def call(*given: Any) -> Any:
        found, error = result(), c.c_void_p()
        told = run(array, c.byref(found), c.byref(error), *given)
        if told == UNFIT:
            kinds_given = [getattr(one, "dtype", type(one).__name__) for one in given]
            raise TypeError(f"{signature} got {kinds_given}, or an array with gaps or not to be changed")
        if told != DONE:
            raise RuntimeError(f"the compiled loop {code.name} failed")
        several = tuple([getattr(found, field) for field in fields])
        return several if len(several) > 1 else several[0] if several else None

    call.__dict__["engine"] = engine  # which holds the code
    return call


def entry(name: str, signature: str) -> bytes:
    """The object file of the entry to the function of that name."""
    _, takes = _parsed(signature)
    return cast(bytes, _machine().emit_object(llvm.parse_assembly("\n".join(_entry(name, takes)))))


def _entry(name: str, takes: Sequence[_Array | str]) -> Iterator[str]:
    """In LLVM's own words."""
    arrays = [(f"%a{n}", take) for n, take in enumerate(takes) if isinstance(take, _Array)]
    own = ["ptr %array", "ptr %result", "ptr %error"]
    own += [f"{'ptr' if isinstance(take, _Array) else ALONE[take][1]} %a{n}" for n, take in enumerate(takes)]
    yield f"define i32 @{ENTRY}({', '.join(own)}) {{"
    for array, _ in arrays:
        yield from _loaded("ptr", f"{array}.type", array, TYPE)
        yield from _checked(f"{array}.is", f"eq ptr {array}.type, %array")
    for array, kind in arrays:
        yield from _fit(array, kind)
    given = ["ptr %result", "ptr %error"]
    for n, take in enumerate(takes):
        if isinstance(take, _Array):
            yield from _read(f"%a{n}", take)
            given += _flat(f"%a{n}", take)
        else:
            given.append(f"{ALONE[take][1]} %a{n}")
    yield f'%told = call i32 @"{name}"({", ".join(given)})'
    yield "ret i32 %told"
    yield f"unfit: ret i32 {UNFIT} }}"
    yield f'declare i32 @"{name}"({", ".join(one.partition(" ")[0] for one in given)})'


def _fit(array: str, take: _Array) -> Iterator[str]:
    """The array is as the loop was compiled for, or the entry ends."""
    wanted = BEHAVED | (PACKED if take.packed else 0)
    yield from _loaded("ptr", f"{array}.descr", array, DESCR)
    yield from _loaded("i32", f"{array}.number", f"{array}.descr", TYPE_NUMBER)
    yield from _checked(f"{array}.kind", f"eq i32 {array}.number, {take.dtype.num}")
    yield from _loaded("i8", f"{array}.order", f"{array}.descr", BYTE_ORDER)
    yield from _checked(f"{array}.native", f"ne i8 {array}.order, {SWAPPED}")
    yield from _loaded("i32", f"{array}.ndim", array, NDIM)
    yield from _checked(f"{array}.dimensions", f"eq i32 {array}.ndim, {take.ndim}")
    yield from _loaded("i32", f"{array}.flags", array, FLAGS)
    yield f"{array}.told = and i32 {array}.flags, {wanted}"
    yield from _checked(f"{array}.fits", f"eq i32 {array}.told, {wanted}")


def _read(array: str, take: _Array) -> Iterator[str]:
    """Its place, size, shape and strides."""
    for field, at in (("place", PLACE), ("shape", SHAPE), ("strides", STRIDES)):
        yield from _loaded("ptr", f"{array}.{field}", array, at)
    yield f"{array}.size = add i64 0, 1"
    size = f"{array}.size"
    for k in range(take.ndim):
        yield from _loaded("i64", f"{array}.shape{k}", f"{array}.shape", 8 * k)
        yield from _loaded("i64", f"{array}.strides{k}", f"{array}.strides", 8 * k)
        yield f"{array}.size{k} = mul i64 {size}, {array}.shape{k}"
        size = f"{array}.size{k}"


def _flat(array: str, take: _Array) -> list[str]:
    each = [f"i64 {array}.{field}{k}" for field in ("shape", "strides") for k in range(take.ndim)]
    return ["ptr null", "ptr null", f"i64 {array}.size{take.ndim - 1}", f"i64 {take.dtype.itemsize}",
            f"ptr {array}.place", *each]


def _checked(name: str, condition: str) -> tuple[str, str, str]:
    after = f"{name[1:]}.true"
    return f"{name} = icmp {condition}", f"br i1 {name}, label %{after}, label %unfit", f"{after}:"


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
