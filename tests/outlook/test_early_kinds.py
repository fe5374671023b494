"""Early varieties, for where a crop's common ones come good in too few years (docs/design/types.md)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.trade import WayName
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import EARLY, Crop
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.anchor_climate import anchor_settings
from evenpick.outlook.anchors import solve_thermal_time
from evenpick.outlook.made_for import as_sown
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import MARGIN
from evenpick.service.month import month
from evenpick.service.windows import windows, year_weather

WINNIPEG, SEVILLE = Site("Winnipeg", 49.9, -97.2), Site("Seville", 37.4, -6.0)
STOCKHOLM = Site("Stockholm", 59.33, 18.07)


@cache
def weather(site: Site) -> WeatherYears:
    return year_weather(site, WeatherChoice(), 2027, DEFAULT_SEED)


def told(site: Site, crop: str, way: str = "raised") -> dict[str, float]:
    """Success by purpose, of the best window in the open."""
    rows = windows(site, WeatherChoice(), (crop,), ("open",), 2027).windows
    return {row.purpose: row.success for row in sorted(rows, key=lambda row: row.success) if row.way == way}


@pytest.mark.parametrize(("key", "early"), [
    ("tomato", 65), ("pepper", 60), ("sweetcorn", 70), ("winter-squash", 80), ("cucumber", 60), ("melon", 75),
    ("watermelon", 65),
])  # fmt: skip
def test_they_take_the_days_of_early_varieties_at_fargo(key: str, early: float) -> None:
    """ndsuh912, early over middle or common varieties, through the model itself in Fargo's own climate."""
    crop = load_catalogue().crop(key)
    fargo = next(one for one in crop.anchors if one.place.startswith("Fargo"))
    settings = anchor_settings(fargo.place, fargo.lat, fargo.lon)
    quick = solve_thermal_time(crop, replace(fargo, days=float(early)), settings)
    ratio = quick / solve_thermal_time(crop, fargo, settings)
    own = crop.early()
    assert own is not None
    assert own.thermal_time / crop.thermal_time == pytest.approx(ratio, abs=0.006)


def test_tomatoes_where_summers_are_short() -> None:
    """Growers at Winnipeg raise early tomatoes for the open (common practice, no source)."""
    found = told(WINNIPEG, "tomato")
    assert found[EARLY] > max(0.4, found.get("fresh", 0.0))


def test_both_where_the_common_ones_come_good_in_few_years() -> None:
    found = told(STOCKHOLM, "tomato")
    assert found["fresh"] < 0.5 < found[EARLY]


def test_none_where_heat_and_no_winter_spoils_them() -> None:
    """Singapore's nights spoil tomatoes, and an early one no less."""
    assert EARLY not in told(Site("Singapore", 1.35, 103.82), "tomato")


@pytest.mark.parametrize("crop", ["tomato", "sweetcorn", "winter-squash"])
def test_none_where_the_common_ones_do(crop: str) -> None:
    assert EARLY not in told(SEVILLE, crop)
    assert told(SEVILLE, crop)


def test_the_month_has_a_line_of_them() -> None:
    sheet = month(WINNIPEG, WeatherChoice(), 4, 2027, covers=("open", "tunnel"))
    names = {(row.name, row.covers) for row in sheet.now if row.crop == "tomato"}
    assert ("Tomato, early kinds", ("open",)) in names


@pytest.mark.parametrize(("site", "way", "day", "name"), [
    (WINNIPEG, "raised", (5, 1), "Tomato, early kinds"), (SEVILLE, "raised", (3, 1), "Tomato"),
])  # fmt: skip
def test_a_sowing_is_followed_as_what_it_can_be(
    site: Site, way: WayName, day: tuple[int, int], name: str
) -> None:
    tomato, settings = load_catalogue().crop("tomato"), Settings(weather(site))
    sow = np.array([MARGIN + (date(2027, *day) - date(2027, 1, 1)).days])
    ((kind, places),) = as_sown(tomato, tomato.way(way), "open", settings, sow)
    assert (kind.name, list(places)) == (name, [0])


def test_a_growers_own_variety_has_none(tmp_path: Path) -> None:
    path = tmp_path / "crops.toml"
    path.write_text('[latah]\nlike = "tomato"\nname = "Latah"\n', encoding="utf-8")
    own: Crop = load_catalogue(path).crop("latah")
    assert own.early() is None
    assert [one.name for one in own.purposes] == ["fresh"]
