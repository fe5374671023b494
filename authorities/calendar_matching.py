"""Planting calendars of extension services matched with our windows; calendars.py prints the agreement.

Matching. 'direct' is compared with sow days (of a crop that is only raised, with its sow days too);
'transplant' with planting out, that is sow days moved by the median raising time; 'either' with both. An
edge of the bulletin meets the nearest edge of the same kind (opening or closing) among our windows of the
crop; its error is ours minus the bulletin's, in days round the year. A window with dates is met where one of
ours overlaps it; where only one edge is given, the month inside that edge stands for the window. A row that
is not met has no edges to compare; a crop worth sowing all the year has no edges either, and each of the
bulletin's then counts as an error beyond measure.

A bulletin in months can't say which day of the month it means: half the step from one date that it prints
to the next is its blur, and an edge within that is as near as can be told. Printed apart, never instead.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np

from evenpick.base.arrays import Bools
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import SMALLER
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.setting import Settings
from evenpick.outlook.usual_year import usual_mean
from evenpick.outlook.windows import MARGIN, YEAR, Calendar, fold
from evenpick.service.windows import calendars, year_weather

FOLDER = Path(__file__).resolve().parent / "calendars"
SOW_YEAR = 2027  # any year gives the same windows to a day; fixed so that the result can be made again
MONTH = 30
BEYOND = float("inf")


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a bulletin; days after 1 January, None where not given."""

    bulletin_crop: str
    crop: str
    way: str
    season: str
    first: int | None
    last: int | None
    edges: str
    days: tuple[float, float] | None

    def span(self) -> tuple[int, int] | None:
        """First day and length of the window, or of the month inside its one edge."""
        if self.first is not None and self.last is not None:
            return self.first, (self.last - self.first) % YEAR + 1
        if self.first is not None:
            return self.first, MONTH
        return None if self.last is None else (self.last - MONTH + 1, MONTH)


@dataclass(frozen=True, slots=True)
class Place:
    name: str
    region: str
    at: str
    site: Site
    step: int
    """days from one date that the bulletin could print to the next"""
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Own:
    """Our windows of one crop and way, (opening, length) in days of the year, of sowing or planting out."""

    calendar: Calendar
    windows: tuple[tuple[int, int], ...]
    shift: float


@dataclass(frozen=True, slots=True)
class Edge:
    place: Place
    row: Row
    kind: str
    error: float

    def beyond_blur(self) -> float:
        """The error past what the bulletin's own step leaves open, its sign kept."""
        return float(np.sign(self.error)) * max(abs(self.error) - self.place.step / 2, 0.0)


@dataclass(frozen=True, slots=True)
class Days:
    """Days to first picking: as printed (least, most), and ours at 10, 50 and 90 % after the raising."""

    place: Place
    row: Row
    printed: tuple[float, float]
    raising: float
    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Found:
    """What one place gave: the climate used, edges, windows met and not, days to harvest."""

    place: Place
    origin: ClimateOrigin
    coldest: float
    """the usual mean of the coldest 21 days, °C"""
    edges: tuple[Edge, ...]
    lost: tuple[Edge, ...]
    """the edges of rows not met, beyond measure"""
    covered: tuple[float, ...]
    """share of each window with dates that lies inside ours, met or not"""
    met: tuple[Row, ...]
    missing: tuple[Row, ...]
    days: tuple[Days, ...]


def day_of(text: str) -> int | None:
    """'03-15' → days after 1 January of the year compared in; None for an empty cell."""
    if not text:
        return None
    month, day = map(int, text.split("-"))
    return day_number(date(SOW_YEAR, month, day)) - day_number(date(SOW_YEAR, 1, 1))


def read_rows(path: Path) -> tuple[Row, ...]:
    with path.open(encoding="utf-8", newline="") as lines:
        return tuple(
            Row(
                line["bulletin_crop"], line["crop"], line["way"], line["season"], day_of(line["first"]),
                day_of(line["last"]), line["edges"],
                (float(line["days_low"]), float(line["days_high"])) if line["days_low"] else None,
            )
            for line in csv.DictReader(lines)
        )


def half_of(place: Place, chosen: Mapping[str, Any]) -> str:
    """"tuning" or "untouched": as a place read later was dealt, else as its region was."""
    for dealt, name in ((chosen["later"], place.name), (chosen, place.region)):
        for half in ("tuning", "untouched"):
            if name in dealt[half]:
                return half
    raise KeyError(f"{place.name} is in neither half: see halves.toml")


def toml(name: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / name).read_text(encoding="utf-8"))


def places() -> tuple[Place, ...]:
    return tuple(
        Place(p["name"], p["region"], p["at"], Site(p["at"], p["lat"], p["lon"], p["height"]), p["step"],
              read_rows(FOLDER / f"{p['name']}.csv"))
        for p in toml("places.toml")["place"]
    )


def raising(made: Calendar, day: int) -> float:
    """Median days from sowing on an axis day to planting out."""
    placed = made.outcome.place[:, day].astype(float)
    known = placed[placed < made.outcome.never]
    return float(np.median(known)) - float(made.outcome.sow[day]) if known.size else np.nan


def own(made: Calendar, planting_out: bool) -> Own:
    """The windows of one calendar; each edge moved by the raising time of its own day."""
    moved, shifts = [], [0.0]
    for window in made.windows:
        ends = [raising(made, fold(day)) if planting_out else 0.0 for day in (window.opens, window.closes)]
        opens = window.opens - MARGIN + round(ends[0])
        length = window.closes - window.opens + 1
        if length < YEAR:  # raised seedlings catch up: the window of planting out is shorter
            length = max(length + round(ends[1] - ends[0]), 1)
        moved.append((opens % YEAR, length))
        shifts.append(float(np.mean(ends)))
    return Own(made, tuple(moved), float(np.mean(shifts[1:] or shifts)))


def candidates(row: Row, made: Sequence[Calendar]) -> list[Own]:
    """Our calendars that the row is to be compared with; every purpose but a smaller size."""
    mine = [m for m in made if m.outcome.crop.key == row.crop and m.outcome.purpose.name not in SMALLER]
    raised = [m for m in mine if m.outcome.way.name == "raised"]
    ground = [m for m in mine if m.outcome.way.name != "raised"]
    if row.way == "either":
        return [*(own(m, True) for m in raised), *(own(m, False) for m in ground)]
    if row.way == "transplant":
        return [own(m, True) for m in raised] or [own(m, False) for m in ground]
    return [own(m, False) for m in ground or raised]


def held(windows: Sequence[tuple[int, int]]) -> Bools:
    """The days of the year inside any of the windows."""
    inside = np.zeros(YEAR, dtype=bool)
    for opens, length in windows:
        inside[np.arange(opens, opens + length) % YEAR] = True
    return inside


def apart(ours: int, theirs: int) -> int:
    """Ours minus theirs round the year, -183 to 182."""
    return (ours - theirs + YEAR // 2) % YEAR - YEAR // 2


def edges_of(place: Place, row: Row, windows: Sequence[tuple[int, int]]) -> Iterator[Edge]:
    """One edge for each that the row gives, beyond measure where `windows` is empty."""
    for kind, theirs in (("first", row.first), ("last", row.last)):
        if theirs is None or row.edges not in (kind, "both"):
            continue
        ours = [o if kind == "first" else (o + n - 1) % YEAR for o, n in windows]
        errors = [apart(day, theirs) for day in ours]
        yield Edge(place, row, kind, float(min(errors, key=abs)) if errors else BEYOND)


def days_of(
    place: Place, row: Row, printed: tuple[float, float], mine: Sequence[Own]
) -> Iterator[Days]:
    """Our 10, 50 and 90 % days over the bulletin's dates within our window, or else over our whole window."""
    for one in mine[:1]:
        inside, span = held(one.windows), row.span()
        both = inside & held([span]) if span else inside
        chosen = np.flatnonzero(both if both.any() else inside)
        axis = [fold(int(day) - round(one.shift) + MARGIN) for day in chosen]
        if not axis:
            continue
        low, likely, high = (np.nanmean(one.calendar.score.days[p][axis]) - one.shift for p in (10, 50, 90))
        if np.isfinite(likely):
            yield Days(place, row, printed, one.shift, float(low), float(likely), float(high))


def compare(place: Place) -> Found:
    """All rows of one place against our calendars there."""
    catalogue = load_catalogue()
    weather = year_weather(place.site, WeatherChoice(), SOW_YEAR, DEFAULT_SEED)
    crops = [catalogue.crop(key) for key in sorted({row.crop for row in place.rows})]
    made = calendars(crops, ("open",), weather, DEFAULT_SEED)
    edges: list[Edge] = []
    lost: list[Edge] = []
    covered: list[float] = []
    met: list[Row] = []
    missing: list[Row] = []
    days: list[Days] = []
    for row in place.rows:
        mine, span = candidates(row, made), row.span()
        windows = [w for one in mine for w in one.windows]
        if span is not None:
            wanted = held([span])
            covered.append(float(held(windows)[wanted].mean()))
            if covered[-1] > 0:
                met.append(row)
                edges += edges_of(place, row, [w for w in windows if w[1] < YEAR])
            else:
                missing.append(row)
                lost += edges_of(place, row, [])
        if row.days is not None:
            days += days_of(place, row, row.days, mine)
    coldest = float(usual_mean(Settings(weather).cover("open")).min())
    return Found(place, weather.origin, coldest, tuple(edges), tuple(lost), tuple(covered), tuple(met),
                 tuple(missing), tuple(days))
