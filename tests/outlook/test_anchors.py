"""Thermal time is solved, not typed (docs/design/outlook.md; growth D4)."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from evenpick.base.errors import BadRequest
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.outlook.anchor_climate import anchor_settings
from evenpick.outlook.anchors import anchor_day, median_days, solve_thermal_time, together

SETTINGS = cache(anchor_settings)


@pytest.mark.parametrize("crop", load_catalogue().crops, ids=lambda crop: crop.key)
def test_packaged_thermal_time_is_what_the_anchors_give(crop: Crop) -> None:
    """builders/thermal_times.py has been run since the catalogue or the model last changed."""
    solved = [solve_thermal_time(crop, a, SETTINGS(a.place, a.lat, a.lon)) for a in crop.anchors]
    time, sd = together(solved)
    assert crop.thermal_time == pytest.approx(time, abs=0.06)
    assert crop.thermal_time_sd == pytest.approx(sd, abs=0.0006)


def test_anchors_that_disagree_widen_the_band() -> None:
    """One anchor: 0.27; two that agree narrow it, two a factor of two apart widen it (by hand)."""
    assert together([500.0]) == (pytest.approx(500.0), pytest.approx(0.19 * math.sqrt(2)))
    assert together([500.0, 500.0]) == (pytest.approx(500.0), pytest.approx(0.19 * math.sqrt(4 / 5 * 3 / 2)))
    wide = math.sqrt((4 * 0.19**2 + 2 * math.log(math.sqrt(2)) ** 2) / 5 * 3 / 2)
    assert together([400.0, 800.0]) == (pytest.approx(400 * math.sqrt(2)), pytest.approx(wide))


def test_an_anchor_counted_from_planting_out_starts_with_the_nursery_behind_it() -> None:
    """Set out at once, it needs the thermal time less the nursery's, plus the shock."""
    crop = load_catalogue().crop("calabrese")
    anchor = next(a for a in crop.anchors if a.counted == "planting out")
    settings = SETTINGS(anchor.place, anchor.lat, anchor.lon)
    solved = solve_thermal_time(crop, anchor, settings)
    day = anchor_day(anchor, settings.weather.start)
    growth = settings.cover("open").growth_clock(crop.development)
    begin = np.full((settings.weather.years, 1), day)
    grown = growth.between(begin, begin + int(anchor.days))
    need = solved - crop.way("raised").nursery + crop.way("raised").shock
    assert float(np.median(grown)) == pytest.approx(need, rel=0.05)


@pytest.mark.parametrize("key", ["radish", "calabrese", "onion", "garlic", "sprouting-broccoli", "tomato"])
def test_the_solution_takes_the_anchors_days(key: str) -> None:
    crop = load_catalogue().crop(key)
    anchor = crop.anchors[0]
    settings = SETTINGS(anchor.place, anchor.lat, anchor.lon)
    sow = anchor_day(anchor, settings.weather.start)
    solved = solve_thermal_time(crop, anchor, settings)
    assert median_days(crop, anchor, settings, sow, solved) == pytest.approx(anchor.days, abs=1)


def test_days_that_cold_alone_exceeds_are_refused() -> None:
    crop = load_catalogue().crop("garlic")
    anchor = replace(crop.anchors[0], days=20.0)
    with pytest.raises(BadRequest, match="can't be picked"):
        solve_thermal_time(crop, anchor, SETTINGS(anchor.place, anchor.lat, anchor.lon))
