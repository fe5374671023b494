"""One sowing in one year, day by day: written from growth.md and docs/design/outlook.md, not from the code.

Slow and plain on purpose. It shares with the program the catalogue, the weather under the cover and the
constants that the design notes name; every sum, search and rule is its own.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, exp, floor, pi, sqrt

from evenpick.base.arrays import Floats
from evenpick.climate.covers import UnderCover
from evenpick.crops.crop import Crop, Way
from evenpick.crops.signals import Cold, LongDay

NEARLY = 1e-6  # enough is enough to within this (O2)


@dataclass(frozen=True)
class Place:
    """One year's weather where the crop stands, as plain lists, and what the ensemble knows of the season."""

    tmin: list[float]
    tmax: list[float]
    tmean: list[float]
    light: list[float]
    soil: list[float]
    rain: list[float]
    hours: list[float]
    usual_mean: list[float]
    """21-day mean of the mean temperature over all years"""
    fleeced: float = 1.0
    """share of a night's frost that comes to low crops under fleece inside"""

    @property
    def days(self) -> int:
        return len(self.tmin)


@dataclass(frozen=True)
class Life:
    up: int
    place: int
    first: int
    last: int
    fate: str
    share: float
    quality: float
    emerged: float


def usual(by_year: Floats) -> list[float]:
    """Mean over the years (years, days), then over 21 days."""
    days = by_year.shape[1]
    means = [float(by_year[:, d].mean()) for d in range(days)]
    edge = [means[0]] * 10 + means + [means[-1]] * 10
    return [sum(edge[d : d + 21]) / 21 for d in range(days)]


def place_of(air: UnderCover, hours: list[float], year: int, fleeced: float = 1.0) -> Place:
    def of(by_year: Floats) -> list[float]:
        return [float(v) for v in by_year[year]]

    return Place(of(air.tmin), of(air.tmax), of(air.tmean), of(air.radiation), of(air.soil), of(air.rain),
                 hours, usual(air.tmean), fleeced)


def stands_still(crop: Crop, purpose: str, growth: Floats, sow: int) -> int | None:
    """The day after `sow` on which what is good at any size has a quarter of its peak growth (years, day)."""
    tuber = crop.ways[0].name == "planted" and crop.bulbing is None
    tuber = tuber or (crop.harvest.profile == "stored" and crop.limits.kill_plant > crop.limits.kill_edible)
    winter = crop.season is not None and purpose in ("winter use", "storing")
    if not tuber and not (winter and crop.harvest.profile == "standing"):
        return None
    rate = usual(growth)
    level = 0.25 * max(rate)
    return until(lambda d: rate[d] < level <= rate[d - 1], max(sow, 1), len(rate))


def growth_of_day(crop: Crop, spot: Place, day: int, hot_hastens: bool = False) -> float:
    """Effective day-degrees of one day (D1, D2); towards flowering heat slows nothing (O24)."""
    g = crop.development
    middle, half = (spot.tmin[day] + spot.tmax[day]) / 2, (spot.tmax[day] - spot.tmin[day]) / 2
    degrees = 0.0
    for point in range(8):
        t = middle + half * cos(2 * pi * (point + 0.5) / 8)
        if g.base < t <= g.optimum:
            degrees += (t - g.base) / 8
        elif hot_hastens and t > g.optimum:
            degrees += (g.optimum - g.base) / 8
        elif g.optimum < t < g.ceiling:
            degrees += (g.optimum - g.base) * (g.ceiling - t) / (g.ceiling - g.optimum) / 8
    light = spot.light[day]
    return 0.0 if degrees <= 0 or light <= 0 else 1 / (1 / degrees + g.light / light)


def gather(rate: Callable[[int], float], start: int, need: float, days: int) -> int:
    """The first day from `start` on which `need` has been gathered; `days` if never."""
    heap = 0.0
    for day in range(start, days):
        heap += rate(day)
        if heap >= need - NEARLY:
            return day
    return days


def until(true: Callable[[int], bool], start: int, days: int) -> int:
    return next((day for day in range(start, days) if true(day)), days)


def cold(temperature: float, below: float) -> float:
    return min(max((below + 3 - temperature) / 4, 0.0), 1.0)


def long(hours: float, rule: LongDay) -> float:
    return min(max((hours - rule.low) / (rule.high - rule.low), rule.floor), 1.0)


def soil_ahead(spot: Place, day: int) -> float:
    ahead = spot.soil[day : day + 5]
    return sum(ahead) / len(ahead)


def mean(values: list[float], first: int, last: int) -> float:
    """Of the days from `first` up to, not including, `last`; at least one, and none past the axis."""
    first = min(first, len(values) - 1)
    some = values[first : max(last, first + 1)]
    return sum(some) / len(some)


def _three_weeks(spot: Place, day: int) -> float:
    """Mean of the three weeks from a day on."""
    return mean(spot.tmean, day, min(day + 21, spot.days))


def live(
    crop: Crop, way: Way, spot: Place, bench: Place | None, sow: int, factor: float, part: float,
    still: int | None,
) -> Life:
    """The whole life; `factor` is the year's draw on the thermal time, `part` the purpose's share of it.
    `still`: the day by which a crop for a season is picked at the size it has."""
    days = spot.days
    nursery = spot if bench is None else bench
    seed, limits, harvest = crop.emergence, crop.limits, crop.harvest

    def growing(day: int) -> float:
        return growth_of_day(crop, spot, day)

    def grown(first: int, last: int) -> float:
        return sum(growing(day) for day in range(first, last))

    thermal = crop.thermal_time * part * factor

    # up (E1, E2)
    up = gather(
        lambda d: max(min(nursery.soil[d], seed.optimum) - seed.base, 0.0), sow, seed.thermal_time, days
    )
    soil = mean(nursery.soil, sow, up + 1)
    emerged = exp(-seed.loss_per_day * (up - sow + 1)) * sqrt(min(max((seed.ceiling - soil) / 5, 0.0), 1.0))
    if way.name == "planted":
        emerged = 1.0

    # in its place (D3)
    if bench is None:
        place, done = min(up + 1, days), 0.0
        begun_warm = any(soil_ahead(spot, d) >= limits.soil_min for d in range(sow, min(sow + 6, days)))
        lies = crop.emergence.lies or max(25, 2 * crop.emergence.thermal_time / 15)
        exempt = way.name == "planted" and crop.emergence.lies is None
        begun_warm &= exempt or up - sow <= lies
    else:
        ready = gather(lambda d: growth_of_day(crop, bench, d), min(up + 1, days), way.nursery, days)
        least = limits.soil_min - 3.0 if limits.soil_min >= 10.0 else limits.soil_min
        warm = until(lambda d: soil_ahead(spot, d) >= least, ready, days)
        shock = 120.0 if crop.key in ("leaf-lettuce", "crisp-lettuce") else 25.0
        fit = warm
        if limits.kill_plant > -1.5:  # not into days of a forecast frost (O3)
            mild = [all(t >= limits.kill_seedling for t in spot.tmin[d : d + 4]) for d in range(days)]
            fit = until(lambda d: mild[d], warm, days)
        place, done = min(fit, ready + 10, days), way.nursery - shock
        begun_warm = warm <= ready + 10 and place - sow <= 90

    # ripe (D3, D6)
    longest = max(spot.hours)
    if crop.cold_heading:
        rule = crop.cold_heading
        adult = gather(growing, place, max(rule.juvenile - done, 0.0), days)
        chilled = gather(lambda d: cold(spot.tmean[d], rule.below), adult, rule.days, days)
        first = gather(growing, chilled, thermal, days)
    elif crop.bulbing:
        bulb = crop.bulbing
        least = 0.3 * bulb.leaf if bulb.least_leaf is None else bulb.least_leaf
        able = gather(growing, place, max(least - done, 0.0), days)
        if bulb.cold_days:
            chill = gather(lambda d: cold(spot.tmean[d], bulb.cold), place, bulb.cold_days, days)
            able = max(able, chill)
        long_enough = min(_long_enough(crop, longest), longest - 0.02)
        near_longest = until(lambda d: spot.hours[d] > long_enough, able, days)
        first = gather(growing, near_longest, thermal, days)
    else:
        first = gather(growing, place, max(thermal - done, 1.0), days)

    # pods and fruits due in the cold wait for warmth, not where they flowered before a cold midwinter (O10)
    if limits.fill_mean is not None:
        fills = limits.fill_mean
    else:
        fills = 11.5 if limits.cool_mean is None else max(11.5, limits.cool_mean - 4)
    usual = spot.usual_mean
    if limits.fill_mean is None and limits.kill_plant <= -1.5:  # what bears frost, where summers are cool
        fills = min(11.5, max(max(usual) - 1.0, 7.2))
    if limits.fill_mean is not None:
        # what needs more warmth has until the season turns too cool for it
        filled = until(lambda d: usual[d] > fills, first, days)
        turns = until(lambda d: d > place and usual[d] < fills <= usual[d - 1], place, days)
        if min(usual) < fills:
            turns = min(turns, _midwinter(spot, place))
        first = days if turns < filled else filled
    elif harvest.profile == "picking" and not crop.cold_heading:
        filled = until(lambda d: usual[d] > fills, first, days)
        flowered = gather(growing, place, max(0.7 * thermal - done, 1.0), days)
        winterless = min(usual) >= 10
        since = flowered if not winterless and first < filled else first
        lost = _midwinter(spot, since) < filled and (crop.tender or not winterless)
        pods = filled
        if not winterless and not crop.tender:  # pods grow from flowers that are warm enough to fill
            opened = flowered
            if usual[flowered] <= fills if flowered < days else False:
                opened = until(lambda d: _three_weeks(spot, d) > fills, max(flowered - 10, 0), days) + 10
                opened = min(max(opened, flowered), days)
            pods = max(filled, gather(growing, opened, 0.3 * thermal, days))
        first = days if lost else pods

    # frost by stage, the first that kills (H2)
    def killed(before: int) -> int:
        hardy = min(gather(growing, place, max(0.3 * thermal - done, 0.0), days), before)
        kills = [limits.kill_seedling if d < hardy else limits.kill_plant for d in range(days)]
        felt = _felt(crop, spot, limits.bud)
        night = until(lambda d: felt[d] < kills[d], place, before)
        return night if night < before else days

    # not full grown when growth stands still, or a week before a frost that would kill it (O19)
    size = 1.0
    if still is not None:
        ends = max(min(still, killed(first) - 7), place)
        had = min((grown(place, ends) + done) / thermal, 1.0) ** 4
        if ends < min(first, days) and had >= 0.4:
            first, size = ends, had

    # runs to seed (D5)
    def bolts(rule: LongDay | Cold) -> int:
        if isinstance(rule, Cold):
            adult = gather(growing, place, max(rule.juvenile - done, 0.0), days)
            chilled = gather(lambda d: cold(spot.tmean[d], rule.below), adult, rule.days, days)
            return gather(growing, chilled, rule.then, days)
        need = rule.total

        def driven(at: Place, day: int) -> float:
            return growth_of_day(crop, at, day, hot_hastens=True) * long(at.hours[day], rule)

        if bench is not None:
            need = max(need - sum(driven(bench, d) for d in range(up, place)), 1.0)
        return gather(lambda d: driven(spot, d), place, need, days)

    bolt = min((bolts(rule) for rule in crop.bolting), default=days)
    if crop.bulbing and crop.bulbing.most_leaf and min(usual) < 15:  # too big at midwinter
        winter = _midwinter(spot, sow)
        if place < winter and grown(place, winter) + done > crop.bulbing.most_leaf:
            bolt = min(bolt, winter)

    frost = killed(first)
    frosted = frost < first

    # how long it is picked or stands (H1)
    if harvest.profile == "picking":
        full = gather(growing, first, harvest.span, days)
        flowers_on = not crop.tender and min(usual) >= 10  # through a mild winter (O10)
        if not crop.cold_heading and not flowers_on:
            full = min(full, until(lambda d: usual[d] < fills, first, days))
    elif harvest.profile == "cut":
        full = gather(growing, first, harvest.cuts * harvest.regrowth, days)
        if limits.fill_mean is not None:
            full = min(full, until(lambda d: usual[d] < fills, first, days))
        if harvest.years:
            full = days
    else:
        full = gather(lambda d: max(spot.tmean[d] - 4, 0.0), first, harvest.stand, days)
        full = min(max(full, first + 2), days)
    if harvest.profile == "cut":  # leaf that frost took grows again while the plant lives (O5)
        crown = _felt(crop, spot, limits.bud)
        spoilt = until(lambda d: crown[d] < limits.kill_plant, first, days)
    else:
        leaf = _felt(crop, spot, None)
        spoilt = until(lambda d: leaf[d] < limits.kill_edible, first, days)

    # heat (H3)
    def hot(day: int, over: float = limits.heat_mean + 5) -> bool:
        return mean(spot.tmean, day, min(day + 21, days)) > over

    wilted = until(hot, first, days) + 21 if harvest.profile == "cut" else days
    last = max(min(full, bolt, spoilt, wilted), first)

    def kept(temperature: float, limit: float) -> float:
        return 1 / (1 + exp(min(max((temperature - limit) / 0.9, -50), 50)))

    def spared(day: int) -> float:
        if limits.set_tmax is None:
            third = (first - place) // 3
            return kept(mean(spot.tmean, day - third, day), limits.heat_mean + 0.5)
        flower = day - round(limits.set_days or 14)
        since, until_ = max(flower - 8, 0), max(flower + 8, 1)
        until_ = min(max(until_, since + 1), days)
        warm_night = limits.set_tmin if limits.set_tmin is not None else 999.0
        sets = [
            kept(spot.tmax[d], limits.set_tmax) * kept(spot.tmin[d], warm_night) for d in range(since, until_)
        ]
        setting = sum(sets) / len(sets)
        return kept(mean(spot.tmean, since, until_), limits.heat_mean + 0.5) * setting

    again = limits.kill_plant > -1.5 and harvest.profile == "picking"
    stood = limits.heat_mean + (2 if again else 5) if limits.heat_stand is None else limits.heat_stand
    scorched = any(hot(day, stood) for day in range(place, first - 20))
    if scorched:
        quality = best = 0.0
    elif again:
        made = grown(first, last)
        spells = [spared(gather(growing, first, part / 6 * made, days)) for part in (1, 3, 5)]
        quality, best = sum(spells) / 3, max(spells)
    else:
        along = kept(mean(spot.tmean, place, max(first, place + 1)), limits.heat_mean + 0.5)
        quality = best = min(spared(first), along)

    # its fate: what stops it being started, then what happens first (O4)
    begins = place if way.name == "raised" else sow
    started = limits.heat_mean + 5 if limits.heat_start is None else limits.heat_start
    warmer = hot(begins, limits.heat_mean) or hot(sow, limits.heat_mean)
    if hot(begins, started) or (warmer and not begun_warm):
        fate = "TOO_HOT"
    elif not begun_warm:
        fate = "TOO_COLD"
    elif frosted and frost <= bolt:
        fate = "FROSTED"
    elif bolt < first:
        fate = "BOLTED"
    elif first >= days or first - sow > 420:
        fate = "TOO_LATE"
    else:
        fate = "HEAT" if best < 0.5 else "GOOD"

    # how much of it is had (H1, D6)
    share = 0.0
    if fate not in ("GOOD", "HEAT"):
        return Life(up, place, first, first, fate, share, quality, emerged)
    if harvest.profile == "picking":
        through = min(grown(first, last) / harvest.span, 1.0)
        share = 3 * through**2 - 2 * through**3
    elif harvest.profile == "cut":
        share = (1 + floor(min(grown(first, last) / harvest.regrowth, harvest.cuts - 1))) / harvest.cuts
    else:
        share = min((last - first) / min(max(full - first, 2), 7), 1.0)
    if crop.bulbing and min(spot.hours) < _long_enough(crop, longest):
        share *= _bulb(crop, spot, up, place, done, grown, near_longest)
    return Life(up, place, first, last, fate, share * size, quality, emerged)


def _felt(crop: Crop, spot: Place, bud: float | None) -> list[float]:
    """The nights it feels: a bud under snow, what is low in a tunnel under fleece (covers.md, 11, 12)."""
    if bud is not None and any(spot.rain[d] > 0 and spot.tmean[d] <= 0 for d in range(spot.days)):
        return _felt_under_snow(spot, bud)
    share = 1.0 if crop.spacing.tall else spot.fleeced
    return [night * share if night < 0 else night for night in spot.tmin]


def _felt_under_snow(spot: Place, height: float) -> list[float]:
    """The nights of a bud so many metres above the ground, as of bare ground (covers.md, 11)."""
    lying, felt = 0.0, []
    for rain, middle, night in zip(spot.rain, spot.tmean, spot.tmin, strict=True):
        lying = lying + rain if middle <= 0 else max(lying - 2.74 * middle, 0.0)
        over = min(max(0.4 * lying - 100 * height, 0.0) / 15, 1.0)
        felt.append(night * (0.2 + 0.5 * (1 - over) ** 2) / 0.7 if night < 0 else night)
    return felt


def _midwinter(spot: Place, sow: int) -> int:
    """The next day that is usually the coldest of the 150 on either side, from `sow` on."""
    usual = spot.usual_mean
    for day in range(sow, len(usual)):
        before = min(usual[:300]) if day < 150 else min(usual[day - 150 : day])
        if usual[day] <= before and usual[day] <= min(usual[day : day + 151]):
            return day
    return len(usual)


def _long_enough(crop: Crop, longest: float) -> float:
    """Hours of day from which bulbs start."""
    assert crop.bulbing is not None
    rule = crop.bulbing
    if rule.hours is None:
        return longest - rule.offset
    low = rule.keeping_hours is not None and longest < rule.keeping_hours + 0.35
    return rule.low_hours if low and rule.low_hours is not None else rule.hours


def _bulb(
    crop: Crop,
    spot: Place,
    up: int,
    place: int,
    done: float,
    grown: Callable[[int, int], float],
    starts: int,
) -> float:
    """Leaf behind it on the longest day, or when bulbs start where that day is past, of a full bulb's."""
    assert crop.bulbing is not None
    leaf = crop.bulbing.leaf
    trigger = until(lambda d: spot.hours[d] > max(spot.hours) - 0.02, up, spot.days)
    rule = crop.bulbing
    low = (rule.low_hours is not None and rule.keeping_hours is not None
           and max(spot.hours) < rule.keeping_hours + 0.35)
    if trigger - starts > 120 or (low and starts > trigger):
        trigger = starts
    in_module = min(max((trigger - up) / max(place - up, 1), 0.0), 1.0)
    return min(max((grown(place, max(trigger, place)) + done * in_module) / leaf, 0.0), 1.0)
