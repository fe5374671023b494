"""The month sheet and `why` judge a day alike: every crop, every day of three months, at real places."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from math import inf

import numpy as np
import pytest

from evenpick.base.trade import CoverName
from evenpick.climate.places import find_place
from evenpick.climate.weather import WeatherYears
from evenpick.crops.crop import Crop
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.windows import RANK, Calendar, fold
from evenpick.service.best_for import best_of, main_purposes
from evenpick.service.month import month, month_days, spans
from evenpick.service.outlook_answer import MonthAnswer
from evenpick.service.windows import calendars, chosen_crops, year_weather

COVERS: tuple[CoverName, ...] = ("open", "tunnel")
YEAR, SEED = 2027, 0


def listed(sheet: MonthAnswer) -> dict[str, str]:
    found = {row.crop: "now" for row in sheet.now}
    for name in ("possible", "later", "past"):
        for row in getattr(sheet, name):
            assert row.crop not in found, (row.crop, name)
            found[row.crop] = name
    return found


def by_way(made: tuple[Calendar, ...], crop: str, main: set[str]) -> list[list[Calendar]]:
    """As `why` is asked: of one way under one cover, for the purposes of the crop itself."""
    groups: dict[tuple[str, CoverName], list[Calendar]] = defaultdict(list)
    for one in made:
        if one.outcome.crop.key == crop and one.outcome.purpose.name in main:
            groups[one.outcome.way.name, one.outcome.cover].append(one)
    return list(groups.values())


@pytest.mark.parametrize("place", ["Norwich, GB", "Adelaide, AU", "Bangalore"])
def test_the_sheet_and_why_say_the_same(place: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every crop is grown once for a place: each month's sheet asks for the very same calendars."""
    site = find_place(place)
    weather = year_weather(site, WeatherChoice(), YEAR, SEED)
    made = calendars(chosen_crops(None), COVERS, weather, SEED)

    def grown_already(
        crops: Sequence[Crop], covers: Sequence[CoverName], sown_in: WeatherYears, seed: int, lowest: float,
        ground: object,
    ) -> tuple[Calendar, ...]:
        assert (crops, tuple(covers), seed, lowest) == (chosen_crops(None), COVERS, SEED, inf)
        assert ground is None  # watered
        assert (sown_in.start, sown_in.tmin.tobytes(), sown_in.rain.tobytes()) == (
            weather.start, weather.tmin.tobytes(), weather.rain.tobytes())
        return made

    monkeypatch.setattr("evenpick.service.month.calendars", grown_already)
    for which in (2, 6, 11):
        sheet = month(site, WeatherChoice(), which, YEAR, COVERS, SEED)
        there, days = listed(sheet), month_days(weather.start, YEAR, which)
        for crop in chosen_crops(None):
            groups = by_way(made, crop.key, {one.name for one in main_purposes(crop)})
            for day in [fold(int(day)) for day in days]:
                told = max((best_of(group, day).judged(day) for group in groups), key=lambda one: RANK[one])
                where = there.get(crop.key, "nowhere")
                if where in ("later", "past", "nowhere"):
                    assert told == "not", (crop.key, which, day, where)
                if where == "possible":
                    assert told != "worth", (crop.key, which, day)


def test_days_apart_are_told_apart() -> None:
    """Of two windows in one month the days between are not offered."""
    start = 20_454  # 1 January 2026
    assert spans(np.array([0, 1, 2, 9, 10]), start) == ((1, 3), (10, 11))
    assert spans(np.array([4]), start) == ((5, 5),)
