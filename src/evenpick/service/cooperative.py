"""A cooperative's questions: one plan for all farms, what each is to do (docs/design/cooperative.md)."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from os.path import relpath
from pathlib import Path

import numpy as np

from evenpick.base.days import day_date
from evenpick.base.errors import BadGarden, BadRequest, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.garden.cooperative import Cooperative, Farm, nobody_sows, understand_cooperative
from evenpick.garden.garden import Garden
from evenpick.garden.limits import NO_LIMITS
from evenpick.plan.farms import joined, of_farms
from evenpick.plan.hands import HERE, Hands
from evenpick.plan.horizon import Horizon
from evenpick.plan.mend import Before
from evenpick.plan.task import portion_sizes
from evenpick.plan.wanted import TO_KEEP, WantedItem, wanted_items
from evenpick.service.answers import PlanAnswer
from evenpick.service.binding import given_up, holding
from evenpick.service.brought import brought
from evenpick.service.cooperative_answer import CooperativeAnswer, FarmGround, FarmPlan, FarmToday
from evenpick.service.farm_pickings import farm_pickings
from evenpick.service.fitted_farms import fitted_farms
from evenpick.service.garden_answer import garden_answer
from evenpick.service.garden_task import GardenTask, counts_of, digest_of, garden_task, taken
from evenpick.service.ground import ground, in_beds
from evenpick.service.growing import grown_crops, split_members, standing_well, stored
from evenpick.service.impossible import too_much
from evenpick.service.learning import as_kept
from evenpick.service.measures import measure, measured, pickings
from evenpick.service.mending import before_of
from evenpick.service.out_of_reach import out_of_reach
from evenpick.service.pieces import with_pieces
from evenpick.service.plain import read_plain
from evenpick.service.planning import first_day
from evenpick.service.setups import garden_of, setup_text
from evenpick.service.shared_weather import SharedWeather, shared_weather
from evenpick.service.shares import short_shares
from evenpick.service.solving import Progress, Solved, Stop, Watch, best_rule, solved
from evenpick.service.standing import UnderWay, under_way
from evenpick.service.store_plan import garden_digest, keep_answer, save_plan
from evenpick.service.takings import takings
from evenpick.service.today import today
from evenpick.service.variety import short_of
from evenpick.store.book import Book, book_path

SAYS_SO = re.compile(r"^\s*cooperative\s*=", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Described:
    """A cooperative with the gardens of its farms, in their order."""

    file: Path
    own: Cooperative
    gardens: tuple[Garden, ...]
    """each with what is shared in it: outlets, the plan's years and dice"""
    texts: tuple[str, ...]
    """set-ups of the farms"""
    digest: str
    """of all that the plan hangs on"""
    signs: str
    """of every sign of the files, which plans made before are known by"""

    def named(self, farm: Farm) -> str:
        """A farm's file as seen from the cooperative's folder."""
        return seen_from(farm.file, self.file)

    def here(self, item: WantedItem, number: int) -> tuple[str, ...]:
        """Crops of an item that may be sown on a farm."""
        may = self.own.growers(item.name.removesuffix(TO_KEEP))
        if self.own.farms[number].name not in may:
            return ()
        return tuple(key for key in item.crops if key not in self.gardens[number].never)


def seen_from(file: Path, other: Path) -> str:
    """A file's name as seen from the folder of another."""
    return Path(relpath(file, other.parent)).as_posix()


def cooperative_of(file: Path) -> Described:
    """The cooperative of a file and its farms. BadGarden with every fault of all their files."""
    text = setup_text(file)
    own = understand_cooperative(text.replace("\r\n", "\n"), str(file), file.parent, load_catalogue())
    problems, gardens, texts = list[Problem](), list[Garden](), list[str]()
    for number, farm in enumerate(own.farms):
        other = Problem(
            tell("{file} does not say that it is a farm of this cooperative.",
                 file=seen_from(farm.file, file)),
            tell('Write cooperative = "{file}" at its top.', file=seen_from(file, farm.file)),
            str(file), farm.line, f"farm {number + 1}, garden",
        )
        try:
            texts.append(setup_text(farm.file))
            if not SAYS_SO.search(texts[-1]):
                problems.append(other)
                continue
            garden = garden_of(farm.file, texts[-1])
        except EvenpickError as error:
            problems += error.problems
            continue
        if garden.cooperative is None or garden.cooperative.resolve() != file.resolve():
            problems.append(other)
        gardens.append(_shared(own, garden, farm.name))
    if problems := problems or [*nobody_sows(own, gardens, str(file))]:
        raise BadGarden(problems)
    every = (text, *texts)
    digest, signs = (digest_of(each.encode() for each in found)
                     for found in (map(garden_digest, every), every))
    return Described(file, own, tuple(gardens), tuple(texts), digest, signs)


def _shared(own: Cooperative, garden: Garden, farm: str) -> Garden:
    mine = garden.plan
    plan = replace(own.plan, sowing_days=mine.sowing_days, worth_a_sowing=mine.worth_a_sowing)
    return replace(garden, plan=plan, farm=farm if len(own.farms) > 1 else "")


def plan_cooperative(
    file: Path, day: date | None = None, progress: Progress | None = None, seconds: float | None = None,
    mend: bool = False, hands: Hands = HERE, stop: Stop | None = None,
) -> CooperativeAnswer:
    """One plan for all farms from a day on; arguments and errors as of `make_plan`."""
    described = cooperative_of(file)
    begin = first_day(described.gardens[0], day)
    crops = {key: load_catalogue().crop(key) for wish in described.own.wishes for key in wish.crops}
    seasons = [under_way(farm.file, begin, None, crops) for farm in described.own.farms]
    watch = Watch(progress, stop)
    watch.stage("weather", 0.0)
    weather = _weather(described, seasons, begin)
    watch.stage("growing every crop on every farm in every year", 0.05)
    parts = _parts(described, seasons, begin, crops, weather, hands)
    work = joined([part.work for part in parts], [farm.name for farm in described.own.farms])
    watch.stage("planning", 0.2)
    counts = [replace(each, farm=number) for number, part in enumerate(parts) for each in counts_of(part)]
    before = _before(parts) if mend else None
    found, said = fitted_farms(parts, solved(work, before, counts, watch, seconds, hands))
    watch.stage("measuring on unseen years", 0.95)
    answer = _answer(described, parts, found, weather.notes, watch)
    return replace(answer, cannot=(*said, *answer.cannot))


def _weather(described: Described, seasons: Sequence[UnderWay], begin: int) -> SharedWeather:
    since = min((one.since for one in seasons if one.since is not None), default=None)
    readings = [season.readings for season in seasons]
    return shared_weather(described.gardens, Horizon(begin, 0), since, readings)


def _parts(
    described: Described, seasons: Sequence[UnderWay], begin: int, crops: Mapping[str, Crop],
    weather: SharedWeather, hands: Hands,
) -> list[GardenTask]:
    """Each farm's own task, with the same items and years."""
    wanted = wanted_items(described.own.wishes, Horizon(begin, 0), stored(crops.values()))
    split = split_members(weather.pairs[0][1], described.own.plan.years)
    horizons = [Horizon(begin, garden.plan.sowing_weekday, garden.plan.sowing_days)
                for garden in described.gardens]
    offered = [
        tuple(replace(item, crops=described.here(item, number)) for item in wanted)
        for number in range(len(horizons))
    ]
    made = hands.together([
        partial(grown_crops, garden, {key: crops[key] for item in here for key in item.crops}, pair[1], split,
                horizon, as_kept(season.learned), hands)
        for garden, here, pair, horizon, season in zip(
            described.gardens, offered, weather.pairs, horizons, seasons, strict=True
        )
    ])
    portions = portion_sizes(wanted, made)
    return [
        garden_task(garden, garden_digest(text), season, horizon, wanted, crops, pair[1], split, own,
                    standing_well(season, pair[0], horizon, split, garden), here, portions)
        for garden, text, season, horizon, pair, own, here in zip(
            described.gardens, described.texts, seasons, horizons, weather.pairs, made, offered, strict=True
        )
    ]


def _before(parts: Sequence[GardenTask]) -> Before | None:
    """The plan before as areas of the joined task; None where no farm has one."""
    if all(part.season.before is None for part in parts):
        return None
    several = [before_of(part.work, part.season, part.horizon) for part in parts]
    areas, late = (np.concatenate([getattr(one, name) for one in several]) for name in ("areas", "late"))
    return Before(areas, late)


def _answer(
    described: Described, parts: Sequence[GardenTask], found: Solved, notes: Sequence[str], watch: Watch
) -> CooperativeAnswer:
    own, work, areas = described.own, found.work, found.areas
    horizon, wanted, crops = parts[0].horizon, parts[0].wanted, parts[0].crops
    whole = _as_one(described)
    rule = best_rule(work)
    likely = measure(work, areas, work.request.supply, work.request.years, work.given)
    unlaid = None if found.uncut is None else measure(work, found.uncut, work.request.supply,
                                                      work.request.years, work.given)
    stood = [one for part in parts for one in part.stood]
    several = with_pieces(pickings(likely, wanted, work.request.wanted, crops, horizon), work, areas, stood,
                          wanted, crops)
    by_farm = of_farms([part.work for part in parts], areas)
    each = farm_pickings([part.work for part in parts], by_farm, work.request.wanted, several)
    made = {key: tuple(batch for part in parts for batch in part.made.get(key, ())) for key in crops}
    lats = {part.garden.farm: part.garden.site.lat for part in parts}
    answer = CooperativeAnswer(
        name=own.name, begins=day_date(horizon.begin), invented=own.invented, farms=(), pickings=several,
        plan=measured(work, areas), interval_rule=measured(work, rule.areas),
        interval_rule_setting=rule.words, gap=found.gap, seconds=watch.total(), stages=watch.stages(),
        uncounted=found.uncounted,
        cannot=(*too_much(whole, work, wanted, horizon), *out_of_reach(work, wanted, made, horizon)),
        short_of=tuple(short_of(whole, wanted, likely, horizon)), money=own.money,
        short_shares=tuple(short_shares(whole, wanted, likely, horizon)),
        takings=tuple(takings(whole, wanted, likely, horizon)),
        holding=() if found.gap is None else holding(work, areas, horizon, lats),
        given_up=() if found.exact is None else given_up(work, found.exact, found.unlaid, wanted, likely,
                                                         horizon, unlaid),
        notes=(*notes, *parts[0].split.notes), made_from=described.digest,
    )
    return replace(answer, farms=tuple(
        FarmPlan(farm.name, described.named(farm), replace(_farm_plan(part, x, answer), pickings=picked))
        for farm, part, x, picked in zip(own.farms, parts, by_farm, each, strict=True)
    ))


def _as_one(described: Described) -> Garden:
    """All ground, hours and wishes as of one garden, for what is asked of the whole."""
    gardens, own = described.gardens, described.own
    hours = [garden.limits.hours for garden in gardens]
    known = [each for each in hours if each is not None]
    return replace(
        gardens[0], outlets=own.outlets, wishes=own.wishes,
        grounds=tuple(each for garden in gardens for each in garden.grounds),
        anyway=tuple(each for garden in gardens for each in garden.anyway),
        limits=replace(NO_LIMITS, hours=sum(known) if len(known) == len(hours) else None,
                       rests=tuple(each for garden in gardens for each in garden.limits.rests)),
    )


def _farm_plan(part: GardenTask, areas: np.ndarray, whole: CooperativeAnswer) -> PlanAnswer:
    """A farm's own part, with the measures of the whole."""
    told = tell("One farm of {name}: how good the plan is, is told of all its farms together.",
                name=whole.name)
    plan = garden_answer(part, part.work, areas, taken(part, part.work, areas), whole, [told])
    plan = replace(plan, invented=plan.invented or whole.invented,
                   brought=brought(part, part.work, areas, plan.sowings))
    return in_beds(part.garden, plan, part.season.record)


def save_cooperative(file: Path, answer: CooperativeAnswer) -> Path:
    """Keep the plan in the cooperative's book, and each farm's part in the farm's; the book's path."""
    for farm in answer.farms:
        save_plan(file.parent / farm.file, farm.plan)
    return keep_answer(file, answer.made_from, answer)


def kept_cooperative(file: Path) -> CooperativeAnswer:
    """The plan kept for the cooperative as it now is; BadRequest where there is none."""
    found = saved_cooperative(cooperative_of(file))
    if found is None:
        what = tell("there is no plan for this cooperative as it and its farms now are.")
        raise BadRequest(Problem(what, tell("Make one with: evenpick plan --garden {file}",
                                            file=file), str(file)))
    return found


def saved_cooperative(described: Described) -> CooperativeAnswer | None:
    """The plan kept for the cooperative as it now is; BadRequest where what is kept can't be read."""
    file, kept = described.file, Book(book_path(described.file)).plan()
    if kept is None or kept.garden not in (described.digest, described.signs):
        return None
    try:
        answer: CooperativeAnswer = read_plain(CooperativeAnswer, json.loads(kept.body))
    except (ValueError, TypeError, KeyError) as error:
        mend = tell("Make it again: evenpick plan --garden {file}", file=file)
        raise BadRequest(Problem(tell("the kept plan can't be read."), mend, str(file))) from error
    return answer


def today_by_farm(file: Path, day: date, tonight: float | None = None) -> tuple[FarmToday, ...]:
    """What is to be done on each farm."""
    found = cooperative_of(file)
    return tuple(
        FarmToday(farm.name, found.named(farm), today(farm.file, day, tonight)) for farm in found.own.farms
    )


def ground_by_farm(file: Path) -> tuple[FarmGround, ...]:
    """What goes where on each farm, by the plan kept."""
    found = cooperative_of(file)
    return tuple(FarmGround(farm.name, found.named(farm), ground(farm.file)) for farm in found.own.farms)
