"""What is raised is raised on the garden's own bench, in the plan and in every answer about it
(docs/design/season.md, 10). Invented garden, real weather of Dublin Airport."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.days import day_date, day_number
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.here import as_catalogued
from evenpick.garden.diary import CameUp, Cleared, Picked, Sowed
from evenpick.garden.garden import Garden
from evenpick.plan.horizon import Horizon
from evenpick.plan.standing import Standing
from evenpick.service.book import record_of, write
from evenpick.service.foreseen import foreseen
from evenpick.service.growing import grown_crops, split_members, standing_well
from evenpick.service.learning import learn_from
from evenpick.service.month import month
from evenpick.service.outlook import outlook
from evenpick.service.plan_weather import plan_weather
from evenpick.service.setups import garden_of
from evenpick.service.standing import UnderWay
from evenpick.service.why import why

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2027-03-01
years = 4
[bench]
modules = 500
lowest = "{lowest} °C"
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "30 m2"
[[wish]]
item = "tomatoes"
each_week = "2 kg"
"""
SOWN = date(2027, 3, 6)


def garden_with(tmp_path: Path, lowest: float) -> Path:
    path = tmp_path / f"bench{lowest:g}" / "garden.toml"
    path.parent.mkdir()
    path.write_text(TEXT.format(lowest=lowest), encoding="utf-8")
    return path


@pytest.fixture
def cool(tmp_path: Path) -> Path:
    return garden_with(tmp_path, 10)


@pytest.fixture
def warm(tmp_path: Path) -> Path:
    return garden_with(tmp_path, 16)


def days_of_planting_out(garden: Garden) -> tuple[np.ndarray, np.ndarray]:
    """Of tomatoes that stand, and of those that the plan may sow on the same day, by year."""
    begin = day_number(date(2027, 3, 1))
    horizon = Horizon(begin, garden.plan.sowing_weekday)
    since, weather = plan_weather(garden, horizon, begin, {})
    split = split_members(weather, garden.plan.years)
    crops = {"tomato": load_catalogue().crop("tomato")}
    made = grown_crops(garden, crops, weather, split, horizon, as_catalogued)["tomato"]
    batch = next(one for one in made if one.cover == "tunnel")
    index = next(i for i, day in enumerate(batch.days) if day_date(horizon.start + int(day)) >= SOWN)
    sow = horizon.start + int(batch.days[index])
    season = UnderWay(standing=(Standing("a", "tomato", "raised", "tunnel", sow, 2.0),))
    (stands,) = standing_well(season, since, horizon, split, garden)
    return stands.outcome.place[:, 0] + stands.start, batch.outcome.place[:, index] + horizon.start


def test_what_stands_is_raised_on_the_bench_that_it_was_planned_on(cool: Path, warm: Path) -> None:
    stands, planned = days_of_planting_out(garden_of(cool))
    assert (stands == planned).all()
    assert np.median(stands) > np.median(days_of_planting_out(garden_of(warm))[0]) + 7


def test_outlook_why_and_the_month_tell_of_the_gardens_own_bench(cool: Path, warm: Path) -> None:
    out, windows, benches = [], [], []
    for path in (cool, warm):
        here = garden_of(path)
        place = here.site, here.weather
        told = outlook(*place, "tomato", SOWN, "tunnel", "raised", lowest=here.lowest)
        reasons = why(*place, "tomato", SOWN, "tunnel", "raised", lowest=here.lowest)
        assert told.planting_out is not None
        assert reasons.outlook.planting_out == told.planting_out
        out.append(told.planting_out.likely)
        windows.append(reasons.windows)
        rows = month(*place, 3, 2027, lowest=here.lowest).now
        benches.append({row.bench for row in rows if row.bench is not None})
    assert out[0] > out[1] + 7
    assert windows[0] != windows[1]
    assert max(benches[0]) == 10.0
    assert max(benches[1]) == 16.0


def test_the_jobs_of_what_stands_wait_for_the_cool_bench(cool: Path, warm: Path) -> None:
    found = []
    for path in (cool, warm):
        (entry,) = write(path, [(SOWN, Sowed("tomato", "raised", "tunnel", 2.0), "")])
        sowings = list(record_of(path).sowings.values())
        out = foreseen(path, garden_of(path), sowings, {}, SOWN, ())[entry.id].out
        assert out is not None
        found.append(out[1])
    assert (found[0] - found[1]).days > 7


def test_a_cool_bench_is_not_learned_as_a_slow_crop(cool: Path, warm: Path) -> None:
    times = []
    for path in (cool, warm):
        (entry,) = write(path, [(date(2018, 3, 6), Sowed("tomato", "raised", "tunnel", 2.0), "")])
        write(path, [(date(2018, 4, 10), CameUp(entry.id), ""),
                     (date(2018, 9, 10), Picked("tomato", entry.id, kg=1.0), ""),
                     (date(2018, 9, 11), Cleared(entry.id), "")])
        here = garden_of(path)
        (seen,) = learn_from(here.site, here.weather, record_of(path), lowest=here.lowest).timing
        times.append(seen.y)
    assert times[0] < times[1] - 0.05


def test_bought_plants_were_not_raised_on_the_cool_bench(cool: Path, warm: Path) -> None:
    up = []
    for path in (cool, warm):
        plants = Sowed("tomato", "raised", "tunnel", 2.0, bought=True)
        (entry,) = write(path, [(date(2027, 5, 10), plants, "")])
        sowings = list(record_of(path).sowings.values())
        up.append(foreseen(path, garden_of(path), sowings, {}, date(2027, 5, 12), ())[entry.id].up)
    assert up[0] == up[1]
