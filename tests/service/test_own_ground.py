"""The grower's own thermometer, from the garden's files into every answer (docs/design/weather.md, O)."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.climate.records import packaged_record
from evenpick.garden.diary import Reading
from evenpick.service.book import write
from evenpick.service.climate import weather_for
from evenpick.service.outlook import outlook
from evenpick.service.season_weather import season_weather
from evenpick.service.water import water
from evenpick.service.weather_weeks import weather_weeks
from evenpick.service.where import garden_site

GARDEN = """
[site]
at = "53.43, -6.24"
height = "71 m"
weather = "dublin-airport"
{more}
[[ground]]
name = "bed"
cover = "open"
area = "20 m²"
[[outlet]]
name = "house"
kind = "kitchen"
[[wish]]
item = "radish"
each_week = "100 g"
"""
FIRST = date(2020, 4, 1)


def airport(days: int, colder: float) -> list[tuple[date, float, float]]:
    """INVENTED garden readings: Dublin Airport's own, nights so much colder."""
    series, _ = packaged_record("dublin_airport")
    at = day_number(FIRST) - series.start
    return [(FIRST + timedelta(days=i), float(series.tmin[at + i]) - colder, float(series.tmax[at + i]))
            for i in range(days)]


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN.format(more='readings = "plot.csv"'), encoding="utf-8")
    return path


def read(garden: Path, days: int, colder: float = 2.0) -> None:
    rows = [f"{day},{low:.1f},{high:.1f}," for day, low, high in airport(days, colder)]
    text = "\n".join(["date,tmin_c,tmax_c,rain_mm", *rows])
    garden.with_name("plot.csv").write_text(text, encoding="utf-8")


def nights(garden: Path) -> float:
    site, choice = garden_site(garden)
    return float(weather_for(site, choice, day_number(date(2027, 1, 1)), 366, 1).tmin.mean())


def test_a_colder_plot_moves_the_nights_of_every_year(garden: Path) -> None:
    read(garden, 5)
    before = nights(garden)
    read(garden, 60)
    assert nights(garden) - before == pytest.approx(-1.65, abs=0.1)  # of the year; two months were read
    site, choice = garden_site(garden)
    notes = outlook(site, choice, "radish", date(2027, 4, 1)).climate.notes
    assert any("Moved by your own thermometer, over the year: nights -1." in note for note in notes)


def test_it_is_told_by_month_with_how_far_it_is_to_be_trusted(garden: Path) -> None:
    read(garden, 60)
    own = weather_weeks(garden, date(2027, 6, 1)).own
    assert own is not None
    assert (own.nights_read, own.same_day, len(own.months)) == (60, 60, 12)
    assert own.months[3].readings == 30
    assert own.months[3].nights_within < own.months[9].nights_within


def test_diary_and_file_together_the_diary_first(garden: Path) -> None:
    read(garden, 10)
    day, low, high = airport(11, 2.0)[-1]
    write(garden, [(day, Reading(low, high), ""), (FIRST, Reading(tmin=-9.0), "")])
    own = weather_weeks(garden, date(2020, 5, 1)).own
    assert own is not None
    assert own.nights_read == 11
    site, choice = garden_site(garden)
    start = day_number(FIRST) - 1
    season = season_weather(site, choice, start, 400, {}, 1).weather
    assert set(season.tmin[:, 1]) == {-9.0}


def test_nothing_read_is_no_guess(tmp_path: Path) -> None:
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN.format(more=""), encoding="utf-8")
    assert weather_weeks(path, date(2027, 6, 1)).own is None
    write(path, [(FIRST, Reading(rain=3.0), "")])
    assert weather_weeks(path, date(2027, 6, 1)).own is None


def test_the_stations_days_of_this_season_are_moved_too(garden: Path) -> None:
    read(garden, 60)
    site, choice = garden_site(garden)
    season = season_weather(site, choice, day_number(date(2021, 6, 1)), 400, {}, 1)
    series, _ = packaged_record("dublin_airport")
    raw = series.tmin[day_number(date(2021, 6, 10)) - series.start]
    assert season.weather.tmin[0, 9] - raw == pytest.approx(-1.9, abs=0.3)


def test_what_was_not_read_is_not_told_as_this_season(tmp_path: Path) -> None:
    """A thermometer file without rain: the years' rain was told as this season's, 58 mm of a dry week."""
    path, plot = tmp_path / "garden.toml", tmp_path / "plot.csv"
    path.write_text(GARDEN.format(more='readings = "plot.csv"'), encoding="utf-8")
    days = [date(2027, 5, 3) + timedelta(days=at) for at in range(21)]
    warm = [f"{day},5.0,15.0," for day in days[:14]]
    wet = [f"{day},,,1.0" for day in days[14:]]
    plot.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *warm, *wet]) + "\n", encoding="utf-8")
    told = {week.week: week for week in weather_weeks(path, date(2027, 6, 1)).weeks}
    first, last = told[days[0]], told[days[14]]
    assert (first.this_mean, first.this_rain, first.measured) == (pytest.approx(10.0), None, 7)
    assert (last.this_mean, last.this_rain, last.measured) == (None, pytest.approx(7.0), 7)
    site, choice = garden_site(path)
    assert not any(one.recorded for one in water(site, choice, "radish", days[0], days[0]).days)
