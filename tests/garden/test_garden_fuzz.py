"""Whatever stands in the file, the answer is a garden or an error that tells what to mend."""

from __future__ import annotations

from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st
from small_garden import SMALL, TODAY

from evenpick.base.errors import EvenpickError
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import Garden
from evenpick.garden.reading import understand

LINES = SMALL.split("\n")
VALUES = st.one_of(
    st.integers(), st.floats(), st.booleans(), st.dates(), st.times(),
    st.text(max_size=20).map(repr),
    st.sampled_from(["[]", "{}", "[[]]", '""', '"1 kg"', '"-0 m²"', "nan", "-inf"]),
).map(lambda value: str(value).lower() if isinstance(value, (bool, float)) else str(value))


def answered(text: str) -> None:
    try:
        assert isinstance(understand(text, "garden.toml", Path("nowhere"), load_catalogue(), TODAY), Garden)
        return
    except EvenpickError as error:
        problems = error.problems
    assert problems
    for problem in problems:
        assert problem.what
        assert problem.mend
        assert problem.file == "garden.toml"
        assert problem.line is None or 1 <= problem.line <= text.count("\n") + 1


@settings(max_examples=150)
@given(st.text())
@example("a = " + "[" * 5000)
@example("a = " + "9" * 5000)
@example("wish = 3\nground = [1]\nsite = []\nnever = 1979-05-27\n")
@example('wish = [{item = "leek", each_week = "1 kg"}]\n')
@example('[site]\nat = "1,1"\nweather = "' + "a" * 300 + '.csv"\n')
@example('[site]\nat = "1,1"\nweather = "a\\u0000.csv"\n')
@example("[wish.x]\ny = 1\n[[wish.x.z]]\n")
def test_any_text(text: str) -> None:
    answered(text)


@settings(max_examples=200)
@given(at=st.integers(0, len(SMALL)), cut=st.integers(0, 30), put=st.text(max_size=8))
def test_a_slip_of_the_keyboard(at: int, cut: int, put: str) -> None:
    answered(SMALL[:at] + put + SMALL[at + cut :])


@settings(max_examples=200)
@given(line=st.sampled_from([i for i, row in enumerate(LINES) if "=" in row]), value=VALUES)
def test_another_value_on_a_line(line: int, value: str) -> None:
    key = LINES[line].split("=")[0]
    answered("\n".join([*LINES[:line], f"{key}= {value}", *LINES[line + 1 :]]))


@settings(max_examples=60)
@given(st.permutations(LINES))
def test_lines_in_any_order(lines: list[str]) -> None:
    answered("\n".join(lines))
