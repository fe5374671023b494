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
from evenpick.outlook.anchors import anchor_day, median_days, solve_thermal_time

SETTINGS = cache(anchor_settings)


@pytest.mark.parametrize("crop", load_catalogue().crops, ids=lambda crop: crop.key)
def test_packaged_thermal_time_is_what_the_anchors_give(crop: Crop) -> None:
    """builders/thermal_times.py has been run since the catalogue or the model last changed."""
    solved = [solve_thermal_time(crop, a, SETTINGS(a.place, a.lat, a.lon)) for a in crop.anchors]
    mean = math.exp(float(np.mean(np.log(solved))))
    assert crop.thermal_time == pytest.approx(mean, abs=0.06)


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
