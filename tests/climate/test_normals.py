"""Normals typed by hand (docs/formats/normals-toml.md): read right, and every mistake located."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenpick.base.errors import BadWeatherFile, EvenpickError
from evenpick.climate.normals import DAYS_IN_MONTH, estimated_wet_days, read_normals_toml

DOCUMENT = Path(__file__).resolve().parents[2] / "docs/formats/normals-toml.md"
GOOD = re.search(r"```toml\n(.*?)```", DOCUMENT.read_text(encoding="utf-8"), re.DOTALL)[1]  # type: ignore[index]


Write = Callable[[str], Path]


@pytest.fixture
def written(tmp_path: Path) -> Write:
    def write(text: str) -> Path:
        path = tmp_path / "here.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def changed(pattern: str, new: str) -> str:
    text, count = re.subn(pattern, new, GOOD, count=1, flags=re.MULTILINE | re.DOTALL)
    assert count == 1
    return text


def test_the_documented_example(written: Write) -> None:
    normals = read_normals_toml(written(GOOD))
    assert (normals.name, normals.lat, normals.lon, normals.height_m, normals.years) == (
        "Aberporth, Wales", 52.139, -4.57, 133.0, 29)
    for values in (normals.tmin, normals.tmax, normals.rain_mm, normals.wet_days):
        assert values.shape == (12,)
    assert normals.sunshine_h is not None
    assert normals.notes == ("wet days estimated from rain and temperature, within about 3.5 days a month",)


def test_fahrenheit_and_inches_are_the_same_climate(written: Write) -> None:
    metric = read_normals_toml(written(GOOD))

    def row(values: np.ndarray) -> str:
        return "[" + ", ".join(f"{value:.6f}" for value in values) + "]"

    text = GOOD.replace('"C"', '"F"').replace('"mm"', '"in"')
    for key, values in {"tmin": metric.tmin * 1.8 + 32, "tmax": metric.tmax * 1.8 + 32,
                        "rain": metric.rain_mm / 25.4}.items():
        text = re.sub(rf"^{key} = \[.*?\]", f"{key} = {row(values)}", text, flags=re.MULTILINE)
    imperial = read_normals_toml(written(text))
    assert imperial.tmin == pytest.approx(metric.tmin, abs=1e-5)
    assert imperial.tmax == pytest.approx(metric.tmax, abs=1e-5)
    assert imperial.rain_mm == pytest.approx(metric.rain_mm, abs=1e-4)


def test_wet_days_given_are_kept(written: Write) -> None:
    wet = "wet_days = [14, 11, 11, 9, 9, 9, 9, 11, 10, 14, 15, 15]\ntmin = ["
    normals = read_normals_toml(written(changed(r"^tmin = \[", wet)))
    assert normals.wet_days[0] == 14
    assert normals.notes == ()


MISTAKES = {
    "eleven": (r"^tmin = \[[^,]*,", "tmin = [", "tmin", "11 numbers instead of 12"),
    "not a number": (r"^tmin = \[[^,]*,", 'tmin = ["x",', "tmin", "'x' is not a number"),
    "true is no number": (r"^tmin = \[[^,]*,", "tmin = [true,", "tmin", "not a number"),
    "not finite": (r"^rain = \[[^,]*,", "rain = [nan,", "rain", "not a number"),
    "no list": (r"^rain = \[.*?\]", "rain = 4", "rain", "not a list"),
    "absent": (r"^rain = \[.*?\]", "", "rain", "'rain' is missing"),
    "crossed": (r"^tmin = \[[^,]*,", "tmin = [15.0,", "tmin", r"not below the mean maximum \(January\)"),
    "impossible cold": (r"^tmin = \[[^,]*,", "tmin = [-90,", "tmin", "does not occur"),
    "negative rain": (r"^rain = \[[^,]*,", "rain = [-1,", "rain", r"below nought \(January\)"),
    "unknown key": (r"^tmax =", "tmx =", "tmx", "Did you mean 'tmax'"),
    "odd latitude": (r"^lat = .*?$", "lat = 152", "lat", "not a number from -90 to 90"),
    "quoted height": (r"^height_m = .*?$", 'height_m = "133"', "height_m", "without quotes"),
    "name without words": (r"^name = .*?$", "name = 4", "name", "not words"),
    "no unit": (r'^temperature = "C"', "", "units.temperature", "the unit of temperature is not said"),
    "odd unit": (r'^rain = "mm"', 'rain = "cm"', "units.rain", "'cm' is not a unit of rain"),
    "looks like F": (r"^tmax = \[.*?\]", "tmax = [45,45,48,52,57,62,65,65,61,56,50,47]", "tmax",
                     "looks like °F"),
    "looks like C": (r'^temperature = "C"', 'temperature = "F"', "tmax", "looks like °C"),
    "from July": (r"^tmax = \[.*?\]", "tmax = [18.3,18.2,16.6,13.7,13.5,13.4,13.7,13.8,13.4,11.5,14.2,16.6]",
                  "lat", "warmer from December to February"),
    "no minus": (r"^lat = 52", "lat = -52", "lat", "warmer from June to August"),
    "mm called inches": (r'^rain = "mm"', 'rain = "in"', "rain", "looks like mm"),
    "a running total": (r"^rain = \[.*?\]", "rain = [90,154,212,267,324,386,452,525,594,699,816,919]", "rain",
                        "running total"),
    "sunshine a day": (r"^sunshine = \[.*?\]", "sunshine = [2,3,4,6,7,7,6,6,5,3,2,2]", "sunshine",
                       "hours a day"),
    "sunshine a year": (r"^sunshine = \[[^,]*,", "sunshine = [1500,", "sunshine", "not hours of sunshine"),
    "too many wet days": (r"^tmin =", "wet_days = [99,9,9,9,9,9,9,9,9,9,9,9]\ntmin =", "wet_days",
                          "not a number of days"),
    "units no table": (r"^\[units\].*", "", "units.rain", "not said"),
    "twelve below units": (r"^\[units\]", "[units]\nwet_days = 3", "units.wet_days", "above the line"),
}


@pytest.mark.parametrize("name", MISTAKES)
def test_every_mistake_is_located(name: str, written: Write) -> None:
    pattern, new, field, told = MISTAKES[name]
    text = changed(pattern, new)
    with pytest.raises(BadWeatherFile) as caught:
        read_normals_toml(written(text))
    problem = next(p for p in caught.value.problems if p.field == field and re.search(told, str(p)))
    assert problem.file == "here.toml"
    assert problem.mend
    key = field.split(".")[-1]
    lines = [i for i, line in enumerate(text.splitlines(), 1) if re.match(rf"{key}\s*=", line)]
    if name not in ("absent", "no unit", "units no table"):
        assert problem.line in lines


def test_rain_in_inches_called_mm_is_found_by_the_wet_days(written: Write) -> None:
    text = changed(r"^rain = \[.*?\]", "rain = [4,3,3,2,2,3,3,3,3,5,5,5]\nwet_days = " + str([12] * 12))
    with pytest.raises(BadWeatherFile, match="if the rain is in inches"):
        read_normals_toml(written(text))


def test_several_mistakes_come_together(written: Write) -> None:
    with pytest.raises(BadWeatherFile) as caught:
        read_normals_toml(written("lat = 99\ntmin = [1]\n"))
    assert {problem.field for problem in caught.value.problems} == {
        "lat", "lon", "tmin", "tmax", "rain", "units.temperature", "units.rain"}


def test_syntax_error_has_its_line(written: Write) -> None:
    with pytest.raises(BadWeatherFile) as caught:
        read_normals_toml(written('name = "x"\ntmin = [1 2]\n'))
    assert caught.value.problems[0].line == 2


def test_no_file_and_no_text(tmp_path: Path) -> None:
    with pytest.raises(BadWeatherFile, match="can't be opened"):
        read_normals_toml(tmp_path / "none.toml")
    (tmp_path / "odd.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadWeatherFile, match="UTF-8"):
        read_normals_toml(tmp_path / "odd.toml")


JUNK = st.text(max_size=30) | st.sampled_from(["tmin = " + "[" * 5000, "lat = " + "9" * 5000, "units = 3"])


@given(line=st.integers(0, 30), junk=JUNK)
def test_garbage_gives_normals_or_the_grower_s_error(
    line: int, junk: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.getbasetemp() / "garbage.toml"
    lines = GOOD.splitlines()
    lines[line : line + 1] = [junk]
    path.write_text("\n".join(lines), encoding="utf-8", errors="replace")
    with suppress(EvenpickError):
        assert read_normals_toml(path).tmin.shape == (12,)


def test_wet_days_never_beyond_the_month_nor_the_rain() -> None:
    for rain in (0.0, 0.5, 20.0, 9000.0):
        for warmth in (-60.0, 0.0, 35.0):
            wet = estimated_wet_days(np.full(12, rain), np.full(12, warmth), np.full(12, warmth))
            assert (wet <= rain).all()
            assert (wet < DAYS_IN_MONTH).all()


def test_a_desert_or_inches_called_mm_is_told(written: Write) -> None:
    inches = changed(r"^rain = \[.*?\]", "rain = [3.5,2.5,2.3,2.2,2.2,2.5,2.6,2.9,2.7,4.1,4.6,4.0]")
    assert any('only 36 mm of rain a year' in note for note in read_normals_toml(written(inches)).notes)
    assert not any("only" in note for note in read_normals_toml(written(GOOD)).notes)
