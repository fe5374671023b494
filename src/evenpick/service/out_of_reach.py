"""Wishes that nothing sown from now can meet: said plainly, with what would mend each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import inf

import numpy as np

from evenpick.base.arrays import Bools
from evenpick.base.language import later, tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.areas import pot_litres
from evenpick.plan.farms import row_and_farm
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.options import Batch
from evenpick.plan.pots import smallest_pot
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem
from evenpick.plan.weekly import barred_weeks, reachable_weeks, sown_weeks, weeks_of
from evenpick.service.advice import ADVICE
from evenpick.service.week_words import monday_of, told_weeks

NEVER = later("{name}: none of its crops succeeds in half of the years here under the covers there are.")
NOWHERE = later("{name}: none of its crops succeeds in half of the years on any farm that may grow it, under "
                "the covers there are.")
WORTH_TELLING = 2  # weeks that something would bring nearer, of those that are too soon (our choice)

Mend = Callable[[Mapping[int, Bools]], Mapping[int, tuple[str, Bools]]]
"""item-weeks that nothing can serve → what would, and the weeks in which it would"""


def out_of_reach(
    task: Task, wanted: Sequence[WantedItem], made: Mapping[str, Sequence[Batch]], horizon: Horizon,
    mend: Mend | None = None, growers: Sequence[Sequence[str]] | None = None,
) -> Iterator[str]:
    """A line for what is too soon for anything sown from now, a line for each item with other gaps and what
    would mend them; `growers` of each item, where these are several farms."""
    may: Sequence[Sequence[str] | None] = growers or [None] * len(wanted)
    cramped = {number for number, item in enumerate(wanted)
               if item.kg[:YEAR_WEEKS].sum() and no_room_for(task, item, may[number])}
    early, other, never, absent = _missing(task, wanted, made)
    for found in (early, other, absent):
        for number in cramped - never.keys():
            found.pop(number, None)
    for number in sorted(cramped - never.keys()):
        yield tell("{name}: there is no ground large enough for the least of it. A plant in a pot of its own "
                   "wants {litres} l at the least.", name=wanted[number].name,
                   litres=round(pot_litres(_least_pot(wanted[number]))))
    soon = _mostly(early, wanted)
    asked = {**soon, **never, **{number: weeks | early.get(number, False) for number, weeks in other.items()}}
    mended = mend(asked) if mend is not None and asked else {}
    for number, item in enumerate(wanted):
        if number in never:
            yield tell(NOWHERE if growers else NEVER, name=item.name)
        elif number in other and number in mended and (other[number] == mended[number][1]).all():
            yield tell("{name}: nothing can be had in {other}; with {words} something could.", name=item.name,
                       other=told_weeks(other[number], horizon), words=mended[number][0])
            continue
        elif number in other:
            yield tell("{name}: nothing can be had in {other}.", name=item.name,
                       other=told_weeks(other[number], horizon)) + _when_it_could(
                           item, other[number], made, horizon)
        if number in mended and (number in {**other, **never} or mended[number][1].sum() >= WORTH_TELLING):
            words, weeks = mended[number]
            yield tell("{name}: with {words} something could be had in {weeks}.", name=item.name, words=words,
                       weeks=told_weeks(weeks, horizon))
    if absent:
        yield tell("Days away leave nothing to be had of: {names}. On them nobody is there to sow it, to "
                   "plant it out, or to water it while it is raised or takes root. Where somebody waters "
                   "then, say so in the garden file, under those days away: watered = true.",
                   names=", ".join(tell("{name} ({weeks})", name=wanted[number].name,
                                        weeks=told_weeks(weeks, horizon))
                                   for number, weeks in absent.items()))
    named = [tell("{name} (to {horizon})", name=wanted[number].name,
                  horizon=monday_of(horizon, int(np.flatnonzero(weeks)[-1])))
             for number, weeks in early.items()]
    if named:
        yield tell("Too soon for anything sown from now: {soon}.", soon=", ".join(named))
    if named or other or never or absent:
        yield tell(ADVICE)


def _when_it_could(
    item: WantedItem, missing: Bools, made: Mapping[str, Sequence[Batch]], horizon: Horizon
) -> str:
    """Of what is wanted only when nothing can be had of it, the weeks of the first year in which it can."""
    wanted = item.kg[:YEAR_WEEKS] > 0
    there = weeks_of([batch for key in item.crops for batch in made[key]])[:YEAR_WEEKS]
    if (wanted & ~missing[:YEAR_WEEKS]).any() or not there.any():
        return ""
    return tell(" It is not wanted when it is ripe here: {weeks}.", weeks=told_weeks(there, horizon))


def no_room_for(task: Task, item: WantedItem, farms: Sequence[str] | None = None) -> bool:
    """Whether no ground, or no bed of it, has room for one plant of any of its crops, be it in a pot,
    whatever the week; of the `farms` alone that may grow it, if they are told. Rows have room in any pot."""
    grounds = task.request.grounds
    rooms = [min(float(limit.max()), task.largest.get(name, inf))
             for name, limit in zip(grounds.names, grounds.limit, strict=True)
             for row, farm in [row_and_farm(name)]
             if row in ("open", "tunnel") and (farms is None or farm in farms)]
    return 0 < max(rooms, default=0.0) < _least_pot(item)


def _least_pot(item: WantedItem) -> float:
    """m² of the smallest pot that holds a plant of one of an item's crops."""
    return min(smallest_pot(load_catalogue().crop(key)) for key in item.crops)


def _mostly(early: Mapping[int, Bools], wanted: Sequence[WantedItem]) -> dict[int, Bools]:
    """Of the weeks that are too soon, those of items of which they are more than half of the first year's."""
    return {number: weeks for number, weeks in early.items()
            if 2 * weeks.sum() > (wanted[number].kg[:YEAR_WEEKS] > 0).sum()}


def _missing(
    task: Task, wanted: Sequence[WantedItem], made: Mapping[str, Sequence[Batch]]
) -> tuple[dict[int, Bools], dict[int, Bools], dict[int, Bools], dict[int, Bools]]:
    """By item: weeks that are too soon; other weeks of the first year that nothing serves; the wanted
    weeks of items of which nothing succeeds at all; weeks that days away alone leave without."""
    reach, sown, first = reachable_weeks(task), sown_weeks(task), np.arange(WEEKS)
    barred = barred_weeks(task)
    absent: dict[int, Bools] = {}
    early: dict[int, Bools] = {}
    other: dict[int, Bools] = {}
    never: dict[int, Bools] = {}
    for number, item in enumerate(wanted):
        missing = (item.kg > 0) & ~reach[number] & (first < YEAR_WEEKS)
        if (missing & barred[number]).any():
            absent[number] = missing & barred[number]
            missing = missing & ~barred[number]
        opens = int(np.argmax(sown[number])) if sown[number].any() else YEAR_WEEKS
        soon = missing & (first < opens) & _next_year(made, item)
        if not any(made[key] for key in item.crops):
            never[number] = (item.kg > 0) & (first < YEAR_WEEKS)
        elif (missing & ~soon).any():
            other[number] = missing & ~soon
        if number not in never and soon.any():
            early[number] = soon
    return early, other, never, absent


def _next_year(made: Mapping[str, Sequence[Batch]], item: WantedItem) -> Bools:
    """Weeks in which, a year later, a sowing from now could give something: what a sooner one would have
    mended this year."""
    later_on = weeks_of([batch for key in item.crops for batch in made[key]])[YEAR_WEEKS:]
    return np.concatenate([later_on, np.zeros(WEEKS - later_on.size, dtype=bool)])
