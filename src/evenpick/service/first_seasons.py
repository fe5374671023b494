"""When each item of a first garden is wanted: in its usual season where this climate gives it then, and else
for as long as it is to be had here."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

import numpy as np

from evenpick.base.arrays import Bools, Ints
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.garden.begin import ALL_YEAR, Helping, Season, usual_season
from evenpick.garden.garden import WeatherChoice, in_season
from evenpick.garden.wishes import Crops
from evenpick.outlook.had import to_be_had
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import MARGIN, YEAR, round_year
from evenpick.plan.weekly import share_there
from evenpick.service.windows import calendars_in, month_day, year_weather

OFTEN = 0.5  # of the years: an item is to be had on a day
MOST = 0.8  # of its usual season: it stays as it is
MUCH = 0.45  # of it, in one piece: that piece; with less, whenever it is to be had
SHORT, BEFORE = 60, 120
"""days: what is usually wanted for so short a time is wanted then because there is none before; where it was
to be had for so long before, and not for as long as it is wanted after, as peas on Sicily, it is wanted all
that time; where it goes on, as at Nelson with a tunnel from August to June, in its usual season (our
choice)"""
LEAST, BREAK = 14, 28  # days: shorter seasons are left out, shorter breaks bridged


def seasons_here(
    helpings: Sequence[Helping], site: Site, covers: Sequence[CoverName], catalogue: Crops
) -> Mapping[str, tuple[Season, ...]]:
    """By item, the seasons it is wished for; none where no sowing in its good time gives it here."""
    weather = year_weather(site, WeatherChoice(), None, DEFAULT_SEED)
    keys = dict.fromkeys(key for helping in helpings for key in helping.crops)
    settings, had = Settings(weather), defaultdict[str, list[Ints]](list)
    for made in calendars_in(settings, [catalogue.crop(key) for key in keys], covers, DEFAULT_SEED):
        if made.windows:
            outcome = made.outcome
            had[outcome.crop.key].append(to_be_had(made, settings.cover(outcome.cover)))
    start = weather.start + MARGIN
    return {
        helping.item: _seasons(helping, [each for key in helping.crops for each in had[key]], weather.years,
                               site.lat, start)
        for helping in helpings
    }


def _seasons(
    helping: Helping, spans: Sequence[Ints], years: int, lat: float, start: int
) -> tuple[Season, ...]:
    if not spans:
        return ()
    year, first, last = np.concatenate(spans, axis=1)
    often = share_there(np.zeros_like(year), 1, year, years, first, last, YEAR)[0] >= OFTEN
    usual = usual_season(helping, lat)
    wanted = np.array([in_season(*usual, *month_day(start, day)) for day in range(YEAR)])
    if wanted.sum() <= SHORT and _is_sooner_here(often, wanted):
        return tuple(_season(start, *run) for run in _runs(often))
    if often[wanted].mean() >= MOST:
        return (usual,)
    pieces = _runs(often & wanted)
    enough = len(pieces) == 1 and pieces[0][1] - pieces[0][0] >= MUCH * wanted.sum()
    return tuple(_season(start, *run) for run in (pieces if enough else _runs(often)))


def _is_sooner_here(often: Bools, wanted: Bools) -> bool:
    before, after = _days_around(often, wanted)
    return before >= BEFORE and after < SHORT


def _days_around(often: Bools, wanted: Bools) -> tuple[int, int]:
    """Days without a break on which it is to be had before and after it is usually wanted."""
    opens, closes = (int(np.flatnonzero(wanted & ~np.roll(wanted, by))[0]) for by in (1, -1))
    before = np.flatnonzero(~np.roll(often, -opens)[::-1])
    after = np.flatnonzero(~np.roll(often, -closes - 1))
    return _until(before), _until(after)


def _until(missing: Ints) -> int:
    return YEAR if missing.size == 0 else int(missing[0])


def _runs(days: Bools) -> list[tuple[int, int]]:
    return sorted(round_year(days, LEAST, BREAK))


def _season(start: int, opens: int, closes: int) -> Season:
    if closes - opens + 1 >= YEAR:
        return ALL_YEAR
    return month_day(start, opens), month_day(start, closes % YEAR)
