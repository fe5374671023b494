"""How the grower's ground differs from the days that a weather service told (docs/design/season.md, 18)."""

from __future__ import annotations

import numpy as np

from evenpick.base.language import tell
from evenpick.climate.fetched import Fetched
from evenpick.climate.own_readings import FEWEST, Part, Reading, Shift, own_shift
from evenpick.garden.garden import WeatherChoice
from evenpick.service.thermometer import own_readings


def shift_of_fetched(fetched: Fetched, choice: WeatherChoice, until: int | None = None) -> Shift:
    """What the grower read, held against the service's own days, before day number `until`. Its forecasts of
    days that were read since don't count: they tell its errors, not the ground."""
    read = [Reading(day, one.tmin, one.tmax) for day, one in sorted(own_readings(choice).items())
            if day in fetched.known and (until is None or day < until)]
    at = np.array([one.day for one in read], dtype=np.int64) - fetched.series.start
    tmin, tmax = fetched.series.tmin[at], fetched.series.tmax[at]
    return own_shift(read, tmin, tmax, np.ones(len(read), dtype=bool))


def over(fetched: Fetched, part: Part) -> float:
    """A shift's mean over the service's days, °C."""
    return float(part.at(fetched.series.start + np.arange(fetched.series.days)).mean())


def told_of(fetched: Fetched, own: Shift) -> tuple[str, ...]:
    """What the thermometer did to the service's days, in words, and readings that were left out."""
    parts = [
        tell("{words} {shift:+.1f} °C ({readings} readings)", words=tell(words), shift=over(fetched, part),
             readings=part.readings)
        for words, part in (("nights", own.tmin), ("days", own.tmax)) if part.readings >= FEWEST
    ]
    if not parts:
        return own.left_out
    said = tell("They are moved, a forecast too, by your own thermometer held against the days that have "
                "been: {parts}.", parts=", ".join(parts))
    return said, *own.left_out
