"""A garden whose weather comes from far off is told so wherever it is begun, checked, planned or worked.

Invented gardens at real places; Nairobi's nearest packaged station is Mwanza, 451 km off.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadWeatherFile
from evenpick.climate.origin import FAR_KM
from evenpick.climate.records import packaged_record
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Sowed
from evenpick.garden.garden import WeatherChoice
from evenpick.report.book import check_page
from evenpick.report.place import far_said, weather_lines
from evenpick.report.terminal import render
from evenpick.report.today import today_page
from evenpick.report.words import words_for
from evenpick.service.book import write
from evenpick.service.check import Checked, NotBegun, check
from evenpick.service.climate import weather_for
from evenpick.service.far_weather import far_weather
from evenpick.service.planning import save_plan
from evenpick.service.store_plan import garden_digest
from evenpick.service.today import today

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
import invented

NAIROBI, DUBLIN = Site("Nairobi", -1.28, 36.82, 1670.0), Site("Dublin", 53.4, -6.2, 20.0)
WORDS = words_for("british", "metric", load_catalogue())
DAY = date(2027, 5, 1)
TEXT = """
[site]
at = "-1.28, 36.82"
[[ground]]
name = "bed 3"
cover = "open"
area = "30 m2"
[[wish]]
item = "rocket"
each_week = "250 g"
"""
MENDS = ("451 km", "normals", "daily record of your own")


def told(text: str) -> bool:
    return all(word in " ".join(text.split()) for word in MENDS)


def test_far_is_known_without_growing_anything() -> None:
    found = far_weather(NAIROBI, WeatherChoice())
    assert found is not None
    assert found.distance_km is not None
    assert found.distance_km > FAR_KM
    assert far_weather(DUBLIN, WeatherChoice()) is None
    far_named = far_weather(NAIROBI, WeatherChoice(packaged="dublin-airport"))
    assert far_named is not None
    assert "Dublin" in far_named.station


def test_own_months_mend_it(tmp_path: Path) -> None:
    doc = (Path(__file__).resolve().parents[2] / "docs/formats/normals-toml.md").read_text(encoding="utf-8")
    file = tmp_path / "normals.toml"
    file.write_text(doc.split("```toml\n")[1].split("```")[0], encoding="utf-8")
    here = far_weather(NAIROBI, WeatherChoice(normals=file))
    assert here is None or here.source == "typed normals"  # as far as the place that they say they are of


@pytest.mark.parametrize("site", [NAIROBI, DUBLIN])
def test_it_is_said_with_what_mends_it_or_not_at_all(site: Site) -> None:
    assert told(far_said(far_weather(site, WeatherChoice()), WORDS)) == (site is NAIROBI)


def test_check_says_it_before_and_after_the_book_is_begun(garden: Path) -> None:
    fresh = check(garden)
    assert isinstance(fresh, NotBegun)
    assert told(render(check_page(fresh, WORDS)))
    write(garden, [(DAY, Sowed("radish", "direct", "open", 1.0, ground="bed 3"), "")])
    begun = check(garden)
    assert isinstance(begun, Checked)
    assert told(render(check_page(begun, WORDS)))


def shortly_after_the_jobs(text: str) -> bool:
    """Six lines of it stood before the first job."""
    lines = text.splitlines()
    caution = next(at for at, line in enumerate(lines) if line.startswith("CAUTION: the weather was"))
    return lines.index("TO DO") < caution and len(lines) - caution <= 2


def test_today_says_it_shortly_and_after_the_jobs_with_a_plan_and_without(garden: Path) -> None:
    write(garden, [(DAY, Sowed("radish", "direct", "open", 1.0, ground="bed 3"), "")])
    assert shortly_after_the_jobs(render(today_page(today(garden, DAY), WORDS)))
    far = far_weather(NAIROBI, WeatherChoice())
    assert far is not None
    plan = replace(invented.PLAN, climate=far, made_from=replace(
        invented.PLAN.made_from, garden=garden_digest(TEXT)))
    save_plan(garden, plan)
    assert shortly_after_the_jobs(render(today_page(today(garden, DAY), WORDS)))


def test_a_garden_file_at_fault_is_told_beside_the_book(garden: Path) -> None:
    write(garden, [(DAY, Sowed("radish", "direct", "open", 1.0, ground="bed 3"), "")])
    garden.write_text(TEXT.replace("30 m2", "thirty"), encoding="utf-8")
    found = check(garden)
    assert isinstance(found, Checked)
    assert not found.faults
    assert any("area" in note for note in found.notes)


@pytest.mark.parametrize(("point", "at_sea"), [
    ((-6.2, 53.4), True),  # Dublin the wrong way round
    ((33.87, 151.2), True),  # Sydney without its minus
    ((30.0, -40.0), True), ((56.0, 3.0), True),
    ((-37.07, -12.3), False),  # Tristan da Cunha, 2,400 km from other land
    ((-8.52, 179.2), False),  # Funafuti, an atoll
    ((0.3, 32.6), False),  # Kampala, on a lake
])  # fmt: skip
def test_a_point_in_the_open_sea_is_told(point: tuple[float, float], at_sea: bool) -> None:
    site = Site("somewhere", *point)
    found = far_weather(site, WeatherChoice())
    lines = [] if found is None else [line.text for line in weather_lines(site, found, WORDS)]
    assert any("no land at this point" in line for line in lines) == at_sea
    assert found is not None or not at_sea


def test_a_record_of_the_other_half_of_the_earth_is_refused(tmp_path: Path) -> None:
    """Dublin's own days at a site whose latitude has a minus too many: every window was half a year out."""
    series, _ = packaged_record("dublin_airport")
    rows = (f"{day_date(series.start + n)},{series.tmin[n]:.1f},{series.tmax[n]:.1f},{series.rain[n]:.1f}"
            for n in range(20 * 366))
    path = tmp_path / "mine.csv"
    path.write_text("date,tmin_c,tmax_c,rain_mm\n" + "\n".join(rows) + "\n", encoding="utf-8")
    choice, start = WeatherChoice(record=path), day_number(DAY)
    with pytest.raises(BadWeatherFile, match=r"mine.csv: it is warmer from June to August .* -53.4 is south"):
        weather_for(replace(DUBLIN, lat=-53.4), choice, start, 500, 0)
    assert weather_for(DUBLIN, choice, start, 500, 0).years >= 15
