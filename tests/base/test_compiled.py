"""Compiled loops: the same as the plain ones, kept whole, and loaded without the compiler."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from time import sleep
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import array_shapes, arrays
from numba.core.errors import NumbaError

from evenpick.base import compiled, native

LOOPS = '''
import numpy as np
from evenpick.base.compiled import compiled, part

STEP = 2.0

@part
def _longer(value):
    return value + STEP

@compiled("f8(f8[:, :], f4[::1], i8[::1], b1[::1], f8, i8)")
def of_all(table, single, whole, truth, one, count):
    found = one * count
    for i in range(table.shape[0]):
        for k in range(table.shape[1]):
            found += (i + 1) * _longer(table[i, k])
    for i in range(len(single)):
        found += single[i] * whole[i] if truth[i] else 0.5
    return found

@compiled("Tuple((f8, i8))(i8[:, ::1])")
def both(table):
    table[0, 0] += 1
    return 0.5 * table[-1, -1], table.size

@compiled("void(i8[:, ::1])")
def empty(table):
    table[:] = 0

@compiled("i8(i8, i8)")
def parts_of(whole, by):
    return whole // by

@compiled("i8(i8[::1], i8, i8)")
def awaited(told, place, most):
    for n in range(1, most):
        if told[0] != 0:
            return n
        told[place] = n
    return 0
'''


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("loops") / "some_loops.py"
    path.write_text(LOOPS)
    return path


def loaded(source: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(source.stem, source)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    compiled._text.cache_clear()
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def loops(source: Path) -> ModuleType:
    return loaded(source)


@pytest.fixture
def compilations(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the loops compiled meanwhile."""
    names, as_ever = list[str](), compiled._compile

    def compile_and_note(loop: Any, signature: str) -> Any:
        names.append(loop.__name__)
        return as_ever(loop, signature)

    monkeypatch.setattr(compiled, "_compile", compile_and_note)
    return names


def kept(source: Path, loop: str) -> Path:
    (found,) = (source.parent / "__pycache__").glob(f"some_loops.{loop}-*")
    return found


@given(
    arrays(np.float64, array_shapes(min_dims=2, max_dims=2, min_side=0, max_side=5),
           elements=st.integers(-9, 9).map(float)),
    st.integers(0, 5), st.integers(-9, 9), st.booleans(),
)
def test_every_kind_of_argument_arrives(
    loops: ModuleType, table: Any, length: int, count: int, turned: bool
) -> None:
    table = table.T if turned else table[:, ::-1]  # any strides
    single, whole = np.arange(length, dtype=np.float32), np.arange(length) - 2
    rows = np.arange(1.0, len(table) + 1)
    expected = 1.5 * count + (rows @ (table + 2.0)).sum()
    expected += np.where(whole > 0, single * whole, 0.5).sum()
    assert loops.of_all(table, single, whole, whole > 0, 1.5, count) == expected


def test_several_results_come_back_and_arrays_change_in_place(loops: ModuleType) -> None:
    table = np.arange(6).reshape(2, 3)
    assert loops.both(table) == (2.5, 6)
    assert table.tolist() == [[1, 1, 2], [3, 4, 5]]


@pytest.mark.parametrize("table", [
    np.zeros((2, 3)), np.zeros(3, dtype=np.int64), np.zeros((3, 2), dtype=np.int64).T,
    np.zeros((2, 3), dtype=np.int32), np.broadcast_to(np.zeros(3, dtype=np.int64), (2, 3)),
    np.zeros((2, 3), dtype=np.dtype(np.int64).newbyteorder()), [[1, 2], [3, 4]], 7, None,
    np.ma.zeros((2, 3), dtype=np.int64),
])
def test_arrays_it_was_not_compiled_for_are_refused(loops: ModuleType, table: Any) -> None:
    with pytest.raises(TypeError):
        loops.both(table)


def test_an_array_that_may_not_be_changed_is_refused(loops: ModuleType) -> None:
    table = np.zeros((2, 3), dtype=np.int64)
    table.flags.writeable = False
    with pytest.raises(TypeError):
        loops.both(table)


@pytest.mark.parametrize("given", [(), (1,), (1, 2, 3), ("seven", 2), (7.5, 2), (None, 2), (2**70, 2)])
def test_other_arguments_than_it_takes_are_refused(loops: ModuleType, given: tuple[Any, ...]) -> None:
    with pytest.raises((TypeError, OverflowError)):
        loops.parts_of(*given)


def test_calls_hold_on_to_nothing(loops: ModuleType) -> None:
    table = np.arange(6).reshape(2, 3)

    def held() -> list[int]:
        return [sys.getrefcount(one) for one in (None, table, table.dtype, TypeError)]

    def calls() -> None:
        loops.both(table)
        loops.empty(table)
        loops.parts_of(10**6, 2)
        with suppress(TypeError):
            loops.both(None)

    calls()
    before, blocks = held(), sys.getallocatedblocks()
    for _ in range(2000):
        calls()
    assert np.allclose(held(), before, atol=100)
    assert sys.getallocatedblocks() - blocks < 100


def test_a_failure_in_the_code_is_raised(loops: ModuleType) -> None:
    assert loops.parts_of(7, 2) == 3
    with pytest.raises(RuntimeError, match="loop failed"):
        loops.parts_of(7, 0)


def test_python_goes_on_while_a_loop_runs(loops: ModuleType) -> None:
    """The loop waits for a word that only another thread can write while it runs."""
    told, turns = np.zeros(2, dtype=np.int64), 2**31
    with ThreadPoolExecutor(1) as pool:
        waits = pool.submit(loops.awaited, told, 1, turns)
        while told[1] == 0:
            sleep(0.001)
        told[0] = 1
        assert 0 < waits.result() < turns


def test_a_failure_is_raised_in_the_thread_that_ran_the_code(loops: ModuleType) -> None:
    with ThreadPoolExecutor(4) as pool:
        several = [pool.submit(loops.parts_of, n, n % 2) for n in range(400)]
    failed = [each.exception() for each in several]
    assert [type(each) for each in failed] == [RuntimeError, type(None)] * 200
    assert [each.result() for each in several[1::2]] == list(range(1, 400, 2))


def test_what_was_kept_is_not_compiled_again(
    loops: ModuleType, source: Path, compilations: list[str]
) -> None:
    assert loaded(source).parts_of(9, 2) == 4
    assert compilations == []


def test_a_kept_loop_loads_without_the_compiler(loops: ModuleType, source: Path) -> None:
    told = f"import sys; sys.path.insert(0, {str(source.parent)!r}); import some_loops; " \
           "print(some_loops.parts_of(9, 4), 'numba' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["2", "False"]


@pytest.mark.parametrize("spoil", [
    lambda whole: whole[:-1], lambda whole: whole[:-1] + bytes([whole[-1] ^ 1]), lambda whole: b"",
])
def test_what_was_kept_in_part_or_damaged_is_compiled_again(
    loops: ModuleType, source: Path, compilations: list[str], spoil: Any
) -> None:
    file = kept(source, "parts_of")
    file.write_bytes(spoil(file.read_bytes()))
    assert loaded(source).parts_of(9, 2) == 4
    assert compilations == ["parts_of"]
    assert loaded(source).parts_of(9, 2) == 4
    assert compilations == ["parts_of"]


def test_a_change_of_the_source_or_of_a_number_from_elsewhere_is_compiled(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, compilations: list[str]
) -> None:
    numbers = ModuleType("some_numbers")
    monkeypatch.setitem(sys.modules, "some_numbers", numbers)
    path, text = tmp_path / "changing.py", (
        "from evenpick.base.compiled import compiled\nfrom some_numbers import N\n\n"
        '@compiled("i8(i8)")\ndef more(n):\n    return n + N\n'
    )
    for number, sign in ((1, "+"), (1, "+"), (2, "+"), (2, "-")):
        numbers.__dict__["N"] = number
        path.write_text(text.replace("+", sign))
        monkeypatch.setattr(sys, "dont_write_bytecode", True)  # whose age is told in whole seconds
        assert loaded(path).more(5) == 5 + (number if sign == "+" else -number)
    assert compilations == ["more", "more", "more"]


def with_no_folder_beside(folder: Path) -> Path:
    """The source where nothing can be kept beside it."""
    path = folder / "some_loops.py"
    path.write_text(LOOPS)
    (folder / "__pycache__").write_text("no folder")
    return path


def test_where_nothing_can_be_kept_it_works_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, compilations: list[str]
) -> None:
    path = with_no_folder_beside(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(path))  # no folder either
    for _ in range(2):
        assert loaded(path).parts_of(9, 2) == 4
    assert compilations == 2 * ["of_all", "both", "empty", "parts_of", "awaited"]


def test_what_cannot_be_kept_beside_the_source_is_kept_in_the_users_own_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, compilations: list[str]
) -> None:
    path = with_no_folder_beside(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "own"))
    for _ in range(2):
        assert loaded(path).parts_of(9, 2) == 4
    assert compilations == ["of_all", "both", "empty", "parts_of", "awaited"]
    assert len(list((tmp_path / "own" / "evenpick").iterdir())) == 5


def test_this_python_is_understood() -> None:
    assert native.understood()


@pytest.mark.parametrize("field", ["TYPE", "PLACE", "NDIM", "TYPE_NUMBER", "BYTE_ORDER", "FLAGS"])
def test_objects_kept_otherwise_are_seen(monkeypatch: pytest.MonkeyPatch, field: str) -> None:
    monkeypatch.setattr(native, field, getattr(native, field) + 4)
    assert not native.understood.__wrapped__()


def test_where_objects_are_not_understood_the_compiler_calls_its_own(
    source: Path, monkeypatch: pytest.MonkeyPatch, compilations: list[str]
) -> None:
    monkeypatch.setattr(native, "understood", lambda: False)
    plain = loaded(source)
    table = np.arange(6).reshape(2, 3)
    assert plain.both(table) == (2.5, 6)
    one = [np.ones(1, kind) for kind in (np.float32, np.int64, np.bool_)]
    assert plain.of_all(np.ones((1, 2)), *one, 1.0, 2) == 9.0
    with pytest.raises(ZeroDivisionError):
        plain.parts_of(1, 0)
    assert compilations == []


def sums(count: int) -> float:
    return float(np.zeros(count).sum())


def test_a_loop_that_makes_an_array_is_refused() -> None:
    with pytest.raises(NumbaError):
        compiled.compiled("f8(i8)")(sums)
