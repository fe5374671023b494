"""From a garden's wishes, ground and weather to the planner's request (planner.md)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName, GroundCover, ground_under
from evenpick.crops.crop import Crop
from evenpick.crops.sown import InPots
from evenpick.garden.garden import GROUND_COVERS, Garden
from evenpick.plan.given import Given, met_by
from evenpick.plan.horizon import COUNTED_WEEKS, WEEKS
from evenpick.plan.least import in_whole, largest_bed, least_areas, most_area, row_across
from evenpick.plan.limits import Season
from evenpick.plan.options import Batch
from evenpick.plan.options import Option as Option
from evenpick.plan.request import Candidates, Grounds, Item, Request, Supply
from evenpick.plan.rows import Extra, extra_rows
from evenpick.plan.season_end import wanted_to
from evenpick.plan.standing import Hold
from evenpick.plan.supply import counted_in, picked
from evenpick.plan.wanted import WantedItem

SELDOM_WEEK = 2.0
"""portions a week from which a sowing must bring what the garden says; of what is wanted less often it must
bring less in proportion, half at least: nobody who wants one bunch a week makes sowings of two weeks' bunches
or none (our choice)"""
BUSY_WEEK = 0.15
"""of a week's portions: where much is eaten a sowing must bring more; little and often is not a row a day
(common practice, no source; our choice); of no more than one sowing gives on an even share of the
ground, or a wish for a thousand boxes would leave forty square metres bare"""
RAISED_TROUBLE = 1.5
GROUND_COST = 0.5  # portions per m²: ground is not taken for nothing
ROOM = 1.5  # times what the weeks it can serve want: the most worth sowing of one sowing


@dataclass(frozen=True, slots=True)
class Task:
    """The request for the planner, what its candidates mean, and the years it may not see."""

    request: Request
    options: tuple[Option, ...]
    unseen: Supply
    unseen_years: int
    given: Given
    """what comes whatever is sown, in the years of the request"""
    given_unseen: Given
    largest: Mapping[str, float] = field(default_factory=dict)
    """m² of the largest bed by the row of its ground"""
    barred: tuple[Option, ...] = ()
    """sowings that are not candidates for days away alone"""


def task(
    garden: Garden,
    wanted: Sequence[WantedItem],
    made: Mapping[str, tuple[Batch, ...]],
    seen: Ints,
    unseen: Ints,
    seed: int,
    season: Season | None = None,
    start: int = 0,
    portions: Floats | None = None,
) -> Task:
    """Candidates for every item from every batch of its crops; `seen`, `unseen` are ensemble members.

    `season`: what is there already and what was decided; `start`: day number of the horizon's first Monday;
    `portions`: kg of each item's portion, where others than `made` may be grown of it.
    """
    season = season or Season()
    every = [
        Option(number, batch, index, wanted_to=int(until))
        for number, item in enumerate(wanted)
        for key in item.crops
        for batch in made.get(key, ())
        for index, until in enumerate(wanted_to(batch, item))
        if not season.refuses(batch, index, start)
    ]
    alone = [season.leaves_alone(one.batch, one.index, start) for one in every]
    options, barred = (tuple(one for one, away in zip(every, alone, strict=True) if away is kept_from)
                       for kept_from in (False, True))
    portions = portion_sizes(wanted, [made]) if portions is None else portions
    kg = np.stack([item.kg for item in wanted])
    ends = np.array([last_wanted(row) for row in kg])
    supply = picked(options, seen, ends, wanted, season)
    items = tuple(Item(item.name, item.weight / portions[i]) for i, item in enumerate(wanted))
    candidates = _candidates(options, supply, kg, portions, seen.size, garden)
    wishes = reachable(kg, candidates, supply, season.given)
    keep = np.flatnonzero(candidates.most >= candidates.least)
    options, supply, candidates = _only(options, supply, candidates, keep)
    given, given_unseen = (counted_in(season.given.of_years(years), ends) for years in (seen, unseen))
    rows = list(extra_rows(options, supply, int(seen.size), garden, season.seeds, season.minutes,
                           np.ones(WEEKS) if season.there is None else season.there))
    grounds = _grounds(options, garden, season.holds, rows)
    request = Request(candidates, items, grounds, int(seen.size), WEEKS, wishes, supply, seed=seed)
    if given.kg.size:
        request = replace(request, met=met_by(given, request.wanted, request.levels, request.years))
    return Task(
        request, options, picked(options, unseen, ends, wanted, season), int(unseen.size), given,
        given_unseen, {cover: largest_bed(garden, cover) for cover in GROUND_COVERS}, barred,
    )


def last_wanted(kg: Floats) -> int:
    """The last week in which any is wanted, -1 for none."""
    weeks = np.flatnonzero(kg > 0)
    return int(weeks[-1]) if weeks.size else -1


def portion_sizes(
    wanted: Sequence[WantedItem], made: Sequence[Mapping[str, tuple[Batch, ...]]]
) -> Floats:
    """kg of each item's portion: the mean of its crops that grow, on one farm at least; (items,)."""
    every = {key: batches[0].crop.produce.portion_kg
             for farm in made for key, batches in farm.items() if batches}
    sizes = [[every[key] for key in item.crops if key in every] for item in wanted]
    return np.array([float(np.mean(each)) if each else 0.1 for each in sizes])


def reachable(kg: Floats, candidates: Candidates, supply: Supply, given: Given) -> Floats:
    """Wishes from the first week in which something that stands, or is sown now, could be ripe; past the
    counted weeks to the last in which it could still be good."""
    open_from, open_to = np.full(kg.shape[0], WEEKS), np.full(kg.shape[0], COUNTED_WEEKS - 1)
    for item, some in ((candidates.item[supply.candidate], supply), (given.item, given)):
        np.minimum.at(open_from, item, some.ripe)
        np.maximum.at(open_to, item, some.last)
    week = np.arange(WEEKS)
    return np.where((week >= open_from[:, None]) & (week <= open_to[:, None]), kg, 0.0)


def _candidates(
    options: Sequence[Option], supply: Supply, kg: Floats, portions: Floats, years: int, garden: Garden
) -> Candidates:
    item = np.array([option.item for option in options], dtype=np.int64)
    usual = np.array([row[row > 0].mean() if (row > 0).any() else 0.0 for row in kg])
    weekly = usual / portions
    seldom = np.clip(weekly / SELDOM_WEEK, 0.5, 1.0)
    busy = np.minimum(weekly, _even_share(item, supply, years, garden, portions))
    trouble = garden.plan.worth_a_sowing * np.maximum(seldom, BUSY_WEEK * busy)[item]
    raised = np.array([option.batch.way.name == "raised" for option in options])
    crops = [option.batch.crop for option in options]
    across = np.array([row_across(o.batch.crop, o.batch.cover, garden) for o in options])
    least, most = least_areas(crops, *_useful(options, supply, kg, usual, years), garden.cropped, across)
    most = np.minimum(most, [most_area(o.batch.crop, o.batch.cover, garden) for o in options])
    return Candidates(
        item, tuple(f"{o.batch.crop.key}/{o.batch.way.name}/{o.batch.cover}/{o.day}" for o in options),
        np.array([option.day for option in options], dtype=np.int64),
        least, most, trouble * np.where(raised, RAISED_TROUBLE, 1.0), np.full(item.size, GROUND_COST),
    )


def _even_share(item: Ints, supply: Supply, years: int, garden: Garden, portions: Floats) -> Floats:
    """Portions of each item that its best sowing gives on an even share of all the ground; (items,)."""
    given, best = np.bincount(supply.candidate, supply.kg, item.size) / years, np.zeros(portions.size)
    np.maximum.at(best, item, given)
    return np.asarray(best / portions * garden.cropped / portions.size)


def _useful(
    options: Sequence[Option], supply: Supply, kg: Floats, weekly: Floats, years: int
) -> tuple[Floats, Floats, Floats]:
    """The most of one sowing that could be of use, m²: what its own weeks want, of all the years, with room;
    the same of the weeks that it serves in one year, their mean; both nought where it gives nothing. And the
    share of the usual `weekly` wish, kg, that all its weeks have."""
    n = len(options)
    given = np.bincount(supply.candidate, supply.kg, n) / years
    item = np.array([option.item for option in options], dtype=np.int64)
    served, weeks = _served(supply.candidate, supply, item, kg)
    yearly, _ = _served(supply.candidate * years + supply.year, supply, np.repeat(item, years), kg)
    there = np.bincount(np.unique(supply.candidate * years + supply.year) // years, minlength=n)
    once = yearly.reshape(n, years).sum(axis=1) / np.maximum(there, 1)
    of_use = np.where(given > 0, ROOM / np.maximum(given, 1e-9), 0.0)
    return of_use * served, of_use * once, served / np.maximum(weeks * weekly[item], 1e-9)


def _served(group: Ints, supply: Supply, item: Ints, kg: Floats) -> tuple[Floats, Ints]:
    """kg that is wanted from the first week in which something of each group ripens to the last in which it
    is good, and how many weeks these are; nought where nothing does. `item` of each group."""
    first, last = np.full(item.size, WEEKS), np.full(item.size, -1)
    np.minimum.at(first, group, supply.ripe)
    np.maximum.at(last, group, np.minimum(supply.last, WEEKS - 1))
    heaped = np.concatenate([np.zeros((kg.shape[0], 1)), np.cumsum(kg, axis=1)], axis=1)
    weeks = np.maximum(last + 1 - first, 0)
    wanted = heaped[item, last + 1] - heaped[item, np.minimum(first, last + 1)]
    return np.asarray(wanted), weeks


def _only(
    options: tuple[Option, ...], supply: Supply, candidates: Candidates, keep: Ints
) -> tuple[tuple[Option, ...], Supply, Candidates]:
    """The options worth keeping, renumbered."""
    number = np.full(len(options), -1)
    number[keep] = np.arange(keep.size)
    held = number[supply.candidate] >= 0
    smaller = Supply(
        number[supply.candidate[held]], supply.year[held], supply.ripe[held], supply.last[held],
        supply.kg[held],
    )
    fewer = replace(
        candidates, item=candidates.item[keep], label=tuple(candidates.label[i] for i in keep),
        day=candidates.day[keep], least=candidates.least[keep], most=candidates.most[keep],
        trouble=candidates.trouble[keep], cost=candidates.cost[keep],
    )
    return tuple(options[i] for i in keep), smaller, fewer


def _grounds(
    options: Sequence[Option], garden: Garden, holds: Sequence[Hold], extra: Sequence[Extra]
) -> Grounds:
    """Rows of ground, of movable covers and of the bench, with what each option takes of what is free; and
    other rows after them."""
    names = ("open", "tunnel", "fleece", "cloche", "bench", *(row.name for row in extra))
    places = float(garden.bench.places) if garden.bench is not None else 1e9
    sown = [(option.batch.crop, option.batch.cover) for option in options]
    ground = (ground_in_use(sown, garden, of) for of in GROUND_COVERS)
    totals = (*ground, garden.fleece, garden.cloche, places)
    limit = np.concatenate([np.repeat(np.array(totals)[:, None], WEEKS, axis=1),
                            *(row.limit[None] for row in extra)])
    for hold in (hold for hold in holds if hold.row in names):
        limit[names.index(hold.row), hold.first : hold.end] -= hold.amount
    taken = [(row, number, np.arange(weeks.start, weeks.stop), each)
             for number, option in enumerate(options) for row, weeks, each in _takes(option)]
    long = [len(weeks) for _, _, weeks, _ in taken]
    of_rows = [np.full(row.week.size, 5 + number) for number, row in enumerate(extra)]
    return Grounds(
        names, np.maximum(limit, 0.0),
        np.concatenate([np.repeat(np.array([one[0] for one in taken], np.int64), long), *of_rows]),
        np.concatenate([np.repeat(np.array([one[1] for one in taken], np.int64), long),
                        *(row.candidate for row in extra)]),
        np.concatenate([np.zeros(0, np.int64), *(one[2] for one in taken), *(row.week for row in extra)]),
        np.concatenate([np.repeat(np.array([one[3] for one in taken], np.float64), long),
                        *(row.coefficient for row in extra)]),
    )


def ground_in_use(sown: Sequence[tuple[Crop, CoverName]], garden: Garden, of: GroundCover) -> float:
    """m² of a cover's ground that crops `sown` under covers can take: where all go by pots of one size, whole
    ones."""
    sizes = {crop.spacing.pot if isinstance(crop.spacing, InPots) else 0.0
             for crop, cover in sown if ground_under(cover) == of}
    pot = sizes.pop() if len(sizes) == 1 else 0.0
    return in_whole([bed.area for bed in garden.beds(of)], pot) if pot else garden.area(of)


def _takes(option: Option) -> Iterator[tuple[int, range, float]]:
    """Rows and weeks of the ground that a square metre takes, and how much of each."""
    batch, held = option.batch, option.held
    yield 1 if batch.cover == "tunnel" else 0, held, 1.0
    if batch.cover in ("fleece", "cloche"):
        yield 2 if batch.cover == "fleece" else 3, held, 1.0
    if batch.way.name == "raised":
        plants = 1.0 / (batch.crop.spacing.in_row * batch.crop.spacing.row)
        planted = int(batch.from_week[option.index]) + 1
        yield 4, range(option.day // 7, min(planted, WEEKS)), plants
