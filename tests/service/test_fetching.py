"""Fetching a season on request, and what it does to the answers (docs/design/weather.md, F)."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, BadWeatherFile, Problem
from evenpick.climate.fetched import Fetched, as_file, point_of, read_fetched
from evenpick.climate.own_readings import Reading as Read
from evenpick.climate.own_readings import own_shift
from evenpick.climate.series import VARIABLES, DailySeries
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Reading
from evenpick.report.terminal import render
from evenpick.report.weather import weather_page
from evenpick.report.words import words_for
from evenpick.service import fetching
from evenpick.service.book import write
from evenpick.service.fetching import fetch
from evenpick.service.outlook import outlook
from evenpick.service.season_weather import season_weather
from evenpick.service.weather_weeks import weather_weeks
from evenpick.service.where import garden_site

GARDEN = """
[site]
at = "53.43, -6.24"
height = "71 m"
weather = "dublin-airport"
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
TODAY, NOW = date(2027, 5, 3), datetime(2027, 5, 3, 7, 12, tzinfo=UTC)


def told(site: Site, today: date, now: datetime, missing: int = 2) -> Fetched:
    """INVENTED: 90 days of 3 to 13 °C and 1 mm, then a week's forecast of 9 to 25 °C without rain."""
    days, first = 97, day_number(today) - 90
    ahead = np.arange(days) >= 90
    values = {name: np.full(days, np.nan) for name in VARIABLES}
    values |= {"tmin": np.where(ahead, 9.0, 3.0), "tmax": np.where(ahead, 25.0, 13.0),
               "rain": np.where(ahead, 0.0, 1.0)}
    values["rain"][40 : 40 + missing] = np.nan
    return Fetched("Open-Meteo", "Weather data by Open-Meteo.com, CC BY 4.0", point_of(site), now,
                   day_number(today), DailySeries(first, **values))


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN, encoding="utf-8")
    return path


@pytest.fixture
def questions(monkeypatch: pytest.MonkeyPatch) -> list[datetime]:
    """A service that answers as `told` says, and when it was asked."""
    came: list[datetime] = []

    def answer(_: object, site: Site, today: date, now: datetime) -> Fetched:
        came.append(now)
        return told(site, today, now)

    monkeypatch.setattr(fetching, "get_season", answer)
    return came


def test_kept_beside_the_garden_and_not_asked_too_soon(garden: Path, questions: list[datetime]) -> None:
    found = fetch(garden, "open-meteo", TODAY, NOW)
    assert found.path.name == "garden.weather.csv"
    assert read_fetched(found.path).moment == NOW
    assert not fetch(garden, "open-meteo", TODAY, NOW + timedelta(hours=5)).asked
    assert fetch(garden, "open-meteo", TODAY, NOW + timedelta(hours=6)).asked
    assert len(questions) == 2


def test_another_service_or_place_is_asked(garden: Path, questions: list[datetime]) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    assert fetch(garden, "nasa-power", TODAY, NOW).asked
    garden.write_text(GARDEN.replace("53.43", "52.10"), encoding="utf-8")
    with pytest.raises(BadWeatherFile, match=r"fetched for 53\.43, -6\.24, another place\. Fetch it again"):
        weather_weeks(garden, TODAY)
    assert fetch(garden, "open-meteo", TODAY, NOW).asked
    assert len(questions) == 3


def test_a_service_not_known(garden: Path) -> None:
    with pytest.raises(BadRequest, match="Did you mean 'open-meteo'"):
        fetch(garden, "open-metro", TODAY, NOW)


@pytest.mark.parametrize("trouble", [BadWeatherFile(Problem("it is down.", "Later.")), KeyboardInterrupt()])
def test_what_was_there_stays_whole(
    garden: Path, questions: list[datetime], monkeypatch: pytest.MonkeyPatch, trouble: BaseException
) -> None:
    before = fetch(garden, "open-meteo", TODAY, NOW).path.read_bytes()

    def fails(*_: object) -> Fetched:
        raise trouble

    monkeypatch.setattr(fetching, "get_season", fails)
    with pytest.raises(type(trouble)):
        fetch(garden, "open-meteo", TODAY, NOW + timedelta(days=1))
    assert {path.name for path in garden.parent.iterdir()} == {"garden.toml", "garden.weather.csv"}
    assert garden.with_suffix(".weather.csv").read_bytes() == before


def test_stopped_while_it_is_written(
    garden: Path, questions: list[datetime], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = fetch(garden, "open-meteo", TODAY, NOW).path.read_bytes()

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("evenpick.base.whole.os.fsync", stopped)
    with pytest.raises(KeyboardInterrupt):
        fetch(garden, "open-meteo", TODAY, NOW + timedelta(days=1))
    assert {path.name for path in garden.parent.iterdir()} == {"garden.toml", "garden.weather.csv"}
    assert garden.with_suffix(".weather.csv").read_bytes() == before


def test_days_that_were_then_the_forecast_then_the_years(garden: Path, questions: list[datetime]) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    site, choice = garden_site(garden)
    start = day_number(TODAY) - 100
    season = season_weather(site, choice, start, 500, {}, 1)
    tmax, rain = season.weather.tmax, season.weather.rain
    assert set(tmax[:, 99]) == {13.0}
    assert set(tmax[:, 106]) == {25.0}
    assert np.ptp(tmax[:, 107]) > 5
    assert list(season.rained[[9, 10, 99, 100]]) == [False, True, True, False]
    assert np.ptp(rain[:, 50]) > 0, "a day without rain told is not a dry day"
    assert not season.rained[50]
    assert any("Open-Meteo.com, CC BY 4.0" in note for note in season.weather.origin.notes)


def test_a_plan_made_for_an_earlier_day_knows_neither_later_days_nor_a_later_forecast(
    garden: Path, questions: list[datetime]
) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    site, choice = garden_site(garden)
    start = day_number(TODAY) - 100
    season = season_weather(site, choice, start, 500, {}, 1, day_number(TODAY) - 10)
    assert set(season.weather.tmax[:, 89]) == {13.0}
    assert np.ptp(season.weather.tmax[:, 90]) > 5
    assert np.ptp(season.weather.tmax[:, 103]) > 5


def test_the_growers_own_readings_go_before(garden: Path, questions: list[datetime]) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    write(garden, [(TODAY - timedelta(days=5), Reading(tmin=-2.0), "")])
    site, choice = garden_site(garden)
    season = season_weather(site, choice, day_number(TODAY) - 100, 500, {}, 1)
    assert set(season.weather.tmin[:, 95]) == {-2.0}


def hollow(garden: Path, nights: int, first: int = 60) -> None:
    """INVENTED: a frost hollow, its nights two degrees below what the service tells of them."""
    day = TODAY - timedelta(days=first)
    write(garden, [(day + timedelta(days=n), Reading(tmin=1.0, tmax=13.0), "") for n in range(nights)])


def test_the_services_days_are_moved_by_what_was_read_beside_them(
    garden: Path, questions: list[datetime]
) -> None:
    """season.md, 18: those days and the forecast, by the shift against them; not by that against the station,
    which leaves other days of the year as its own moves them."""
    fetch(garden, "open-meteo", TODAY, NOW)
    hollow(garden, 30)
    site, choice = garden_site(garden)
    start = day_number(TODAY) - 100
    season = season_weather(site, choice, start, 500, {}, 1)
    tmin, tmax = season.weather.tmin, season.weather.tmax
    assert set(tmin[:, 45]) == {1.0}, "a night that was read is as it was read"
    for at, told_night in ((15, 3.0), (95, 3.0), (103, 9.0)):
        assert np.ptp(tmin[:, at]) == 0.0
        assert told_night - 2.0 < tmin[0, at] < told_night - 1.2
    assert np.abs(tmax[0, 80:100] - 13.0).max() < 1e-9, "days that agree are not moved"
    read = np.arange(day_number(TODAY) - 60, day_number(TODAY) - 30)
    own = own_shift([Read(int(day), 1.0, 13.0) for day in read], np.full(30, 3.0), np.full(30, 13.0),
                    np.full(30, True))
    assert tmin[0, 95] == pytest.approx(3.0 + own.tmin.at(np.array([start + 95]))[0])
    assert any("moved, a forecast too, by your own thermometer" in note
               for note in season.weather.origin.notes)


@pytest.mark.parametrize(("nights", "first"), [(6, 60), (30, 130), (0, 60)])
def test_few_readings_or_those_of_other_days_move_nothing(
    garden: Path, questions: list[datetime], nights: int, first: int
) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    hollow(garden, nights, first)
    site, choice = garden_site(garden)
    season = season_weather(site, choice, day_number(TODAY) - 100, 500, {}, 1)
    assert set(season.weather.tmin[:, 99]) == {3.0}
    assert not any("held against the days" in note for note in season.weather.origin.notes)


def test_what_is_read_later_moves_nothing_of_an_earlier_day(garden: Path, questions: list[datetime]) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    hollow(garden, 30)
    site, choice = garden_site(garden)
    until = day_number(TODAY) - 60
    season = season_weather(site, choice, day_number(TODAY) - 100, 500, {}, 1, until)
    assert set(season.weather.tmin[:, 39]) == {3.0}


def test_a_slip_of_the_pen_is_left_out_and_told(garden: Path, questions: list[datetime]) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    hollow(garden, 30)
    write(garden, [(TODAY - timedelta(days=10), Reading(tmin=-41.0), "")])
    site, choice = garden_site(garden)
    season = season_weather(site, choice, day_number(TODAY) - 100, 500, {}, 1)
    assert 1.0 < season.weather.tmin[0, 95] < 1.8
    assert any("a minimum of -41 °C on 2027-04-23" in note for note in season.weather.origin.notes)


def test_how_far_they_are_moved_is_told(garden: Path, questions: list[datetime]) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    hollow(garden, 30)
    answer = weather_weeks(garden, TODAY)
    assert answer.fetched is not None
    assert (answer.fetched.nights_read, answer.fetched.days_read) == (30, 30)
    assert -2.0 < answer.fetched.nights < -1.2
    page = " ".join(render(weather_page(answer, words_for("british", "metric", load_catalogue()))).split())
    assert f"moves them all: nights by {answer.fetched.nights:+.1f} °C (30 read)." in page


def test_the_forecast_bears_on_what_is_sown_today(garden: Path, questions: list[datetime]) -> None:
    site, choice = garden_site(garden)
    before = outlook(site, choice, "radish", TODAY).emergence
    fetch(garden, "open-meteo", TODAY, NOW)
    after = outlook(*garden_site(garden), "radish", TODAY)
    assert before is not None
    assert after.emergence is not None
    assert after.emergence.likely < before.likely
    assert any("its forecast to 2027-05-09 is taken as it is" in note for note in after.climate.notes)


def test_it_is_told_whose_days_they_are(garden: Path, questions: list[datetime]) -> None:
    fetch(garden, "open-meteo", TODAY, NOW)
    words = words_for("british", "metric", load_catalogue())
    page = render(weather_page(weather_weeks(garden, TODAY + timedelta(days=9)), words))
    assert ("This season's days from 2 Feb to 2 May: Weather data by Open-Meteo.com, CC BY 4.0; fetched 3 "
            "May. 2 days of them are missing and are taken from the years. Its forecast to 9 May is taken as "
            "it is. That is 9 days ago: fetch again for what has been since.") in " ".join(page.split())


def test_a_file_spoilt_by_hand_is_told_with_its_line(garden: Path) -> None:
    site = garden_site(garden)[0]
    text = as_file(replace(told(site, TODAY, NOW))).replace("13.00", "1300", 1)
    garden.with_suffix(".weather.csv").write_text(text, encoding="utf-8")
    with pytest.raises(BadWeatherFile, match=r"garden\.weather\.csv, line 7"):
        weather_weeks(garden, TODAY)
