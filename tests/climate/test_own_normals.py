"""A short record of the grower's own lends its twelve normals (docs/design/weather.md)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadWeatherFile
from evenpick.climate.gaps import fill_gaps
from evenpick.climate.own_normals import record_normals
from evenpick.climate.records import packaged_record
from evenpick.climate.series import VARIABLES, DailySeries, Origin
from evenpick.climate.site import Site
from evenpick.climate.stations import nearest_station
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.report.place import weather_lines
from evenpick.report.words import words_for
from evenpick.service.climate import weather_for

DUBLIN = Site("Dublin Airport", 53.428, -6.241, 71.0)


def dublin(first: date, last: date) -> tuple[DailySeries, Origin]:
    series, origin = packaged_record("dublin_airport")
    whole, _ = fill_gaps(series)
    a, b = day_number(first) - whole.start, day_number(last) - whole.start + 1
    cut = {name: getattr(whole, name)[a:b] for name in VARIABLES}
    return replace(whole, start=whole.start + a, **cut), origin


def test_normals_of_the_same_years_agree_with_the_station_table() -> None:
    """CLIMAT normals of Dublin Airport, 2003 to 2021 (climat_dwd), against the daily record's own."""
    own = record_normals(*dublin(date(2003, 3, 1), date(2021, 7, 31)), DUBLIN)
    station, km, _ = nearest_station(DUBLIN)
    assert km < 5
    np.testing.assert_allclose(own.tmin, station.tmin, atol=0.5)
    np.testing.assert_allclose(own.tmax, station.tmax, atol=0.5)
    assert own.rain_mm.sum() == pytest.approx(station.rain_mm.sum(), rel=0.05)
    np.testing.assert_allclose(own.wet_days, station.wet_days, atol=1.0)


def written(folder: Path, years: int) -> Path:
    series, _ = dublin(date(2010, 1, 1), date(2010 + years - 1, 12, 31))
    rows = (
        f"{day_date(series.start + i)},{series.tmin[i]:.1f},{series.tmax[i]:.1f},{series.rain[i]:.1f}"
        for i in range(series.days)
    )
    path = folder / "own.csv"
    path.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]) + "\n", encoding="utf-8")
    return path


def test_a_short_record_speaks_by_its_months_and_says_so(tmp_path: Path) -> None:
    choice = WeatherChoice(record=written(tmp_path, 6))
    weather = weather_for(DUBLIN, choice, day_number(date(2027, 1, 1)), 400, 1)
    assert weather.years == 60
    assert weather.origin.source == "own daily record, by its months"
    assert "weather years" in weather.origin.notes[-1]
    series, _ = dublin(date(2010, 1, 1), date(2015, 12, 31))
    assert weather.tmax[:, :365].mean() == pytest.approx(series.tmax.mean(), abs=0.4)


def test_part_of_a_year_is_refused_with_the_remedy() -> None:
    with pytest.raises(BadWeatherFile, match="whole year"):
        record_normals(*dublin(date(2010, 1, 1), date(2010, 8, 31)), DUBLIN)


def test_a_hole_costs_its_own_days_alone() -> None:
    """Days before and after a hole of months both speak."""
    series, origin = dublin(date(2001, 1, 1), date(2012, 12, 31))
    blank = np.where(np.arange(series.days) < 120, np.nan, 0.0)
    holed = replace(series, tmin=series.tmin + np.roll(blank, 30))
    kept = ~np.isnan(holed.tmin)
    own = record_normals(holed, origin, DUBLIN)
    assert own.tmax.mean() == pytest.approx(series.tmax[kept].mean(), abs=0.1)
    assert own.years == 12


def test_typed_figures_say_what_they_are(tmp_path: Path) -> None:
    """Neither '0 years' nor years of a record: monthly figures, made years, how far off."""
    typed = tmp_path / "normals.toml"
    twelve = ", ".join(["5.0"] * 12)
    typed.write_text(
        f'name = "Here"\nlat = 53.4\nlon = -6.2\ntmin = [{twelve}]\ntmax = [{twelve.replace("5", "15")}]\n'
        f'rain = [{twelve.replace("5", "60")}]\n[units]\ntemperature = "C"\nrain = "mm"\n'
    )
    weather = weather_for(DUBLIN, WeatherChoice(normals=typed), day_number(date(2027, 1, 1)), 30, 1)
    said = weather_lines(DUBLIN, weather.origin, words_for("british", "metric", load_catalogue()))[0].text
    assert (weather.origin.years, weather.origin.made) == (None, 60)
    assert ", monthly figures, 60 years made of them" in said
    assert (weather.origin.distance_km or 99) < 10
