"""What speaks against a sow day, and how much (growth H4 to H7)."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.crops.crop import Crop
from evenpick.outlook.first_frost import ended_by_frost
from evenpick.outlook.outcome import Fate, Outcome, fate_word
from evenpick.outlook.over_years import share_of_years
from evenpick.outlook.setting import Setting

MAY_WAIT = "waiting costs nothing"
TOO_DARK = "days too short"
CUT_SHORT, OUT_OF_SEASON = "cut short before much is picked", "out of season"
TOO_WET, UNDER_SNOW = "ground too wet", "ground under snow"
TOO_COOL = "too cool by the time it is ripe"
HEAT_TAKES = "heat takes part of it"
"""where few years or none are spoilt by it"""
AGAINST = 0.5  # what speaks against a day and is no loss of years counts as one of so many (our choice)
TOLD = 0.1  # losses below it are not told (our choice)


def too_late_for(crop: Crop, here: Setting) -> str:
    """What a day too late is too near to."""
    if not crop.tender:
        return "too near winter"
    return "too near the first frost" if ended_by_frost(crop, here) else TOO_COOL


def share_of_fates(outcome: Outcome) -> Floats:
    """Share of the years with each fate; (fates, n)."""
    years, n = outcome.fate.shape
    cell = outcome.fate.astype(np.int64) * n + np.arange(n)
    return np.asarray(np.bincount(cell.ravel(), minlength=len(Fate) * n).reshape(-1, n) / years)


def lost_to(
    outcome: Outcome, fates: Floats, lived: Bools, timely: Bools, able: Floats | None
) -> dict[str, Floats]:
    """Share of the years lost to each cause, on each sow day."""
    never = np.zeros(outcome.sow.size)
    good = (outcome.fate == Fate.GOOD) | (outcome.fate == Fate.HEAT)
    return {
        **{fate_word(outcome.crop, fate): fates[fate]
           for fate in (Fate.FROSTED, Fate.BOLTED, Fate.TOO_LATE, Fate.TOO_COLD, Fate.TOO_HOT, Fate.DRIED,
                        Fate.PARCHED)},
        CUT_SHORT: share_of_years(good & ~lived),
        OUT_OF_SEASON: share_of_years(lived & ~timely),
        TOO_WET: never if able is None else share_of_years(lived & timely & (able < 1.0) & (able > 0.0)),
        UNDER_SNOW: never if able is None else share_of_years(lived & timely & (able == 0.0)),
    }


def spoilt_years(years: Floats, taken: Floats) -> Bools:
    """Whether what heat takes of a sow day, (n,), is told as years spoilt by it: where the share of these
    makes up half of that. A reason told has struck in some year."""
    return np.asarray(2.0 * years >= taken)


def worst_of(losses: Mapping[str, Floats]) -> tuple[str, ...]:
    """The greatest loss of each sow day, in words; empty where nothing much speaks against it."""
    names, table = [*losses, ""], np.stack(list(losses.values()))
    most = np.where(table.max(axis=0) > TOLD, table.argmax(axis=0), len(losses)).tolist()
    return tuple(map(names.__getitem__, most))
