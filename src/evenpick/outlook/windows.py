"""Windows: the sow days from which a crop succeeds, read off the scores."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date
from evenpick.base.trade import CoverName, Judgement
from evenpick.base.unbroken import unbroken
from evenpick.crops.crop import EARLY, Crop, CropType, Limits, Purpose, Way
from evenpick.outlook.drying import by_rain
from evenpick.outlook.grow import Begun, begin, grow, parameter_draws
from evenpick.outlook.neighbours import ROUND
from evenpick.outlook.outcome import LONGEST_WAIT_FOR_CROP, Outcome
from evenpick.outlook.score import Score, score, wants_early_kinds
from evenpick.outlook.setting import Settings
from evenpick.soil.reference_et import hargreaves
from evenpick.soil.workable import bare, workable

YEAR = ROUND
MARGIN = 12  # sow days either side of the year, so that its first and last days have a leverage too
AXIS_DAYS = YEAR + 2 * MARGIN + LONGEST_WAIT_FOR_CROP
SHORTEST = 8  # days: a shorter run is noise of the ensemble (tuned)
BRIDGED = 7  # days: a shorter break is noise too
SEASON = 42  # days: what is raised and has so long for it need not begin with a few weeks before (our choice)
FLAT = 28  # days: most of a break in which only the leverage is too low (tuned)
MOSTLY = 0.5  # of the years: what nobody waters gives something in so many on its good days (our choice)
WET_COSTS = 0.25  # of a sowing: wet ground puts it off by days more often than it loses it (tuned)


RANK: Mapping[Judgement, int] = {"not": 0, "possible": 1, "worth": 2}


@dataclass(frozen=True, slots=True)
class Window:
    """One run of sow days; axis day indices, closes included, and closes may pass the year's end."""

    opens: int
    closes: int


@dataclass(frozen=True, slots=True)
class Calendar:
    """A year of sow days of one crop, cover, way and purpose, scored, with its windows."""

    outcome: Outcome
    score: Score
    windows: tuple[Window, ...]

    def inside(self, days: Ints) -> Bools:
        """Which axis days of the year lie in a window; one may run over the New Year."""
        found = np.zeros(days.shape, dtype=bool)
        for window in self.windows:
            found |= (days - window.opens) % YEAR <= window.closes - window.opens
        return found

    def judged(self, day: int) -> Judgement:
        """What is said of a sow day, wherever it is told; `day` lies in the year that is scored."""
        if bool(self.inside(np.array([day]))[0]):
            return "worth"
        return "possible" if bool(self.score.possible[day]) else "not"


def workable_ground(settings: Settings) -> Floats:
    """How far open ground lets each day be sown: less where wet, not under snow; (years, days), 0 to 1."""
    weather = settings.weather
    et0 = hargreaves(weather.tmin, weather.tmax, weather.lat, settings.day_of_year)
    snow, water = settings.cover("open").snow_and_water()
    return np.where(bare(snow), np.where(workable(water, et0), 1.0, 1.0 - WET_COSTS), 0.0)


def asked(ground: Floats, way: Way, cover: CoverName) -> Floats | None:
    """How far the ground lets it be sown: seed needs a crumbly seedbed, sets and cloves go in wetter, but not
    into snow; None where it is not asked, of what begins on a bench and in a tunnel, which keeps both off."""
    if way.name == "raised" or cover == "tunnel":
        return None
    return ground if way.name == "direct" else np.ceil(ground)


def sow_days() -> Ints:
    return np.arange(YEAR + 2 * MARGIN)


def each_purpose(
    crop: Crop,
    way: Way,
    cover: CoverName,
    purposes: Iterable[Purpose],
    settings: Settings,
    ground: Floats,
    seed: int,
) -> Iterator[Calendar]:
    """One calendar a purpose; what is ready at the same thermal time is grown once and scored for each. Early
    kinds have none where those before them succeed well enough. The weather's day 0 must lie MARGIN days
    before the year of the sow days."""
    factor, here = parameter_draws(crop, settings.weather.years, seed), settings.cover(cover)
    grown: dict[tuple[float, CropType | None], Outcome] = {}
    begun: dict[tuple[float, Limits], Begun] = {}
    common: list[Score] = []
    for purpose in purposes:
        if purpose.name == EARLY and not wants_early_kinds(crop, here, common):
            continue
        alike = purpose.thermal_share, purpose.type
        if alike not in grown:
            sown = crop.grown_for(purpose)
            first = sown.spacing.depth, sown.limits
            if first not in begun:
                begun[first] = begin(sown, way, cover, settings, sow_days())
            grown[alike] = grow(sown, way, cover, settings, sow_days(), factor, purpose, shared=begun[first])
        outcome = replace(grown[alike], purpose=purpose)
        scored = score(outcome, here, asked(ground, way, cover), YEAR)
        often = scored.sound >= (0.0 if by_rain(settings, cover) is None else MOSTLY)
        made = Calendar(outcome, scored, runs(scored.worth & often, scored.nearly & often,
                                              way.name == "raised"))
        common += [scored] if made.windows else []
        yield made


def runs(worth: Bools, nearly: Bools, raised: bool = False) -> tuple[Window, ...]:
    """Runs of worthwhile days within the year, short breaks and those of days nearly worth it bridged,
    joined over the year's end; without what may as well wait for the next. What is `raised` takes room on the
    bench: it may as well wait for a season however short the break is."""
    year = slice(MARGIN, MARGIN + YEAR)
    worth, nearly = worth[year].copy(), nearly[year]
    for a, b in _waiting(round_year(worth, 1, BRIDGED), nearly, SEASON) if raised else ():
        worth[np.arange(a, b + 1) % YEAR] = False
    found = round_year(_mended(worth, nearly), SHORTEST, BRIDGED)
    late = _waiting(found, nearly, 0)
    return tuple(Window(MARGIN + a, MARGIN + b) for a, b in found if (a, b) not in late)


def _waiting(found: list[tuple[int, int]], nearly: Bools, season: int) -> list[tuple[int, int]]:
    """The runs of a round year that are of a few weeks before a longer one, of so many days at least, with no
    day between on which more speaks against sowing than that waiting costs nothing."""
    late = []
    for (a, b), (c, d) in zip(found, found[1:] + found[:1], strict=True):
        between = np.arange(b + 1, b + 1 + (c - b - 1) % YEAR) % YEAR
        if b - a < min(FLAT, d - c) and d - c >= season and nearly[between].all():
            late.append((a, b))
    return late


def _mended(worth: Bools, nearly: Bools) -> Bools:
    """Days of a round year, with those of each short enough break that is nearly worth it throughout."""
    first = int(worth.argmax())
    turned, filling = _told_from(first, worth), _told_from(first, nearly)
    for a, b in unbroken(~turned) if worth.any() else ():
        turned[a : b + 1] = b - a < FLAT and filling[a : b + 1].all()
    return _told_from(-first, turned)


def _told_from(first: int, round_it: Bools) -> Bools:
    """A round year told from another of its days; NumPy's own roll takes five times as long for so few."""
    first %= round_it.size
    return np.concatenate([round_it[first:], round_it[:first]])


def round_year(inside: Bools, shortest: int, bridged: int) -> list[tuple[int, int]]:
    """Runs of a year of days that has no end, first and last; a last day may pass the year's end. Shorter
    breaks than `bridged` are bridged, then shorter runs than `shortest` left out."""
    if not inside.any():
        return []
    rest = _longest_break(inside, bridged)
    if rest is None:
        return [(0, YEAR - 1)]
    found = [(a + rest, b + rest) for a, b in _bridged(unbroken(_told_from(rest, inside)), bridged)]
    return [(a % YEAR, a % YEAR + b - a) for a, b in found if b - a + 1 >= shortest]


def _longest_break(inside: Bools, bridged: int) -> int | None:
    """The day that opens the longest break of the round year; None where every break is bridged."""
    breaks = np.flatnonzero(_told_from(-1, inside) & ~inside)
    if breaks.size == 0:
        return None
    turned = _told_from(int(breaks[0]), inside)
    first, last = max(unbroken(~turned), key=lambda stretch: stretch[1] - stretch[0])
    return int(breaks[0]) + first if last - first + 1 >= bridged else None


def _bridged(stretches: Iterable[tuple[int, int]], bridged: int) -> list[tuple[int, int]]:
    joined: list[tuple[int, int]] = []
    for a, b in stretches:
        if joined and a - joined[-1][1] - 1 < bridged:
            joined[-1] = (joined[-1][0], b)
        else:
            joined.append((a, b))
    return joined


def sample_days(window: Window, start: int) -> list[int]:
    """Axis days to quote of a window: its first and last, and the 1st and 15th of the months within.

    `start` is the day number of axis day 0; days past the year's end are folded back into it.
    """
    inside = [
        day for day in range(window.opens + 1, window.closes) if day_date(start + fold(day)).day in (1, 15)
    ]
    closing = [window.closes] if window.closes > window.opens else []
    return [fold(day) for day in (window.opens, *inside, *closing)]


def fold(day: int) -> int:
    """An axis day brought back into the year that is scored."""
    return MARGIN + (day - MARGIN) % YEAR
