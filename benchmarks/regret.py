"""The demo garden's plan on weather years that it never saw, beside other ways to plan the same ground.

Run: .venv/bin/python benchmarks/regret.py > benchmarks/regret.md
     [--made 240] [--foresight 30] [--replanned 14] [--deals 3] [--also market.toml household.toml]
     [--only-also]: made weather years, 30 of them to plan on; years given to foresight; years replanned month
     by month; how often all is dealt anew; other gardens (invented) of this folder, whose plans made once are
     held against the rule too; these gardens alone
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache, partial
from importlib.resources import as_file, files
from itertools import chain, product
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.climate.ensemble import generated_at
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WORTH_A_SOWING, Garden
from evenpick.garden.reading import read_garden
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import workable_ground
from evenpick.plan.amounts import rounded
from evenpick.plan.effort import Effort, News
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.interval_rule import Rule, rules
from evenpick.plan.make import make_plan
from evenpick.plan.measure import Measure, evaluate
from evenpick.plan.options import batches
from evenpick.plan.request import Supply
from evenpick.plan.rows import extra_rows
from evenpick.plan.task import Task, task
from evenpick.plan.wanted import wanted_items
from evenpick.service.climate import weather_for
from evenpick.service.growing import split_members, stored, wished_crops
from evenpick.service.measures import measured as on_unseen
from evenpick.service.measures import summary
from evenpick.service.pickings_answer import Measured
from evenpick.service.plan_weather import TAIL
from extensive import extensive
from monthly import Tried, joined, measured, of_year

SEEN = 30
OFTEN = 0.4  # portions a sowing must bring where about as many are made as by the interval rule, or fewer


@dataclass(frozen=True, slots=True)
class Row:
    name: str
    found: Measured
    areas: Floats | None
    """as sown, of replanned rows at first; None where each year has its own"""
    years: int
    note: str


@dataclass(frozen=True, slots=True)
class Once:
    """A plan made once: areas as a grower sows them, and how they were come by."""

    areas: Floats
    note: str


@dataclass(frozen=True, slots=True)
class Deal:
    """Everything grown with one luck of all, and what is made of it without looking at the unseen years; the
    interval rule alone looks."""

    title: str
    tried: Tried
    plans: dict[float, Once]
    """by the portions that a sowing must bring"""
    rule: Rule


def garden_task(garden: Garden, weather: WeatherYears, seen: Ints, unseen: Ints) -> Tried:
    settings = Settings(weather, lowest=garden.lowest)
    crops = wished_crops(garden)
    weeks = horizon(garden)
    made = batches(tuple(crops.values()), garden, settings, workable_ground(settings), weeks,
                   (seen, unseen), garden.plan.seed)
    wanted = wanted_items(garden.wishes, weeks, stored(crops.values()))
    work = task(garden, wanted, made, seen, unseen, garden.plan.seed)
    return Tried(garden, weeks, weather, seen, unseen, crops, wanted, made, work)


@cache
def demo() -> Garden:
    with as_file(files("evenpick").joinpath("data", "demo", "garden.toml")) as path:
        return read_garden(path, load_catalogue())


def of_deal(garden: Garden, deal: int) -> Garden:
    """Each further deal has a seed, and so a luck, of its own."""
    return replace(garden, plan=replace(garden.plan, seed=garden.plan.seed + deal))


def horizon(garden: Garden) -> Horizon:
    plan = garden.plan
    assert plan.start is not None
    return Horizon(plan.start, plan.sowing_weekday)


def made_years(count: int, garden: Garden) -> tuple[str, Tried]:
    first = horizon(garden)
    weather = generated_at(garden.site, first.start, first.days + TAIL, count, garden.plan.seed)
    return (f"Made years: {weather.origin.station}'s normals through the generator",
            garden_task(garden, weather, np.arange(SEEN), np.arange(SEEN, count)))


def real_years(garden: Garden) -> tuple[str, Tried]:
    first = horizon(garden)
    weather = weather_for(garden.site, garden.weather, first.start, first.days + TAIL, garden.plan.seed)
    split = split_members(weather, SEEN)
    title = f"Real years: the record of {weather.origin.station}"
    return title, garden_task(garden, weather, split.seen, split.unseen)


def dealt(title: str, tried: Tried) -> Deal:
    plans = {worth: planned(of_worth(tried, worth).work) for worth in (OFTEN, WORTH_A_SOWING)}
    return Deal(title, tried, plans, best_rule(tried.work))


def of_worth(tried: Tried, worth: float) -> Tried:
    """The same for a grower to whom a sowing is worth it from so many portions."""
    garden = replace(tried.garden, plan=replace(tried.garden.plan, worth_a_sowing=worth))
    return replace(tried, garden=garden, work=task(garden, tried.wanted, tried.made, tried.seen, tried.unseen,
                                                   garden.plan.seed))


def planned(work: Task) -> Once:
    def tell(news: News) -> None:
        print(f"  {news.seconds:6.1f} s {news.stage} {news.gap:.2%}", file=sys.stderr, flush=True)

    before = os.times()
    plan = make_plan(work.request, Effort(progress=tell))
    after = os.times()
    spent = sum(after[:4]) - sum(before[:4])
    return Once(rounded(work.request, work.options, plan.areas),
                f"proven {plan.gap:.1%}, {spent:.0f} s of processor")


def average_year(work: Task) -> Task:
    """One year in which every sowing gives in each week what it gives there on the average."""
    r, s = work.request, work.request.supply
    supply = Supply(s.candidate, np.zeros_like(s.year), s.ripe, s.last, s.kg / r.years)
    return replace(work, request=replace(r, years=1, met=None, supply=supply))


def bare_and_spare(work: Task) -> Task:
    """What the table measures and nothing else: sowings and ground cost nothing, what is spare weighs as much
    as what is bare, all portions alike, the mean of the years alone."""
    r = work.request
    free = replace(r.candidates, trouble=np.zeros(len(r.candidates)), cost=np.zeros(len(r.candidates)))
    return replace(work, request=replace(r, candidates=free, spare_weight=1.0, risk_share=0.0, levels=(1.0,),
                                         values=(1.0,)))


def foreseen(work: Task, years: Ints) -> Measure:
    """Each year by itself at the best areas for it, sowings in part allowed: no plan can do better there."""
    request = work.request
    parts = []
    for year in years:
        supply = of_year(work.unseen, int(year))
        model, n = extensive(replace(request, years=1, met=None, supply=supply))
        x = model.solve().x
        assert x is not None
        parts.append(evaluate(request.candidates.item, x[:n], supply, request.wanted, 1))
        print(f"  foresight {year}", file=sys.stderr, flush=True)
    return joined(parts)


def rows(deal: Deal, foresight: int, replanned: int) -> Iterator[Row]:
    """A further way to plan is a further row here: its name, its measure on the unseen years, a note."""
    work = deal.tried.work
    years = work.unseen_years

    def once(name: str, plan: Once) -> Row:
        return Row(name, on_unseen(work, plan.areas), plan.areas, years, plan.note)

    few = _spread(years, replanned)
    for worth in (OFTEN, WORTH_A_SOWING):
        tried, plan = of_worth(deal.tried, worth), deal.plans[worth]
        name = f"the plan, a sowing worth it from {worth:g} portions"
        yield once(name, plan)
        if few.size < years:
            same = summary(work, on_years(work, plan.areas, few))
            yield Row(f"{name}, on the years of the next rows", same, plan.areas, few.size, "")
        for learning, how, what in (
            (False, "replanned every month", "what happened so far"),
            (True, "replanned every month, learning", "that and from what its pickings taught"),
        ):
            before = time.process_time()
            monthly = summary(work, measured(tried, plan.areas, few, learning))
            spent = time.process_time() - before
            yield Row(f"{name}, {how}", monthly, plan.areas, few.size,
                      f"mended 14 times a year from {what}, {spent:.0f} s of processor")
    yield once("interval rule", Once(
        deal.rule.areas, f"{deal.rule.words}: the best of its twelve settings on these very years"))
    yield once("a plan for bare and spare alone", planned(bare_and_spare(work)))
    yield once("best plan for the average year", planned(average_year(work)))
    some = _spread(years, foresight)
    yield Row("perfect foresight, relaxed", summary(work, foreseen(work, some)), None, some.size,
              "each year's own best areas, sowings in part")


def deals(several: Iterable[Deal]) -> None:
    """Plans made once against the rule, all luck (and made weather) dealt anew each time."""
    print("\n| deal | a sowing worth it from | sowings, plan | rule | bare + spare %, plan | rule | ratio "
          "| worst tenth's bare %, plan | rule | ratio |\n" + "|---" * 10 + "|", flush=True)
    ratios: dict[float, list[list[float]]] = {OFTEN: [], WORTH_A_SOWING: []}
    for number, deal in enumerate(several):
        rule = deal.rule.areas
        theirs = on_unseen(deal.tried.work, rule)
        for worth, plan in deal.plans.items():
            mine = on_unseen(deal.tried.work, plan.areas)
            pairs = [(_misfit(mine), _misfit(theirs)), (mine.worst_tenth_bare, theirs.worst_tenth_bare)]
            ratios[worth].append([a / b for a, b in pairs])
            cells = [f"{100 * a:.1f} | {100 * b:.1f} | {a / b:.3f}" for a, b in pairs]
            print(f"| {number} | {worth:g} | {made(plan.areas)} | {made(rule)} | {' | '.join(cells)} |",
                  flush=True)
    for worth, found in ratios.items():
        whole, worst = np.mean(found, axis=0)
        print(f"| mean | {worth:g} | | | | | {whole:.3f} | | | {worst:.3f} |")


def made(areas: Floats) -> int:
    """How many sowings are made."""
    return int(np.count_nonzero(areas))


def hours(tried: Tried, areas: Floats) -> float:
    """Of work over the weeks planned, in the mean of the years planned on."""
    options, request = tried.work.options, tried.work.request
    row = next(extra_rows(options, request.supply, request.years, tried.garden, {}, np.full(WEEKS, np.inf),
                          np.ones(WEEKS)))
    return float(row.coefficient @ areas[row.candidate]) / 60


def best_rule(work: Task) -> Rule:
    """The rule's setting that serves best on the unseen years themselves."""
    return min(rules(work), key=lambda rule: _misfit(on_unseen(work, rule.areas)))


def on_years(work: Task, areas: Floats, years: Ints) -> Measure:
    """Areas on some of the unseen years."""
    item, wanted = work.request.candidates.item, work.request.wanted
    return joined([evaluate(item, areas, of_year(work.unseen, int(year)), wanted, 1) for year in years])


def _spread(years: int, some: int) -> Ints:
    return np.unique(np.linspace(0, years - 1, min(some, years)).round().astype(np.int64))


def _misfit(found: Measured) -> float:
    return found.bare + found.spare


def table(deal: Deal, foresight: int, replanned: int) -> None:
    work, r = deal.tried.work, deal.tried.work.request
    print(f"\n## {deal.title}\n\n{len(r.items)} items, {len(r.candidates)} candidate sowings, "
          f"{r.years} years to plan on, {work.unseen_years} unseen.\n")
    print("| way to plan | sowings | hours | bare % | spare % | bare weeks in 100 "
          "| bare % in the worst tenth | years | |\n" + "|---" * 9 + "|", flush=True)
    for row in rows(deal, foresight, replanned):
        f = row.found
        done = "– | –" if row.areas is None else f"{made(row.areas)} | {hours(deal.tried, row.areas):.0f}"
        print(f"| {row.name} | {done} | {100 * f.bare:.1f} | {100 * f.spare:.1f} "
              f"| {f.bare_weeks:.1f} | {100 * f.worst_tenth_bare:.1f} | {row.years} | {row.note} |",
              flush=True)


HEAD = """# What the plan is worth on years it never saw

Made by `.venv/bin/python benchmarks/regret.py > benchmarks/regret.md`. The demo's garden (invented), its
ground and wishes the same for every row; all areas held against the same unseen weather years without
foresight (`plan/measure.py`). In portions over the counted weeks. *Sowings*: how many are made; of
replanned rows at first. A sowing that does not bring two portions more is not made, if a garden says nothing;
with a sowing worth it from 0.4 (`worth_a_sowing` of the garden file) the plan makes about as many as the
rule. *Interval rule*: every 2, 3, 5 or 8 weeks each wanted crop that is in season, in the open or else under
cover, for 0.7, 1 or 1.4 times the year's wish, as far as the ground goes. *Hours*: sowing, planting out,
tending and picking over the 78 weeks, in the mean of the years, by the times of `data/hours.csv`. *Bare*:
share of what is wanted that is not there; *spare*: share of what ripens that is not used; *bare weeks*:
item-weeks with under half of what is wanted. *Replanned*: the same first plan, mended every month from what
has happened by then in the very year (`monthly.py`); years evenly spread over the unseen ones, for each takes
half a minute. *Learning*: and with each crop's pace and yield as its pickings so far taught
(docs/design/learning.md), which the plan made once can't know. *Bare and spare alone*: a plan made once for
what this table measures and nothing else, with sowings and ground for nothing. *Average year*: one year in
which each sowing gives in each week its mean over the planning years. *Perfect foresight*: evenly spread over
the unseen years, each planned by itself knowing its weather, sowings in part allowed; it weighs trouble and
ground as the plan does, so it leaves wants bare that are not worth them.
*Deals*: the plan made once and the rule again, each time with other luck of stands, crops' years and made
weather (the seed and the numbers after it); what one table's ratio is worth is seen by them. Other gardens
have these tables alone."""


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--made", type=int, default=240)
    asked.add_argument("--foresight", type=int, default=30)
    asked.add_argument("--replanned", type=int, default=14)
    asked.add_argument("--deals", type=int, default=3)
    asked.add_argument("--also", nargs="*", default=["market.toml", "household.toml"])
    asked.add_argument("--only-also", action="store_true")
    given = asked.parse_args()
    print(HEAD)
    kinds: tuple[Callable[[Garden], tuple[str, Tried]], ...] = (real_years, partial(made_years, given.made))
    for years in () if given.only_also else kinds:
        first = dealt(*years(demo()))
        table(first, given.foresight, given.replanned)
        deals(chain([first], (dealt(*years(of_deal(demo(), n))) for n in range(1, given.deals))))
    for name, years in product(given.also, kinds):
        garden = read_garden(Path(__file__).with_name(name), load_catalogue())
        several = [dealt(*years(of_deal(garden, n))) for n in range(given.deals)]
        print(f"\n## [{name}]({name}) (invented), {several[0].title}", flush=True)
        deals(several)


if __name__ == "__main__":
    main()
