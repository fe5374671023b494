"""Reference evapotranspiration against a weather service's own, and with less and less weather known.

    python authorities/evapotranspiration.py SHARED_DIR > authorities/evapotranspiration.md

Dublin Airport's record carries Met Éireann's own Penman-Monteith potential evapotranspiration (`pe`).
De Bilt's has all four of temperature, radiation, humidity and wind: there the full equation is the
measure, and each line shows what is lost when something is not known.
"""

from __future__ import annotations

import csv
import gzip
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import days_of_year, months
from evenpick.climate.daylight import radiation_from_range, radiation_from_sunshine
from evenpick.climate.records import packaged_record
from evenpick.climate.series import DailySeries
from evenpick.soil.reference_et import hargreaves, reference_et

HEADER = (
    "| weather used | mm a year | of the measure | Apr–Sep | Oct–Mar | bias, mm d⁻¹ | RMS of a day "
    "| RMS of a week | r |\n"
    "|---|---|---|---|---|---|---|---|---|"
)


@dataclass(frozen=True)
class Record:
    series: DailySeries
    lat: float
    height: float

    @property
    def day_of_year(self) -> Floats:
        return days_of_year(self.series.start, self.series.days)

    def et(self, radiation: Floats, humid: bool = False, windy: bool = False) -> Floats:
        s = self.series
        return reference_et(
            s.tmin, s.tmax, radiation, self.lat, self.day_of_year, self.height,
            vapour_pressure=s.vapour_pressure if humid else None, wind=s.wind if windy else None,
        )

    def from_range(self) -> Floats:
        return radiation_from_range(self.series.tmin, self.series.tmax, self.lat, self.day_of_year)

    def from_sunshine(self) -> Floats:
        return radiation_from_sunshine(self.series.sunshine, self.lat, self.day_of_year)

    def hargreaves(self) -> Floats:
        return hargreaves(self.series.tmin, self.series.tmax, self.lat, self.day_of_year)


def record(name: str) -> Record:
    series, origin = packaged_record(name)
    assert origin.lat is not None
    assert origin.height_m is not None
    return Record(series, origin.lat, origin.height_m)


def service_column(shared: Path, days: int) -> Floats:
    with gzip.open(shared / "weather/daily/ie_dublin_airport.csv.gz", "rt", newline="") as lines:
        column = np.array([float(row["et0_mm"] or "nan") for row in csv.DictReader(lines)])
    if column.size != days:
        sys.exit(f"the source has {column.size} days, the packaged record {days}: not the same series")
    return column


def line(name: str, ours: Floats, measure: Floats, month: Ints, known: Bools) -> str:
    summer = (month >= 4) & (month <= 9)
    apart = np.where(known, ours - measure, np.nan)
    weeks = apart[: apart.size // 7 * 7].reshape(-1, 7).mean(axis=1)

    def ratio(part: Bools) -> float:
        return float(ours[known & part].sum() / measure[known & part].sum())

    return (
        f"| {name} | {ours[known].mean() * 365.25:.0f} | {ratio(known):.3f} | {ratio(summer):.2f} "
        f"| {ratio(~summer):.2f} | {np.nanmean(apart):+.2f} | {np.sqrt(np.nanmean(apart**2)):.2f} "
        f"| {np.sqrt(np.nanmean(weeks**2)):.2f} | {np.corrcoef(ours[known], measure[known])[0, 1]:.3f} |"
    )


def table(place: Record, measure: Floats, variants: dict[str, Floats]) -> list[str]:
    month = months(place.series.start, place.series.days)
    known = ~np.isnan(measure) & ~np.isnan(place.series.radiation)
    return [HEADER, *(line(name, ours, measure, month, known) for name, ours in variants.items())]


def main(shared: Path) -> None:
    dublin, bilt = record("dublin_airport"), record("de_bilt")
    pe = service_column(shared, dublin.series.days)
    sun, seen = dublin.series.radiation, bilt.series.radiation
    full = bilt.et(seen, humid=True, windy=True)
    print("# Reference evapotranspiration: agreement\n")
    print("Written by `python authorities/evapotranspiration.py SHARED_DIR`.\n")
    print(f"## Dublin Airport, 1981 to September 2025, against Met Éireann's `pe` "
          f"({np.nanmean(pe) * 365.25:.0f} mm a year)\n")
    print("\n".join(table(dublin, pe, {
        "temperature, radiation (what the planner goes by)": dublin.et(sun),
        "temperature, radiation, wind": dublin.et(sun, windy=True),
        "temperature, sunshine": dublin.et(dublin.from_sunshine()),
        "temperature, radiation from its range (eq. 50)": dublin.et(dublin.from_range()),
        "temperature alone (Hargreaves, eq. 52)": dublin.hargreaves(),
    })))
    print(f"\n## De Bilt, 1980 to 2019, against the full equation on its own record "
          f"({np.nanmean(full) * 365.25:.0f} mm a year)\n")
    print("\n".join(table(bilt, full, {
        "humidity not known (eq. 48)": bilt.et(seen, windy=True),
        "wind not known (2 m/s)": bilt.et(seen, humid=True),
        "neither known (what the planner has without a measured record)": bilt.et(seen),
        "sunshine for radiation": bilt.et(bilt.from_sunshine(), humid=True, windy=True),
        "neither, radiation from the range (eq. 50)": bilt.et(bilt.from_range()),
        "temperature alone (Hargreaves, eq. 52)": bilt.hargreaves(),
    })))
    print(READING)


READING = """
## What it says

- The planner's own form (temperature and radiation) is a few per cent off over the year at both places;
  a day is uncertain by its RMS, a week by less. Both stations are in mild maritime lowland: nothing here
  tests dry or hot climates, where equation 48 is known to give too little.
- Measured wind without measured humidity is worse than neither at Dublin, and too high at both. De Bilt's
  humidity shows why: equation 48 makes the air there too dry, and wind multiplies that. At Dublin, windier
  still, it is inferred. Give both or neither.
- Met Éireann's humidity is not in the record, so its column can't be remade here: what remains between it
  and the full equation is not told apart from the missing humidity.
- De Bilt's wind was measured at 10 and at 20 m over the years and is taken as 10 m.
- That the equations themselves are right is held by tests/soil/test_reference_et.py (worked examples of
  FAO-56, pyet, refet)."""


if __name__ == "__main__":
    main(Path(sys.argv[1]))
