"""When each item of a first garden is wanted: in its usual season where this climate gives it then, and else
for as long as it is to be had here; fruits and pods of summer so wherever the summer is warm."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Bools, Ints
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.language import tell, tell_n
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.garden.begin import Found
from evenpick.garden.garden import Seedbed, WeatherChoice, in_season
from evenpick.garden.helpings import ALL_YEAR, Helping, Season, usual_season
from evenpick.garden.wishes import Crops
from evenpick.outlook.against import MAY_WAIT, TOLD
from evenpick.outlook.had import to_be_had
from evenpick.outlook.outcome import Fate
from evenpick.outlook.ripening import cleared
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import MARGIN, YEAR, Calendar, Window, fold, round_year
from evenpick.plan.options import considered
from evenpick.plan.weekly import share_there
from evenpick.service.seedbeds import unwatered
from evenpick.service.windows import calendars_in, month_day, year_weather

OFTEN = 0.5  # of the years: an item is to be had on a day
MOST = 0.8  # of its usual season: it stays as it is
MUCH = 0.45  # of it, in one piece: that piece; with less, whenever it is to be had
SHORT, BEFORE = 60, 120
"""days: what is usually wanted for so short a time is wanted then because there is none before; where it was
to be had for so long before, and not for as long as it is wanted after, as peas on Sicily, it is wanted all
that time; where it goes on, as at Nelson with a tunnel from August to June, in its usual season (our
choice)"""
SOONER = 21
"""days: a fruit or pod of summer that the open ground gives so long before a cool kitchen asks for it is
wanted for as long as it is to be had, as beans and courgettes at Macon from May (our choice)"""
SURE = 0.55
"""of the years: in so many some sowing must succeed; a plan asks half of them (plan/options), and the weather
years that it draws for its own days may be a little worse"""
SELDOM = 1  # years of ten: no number is told
A_WEEK = 7
"""days, for what is ripe is told by the week: where more is missing at either end of its usual season it is
not wished for then, and as much longer after it as it begins late (our choice)"""
LEAST, BREAK = 14, 28  # days: shorter seasons are left out, shorter breaks bridged


def seasons_here(
    helpings: Sequence[Helping], site: Site, covers: Sequence[CoverName], catalogue: Crops,
    watered: bool = True,
) -> Mapping[str, Found]:
    """By item, the seasons it is wished for; none, and why, where no sowing that a plan would make gives it
    here, on open ground that is watered or lives by the rain."""
    weather = year_weather(site, WeatherChoice(), None, DEFAULT_SEED)
    settings = Settings(weather, unwatered(site, Seedbed(watered=watered)))
    had = defaultdict[str, list[Ints]](list)
    outdoors = defaultdict[str, list[Ints]](list)

    def under(
        keys: Iterator[str], some: Sequence[CoverName], settings: Settings = settings
    ) -> Sequence[Calendar]:
        crops = [catalogue.crop(key) for key in dict.fromkeys(keys)]
        return calendars_in(settings, crops, some, DEFAULT_SEED)

    every = under((key for helping in helpings for key in helping.crops), covers)
    for made in map(_likely, every):
        if made.windows:
            outcome = made.outcome
            spans = to_be_had(made, settings.cover(outcome.cover))
            had[outcome.crop.key].append(spans)
            if outcome.cover == "open" or "open" not in covers:
                outdoors[outcome.crop.key].append(spans)
    start = weather.start + MARGIN

    def days(helping: Helping, spans: Mapping[str, Sequence[Ints]]) -> Bools:
        return _often([each for key in helping.crops for each in spans.get(key, ())], weather.years)

    found = {
        helping.item: _seasons(helping, days(helping, had), days(helping, outdoors), site.lat, start)
        for helping in helpings
    }
    pace = _pace(map(_likely, every), settings)
    lacking = [helping for helping in helpings if not found[helping.item]]
    tunnel = () if "tunnel" in covers or not lacking else under(
        (key for helping in lacking for key in helping.crops), ["tunnel"])
    wet = () if watered or not lacking else under(
        (key for helping in lacking for key in helping.crops), ["open"], Settings(weather))
    return {
        helping.item: Found(
            found[helping.item], "" if found[helping.item] else _why(helping, every, tunnel, wet),
            _ground(helping, found[helping.item], pace, start),
        )
        for helping in helpings
    }


def _pace(every: Iterable[Calendar], settings: Settings) -> Mapping[str, float]:
    """Portions that a square metre gives in a week at most, by crop: on the best day of its windows the mean
    of all years, over the time that it has the ground in those in which it lives."""
    best: dict[str, float] = {}
    for made in every:
        days = _sorted_days(made)
        if days.size:
            grown = made.outcome.at(days)
            produce = grown.crop.produce
            given = (grown.share * grown.quality).mean(axis=0, dtype=np.float64)
            lives = (grown.fate == Fate.GOOD) | (grown.fate == Fate.HEAT)
            held = cleared(grown, settings.cover(grown.cover)) - grown.place.astype(np.int64)
            weeks = np.where(lives, held, 0).sum(axis=0) / np.maximum(lives.sum(axis=0), 1) / 7.0
            most = float((given / np.maximum(weeks, 1.0)).max()) * produce.kg_per_m2 / produce.portion_kg
            best[grown.crop.key] = max(best.get(grown.crop.key, 0.0), most)
    return best


def _sorted_days(made: Calendar) -> Ints:
    """The days of its windows."""
    return np.unique(np.concatenate([np.zeros(0, np.int64), *map(_within, made.windows)]))


def _ground(helping: Helping, seasons: Sequence[Season], pace: Mapping[str, float], start: int) -> float:
    """As of `Found`."""
    wanted = sum(any(in_season(*season, *month_day(start, day)) for season in seasons) for day in range(YEAR))
    best = max((pace.get(key, 0.0) for key in helping.crops), default=0.0)
    return wanted / YEAR / best if best > 0 else 0.0


def _likely(made: Calendar) -> Calendar:
    """With the windows alone that hold a day on which a plan would sow."""
    days = _days_of_a_plan(made)
    return replace(made, windows=tuple(window for window in made.windows if days[_within(window)].any()))


def _days_of_a_plan(made: Calendar) -> Bools:
    return considered(made.outcome, made.score) & (made.score.success >= SURE)


def _within(window: Window) -> Ints:
    return np.array([fold(day) for day in range(window.opens, window.closes + 1)], dtype=np.int64)


def _why(
    helping: Helping, made: Sequence[Calendar], tunnel: Sequence[Calendar], wet: Sequence[Calendar]
) -> str:
    """Why no plan would sow any of it, in the grower's words; and that water would mend it, or a tunnel,
    where it would."""
    if _gives(helping, wet):
        return tell("the rain alone does not grow it here well enough; water would mend that")
    success, against = max((_best_day(each) for each in made if each.outcome.crop.key in helping.crops),
                           key=lambda best: best[0])
    years = round(10 * success)
    if years <= SELDOM:
        what = tell("hardly any year gives it here")
    elif success < SURE:
        what = tell_n("sown on its best day it succeeds here in about {n} year of 10",
                      "sown on its best day it succeeds here in about {n} years of 10", years)
    else:
        what = tell("there is no time here at which it can be counted on")
    if against:
        what = tell("{what} ({against})", what=what, against=tell(against))
    return tell("{what}; a tunnel would mend that", what=what) if _gives(helping, tunnel) else what


def _gives(helping: Helping, made: Sequence[Calendar]) -> bool:
    """Whether a plan would sow any of it there."""
    return any(_likely(each).windows for each in made if each.outcome.crop.key in helping.crops)


def _best_day(made: Calendar) -> tuple[float, str]:
    """In how many years the best sow day of the year succeeds, and what speaks most against it; against all
    days where none succeeds, for of those the first is in the dark of winter."""
    year = made.score.success[MARGIN : MARGIN + YEAR]
    day = MARGIN + int(year.argmax())
    asked = slice(day, day + 1) if year.any() else slice(MARGIN, MARGIN + YEAR)
    lost = {cause: float(share[asked].mean()) for cause, share in made.score.losses.items()
            if cause != MAY_WAIT}
    worst = max(lost, key=lambda cause: lost[cause])
    return float(year.max()), worst if lost[worst] > TOLD else ""


def _often(spans: Sequence[Ints], years: int) -> Bools:
    """Days of the year on which something is to be had in half of the years."""
    if not spans:
        return np.zeros(YEAR, dtype=bool)
    year, first, last = np.concatenate(spans, axis=1)
    there = share_there(np.zeros_like(year), 1, year, years, first, last, YEAR)[0]
    return np.asarray(there >= OFTEN)


def _seasons(
    helping: Helping, often: Bools, outdoors: Bools, lat: float, start: int
) -> tuple[Season, ...]:
    if not often.any():
        return ()
    usual = usual_season(helping, lat)
    wanted = np.array([in_season(*usual, *month_day(start, day)) for day in range(YEAR)])
    if wanted.sum() <= SHORT and _is_sooner_here(often, wanted):
        return tuple(_season(start, *run) for run in _runs(often))
    if helping.of_summer and not wanted.all() and _days_around(outdoors, wanted)[0] >= SOONER:
        return tuple(_season(start, *run) for run in _runs(often))
    late, soon = _missing_at_the_ends(often, wanted)
    first, days, more = _opens(wanted), int(wanted.sum()), _goes_on(often, wanted, late)
    if often[wanted].mean() >= MOST:
        if max(late, soon) <= A_WEEK:
            return (usual,)
        return (_season(start, first + late, first + days - 1 - soon + more),)
    pieces = _runs(often & wanted)
    enough = len(pieces) == 1 and pieces[0][1] - pieces[0][0] >= MUCH * days
    if not enough:
        return tuple(_season(start, *run) for run in _runs(often))
    return (_season(start, pieces[0][0], pieces[0][1] + more),)


def _missing_at_the_ends(often: Bools, wanted: Bools) -> tuple[int, int]:
    """Days at the beginning and at the end of the usual season on which it is not to be had; none of what is
    wanted all the year."""
    there = np.roll(often, -_opens(wanted))[: int(wanted.sum())]
    if wanted.all() or not there.any():
        return 0, 0
    return int(there.argmax()), int(there[::-1].argmax())


def _goes_on(often: Bools, wanted: Bools, late: int) -> int:
    """Days for which it is wanted after its usual season where that begins so many days late, of what is
    wanted for less than half of the year and is to be had then."""
    if wanted.sum() > YEAR // 2:
        return 0
    return min(_days_around(often, wanted)[1], late)


def _opens(wanted: Bools) -> int:
    return int(np.flatnonzero(wanted & ~np.roll(wanted, 1))[0]) if not wanted.all() else 0


def _is_sooner_here(often: Bools, wanted: Bools) -> bool:
    before, after = _days_around(often, wanted)
    return before >= BEFORE and after < SHORT


def _days_around(often: Bools, wanted: Bools) -> tuple[int, int]:
    """Days without a break on which it is to be had before and after it is usually wanted."""
    opens, closes = _opens(wanted), int(np.flatnonzero(wanted & ~np.roll(wanted, -1))[0])
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
