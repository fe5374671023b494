"""Whether boxes have as many different things as they want: looked at when the plan is made
(docs/design/season.md, 14)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.days import day_date
from evenpick.base.language import later, tell, tell_n
from evenpick.crops.kinds import kinds
from evenpick.garden.garden import Garden, Outlet, Wish, in_season
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.measure import BARE_SHARE, Measure
from evenpick.plan.wanted import WantedItem, days_there, season_days
from evenpick.service.week_words import listed_weeks

IN_YEARS = 0.5
NOTHING = {
    "leafy": later("nothing leafy"), "rooty": later("nothing rooty"), "onions": later("no onions or leeks"),
    "herbs": later("no herbs"), "heads": later("no heads"), "pods": later("no pods"),
    "fruit": later("no fruit"),
}
"""by kind of produce (data/kinds.csv)"""


def short_of(
    garden: Garden, wanted: Sequence[WantedItem], found: Measure, horizon: Horizon
) -> Iterator[str]:
    """For each outlet that wants variety, the weeks of the first year likely to fall short, in words."""
    there = _there(wanted, found)
    for outlet in (outlet for outlet in garden.outlets if outlet.variety or outlet.needs):
        yield from _outlet(garden, outlet, wanted, there, horizon)


def _there(wanted: Sequence[WantedItem], found: Measure) -> Bools:
    """Items of which at least half of what is wanted is had; (items, weeks, years)."""
    kg = np.stack([item.kg for item in wanted])[:, :, None]
    return np.asarray((kg > 0) & (found.used >= BARE_SHARE * kg))


def _outlet(
    garden: Garden, outlet: Outlet, wanted: Sequence[WantedItem], there: Bools, horizon: Horizon
) -> Iterator[str]:
    wishes = [wish for wish in garden.wishes if wish.outlet == outlet.name and not wish.keep]
    names = {wish.item for wish in wishes}
    mine = [number for number, item in enumerate(wanted) if item.name in names]
    beside, is_open = _beside(garden, horizon), open_part(garden, wishes, horizon) > 0
    own = np.stack([open_part(garden, [w for w in wishes if w.item == item.name], horizon) > 0
                    for item in wanted])
    there = there & own[:, :, None]
    if outlet.variety:
        enough = (there[mine].sum(axis=0) + beside[:, None] >= outlet.variety).mean(axis=1) >= IN_YEARS
        said = tell("{name}: fewer than {variety} different items are likely in", name=outlet.name,
                    variety=outlet.variety)
        wished = own[mine].sum(axis=0)
        yield from _weeks(said, is_open & ~enough, wished + beside < outlet.variety, horizon)
    for kind in outlet.needs:
        of_kind = [n for n in mine if any(kinds().get(key) == kind for key in wanted[n].crops)]
        enough = there[of_kind].any(axis=0).mean(axis=1) >= IN_YEARS
        said = tell("{name}: {nothing} to be expected in", name=outlet.name, nothing=tell(NOTHING[kind]))
        wished = own[of_kind].sum(axis=0)
        yield from _weeks(said, is_open & ~enough, wished < 1, horizon)


def open_part(garden: Garden, wishes: Sequence[Wish], horizon: Horizon) -> Floats:
    """Of each week's days those on which some of an outlet's wishes are wanted and somebody is there, of
    seven; (weeks,)."""
    inside = [season_days(wish.opens, wish.closes, horizon) for wish in wishes]
    days = days_there(garden.limits.away, horizon) & np.any([np.zeros(horizon.days, bool), *inside], axis=0)
    return np.asarray(days.reshape(-1, 7).mean(axis=1))


def _beside(garden: Garden, horizon: Horizon) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """Different things that come anyway and stand for no item that is wished for, by week."""
    wished = {wish.item.casefold() for wish in garden.wishes}
    mondays = [day_date(horizon.start + day) for day in range(0, horizon.days, 7)]
    return np.array([
        sum(each.serves.casefold() not in wished and in_season(each.opens, each.closes, d.month, d.day)
            for each in garden.anyway)
        for d in mondays
    ], dtype=np.int64)


def _weeks(said: str, short: Bools, less: Bools, horizon: Horizon) -> Iterator[str]:
    """The weeks of the first year that fall `short`, and in how many of them too `less` is wished for."""
    first_year = short[:YEAR_WEEKS]
    if not first_year.any():
        return
    number = tell_n("{n} week", "{n} weeks", int(first_year.sum()))
    told = tell("{said} {number} of the first year ({spans}).", said=said, number=number,
                spans=listed_weeks(first_year, horizon))
    too_few = int((first_year & less[:YEAR_WEEKS]).sum())
    if too_few == first_year.sum():
        told += " " + tell("Too little is wished for then: wish for more kinds, or ask less.")
    elif too_few:
        told += " " + tell_n("In {n} of these weeks too little is wished for: wish for more kinds in it, or "
                             "ask less.", "In {n} of these weeks too little is wished for: wish for more "
                             "kinds in them, or ask less.", too_few)
    yield told
