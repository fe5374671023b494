"""The outlook of every crop: seconds and memory, as a Markdown table.

    .venv/bin/python benchmarks/outlook.py > benchmarks/outlook.md

Each run is a process of its own, so that its peak memory is its own. The plain loop is the one that the
tests hold the program against (tests/outlook/plain_loop.py), on a sample of sowings, scaled up.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import time
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from statistics import median
from typing import TypeVar

import numpy as np

from evenpick.base.chance import DEFAULT_SEED, stream
from evenpick.base.days import day_number
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.grow import parameter_draws
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import AXIS_DAYS, MARGIN
from evenpick.service import windows as service
from evenpick.service.climate import weather_for

T = TypeVar("T")
COVERS: tuple[CoverName, ...] = ("open", "fleece", "tunnel")
SITE = Site("Galway", 53.27, -9.05)  # no packaged record near: 60 generated years
YEAR = 2027
RUNS = 5
LOOP_SAMPLE = 300
BAR = "under 2 s and 400 MB on two threads"


def weather() -> WeatherYears:
    opening = day_number(date(YEAR, 1, 1)) - MARGIN
    return weather_for(SITE, WeatherChoice(), opening, AXIS_DAYS, DEFAULT_SEED)


def one_run(threads: int) -> dict[str, float]:
    """Every calendar once, in this process: seconds, peak MB, and how much was computed."""
    service.CORES = threads
    crops, years = service.chosen_crops(None), weather()
    before = peak()
    begun, used = time.perf_counter(), time.process_time()
    made = service.calendars(crops, COVERS, years, DEFAULT_SEED)
    seconds, work = time.perf_counter() - begun, time.process_time() - used
    outcomes = sum(one.outcome.fate.size for one in made)
    return {"seconds": seconds, "work": work, "peak": peak(), "before": before, "calendars": len(made),
            "outcomes": outcomes, "years": years.years, "crops": len(crops)}


def peak() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def fresh(threads: int) -> dict[str, float]:
    run = subprocess.run(
        [sys.executable, __file__, str(threads)], capture_output=True, text=True, check=True
    )
    answer: dict[str, float] = json.loads(run.stdout)
    return answer


def one_of(several: Sequence[T], dice: np.random.Generator) -> T:
    return several[int(dice.integers(len(several)))]


def loop_seconds() -> float:
    """Seconds of the plain loop for one sowing in one year, over a random sample of all that is grown."""
    sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "outlook"))
    from plain_loop import live, place_of, stands_still

    settings, random = Settings(weather()), stream(1, "benchmark", "plain loop")
    hours, crops = [float(h) for h in settings.hours], service.chosen_crops(None)
    total = 0.0
    for _ in range(LOOP_SAMPLE):
        crop = one_of(crops, random)
        way, purpose = one_of(crop.ways, random), one_of(crop.purposes, random)
        cover, year = COVERS[int(random.integers(3))], int(random.integers(settings.weather.years))
        factor = float(parameter_draws(crop, settings.weather.years, DEFAULT_SEED)[year, 0])
        spot = place_of(settings.cover(cover).air, hours, year)
        bench = place_of(settings.bench(way.bench).air, hours, year) if way.name == "raised" else None
        sow = int(random.integers(MARGIN, MARGIN + 366))
        grown, growth = crop.grown_for(purpose), settings.cover(cover).growth_clock(crop.development).rate
        still = stands_still(grown, purpose.name, growth, sow)
        begun = time.perf_counter()
        live(grown, way, spot, bench, sow, factor, purpose.thermal_share, still)
        total += time.perf_counter() - begun
    return total / LOOP_SAMPLE


def main() -> None:
    runs = {threads: [fresh(threads) for _ in range(RUNS)] for threads in (2, 1)}
    some = runs[2][0]
    print("# The outlook of every crop\n")
    print("Made by `.venv/bin/python benchmarks/outlook.py > benchmarks/outlook.md`.\n")
    print(
        f"{some['crops']:.0f} crops in all their ways and purposes × {len(COVERS)} covers: "
        f"{some['calendars']:.0f} calendars of 366 sow days and {2 * MARGIN} of margin × "
        f"{some['years']:.0f} years, {some['outcomes'] / 1e6:.1f} million sowings with stages, fates, "
        "shares, scores and windows; covers and running sums included, the making of the weather not. "
        f"Median and range of {RUNS} fresh processes ('of work': processor seconds of all threads, which the "
        f"others on a shared machine hardly touch; load {os.getloadavg()[0]:.1f} at the end). "
        f"numpy {np.__version__}, Python {sys.version_info.major}.{sys.version_info.minor}. Bar: {BAR}.\n"
    )
    print("| | seconds | from – to | of work | peak MB | of it before, MB |\n|---|---|---|---|---|---|")
    for threads, several in runs.items():
        seconds = [run["seconds"] for run in several]
        print(
            f"| {threads} thread{'s' * (threads > 1)} | {median(seconds):.2f} "
            f"| {min(seconds):.2f} – {max(seconds):.2f} | {median(run['work'] for run in several):.2f} "
            f"| {median(run['peak'] for run in several):.0f} "
            f"| {median(run['before'] for run in several):.0f} |"
        )
    each = loop_seconds()
    whole = each * some["outcomes"] / 3600
    print(
        f"| plain daily loop, 1 thread, {LOOP_SAMPLE} sowings scaled up "
        f"| {whole:.1f} h ({1000 * each:.2f} ms each) | | | | |"
    )


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(json.dumps(one_run(int(sys.argv[1]))))
    else:
        main()
