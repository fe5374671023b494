"""A sowing was lost: which weeks that leaves bare, what can still fill them (docs/design/season.md, 8)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.base.trade import ground_under
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.kinds import stands_in
from evenpick.garden.garden import Garden
from evenpick.garden.record import Sowing
from evenpick.outlook.setting import Settings
from evenpick.plan.given import together
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.least import least_area, step
from evenpick.plan.limits import Season
from evenpick.plan.measure import BARE_SHARE, Measure
from evenpick.plan.options import Batch
from evenpick.plan.pots import in_pots
from evenpick.plan.standing import Grown, Standing, given_by, grown
from evenpick.plan.task import Task, task
from evenpick.plan.wanted import WantedItem, wanted_items
from evenpick.plan.weekly import share_there
from evenpick.service.blight import blight_caution
from evenpick.service.growing import (
    Split,
    emerged_best,
    grown_crops,
    grown_standing,
    split_members,
    standing_well,
    stored,
)
from evenpick.service.learning import as_kept
from evenpick.service.loss_answer import AfterLoss, Filling
from evenpick.service.loss_words import loss_words
from evenpick.service.measures import measure, on_planned
from evenpick.service.mending import areas_before, days_before
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_command import mending
from evenpick.service.plan_weather import plan_weather
from evenpick.service.setups import garden_of
from evenpick.service.standing import UnderWay, under_way

SOON = 42
"""days within which a sowing must be made to be an answer"""
LIKELY = 0.5
"""a week counts as filled where a sowing gives something in so many years"""
SURE = 0.7
"""what is added instead should succeed in so many years"""
TAKEN = 0.1
"""of what is wanted in a week: a loss of less is not what leaves it bare"""
MOST = 5


@dataclass(frozen=True, slots=True)
class _Asked:
    garden: Garden
    horizon: Horizon
    season: UnderWay
    since: WeatherYears
    weather: WeatherYears
    split: Split
    lost: Sowing


def after_loss(garden: Path, sowing: str, today: date) -> AfterLoss:
    """What the loss of a sowing (its id in the diary) leaves bare, and what can fill it from `today`.

    Raises BadRequest where the diary has no such sowing or no loss of it, BadGarden, BadBook.
    """
    asked = _asked(garden, sowing, today)
    crop = load_catalogue().crop(asked.lost.fact.crop)
    answer = AfterLoss(
        asked.garden.site, asked.weather.origin, today, sowing, crop.name, day_date(asked.lost.day), None,
        1.0 - asked.lost.left, (), (), (), (), "", mending(asked.garden),
        blight_caution(asked.lost),
    )
    if asked.garden.cooperative is not None:
        told = tell("The farms of the cooperative share what is wanted of {name}: which of them can fill its "
                    "weeks is for their common plan to say.", name=crop.told)
        return replace(answer, words=told)
    item = _item(asked, crop)
    if item is None:
        return replace(answer, words=tell("Nobody wishes for {name}: its loss leaves no week bare.",
                                          name=crop.told))
    return _filled(asked, crop, item, replace(answer, item=item.name))


def _asked(garden: Path, sowing: str, today: date) -> _Asked:
    described, begin = garden_of(garden), day_number(today)
    season = under_way(garden, begin, described=described)
    lost = season.record.sowings.get(sowing)
    if lost is None or not lost.losses:
        what = tell("the diary has no loss of a sowing '{sowing}'.", sowing=sowing)
        raise BadRequest(Problem(what, tell("Write the loss down first, or name another."), field="sowing"))
    horizon = Horizon(begin, described.plan.sowing_weekday, described.plan.sowing_days)
    first = min([lost.day - lost.before, *(standing.begun for standing in season.standing)])
    since, weather = plan_weather(described, horizon, first, season.readings)
    return _Asked(
        described, horizon, season, since, weather, split_members(weather, described.plan.years), lost
    )


def _item(asked: _Asked, crop: Crop) -> WantedItem | None:
    """The item that the sowing served: by the plan before, else the one that wants its crop most."""
    wanted = _wanted(asked, None)
    before = asked.season.before
    planned = None if before is None else next(
        (s.item for s in before.sowings if s.id == asked.lost.fact.planned), None
    )
    able = [item for item in wanted if crop.key in item.crops]
    named = [item for item in able if item.name == planned]
    return named[0] if named else max(able, key=lambda item: float(item.kg.sum()), default=None)


def _wanted(asked: _Asked, name: str | None) -> tuple[WantedItem, ...]:
    wishes = [wish for wish in asked.garden.wishes if name is None or wish.item == name]
    crops = _crops(key for wish in wishes for key in wish.crops)
    return wanted_items(wishes, asked.horizon, stored(crops.values()))


def _crops(keys: Iterable[str]) -> dict[str, Crop]:
    return {key: load_catalogue().crop(key) for key in dict.fromkeys(keys)}


def _filled(asked: _Asked, crop: Crop, item: WantedItem, answer: AfterLoss) -> AfterLoss:
    made = _grown(asked, _crops(item.crops))
    work = _work(asked, item, made)
    areas = areas_before(work, asked.season, asked.horizon)
    found = on_planned(work, areas)
    missing = given_by([_missing(asked, crop, made)], (item,)).of_years(asked.split.seen)
    whole = together([work.given, missing])
    unhurt = measure(work, areas, work.request.supply, work.request.years, whole)
    bare = _bare_by_it(found, unhurt, item)
    weeks = tuple(
        (_monday(asked, int(w)), float(item.kg[w]), float(found.used[0, w].mean()))
        for w in np.flatnonzero(bare)
    )
    fillings = _fillings(asked, work, bare, found.unmet[0].mean(axis=1))
    none = bare.any() and not fillings
    instead = _others(asked, item, bare, lambda key: stands_in(key, crop.key)) if none else ()
    besides = _others(asked, item, bare, lambda key: True) if none and not instead else ()
    return replace(answer, weeks=weeks, fillings=fillings, instead=instead, besides=besides,
                   words=loss_words(item.name, bare, fillings, instead, besides))


def _grown(asked: _Asked, crops: Mapping[str, Crop]) -> Mapping[str, tuple[Batch, ...]]:
    """Under every cover on every day: after a loss none is spared for days on which the open would do, where
    there may be no room."""
    as_here = as_kept(asked.season.learned)
    return grown_crops(
        asked.garden, crops, asked.weather, asked.split, asked.horizon, as_here, sparing=False,
        planned=days_before(asked.season, asked.horizon),
    )


def _work(asked: _Asked, item: WantedItem, made: Mapping[str, tuple[Batch, ...]]) -> Task:
    """The planner's task for the one item, with all that stands of it."""
    seed, split = asked.garden.plan.seed, asked.split
    well = standing_well(asked.season, asked.since, asked.horizon, split, asked.garden)
    stood = grown_standing(well, split, made, asked.garden)
    season = Season(given_by(stood, (item,)), (), asked.season.decided.not_then)
    work = task(asked.garden, (item,), made, split.seen, split.unseen, seed, season, asked.horizon.start)
    # all that is wanted counts here, what nothing can meet any more as well
    return replace(work, request=replace(work.request, wanted=item.kg[None], met=None))


def _missing(asked: _Asked, crop: Crop, made: Mapping[str, tuple[Batch, ...]]) -> Grown:
    """What was lost, as though it stood: not dried out again where nobody waters."""
    lost = asked.lost
    stood = Standing(
        lost.id, lost.fact.crop, lost.fact.way, lost.cover, lost.day, lost.area, up=lost.up,
        planted_out=lost.planted_out, left=1.0 - lost.left, bought=lost.fact.bought,
    )
    groups = (asked.split.seen, asked.split.unseen)
    garden = asked.garden
    crop = in_pots(as_kept(asked.season.learned)(crop, lost.cover), lost.cover, garden)
    settings = Settings(asked.since, lowest=garden.lowest)
    return grown(
        stood, crop, settings, asked.horizon, groups, asked.garden.plan.seed, emerged_best(stood, made)
    )


def _bare_by_it(found: Measure, unhurt: Measure, item: WantedItem) -> Bools:
    """Weeks with less than half of what is wanted, to which the lost sowing would have brought something."""
    had, would = found.used[0].mean(axis=1), unhurt.used[0].mean(axis=1)
    bare = (item.kg > 0) & (had < BARE_SHARE * item.kg)
    return np.asarray(bare & (would - had >= TAKEN * item.kg))


def _fillings(asked: _Asked, work: Task, bare: Bools, unmet: Floats) -> tuple[Filling, ...]:
    """The best day of each crop, way and cover, by the bare weeks it fills; only such as fill one."""
    best: dict[tuple[str, str, str], tuple[float, Filling]] = {}
    supply, first = work.request.supply, int(asked.horizon.begin - asked.horizon.start)
    shares = share_there(supply.candidate, len(work.options), supply.year, work.request.years, supply.ripe,
                         supply.last, WEEKS)
    total = np.bincount(supply.candidate, supply.kg, len(work.options)) / work.request.years
    for number, option in enumerate(work.options):
        if not first <= option.day <= first + SOON:
            continue
        share = shares[number]
        filled = bare & (share >= LIKELY)
        worth = float(share[filled].sum())
        key = (option.batch.crop.key, option.batch.way.name, option.batch.cover)
        if filled.any() and worth > best.get(key, (0.0, None))[0] + 1e-9:
            best[key] = worth, _filling(
                asked, option.batch, option.index, filled, share, unmet, float(total[number]),
                float(work.request.candidates.least[number]),
            )
    ranked = sorted(best.values(), key=lambda each: (not each[1].room, -each[0], each[1].sow))
    return tuple(filling for _, filling in ranked[:MOST])


def _filling(
    asked: _Asked, batch: Batch, i: int, filled: Bools, share: Floats, unmet: Floats, kg: float,
    least: float,
) -> Filling:
    """`kg`: mean of a square metre; `least`: m² worth sowing."""
    crop, day, each = batch.crop, int(batch.days[i]), step(batch.crop)
    free = _free(asked, batch, i)
    wanted = float(unmet[filled].sum()) / max(kg, 1e-9)
    area = max(least, np.ceil(min(wanted, max(free, least)) / each - 1e-9) * each)
    weeks = tuple((_monday(asked, int(w)), float(share[w])) for w in np.flatnonzero(filled))
    return Filling(
        crop.key, crop.name, batch.way.name, batch.cover, day_date(asked.horizon.start + day),
        float(batch.score.sound[day]), weeks, float(area), free >= least - 1e-9,
    )


def _free(asked: _Asked, batch: Batch, i: int) -> float:
    """m² that stay free in all of its weeks, by the plan kept, with the ground of what was lost; all of its
    cover's ground where no plan is kept."""
    cover = ground_under(batch.cover)
    before = asked.season.before
    if before is None:
        return asked.garden.area(cover)
    past = (asked.horizon.start - day_number(before.begins)) // 7
    own = ground_under(asked.lost.cover)
    gained = asked.lost.area * (1.0 - asked.lost.left) if own == cover else 0.0
    held = slice(max(int(batch.from_week[i]) + past, 0), max(int(batch.to_week[i]) + past, 1))
    return _least_free(before, cover, held) + gained


def _least_free(before: PlanAnswer, cover: str, weeks: slice) -> float:
    use = next((use for use in before.ground if use.cover == cover), None)
    return 0.0 if use is None else use.area_m2 - max(use.used[weeks], default=0.0)


def _others(
    asked: _Asked, item: WantedItem, bare: Bools, fit: Callable[[str], bool]
) -> tuple[Filling, ...]:
    """Other crops that `fit`, sown in place, likely to be ripe in the bare weeks; the surest first."""
    others = [
        crop for crop in load_catalogue().crops if fit(crop.key)
        and crop.key not in {*item.crops, *asked.garden.never} and any(w.name == "direct" for w in crop.ways)
    ]
    made = _grown(asked, {crop.key: crop for crop in others})
    found = [best for crop in others if (best := _surest(asked, made[crop.key], bare)) is not None]
    return tuple(sorted(found, key=lambda each: (-len(each.weeks), -each.success, each.name))[:MOST])


def _surest(asked: _Asked, batches: Sequence[Batch], bare: Bools) -> Filling | None:
    """The day within reach on which a crop sown in place fills most of the bare weeks."""
    best: Filling | None = None
    first = asked.horizon.begin - asked.horizon.start
    for batch in (batch for batch in batches if batch.way.name == "direct"):
        part, years = batch.ripening, batch.outcome.first.shape[0]
        shares = share_there(part.sowing, batch.days.size, part.year, years, part.ripe, part.last, WEEKS)
        for i in np.flatnonzero((batch.days >= first) & (batch.days <= first + SOON)):
            share = shares[i]
            filled = bare & (share >= LIKELY)
            sure = batch.score.sound[batch.days[i]] >= SURE
            if sure and filled.any() and (best is None or filled.sum() > len(best.weeks)):
                best = _filling(asked, batch, int(i), filled, share, np.zeros(WEEKS), 1.0,
                                least_area(batch.crop, asked.garden.cropped))
    return best


def _monday(asked: _Asked, week: int) -> date:
    return day_date(asked.horizon.start + 7 * week)
