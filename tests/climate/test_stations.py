"""Station normals: packaged values, the nearest station, and agreement with independent normals."""

from __future__ import annotations

import csv
import gzip
from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest
from historic_stations import historic

from evenpick.base.days import months
from evenpick.climate.around import normals_at
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals, estimated_wet_days
from evenpick.climate.records import packaged_record, packaged_records
from evenpick.climate.site import Site
from evenpick.climate.stations import (
    EXTREMES_MENDED,
    RAIN_MENDED,
    all_normals,
    great_circle_km,
    nearest_station,
    packaged_stations,
    station_normals,
)

RAW = "weather/normals/climat_normals_2003_2021.csv.gz"
DROPPED = 23  # stations of 1,960 with a whole drop to the month's lowest minimum
PARTIAL = ("16052", "16310", "83746")  # Pian Rosa, Capo Palinuro, Galeao: days left out
MENDED = 378  # stations of 2,547 with rain that is in part that of the stations about
BLANKED = 44  # stations of 2,318 with a whole spread: 2 in 100


def one_km(lat: float, lon: float, lat2: float, lon2: float) -> float:
    return float(great_circle_km(lat, lon, np.array([lat2]), np.array([lon2]))[0])


def test_distance_agrees_with_the_aviation_formulary() -> None:
    # Williams, Aviation Formulary V1.46, worked example: LAX 33°57'N 118°24'W to JFK 40°38'N 73°47'W is
    # 0.623585 radians (2144 nautical miles); the figures are from memory, the radius is ours.
    km = one_km(33.95, -118.40, 40 + 38 / 60, -(73 + 47 / 60))
    assert km / 6371.0088 == pytest.approx(0.623585, abs=2e-6)


def test_distance_at_poles_and_date_line() -> None:
    quarter = np.pi / 2 * 6371.0088
    assert one_km(90, 0, 0, 77) == pytest.approx(quarter)
    assert one_km(90, 0, 90, 120) == pytest.approx(0, abs=1e-6)
    assert one_km(0, 0, 0, 180) == pytest.approx(2 * quarter)
    assert one_km(-16, 179.9, -16, -179.9) == pytest.approx(one_km(-16, 0.1, -16, -0.1))


@pytest.mark.parametrize(
    ("lat", "lon", "height", "station", "most_km"),
    [
        (53.43, -6.24, None, "Dublin Airport, Ireland", 5),
        (64.1, -21.9, None, "Reykjavik, Iceland", 5),
        (30.4, -91.1, None, "New Orleans, Louisiana, United States", 95),  # Baton Rouge does not report
        (0.3, 32.6, 1190, "Mwanza, Tanzania", 310),  # none of Uganda reports; across the lake, same height
        (-16.1, 179.9, None, "Undu Point, Fiji", 20),
        (-16.1, -179.9, None, "Undu Point, Fiji", 20),
        (90.0, 0.0, None, "Alert, Nunavut, Canada", 900),
    ],
)
def test_nearest(lat: float, lon: float, height: float | None, station: str, most_km: float) -> None:
    normals, km, above = nearest_station(Site("here", lat, lon, height))
    assert normals.name == station
    assert km < most_km
    assert above is None if height is None else above == pytest.approx(normals.height_m - height)


def test_south_pole_has_an_answer_in_antarctica() -> None:
    normals, _, _ = nearest_station(Site("pole", -90.0, 0.0))
    assert normals.lat < -70


def test_height_outweighs_distance() -> None:
    # Jungfraujoch and the valley below are a few km apart: the site's own height decides.
    valley, _, _ = nearest_station(Site("valley", 46.5, 7.9, 600.0))
    peak, _, above = nearest_station(Site("peak", 46.5, 7.9, 3500.0))
    assert peak.height_m is not None
    assert valley.height_m is not None
    assert peak.height_m > 3000 > 1000 > valley.height_m
    assert above == pytest.approx(peak.height_m - 3500)


def test_every_packaged_value_is_the_raw_table(shared: Path) -> None:
    columns = {"tmin": "tmin_c", "tmax": "tmax_c", "rain_mm": "rain_mm", "wet_days": "wet_days_ge1mm",
               "sd_daily_tmean": "sd_daily_tmean_c", "sunshine_h": "sunshine_h",
               "interannual_sd_tmean": "interannual_sd_tmean_c"}
    raw: dict[str, list[dict[str, str]]] = defaultdict(list)
    with gzip.open(shared / RAW, "rt", newline="") as file:
        for row in csv.DictReader(file):
            raw[row["wmo_id"]].append(row)
    # spread that can't be, drops and rain that can't be (builders/station_normals.py)
    blanked = dropped = mended = kept = dry = 0
    for number, rows in raw.items():
        normals = station_normals(number)
        rows.sort(key=lambda row: int(row["month"]))
        for name, column in columns.items():
            expected = [row[column] for row in rows]
            value = getattr(normals, name)
            if "" in expected:
                assert value is None or name == "wet_days"
            elif name == "sd_daily_tmean" and value is None:
                blanked += 1
                mean = (normals.tmin + normals.tmax) / 2
                assert max(map(float, expected)) > 4 + 0.2 * (mean.max() - mean.min())
            elif EXTREMES_MENDED in normals.notes and name in ("tmin", "tmax"):
                assert value != pytest.approx([float(text) for text in expected], abs=2.0)
            elif RAIN_MENDED in normals.notes and name == "rain_mm":
                mended += 1
                kept += _kept_in_doubt(normals, rows)
            elif number not in PARTIAL or name != "wet_days":
                assert value.tolist() == [float(text) for text in expected]
        dropped += _drop_is_the_raw_tables(normals, rows)
        if normals.vapour_pressure is None:
            dry += all(row["vapour_pressure_hpa"] for row in rows)
        else:
            hpa = [float(row["vapour_pressure_hpa"]) for row in rows]
            assert normals.vapour_pressure == pytest.approx(np.array(hpa) / 10)
    assert blanked == BLANKED
    assert dropped == DROPPED
    assert mended == MENDED + len(PARTIAL)
    assert dry == 5  # vapour pressure of a tenth
    assert kept <= 2  # of 758: what its wet days bring is by chance what was told


def _kept_in_doubt(normals: MonthlyNormals, rows: list[dict[str, str]]) -> int:
    """Months that keep their rain and swing more than twice as much as so many wet days allow."""
    kept = 0
    for row, rain in zip(rows, normals.rain_mm, strict=True):
        was, wet = float(row["rain_mm"]), float(row["wet_days_ge1mm"] or "nan")
        if rain == was > 10 and wet > 0.3:
            kept += float(row["interannual_sd_rain_mm"]) / was > 2.1 * 1.76 * wet**-0.515
    return kept


@pytest.mark.parametrize(("station", "least", "most"), [
    ("Berlin-Dahlem", 543, 625),  # berlinrain: places in Berlin; its own reports come to 686
    ("Rio de Janeiro (Galeao Airport)", 1000, 1700),  # its own come to 48; the range is memory
    ("Dakar/Yoff", 380, 480),  # 653; memory
    ("Mwanza", 950, 1250),  # 2,088; memory
    ("Puyo", 4300, 5000),  # wet, and its own
    ("Bergen", 2300, 2700),
])
def test_a_years_rain_is_the_places(station: str, least: float, most: float) -> None:
    row = packaged_stations().name.index(station)
    assert least <= all_normals()[row].rain_mm.sum() <= most


@pytest.mark.parametrize(("station", "low", "high"), [
    ("Smolensk", 13.0, 23.3), ("Aqtobe", 16.3, 29.8), ("Gandja", 19.8, 31.9),  # of July; memory
    ("Bishop Airp./CA", 14.5, 37.4),  # its own: the valley's nights are cold and its days hot
])
def test_a_julys_days_and_nights_are_the_places(station: str, low: float, high: float) -> None:
    """The month's highest and lowest stood for means of days: 8.2 to 29.5 °C, 9.4 to 38.7."""
    july = all_normals()[packaged_stations().name.index(station)]
    assert july.tmin[6] == pytest.approx(low, abs=2.0)
    assert july.tmax[6] == pytest.approx(high, abs=2.0)


def test_days_without_a_report_are_not_dry() -> None:
    """dereczynski2009: rain on 86 days a year at Penha, beside Rio's airport, whose reports have it on 11."""
    row = packaged_stations().name.index("Rio de Janeiro (Galeao Airport)")
    rio = all_normals()[row]
    assert rio.wet_days.sum() == pytest.approx(86, abs=15)
    assert RAIN_MENDED in rio.notes


def _drop_is_the_raw_tables(normals: MonthlyNormals, rows: list[dict[str, str]]) -> bool:
    """Whether a drop to the month's lowest minimum was blanked; else it is the raw table's."""
    lows = [row["mean_monthly_lowest_c"] for row in rows]
    if "" in lows:
        assert normals.drop_to_lowest is None
        return False
    drop = normals.tmin - np.array([float(low) for low in lows])
    if normals.drop_to_lowest is not None:
        assert normals.drop_to_lowest == pytest.approx(drop, abs=0.01)
        return False
    spread = normals.sd_daily_tmean
    assert drop.min() < 0.5 or (spread is not None and (drop > 6 * spread - 0.1).any())
    return True


def test_unknown_number_is_a_bug() -> None:
    with pytest.raises(KeyError):
        station_normals("99999999")


@pytest.mark.parametrize(
    "name", ["de_bilt", "dublin_airport", "milwaukee", "philadelphia", "west_palm_beach"]
)
def test_packaged_normals_against_the_packaged_daily_record(name: str) -> None:
    """Two sources of one station: CLIMAT reports and the service's own daily record, 2003 to 2021."""
    place = next(place for place in packaged_records() if place.name == name)
    normals, km, _ = nearest_station(Site(name, place.lat, place.lon, place.height_m))
    assert km < 5
    series, _ = packaged_record(name)
    days = np.datetime64(series.start, "D") + np.arange(series.days)
    year = days.astype("datetime64[Y]").astype(int) + 1970
    month = np.where((year >= 2003) & (year <= 2021), months(series.start, series.days), 0)

    def monthly(values: np.ndarray) -> np.ndarray:
        return np.array([np.nanmean(values[month == m]) for m in range(1, 13)])

    assert np.abs(normals.tmin - monthly(series.tmin)).max() < 0.5
    assert np.abs(normals.tmax - monthly(series.tmax)).max() < 0.4
    assert np.abs(normals.wet_days - monthly(series.rain >= 1.0) * DAYS_IN_MONTH).max() < 0.8
    assert normals.rain_mm.sum() / (monthly(series.rain) * DAYS_IN_MONTH).sum() == pytest.approx(1, abs=0.02)
    if normals.sunshine_h is not None:
        sunshine = monthly(series.sunshine) * DAYS_IN_MONTH
        assert normals.sunshine_h.sum() / sunshine.sum() == pytest.approx(1, abs=0.03)


def test_metoffice_stations(shared: Path) -> None:
    """17 Met Office historic stations, 1991-2020 (OGL v3), against the nearest packaged station (2003-2021).

    At the same station tmin stands 0.3 to 0.4 K above (warmer years; another observing day); 30 to 80 km
    away yearly temperatures hold within 1.2 K, and rain only to a factor of two, because hills decide it.
    """
    same = 0
    for site, own in historic(shared):
        _, km, _ = nearest_station(site)
        here = normals_at(site)
        low, high = here.tmin - own["tmin_c"], here.tmax - own["tmax_c"]
        rain = here.rain_mm.sum() / own["rain_mm"].sum()
        if km < 5:
            same += 1
            assert abs(high.mean()) < 0.1, site.name
            assert 0.2 < low.mean() < 0.5, site.name
            assert max(np.abs(low).max(), np.abs(high).max()) < 1.2, site.name
            assert 0.95 < rain < 1.05, site.name
        else:
            assert km < 80, site.name
            assert max(abs(low.mean()), abs(high.mean())) < 1.2, site.name
            assert 0.5 < rain < 2.0, site.name
    assert same == 5


def test_wet_day_rule_on_the_packaged_stations_it_was_not_fitted_on(shared: Path) -> None:
    with (shared / "weather/normals/climat_stations.csv").open(newline="", encoding="utf-8") as file:
        left_out = sorted(row["wmo_id"] for row in csv.DictReader(file))[1::2]
    stations = [normals for normals in map(station_normals, left_out) if not normals.notes]
    error = np.concatenate([estimated_wet_days(n.rain_mm, n.tmin, n.tmax) - n.wet_days for n in stations])
    assert abs(error.mean()) < 0.2
    assert np.sqrt((error**2).mean()) < 2.15
    assert np.quantile(np.abs(error), 0.9) < 3.6
