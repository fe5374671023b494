"""The month sheet: what may be sown at a place in a month, and what to leave until later."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from math import inf

import numpy as np

from evenpick.base.arrays import Ints
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number, month_day
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.crop import EARLY, SMALLER, Crop
from evenpick.crops.winter import cautions_on
from evenpick.garden.garden import LOAM, Seedbed, WeatherChoice
from evenpick.outlook.windows import YEAR, Calendar, fold
from evenpick.service.best_for import main_purposes
from evenpick.service.outlook_answer import LaterRow, MonthAnswer, MonthDay, MonthRow, PossibleRow
from evenpick.service.seedbeds import unwatered
from evenpick.service.windows import band_at, calendars, chosen_crops, year_weather
from evenpick.service.windows import month_day as calendar_day

AHEAD = 122
"""days ahead within which a window's opening is told"""
BEHIND = 61
"""days behind within which a window's closing is told"""
OWN_LINE = (*SMALLER, EARLY)
WANTED_INTERVAL = (14.0, 28.0)
"""days of picking that one sowing should carry: as it stands, within these (common practice, no source)"""
LONG_CROPPING = 56.0
"""days: what is picked for longer is sown once or twice, not in succession"""
PICKED_ON = timedelta(weeks=4)
"""after the first picking (common practice, no source)"""
MANY_CUTS = 5
"""a leaf crop cut so often stands for the season"""


def month(
    site: Site,
    choice: WeatherChoice,
    which: int,
    year: int | None = None,
    covers: Sequence[CoverName] = ("open", "tunnel"),
    seed: int = DEFAULT_SEED,
    lowest: float = inf,
    seedbed: Seedbed = LOAM,
) -> MonthAnswer:
    """What may be sown in month 1 to 12, the coming one without a year; the rest as of `windows`. BadRequest
    for another month."""
    if not 1 <= which <= 12:
        raise BadRequest(Problem(tell("there is no month {which}.",
                                      which=which), tell("Give 1 (January) to 12 (December).")))
    asked_year = year or coming_year(which, date.today())
    weather = year_weather(site, choice, asked_year, seed)
    made = calendars(chosen_crops(None), covers, weather, seed, lowest, unwatered(site, seedbed))
    return month_in(made, chosen_crops(None), covers, site, weather, (asked_year, which), lowest, seedbed)


def month_in(
    made: Sequence[Calendar], crops: Sequence[Crop], covers: Sequence[CoverName], site: Site,
    weather: WeatherYears, asked: tuple[int, int], lowest: float, seedbed: Seedbed,
) -> MonthAnswer:
    """What may be sown in a month (its year and number) by calendars that are made of some crops."""
    asked_year, which = asked
    days = month_days(weather.start, asked_year, which)
    now = tuple(_now(made, covers, days, weather.start, site.lat, lowest))
    there = {row.crop for row in now}
    rest = [crop for crop in crops if crop.key not in there]
    possible = [row for crop in rest for row in _possible(crop, made, covers, days, weather.start)]
    able = {row.crop for row in possible}
    rest = [crop for crop in rest if crop.key not in able]
    later = [row for crop in rest for row in _later(crop, made, days, weather.start)]
    coming = {row.crop for row in later}
    past = [row for crop in rest if crop.key not in coming for row in _past(crop, made, days)]
    ordered = tuple(sorted(now, key=lambda row: (row.name, row.way)))
    return MonthAnswer(site, weather.origin, asked_year, which, ordered, _soonest(later, which), tuple(past),
                       tuple(possible), seedbed.watered)


def coming_year(which: int, on: date) -> int:
    """The year of the month 1 to 12 that is now or comes next."""
    return on.year + (which < on.month)


def month_days(start: int, year: int, which: int) -> Ints:
    """Axis days of a month."""
    first = date(year, which, 1)
    following = (first + timedelta(days=31)).replace(day=1)
    return np.arange(day_number(first) - start, day_number(following) - start)


def _now(
    made: Sequence[Calendar], covers: Sequence[CoverName], days: Ints, start: int, lat: float, lowest: float
) -> Iterator[MonthRow]:
    """One line for each crop and way, and one for each smaller size of it and for early kinds, under the
    simplest cover, with the others that do; of a crop's other purposes the one with the most days."""
    groups: dict[tuple[str, str, str], list[Calendar]] = {}
    for one in made:
        if one.inside(days).any():
            key = (one.outcome.crop.key, one.outcome.way.name, one.outcome.purpose.name)
            groups.setdefault(key, []).append(one)
    widest: dict[tuple[str, str, str], list[Calendar]] = {}
    for (crop, way, purpose), group in groups.items():
        ordered = sorted(group, key=lambda one: covers.index(one.outcome.cover))
        line = (crop, way, purpose if purpose in OWN_LINE else "")
        rival = widest.get(line)
        if rival is None or ordered[0].inside(days).sum() > rival[0].inside(days).sum():
            widest[line] = ordered
    for ordered in widest.values():
        row = _row(ordered, days, start, lat, lowest)
        if row is not None:
            yield row


def _row(
    group: Sequence[Calendar], days: Ints, start: int, lat: float, lowest: float
) -> MonthRow | None:
    simplest = group[0]
    crop, outcome = simplest.outcome.crop, simplest.outcome
    good = days[simplest.inside(days)]
    middle = int(good[good.size // 2])
    band = band_at(simplest, middle)
    if band is None:
        return None
    window = next(w for w in simplest.windows if (middle - w.opens) % YEAR <= w.closes - w.opens)
    sown = date.fromordinal(date(1970, 1, 1).toordinal() + start + middle)
    whole = window.closes - window.opens >= YEAR - 1
    left = YEAR if whole else window.closes - window.opens - (int(good[0]) - window.opens) % YEAR
    way, space = outcome.way, crop.spacing
    purpose = outcome.purpose.name
    first, last = sown + timedelta(days=round(band.low)), sown + timedelta(days=round(band.high))
    return MonthRow(
        crop.key, f"{crop.name}, {purpose}" if purpose in OWN_LINE else crop.name, way.name,
        tuple(one.outcome.cover for one in group), _day_of_month(start, int(good[0])),
        _day_of_month(start, int(good[-1])), min(way.bench, lowest) if way.name == "raised" else None,
        space.depth, space.in_row, space.row, "broadcast" if purpose == "baby leaf" else space.layout,
        first, last,
        float(simplest.score.sound[good].mean()),
        _within(interval(simplest, middle), left),
        None if whole else calendar_day(start, fold(window.closes)),
        cautions_on(crop, lat, first, last + PICKED_ON),
        spans(good, start),
    )


def _within(interval_days: int | None, left: int) -> int | None:
    """The same, where the window has so many days left."""
    return None if interval_days is None or interval_days > left else interval_days


def interval(made: Calendar, day: int) -> int | None:
    """Days until the next sowing for an even picking: wanted interval over leverage (growth H5).

    None for crops that are sown once: for a season, for store, after cold, or standing for months.
    """
    crop = made.outcome.crop
    once = crop.season or crop.cold_heading or crop.bulbing or crop.harvest.profile == "stored"
    steep, standing = float(made.score.leverage[day]), _stands(made, day)
    lasting = crop.harvest.cuts >= MANY_CUTS or (
        crop.harvest.profile == "picking" and standing > LONG_CROPPING
    )
    if once or lasting or not np.isfinite(steep) or steep <= 0:
        return None
    low, high = WANTED_INTERVAL
    return max(3, round(min(max(standing, low), high) / steep))


def _stands(made: Calendar, day: int) -> float:
    """Median days between first and last picking."""
    outcome = made.outcome
    lived = outcome.share[:, day] > 0
    span = (outcome.last[:, day] - outcome.first[:, day])[lived]
    return float(np.median(span)) if span.size else 0.0


def _day_of_month(start: int, day: int) -> int:
    return int(month_day(start + day)[3:])


def spans(days: Ints, start: int) -> tuple[tuple[int, int], ...]:
    """First and last day of the month of each unbroken run of axis days."""
    runs = np.split(days, np.flatnonzero(np.diff(days) > 1) + 1) if days.size else []
    return tuple((_day_of_month(start, int(run[0])), _day_of_month(start, int(run[-1]))) for run in runs)


def _possible(
    crop: Crop, made: Sequence[Calendar], covers: Sequence[CoverName], days: Ints, start: int
) -> Iterator[PossibleRow]:
    """The calendar with the most days of the month that are possible, the simplest cover of several."""
    main = {purpose.name for purpose in main_purposes(crop)}
    own = [one for one in made if one.outcome.crop.key == crop.key and one.outcome.purpose.name in main]
    able = [(one, [day for day in days.tolist() if one.judged(day) == "possible"]) for one in own]
    one, found = max(able, key=lambda each: (len(each[1]), -covers.index(each[0].outcome.cover)))
    if found:
        opens = _opens(own, days)
        middle = found[len(found) // 2]
        yield PossibleRow(
            crop.key, crop.name, one.outcome.way.name, one.outcome.cover, spans(np.array(found), start),
            None if opens is None else calendar_day(start, opens[0]), one.score.against[middle],
        )


def _opens(own: Sequence[Calendar], days: Ints) -> tuple[int, Calendar] | None:
    """The soonest opening after the month, if it is not far off, and whose it is."""
    waits = [
        ((window.opens - int(days[-1])) % YEAR, window.opens, one) for one in own for window in one.windows
    ]
    soon = [wait for wait in waits if wait[0] <= AHEAD]
    return min(soon, key=lambda wait: wait[0])[1:] if soon else None


def _later(crop: Crop, made: Sequence[Calendar], days: Ints, start: int) -> Iterator[LaterRow]:
    """The soonest opening after the month, if it is not far off."""
    opens = _opens([one for one in made if one.outcome.crop.key == crop.key], days)
    if opens is not None:
        yield LaterRow(crop.key, crop.name, calendar_day(start, opens[0]), _reason(opens[1], days))


def _past(crop: Crop, made: Sequence[Calendar], days: Ints) -> Iterator[LaterRow]:
    own = [one for one in made if one.outcome.crop.key == crop.key]
    gone = [
        ((int(days[0]) - window.closes) % YEAR, one) for one in own for window in one.windows
    ]
    recent = [each for each in gone if each[0] <= BEHIND]
    if recent:
        _, one = min(recent, key=lambda each: each[0])
        yield LaterRow(crop.key, crop.name, None, _reason(one, days))


def _reason(made: Calendar, days: Ints) -> str:
    """What speaks most against sowing in the middle of the month, in words."""
    middle = fold(int(days[days.size // 2]))
    return made.score.against[middle] or "succeeds too seldom, or ripens no sooner than a later sowing"


def _soonest(rows: Sequence[LaterRow], which: int) -> tuple[LaterRow, ...]:
    def wait(row: LaterRow) -> tuple[int, int]:
        opens: MonthDay = row.opens or (which, 1)
        return ((opens[0] - which) % 12, opens[1])

    return tuple(sorted(rows, key=wait))
