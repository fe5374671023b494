"""Weather that never changes, and a crop that grows ten effective day-degrees a day in it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenpick.climate.covers import UnderCover
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop, Development, Emergence
from evenpick.outlook.setting import Setting

DAYS = 600


def setting(tmean: float = 13.0, hours: float = 12.0, years: int = 1, days: int = DAYS) -> Setting:
    flat = np.full((years, days), tmean)
    air = UnderCover(flat, flat, flat, np.full((years, days), 10.0), np.zeros((years, days)), flat)
    return Setting(air, np.full(days, hours))


def crop(**changes: object) -> Crop:
    """Up on the fifth day at 13 °C, then 10 °C d a day, light no matter; no frost, heat or bolting."""
    plain = replace(
        load_catalogue().crop("radish"), thermal_time=300.0, bolting=(),
        emergence=Emergence(
            base=3.0, thermal_time=50.0, optimum=25.0, ceiling=35.0, loss_per_day=0.01, lies=None
        ),
        development=Development(base=3.0, optimum=25.0, ceiling=35.0, light=0.0),
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


class Everywhere:
    """Stands in for the settings of an ensemble: the same weather under every cover and on the bench."""

    unwatered = None

    def __init__(self, here: Setting) -> None:
        self.here = here

    def cover(self, name: str) -> Setting:
        return self.here

    def bench(self, lowest: float) -> Setting:
        return self.here
