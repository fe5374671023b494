"""The weather generator against years of real records that it never saw.

    python authorities/generator.py SHARED_DIR > authorities/generator.md

Twelve normals from the even years of each daily record; sixty years made from them; both set against
the odd years. The even years' own distance from the odd ones says how much of a difference is chance.
"""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import numpy as np
from record_years import SERIES, Years, by_month, places, read_years, report_of, typed, within

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.daylight import radiation_from_range, radiation_from_sunshine
from evenpick.climate.generator import generate
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals
from evenpick.climate.radiation import KRS
from evenpick.climate.seasonal import DAYS_OF_CYCLE, MONTH_OF_DAY

MEMBERS = 60
LEAST_YEARS = 16
HOT = 30.0  # °C
COMMON_YEAR = day_number(date(2027, 1, 1))


def made(normals: MonthlyNormals) -> Years:
    arrays = generate(normals, normals.lat, COMMON_YEAR, 365, MEMBERS, DEFAULT_SEED)
    return Years(*arrays, np.full(arrays[0].shape, np.nan))


def frosts(years: Years, southern: bool) -> tuple[Floats, Floats]:
    """Day of year of the last spring and the first autumn day below 0 °C, NaN in a year without."""
    cold = years.tmin < 0
    early, late = cold[:, :182], cold[:, 182:]
    last_early = np.where(early.any(axis=1), 182 - early[:, ::-1].argmax(axis=1), np.nan)
    first_late = np.where(late.any(axis=1), 183 + late.argmax(axis=1), np.nan)
    if not southern:
        return last_early, first_late
    last = np.where(late.any(axis=1), 365 - late[:, ::-1].argmax(axis=1), np.nan)
    return last, np.where(early.any(axis=1), 1 + early.argmax(axis=1), np.nan)


def day_degrees(years: Years, base: float) -> Floats:
    return np.asarray(np.maximum(years.mean - base, 0).sum(axis=1))


def dry_spells(years: Years) -> list[Floats]:
    """Lengths of the runs of days under 1 mm, year by year."""
    found = []
    for dry in years.rain < 1:
        edges = np.flatnonzero(np.diff(np.concatenate([[0], dry.astype(int), [0]])))
        found.append((edges[1::2] - edges[::2]).astype(float))
    return found


def dates(days: Floats) -> str:
    """10, 50 and 90 % of dates, where nine years in ten have one; else the share of years that have."""
    share = float(np.mean(~np.isnan(days)))
    if share < 0.9:
        return f"{share:.0%} of years"
    return "/".join(f"{day:.0f}" for day in np.nanquantile(days, [0.1, 0.5, 0.9]))


def typical(differences: Floats) -> str:
    """Mean and largest absolute difference of the twelve months."""
    return f"{np.abs(differences).mean():.2f} ({np.abs(differences).max():.2f})"


def ratio(one: Floats, other: Floats) -> str:
    return f"{np.mean(one) / np.mean(other):.2f}"


def means_row(name: str, years: Years, odd: Years) -> str:
    def change(get: str) -> Floats:
        one, other = (by_month(getattr(each, get)).mean(axis=0) for each in (years, odd))
        return np.asarray(one - other)

    wet = [by_month((each.rain >= 1).astype(float)).mean(axis=0) * DAYS_IN_MONTH for each in (years, odd)]
    return " | ".join([
        name, typical(change("tmin")), typical(change("tmax")), ratio(years.rain, odd.rain),
        typical(change("rain") * DAYS_IN_MONTH), typical(wet[0] - wet[1]),
    ])


def spread_row(name: str, years: Years, odd: Years) -> str:
    def between(part: Years) -> Floats:
        return np.asarray(by_month(part.mean).std(axis=0, ddof=1))

    return " | ".join([
        name,
        *(ratio(within(getattr(years, get)), within(getattr(odd, get))) for get in ("tmin", "tmax", "mean")),
        ratio(within(years.tmax - years.tmin), within(odd.tmax - odd.tmin)),
        ratio(between(years), between(odd)),
        f"{years.mean.mean(axis=1).std(ddof=1) / odd.mean.mean(axis=1).std(ddof=1):.2f}",
    ])


def season_row(name: str, years: Years, southern: bool) -> str:
    spring, autumn = frosts(years, southern)
    cells = [name, dates(spring), dates(autumn)]
    for base in (5, 10):
        degrees = day_degrees(years, base)
        cells.append(f"{degrees.mean():.0f} ± {degrees.std(ddof=1):.0f}")
    return " | ".join(cells)


def extremes_row(name: str, years: Years, southern: bool) -> str:
    """Cold nights and hot days: how many a year, and how far they go."""
    month = np.isin(MONTH_OF_DAY, (11, 0, 1) if southern else (5, 6, 7))

    def counted(days: np.ndarray) -> str:
        number = days.sum(axis=1)
        return f"{number.mean():.1f} ± {number.std(ddof=1):.1f}"

    return " | ".join([
        name, counted(years.tmin < 0), counted(years.tmax >= HOT),
        *(f"{value.mean():.1f}" for value in (
            years.tmin.min(axis=1), years.tmin[:, month].min(axis=1), years.tmax.max(axis=1))),
    ])


def rain_row(name: str, years: Years) -> str:
    spells = dry_spells(years)
    every = np.concatenate(spells)
    longest = np.array([spell.max() for spell in spells])
    totals = years.rain.sum(axis=1)
    wettest = years.rain.max(axis=1)
    return " | ".join([
        name, f"{every.mean():.1f}", f"{np.quantile(every, 0.95):.0f}", f"{longest.mean():.0f}",
        f"{totals.mean():.0f} ± {totals.std(ddof=1):.0f}", f"{wettest.mean():.0f}",
    ])


def filled_row(name: str, years: Years, lat: float) -> str:
    """Radiation as `fill_radiation` estimates it, day by day, against what was measured."""
    day = np.broadcast_to(DAYS_OF_CYCLE, years.tmin.shape)
    cells = [name]
    for made_of in (radiation_from_sunshine(years.sunshine, lat, day),
                    radiation_from_range(years.tmin, years.tmax, lat, day, KRS)):
        error = (made_of - years.radiation)[np.isfinite(made_of) & np.isfinite(years.radiation)]
        told = f"{error.mean():+.2f}, {np.sqrt((error**2).mean()):.2f}" if error.size else "no sunshine"
        cells.append(told)
    return " | ".join(cells)


def light_row(name: str, years: Years, odd: Years) -> str:
    got = by_month(years.radiation).mean(axis=0)
    real = np.array([np.nanmean(odd.radiation[:, month == MONTH_OF_DAY]) for month in range(12)])
    parts = [
        np.nanmean(part.radiation[part.rain >= 1]) / np.nanmean(part.radiation[part.rain < 1])
        for part in (years, odd)
    ]
    noise = [np.nanmean([np.nanstd(part.radiation[:, d]) for d in range(365)]) for part in (years, odd)]
    return " | ".join([
        name, f"{got.mean() - real.mean():+.2f}", typical(got - real), f"{parts[0]:.2f} / {parts[1]:.2f}",
        f"{noise[0]:.2f} / {noise[1]:.2f}",
    ])


def table(title: str, head: str, rows: list[str]) -> str:
    columns = head.count("|") + 1
    lines = [f"## {title}", "", f"| {head} |", "|" + "---|" * columns, *(f"| {row} |" for row in rows), ""]
    return "\n".join(lines)


def main(shared: Path) -> None:
    where = places(shared)
    means, spread, season, tails, rain, light, filled, used = ([] for _ in range(8))
    for name in SERIES:
        years, number = read_years(shared / "weather" / "daily" / f"{name}.csv.gz")
        lat, height = where[name]
        if number.size < LEAST_YEARS:
            raise SystemExit(f"{name}: only {number.size} whole years")
        even, odd = years.part(number % 2 == 0), years.part(number % 2 == 1)
        normals = report_of(even, lat, height)
        station, plain = made(normals), made(typed(normals))
        used.append(f"{name} ({len(even.tmin)} even, {len(odd.tmin)} odd)")
        for label, part in (("even years", even), ("station normals", station), ("typed normals", plain)):
            means.append(means_row(f"{name}, {label}", part, odd))
            spread.append(spread_row(f"{name}, {label}", part, odd))
        for label, part in (("odd years", odd), ("even years", even), ("station normals", station),
                            ("typed normals", plain)):
            season.append(season_row(f"{name}, {label}", part, lat < 0))
            tails.append(extremes_row(f"{name}, {label}", part, lat < 0))
            if label != "typed normals":
                rain.append(rain_row(f"{name}, {label}", part))
        if np.isfinite(odd.radiation).mean() > 0.9:
            filled.append(filled_row(name, odd, lat))
            source = "sunshine" if normals.sunshine_h is not None else "range"
            light.append(light_row(f"{name}, {source}", station, odd))
            if source == "sunshine":
                light.append(light_row(f"{name}, range", plain, odd))
    print(HEAD.format(today=date.today(), used="; ".join(used)))
    print(table("Monthly means, difference from the odd years: mean (largest) of twelve months",
                "series | tmin °C | tmax °C | rain, ratio | rain mm | wet days", means))
    print(table("Spread, as a ratio to the odd years'",
                "series | tmin in month | tmax in month | mean in month | range in month | "
                "month between years | year between years", spread))
    print(table("Frost (below 0 °C; day of year at 10/50/90 %) and yearly day-degrees (mean ± sd)",
                "series | last spring frost | first autumn frost | over 5 °C | over 10 °C", season))
    print(table(f"Nights below 0 °C and days of {HOT:.0f} °C and over a year, and how far they go",
                "series | cold nights | hot days | the year's coldest, °C | "
                "the coldest of the warmest three months | the year's hottest", tails))
    print(table("Dry spells (days under 1 mm) and rain",
                "series | mean length d | 95 % d | longest of the year d | rain of the year mm | "
                "wettest day mm", rain))
    print(table("Radiation, MJ m⁻² d⁻¹, against measured (made / measured)",
                "series, from | bias of the year | months: mean (largest) | wet over dry day | "
                "sd of a calendar day", light))
    print(table("Radiation filled into a record, odd years: bias and rms error of a day, MJ m⁻² d⁻¹",
                "series | from sunshine | from the range", filled), end="")


HEAD = """# The weather generator against real years left out

Made on {today} by `python authorities/generator.py SHARED_DIR > authorities/generator.md`.
Normals from the even years, sixty made years, compared with the odd years. *Station normals*: with the
standard deviation of daily means, the between-year standard deviation, the drop to the month's lowest
minimum, and sunshine where measured; *typed normals*: tmin, tmax, rain and wet days only, the rest by
regression (in use, the spread comes from a station within 300 km first). *Even years* shows what chance alone
does. Only calendar years whole in tmin, tmax and rain; 29 February left out. The coefficients
(builders/variability.py, builders/swings.py) come from the CLIMAT normals, which have stations at some of
these places, and from records and years not measured here; the form of the generator was chosen looking at an
earlier run of these tables. Trend is left in: over forty years it widens what the real years show from year
to year, and the generator does not make it.

Series: {used}.
"""

if __name__ == "__main__":
    main(Path(sys.argv[1]))
