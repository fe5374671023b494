"""Machine code of a loop as a function of Python's, without the compiler: LLVM loads it.

A signature is the compiler's own: kinds b1 truth, i8 and f8 whole numbers and floats, i2 and f4 the same in a
quarter and half of the room; [:, ::1] an array of two dimensions, the last without gaps. Numba's code takes a
place for the result, one for an error, then the arguments, an array as two owners that ours do not have, its
size, the bytes of one of it, its place, its shape and its strides. A second piece of code, the entry, is what
Python calls: it sees that the arguments are what the loop was compiled for, and reads arrays where NumPy
keeps them (its C interface, PyArrayObject and PyArray_Descr).

While the loop runs, Python's lock is free, so loops of several threads run side by side. The caller holds its
arguments meanwhile, and NumPy moves no array that others hold; as with NumPy's own loops, nobody else may
write where one reads or writes.
"""

from __future__ import annotations

import ctypes as c
import re
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, cast

import llvmlite.binding as llvm
import numpy as np

ONE = re.compile(r"(b1|i2|i8|f8|f4)(\[[^]]*\])?")
OF_ARRAYS = {"b1": np.dtype(np.bool_), "i2": np.dtype(np.int16), "i8": np.dtype(np.int64),
             "f8": np.dtype(np.float64), "f4": np.dtype(np.float32)}
ALONE = {"i8": "i64", "f8": "double"}
TYPE, PLACE, NDIM, SHAPE, STRIDES, DESCR, FLAGS = 8, 16, 24, 32, 40, 56, 64
"""bytes from an array's own place, of the usual 64-bit builds of CPython (`understood`)"""
BYTE_ORDER, TYPE_NUMBER = 26, 28  # from its descr's
PACKED, BEHAVED = 0x1, 0x100 | 0x400  # flags: without gaps; aligned and writeable
SWAPPED = ord(">" if sys.byteorder == "little" else "<")
FASTCALL = 0x80  # Python's METH_FASTCALL
ENTRY, TABLE = "entry", "table"
OBJECTS = {"array": np.ndarray, "none": None, "type_error": TypeError, "runtime_error": RuntimeError}
FUNCTIONS = {
    "to_i8": "PyLong_AsLongLong", "to_f8": "PyFloat_AsDouble", "from_i8": "PyLong_FromLongLong",
    "from_f8": "PyFloat_FromDouble", "pack": "PyTuple_Pack", "occurred": "PyErr_Occurred",
    "set_error": "PyErr_SetString", "hold": "Py_IncRef", "drop": "Py_DecRef",
    "let_go": "PyEval_SaveThread", "take_up": "PyEval_RestoreThread",
}
KNOWN = [*OBJECTS, *FUNCTIONS]
"""what of Python the entry knows, by its place in the entry's table"""


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


class _Method(c.Structure):
    """Python's PyMethodDef."""

    _fields_ = (("name", c.c_char_p), ("run", c.c_void_p), ("flags", c.c_int), ("doc", c.c_char_p))


_HELD: list[Any] = []  # what loops of this process stand on


@cache
def understood() -> bool:
    """Whether this Python keeps its objects and this NumPy its arrays as the entry reads them. Builds with
    other heads of objects do not: without the global lock, for debugging, of 32 bits."""
    some = np.zeros((2, 5), dtype=np.float32)[:, ::2]

    def read(kind: Any, *way: int) -> Any:
        at = id(some)
        for step in way[:-1]:
            at = c.c_size_t.from_address(at + step).value
        return kind.from_address(at + way[-1]).value

    return bool(
        read(c.c_size_t, TYPE) == id(np.ndarray) and read(c.c_size_t, PLACE) == some.ctypes.data
        and read(c.c_int, NDIM) == some.ndim
        and [read(c.c_int64, SHAPE, 8 * k) for k in range(2)] == list(some.shape)
        and [read(c.c_int64, STRIDES, 8 * k) for k in range(2)] == list(some.strides)
        and read(c.c_size_t, DESCR) == id(some.dtype) and read(c.c_int, DESCR, TYPE_NUMBER) == some.dtype.num
        and read(c.c_ubyte, DESCR, BYTE_ORDER) == ord(some.dtype.byteorder)
        and read(c.c_int, FLAGS) & (BEHAVED | PACKED) == BEHAVED
    )


def called(code: Code, name: str) -> Callable[..., Any]:
    """A loop as a function. It raises TypeError for other arguments, and RuntimeError where the code fails,
    as by a division by nought."""
    engine = llvm.create_mcjit_compiler(llvm.parse_assembly(""), _machine())
    for each in (code.function, code.entry):
        engine.add_object_file(llvm.ObjectFileRef.from_data(each))
    engine.finalize_object()
    known = [id(one) for one in OBJECTS.values()]
    known += [c.cast(getattr(c.pythonapi, one), c.c_void_p).value or 0 for one in FUNCTIONS.values()]
    table = (c.c_uint64 * len(known))(*known)
    c.memmove(engine.get_global_value_address(TABLE), table, c.sizeof(table))
    method = _Method(name.encode(), engine.get_function_address(ENTRY), FASTCALL, None)
    _HELD.append((engine, method))
    make = c.PYFUNCTYPE(c.py_object, c.c_void_p, c.c_void_p, c.c_void_p)(("PyCFunction_NewEx", c.pythonapi))
    return cast("Callable[..., Any]", make(c.addressof(method), None, None))


def entry(name: str, signature: str) -> bytes:
    """The object file of the entry to the function of that name."""
    made, _, arguments = signature.rpartition("(")
    results = [kind for kind, _ in ONE.findall(made)]
    takes = [_taken(*one) for one in ONE.findall(arguments)]
    text = "\n".join(_entry(name, signature, takes, results))
    return cast(bytes, _machine().emit_object(llvm.parse_assembly(text)))


def _taken(kind: str, dimensions: str) -> _Array | str:
    if not dimensions:
        return kind
    return _Array(OF_ARRAYS[kind], dimensions.count(",") + 1, dimensions.endswith("::1]"))


def _machine() -> Any:
    llvm.initialize_native_target()
    llvm.initialize_native_asmprinter()
    return llvm.Target.from_default_triple().create_target_machine()


def _entry(name: str, signature: str, takes: Sequence[_Array | str], results: Sequence[str]) -> Iterator[str]:
    """In LLVM's own words: a function of Python's, of its own object, the arguments and their number."""
    given = ["ptr %result", "ptr %failure"]
    yield f"@{TABLE} = global [{len(KNOWN)} x ptr] zeroinitializer"
    yield from _words("unfit", f"{signature} got other arguments, or arrays with gaps or not to be changed")
    yield from _words("broken", "the compiled loop failed")
    yield f"define ptr @{ENTRY}(ptr %self, ptr %args, i64 %count) {{"
    yield f"%result = alloca {_made(results)}"
    yield "%failure = alloca ptr"
    for n, known in enumerate(KNOWN):
        yield from _loaded("ptr", f"%{known}", f"@{TABLE}", 8 * n)
    yield from _checked("%all", f"eq i64 %count, {len(takes)}", "unfit")
    for n, take in enumerate(takes):
        yield from _loaded("ptr", f"%a{n}", "%args", 8 * n)
        if isinstance(take, _Array):
            yield from _fit(f"%a{n}", take)
            yield from _read(f"%a{n}", take)
            given += _flat(f"%a{n}", take)
        else:
            yield f"%a{n}.value = call {ALONE[take]} %to_{take}(ptr %a{n})"
            given.append(f"{ALONE[take]} %a{n}.value")
    yield "%raised = call ptr %occurred()"
    yield from _checked("%clean", "eq ptr %raised, null", "raise")
    yield "%thread = call ptr %let_go()"  # nothing of Python's is touched from here
    yield f'%told = call i32 @"{name}"({", ".join(given)})'
    yield "call void %take_up(ptr %thread)"  # to here
    yield from _checked("%done", "eq i32 %told, 0", "broken")
    yield from _given_back(results)
    for fault, error in (("unfit", "type_error"), ("broken", "runtime_error")):
        yield f"{fault}: call void %set_error(ptr %{error}, ptr @{fault}.words)"
        yield "br label %raise"
    yield "raise: ret ptr null }"
    yield f'declare i32 @"{name}"({", ".join(one.partition(" ")[0] for one in given)})'


def _words(name: str, words: str) -> Iterator[str]:
    yield f'@{name}.words = private constant [{len(words) + 1} x i8] c"{words}\\00"'


def _made(results: Sequence[str]) -> str:
    """What the place for the results holds."""
    return f"{{{', '.join(ALONE[kind] for kind in results) or 'ptr'}}}"


def _given_back(results: Sequence[str]) -> Iterator[str]:
    """Nothing, a number, or several as Python's."""
    if not results:
        yield "call void %hold(ptr %none)"
        yield "ret ptr %none"
        return
    for n, kind in enumerate(results):
        yield f"%r{n}.at = getelementptr {_made(results)}, ptr %result, i32 0, i32 {n}"
        yield f"%r{n} = load {ALONE[kind]}, ptr %r{n}.at"
        yield f"%r{n}.told = call ptr %from_{kind}({ALONE[kind]} %r{n})"
    if len(results) == 1:
        yield "ret ptr %r0.told"
        return
    several = ", ".join(f"ptr %r{n}.told" for n in range(len(results)))
    yield f"%several = call ptr (i64, ...) %pack(i64 {len(results)}, {several})"
    for n in range(len(results)):
        yield f"call void %drop(ptr %r{n}.told)"
    yield "ret ptr %several"


def _fit(array: str, take: _Array) -> Iterator[str]:
    """The array is as the loop was compiled for, or that is raised."""
    wanted = BEHAVED | (PACKED if take.packed else 0)
    yield from _loaded("ptr", f"{array}.type", array, TYPE)
    yield from _checked(f"{array}.is", f"eq ptr {array}.type, %array", "unfit")
    yield from _loaded("ptr", f"{array}.descr", array, DESCR)
    yield from _loaded("i32", f"{array}.number", f"{array}.descr", TYPE_NUMBER)
    yield from _checked(f"{array}.kind", f"eq i32 {array}.number, {take.dtype.num}", "unfit")
    yield from _loaded("i8", f"{array}.order", f"{array}.descr", BYTE_ORDER)
    yield from _checked(f"{array}.native", f"ne i8 {array}.order, {SWAPPED}", "unfit")
    yield from _loaded("i32", f"{array}.ndim", array, NDIM)
    yield from _checked(f"{array}.dimensions", f"eq i32 {array}.ndim, {take.ndim}", "unfit")
    yield from _loaded("i32", f"{array}.flags", array, FLAGS)
    yield f"{array}.told = and i32 {array}.flags, {wanted}"
    yield from _checked(f"{array}.fits", f"eq i32 {array}.told, {wanted}", "unfit")


def _read(array: str, take: _Array) -> Iterator[str]:
    """Its place, size, shape and strides."""
    for field, at in (("place", PLACE), ("shape", SHAPE), ("strides", STRIDES)):
        yield from _loaded("ptr", f"{array}.{field}", array, at)
    size = "1"
    for k in range(take.ndim):
        yield from _loaded("i64", f"{array}.shape{k}", f"{array}.shape", 8 * k)
        yield from _loaded("i64", f"{array}.strides{k}", f"{array}.strides", 8 * k)
        yield f"{array}.size{k} = mul i64 {size}, {array}.shape{k}"
        size = f"{array}.size{k}"


def _flat(array: str, take: _Array) -> list[str]:
    each = [f"i64 {array}.{field}{k}" for field in ("shape", "strides") for k in range(take.ndim)]
    return ["ptr null", "ptr null", f"i64 {array}.size{take.ndim - 1}", f"i64 {take.dtype.itemsize}",
            f"ptr {array}.place", *each]


def _checked(name: str, condition: str, otherwise: str) -> tuple[str, str, str]:
    after = f"{name[1:]}.true"
    return f"{name} = icmp {condition}", f"br i1 {name}, label %{after}, label %{otherwise}", f"{after}:"


def _loaded(kind: str, name: str, base: str, at: int) -> tuple[str, str]:
    return f"{name}.at = getelementptr i8, ptr {base}, i64 {at}", f"{name} = load {kind}, ptr {name}.at"
