"""The demo garden's plan on real years, each of which is left out once, beside the interval rule.

Run: .venv/bin/python benchmarks/left_out.py > benchmarks/left_out.md     [--deals 3] [--learning 1]
     how often all is dealt; in how many deals of each record the plan is made anew every month

A record is cut into thirds. Each third in turn is unseen, and the years that share no day with it are
planned on; the worst tenth is of all unseen years together. The rule's setting is the best of twelve on each
third's very years. The same garden and wishes under each record's weather; the luck of stands and crops is
dealt anew, as in regret.py. *Learning*: mended every month, with what its pickings taught by then.
"""

from __future__ import annotations

import argparse
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.climate.ensemble import sharing_no_day
from evenpick.climate.records import packaged_records
from evenpick.garden.garden import Garden
from evenpick.plan.measure import Measure
from evenpick.plan.task import Task
from evenpick.service.climate import weather_for
from evenpick.service.measures import measure, summary
from evenpick.service.pickings_answer import Measured
from evenpick.service.plan_weather import TAIL
from monthly import joined, measured
from regret import Deal, dealt, demo, garden_task, horizon, made, of_deal, of_worth

THIRDS = 3
RECORDS = ("dublin_airport", "brize_norton", "de_bilt")
RULE = "rule"


@dataclass(frozen=True, slots=True)
class Held:
    """One way to plan on one third of a record's years."""

    work: Task
    found: Measure
    sowings: int


def moved(garden: Garden, record: str) -> Garden:
    """The garden where the record was measured."""
    place = next(place for place in packaged_records() if place.name == record)
    site = replace(garden.site, lat=place.lat, lon=place.lon, height_m=place.height_m)
    return replace(garden, site=site, weather=replace(garden.weather, packaged=record))


def thirds(record: str, deal: int) -> Iterator[Deal]:
    garden = moved(of_deal(demo(), deal), record)
    first = horizon(garden)
    weather = weather_for(garden.site, garden.weather, first.start, first.days + TAIL, garden.plan.seed)
    for unseen in np.array_split(np.arange(weather.years), THIRDS):
        print(f"  {record} {deal}: {weather.labels[unseen[0]]} on unseen", file=sys.stderr, flush=True)
        seen = sharing_no_day(weather, np.isin(np.arange(weather.years), unseen))
        yield dealt(record, garden_task(garden, weather, np.flatnonzero(seen), unseen))


def held(work: Task, areas: Floats) -> Held:
    found = measure(work, areas, work.unseen, work.unseen_years, work.given_unseen)
    return Held(work, found, made(areas))


def learning(deal: Deal, worth: float) -> Held:
    areas, work = deal.plans[worth].areas, deal.tried.work
    found = measured(of_worth(deal.tried, worth), areas, np.arange(work.unseen_years), True)
    return Held(work, found, made(areas))


def together(parts: list[Held]) -> Measured:
    return summary(parts[0].work, joined([part.found for part in parts]))


def ratios(record: str, deal: int, learns: bool) -> dict[str, tuple[float, float]]:
    """For each way to plan bare + spare and the worst tenth's bare over the rule's; prints its rows."""
    ways: dict[str, list[Held]] = defaultdict(list)
    for each in thirds(record, deal):
        ways[RULE].append(held(each.tried.work, each.rule.areas))
        for worth, plan in each.plans.items():
            ways[f"{worth:g}"].append(held(each.tried.work, plan.areas))
            if learns:
                ways[f"{worth:g}, learning"].append(learning(each, worth))
    rule, found = together(ways.pop(RULE)), {}
    for way, parts in ways.items():
        mine = together(parts)
        whole, theirs = mine.bare + mine.spare, rule.bare + rule.spare
        pairs = ((whole, theirs), (mine.worst_tenth_bare, rule.worst_tenth_bare))
        found[way] = (whole / theirs, mine.worst_tenth_bare / rule.worst_tenth_bare)
        cells = " | ".join(f"{100 * a:.1f} | {100 * b:.1f} | {a / b:.3f}" for a, b in pairs)
        sowings = round(sum(part.sowings for part in parts) / len(parts))
        print(f"| {record} | {deal} | {way} | {sowings} | {cells} |", flush=True)
    return found


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--deals", type=int, default=3)
    asked.add_argument("--learning", type=int, default=1)
    given = asked.parse_args()
    print("# Real years, each left out once\n\nMade by `benchmarks/left_out.py --deals "
          f"{given.deals} --learning {given.learning}`; how: its docstring.\n")
    print("| record | deal | a sowing worth it from | sowings | bare + spare %, plan | rule | ratio "
          "| worst tenth's bare %, plan | rule | ratio |\n" + "|---" * 10 + "|", flush=True)
    for record in RECORDS:
        several = [ratios(record, deal, deal < given.learning) for deal in range(given.deals)]
        for way in several[0]:
            whole, worst = np.mean([one[way] for one in several if way in one], axis=0)
            print(f"| {record} | mean | {way} | | | | {whole:.3f} | | | {worst:.3f} |", flush=True)


if __name__ == "__main__":
    main()
