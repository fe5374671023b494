"""Predicted against measured: trials with dates, and the intervals between sowings. Nothing is tuned on them.

    PYTHONPATH=src python authorities/trial_dates.py > authorities/trial_dates.md

Trials: trial_cases/cases.csv, each with what was read of it. The trials' own weather is not at hand: it is
the generator's at the nearest station, and our band is over years and over what is not known of the variety.
Intervals: two harvests a week apart. Sweet corn and peas against published day-degrees in a real daily
record: harvest is the first day on which the sum is reached, and the interval is seven days over how much
later a later sowing is ready. Lettuce in a cold tunnel against a grower's own table for weekly picking.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np
from ripening_days import band, days_by_year, settings_at

from evenpick.base.arrays import Floats, Ints
from evenpick.base.days import day_date, day_number
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Anchor, Crop

CASES = Path(__file__).resolve().parent / "trial_cases" / "cases.csv"
PHILADELPHIA = ("philadelphia", 39.87, -75.23)
STEP = 14  # days between the sowings that an interval is told from


@dataclass(frozen=True, slots=True)
class DayDegrees:
    """A published sum of day-degrees from sowing to harvest, °C d."""

    crop: str
    source: str
    base: float
    top: float
    total: float
    sowings: tuple[tuple[int, int], ...]


SUMS = (
    DayDegrees("sweetcorn", "andrews2021, Jubilee: 1539 °F d, 50 to 86 °F", 10.0, 30.0, 1539 / 1.8,
               ((4, 25), (5, 9), (5, 23), (6, 6), (6, 20))),
    DayDegrees("pea", "ernest2025, the quickest: 1250 °F d above 40 °F", 8 / 1.8, 99.0, 1250 / 1.8,
               ((3, 1), (3, 15), (3, 29), (4, 12))),
)  # fmt: skip
# Sow days and days between sowings advised for lettuce every week, November to April (coleman2011).
COLEMAN = (((9, 5), 3.5), ((9, 14), 2.0), ((9, 29), 3.5), ((10, 28), 7.0), ((11, 30), 10.0))


@dataclass(frozen=True, slots=True)
class Case:
    """A trial with its dates; the purpose names the type of varieties where it was not the crop's."""

    anchor: Anchor
    crop: str
    purpose: str
    low: float
    high: float
    read: str

    def grown(self) -> Crop:
        crop = load_catalogue().crop(self.crop)
        return next((crop.grown_for(one) for one in crop.purposes if one.name == self.purpose), crop)


def cases() -> Iterator[Case]:
    with CASES.open(encoding="utf-8", newline="") as lines:
        for line in csv.DictReader(lines):
            anchor = Anchor(
                float(line["lat"]), float(line["lon"]), line["place"], int(line["month"]), int(line["day"]),
                0.0,
                line["cover"], line["way"], line["source"], line["counted"],  # type: ignore[arg-type]
            )  # fmt: skip
            low, high = float(line["days_low"]), float(line["days_high"])
            yield Case(anchor, line["crop"], line["purpose"], low, high, line["read"])


def trials() -> None:
    print("\n## Trials\n\n| crop | place | measured, d | ours 10 – 50 – 90 % | error, d | inside | read |")
    print("|---|---|---|---|---|---|---|")
    errors, inside = [], []
    for case in cases():
        anchor, low, high = case.anchor, case.low, case.high
        least, likely, most = band(case.grown(), anchor, settings_at(anchor.place, anchor.lat, anchor.lon))
        error = likely - (low + high) / 2
        errors.append(error)
        inside.append(least <= (low + high) / 2 <= most)
        printed = f"{low:g}" if low == high else f"{low:g}–{high:g}"
        name = f"{case.crop}, {case.purpose}" if case.purpose else case.crop
        print(f"| {name} | {anchor.place} | {printed} | {least:.0f} – {likely:.0f} – {most:.0f} "
              f"| {error:+.0f} | {'yes' if inside[-1] else 'no'} | {anchor.source}: {case.read} |")
    print(f"\n{len(errors)} cases: median error {np.median(np.abs(errors)):.0f} d, "
          f"signed {np.median(errors):+.0f}; {np.mean(inside):.0%} inside the 80 % band.")


def summed(tmin: Floats, tmax: Floats, rule: DayDegrees, sow: Ints) -> Floats:
    """Days from each sow day to the published sum, by averaging with both ends cut off; (years, n)."""
    low, high = (np.clip(t, rule.base, rule.top) for t in (tmin, tmax))
    total = np.cumsum((low + high) / 2 - rule.base, axis=1)
    ready = [[np.searchsorted(year, year[day - 1] + rule.total) - day for day in sow] for year in total]
    return np.asarray(ready, dtype=np.float64)


def by_sums() -> None:
    print("\n## Days and intervals against published day-degrees\n")
    print("Philadelphia's daily record, medians over its years. Interval: for harvests 7 days apart,")
    print(f"from sowings {STEP} days apart.\n")
    print("| crop | sown | days by the sum | ours | interval by the sum, d | ours |")
    print("|---|---|---|---|---|---|")
    settings = settings_at(*PHILADELPHIA)
    for rule in SUMS:
        crop = load_catalogue().crop(rule.crop)
        start = day_date(settings.weather.start)
        sow = np.array([(date(start.year, *when) - start).days for when in rule.sowings])
        air = settings.cover("open").air
        theirs = np.median(summed(air.tmin, air.tmax, rule, sow), axis=0)
        name, lat, lon = PHILADELPHIA
        sown = [Anchor(lat, lon, name, m, d, 0.0, "open", "direct", "") for m, d in rule.sowings]
        ours = np.array([np.median(days_by_year(crop, case, settings, 1.0)) for case in sown])
        for i, (m, d) in enumerate(rule.sowings):
            between = ["–", "–"]
            if i + 1 < len(rule.sowings):
                gaps = [sow[i + 1] + days[i + 1] - sow[i] - days[i] for days in (theirs, ours)]
                between = [f"{7 * STEP / gap:.0f}" if gap > 0 else "none" for gap in gaps]
            print(f"| {rule.crop} | {m:02d}-{d:02d} | {theirs[i]:.0f} | {ours[i]:.0f} "
                  f"| {between[0]} | {between[1]} |")
    print("\n" + "; ".join(rule.source for rule in SUMS) + ".")


def lettuce_intervals() -> None:
    print("\n## Lettuce for every week of winter\n\nCold tunnel, Maine (coleman2011); ours: leaf lettuce,")
    print("seven days over the slope of the median first picking, 12 days either side.\n")
    print("| sown about | advised, d | ours, d |\n|---|---|---|")
    place = ("Harborside, Maine", 44.35, -68.8)
    settings, crop = settings_at(*place), load_catalogue().crop("leaf-lettuce")
    for (month, day), advised in COLEMAN:
        centre = day_number(date(2023, month, day))
        ends = []
        for shift in (-12, 12):
            when = day_date(centre + shift)
            case = Anchor(*place[1:], place[0], when.month, when.day, 0.0, "tunnel", "direct", "")
            ends.append(shift + float(np.median(days_by_year(crop, case, settings, 1.0))))
        slope = (ends[1] - ends[0]) / 24
        print(f"| {month:02d}-{day:02d} | {advised:g} | {7 / slope:.1f} |" if slope > 0 else
              f"| {month:02d}-{day:02d} | {advised:g} | none |")


def main() -> None:
    print("# Trial dates and intervals\n")
    print("Written by `PYTHONPATH=src python authorities/trial_dates.py`; how, and its limits: its head.")
    trials()
    by_sums()
    lettuce_intervals()
    print("\n" + (CASES.parent / "reading.md").read_text(encoding="utf-8").rstrip())


if __name__ == "__main__":
    main()
