"""Packages the grade A daily records: `python builders/daily_records.py SHARED_DIR`.

Every value is kept exactly as the raw table prints it: whole numbers over a divisor, wind at the
height where it was measured. Writes src/evenpick/data/daily/*.npz and records.json.
"""

from __future__ import annotations

import csv
import gzip
import json
import sys
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from evenpick.climate.readers.units import WIND_ALONE, WIND_MOVED

TARGET = Path(__file__).resolve().parents[1] / "src/evenpick/data/daily"
EPOCH = date(1970, 1, 1)
MISSING = -32768
DIVISORS = (10, 20, 40, 100, 200, 1000)  # 40 for a trace of rain written 0.025
COLUMNS = {
    "tmin": "tmin_c",
    "tmax": "tmax_c",
    "rain": "rain_mm",
    "radiation": "radiation_mj_m2",
    "sunshine": "sunshine_h",
    "vapour_pressure": "vapour_pressure_kpa",
    "wind": "wind_m_s",
}
NOAA = "public domain (NOAA GHCN-Daily; work of the US Government)"
MET_EIREANN = "CC BY 4.0, © Met Éireann (met.ie)"
OGL = "Open Government Licence v3.0, © Crown copyright, Met Office MIDAS Open"
KNMI = "CC BY 4.0, KNMI (Royal Netherlands Meteorological Institute)"
US_NOTE = "turned back from °F and inches; coordinates known to about 0.01°"
RECORDS: dict[str, tuple[str, str, str, tuple[str, ...]]] = {
    "dublin_airport": ("ie_dublin_airport", "Met Éireann station 532", MET_EIREANN, (WIND_ALONE,)),
    "brize_norton": (
        "uk_brize_norton", "Met Office MIDAS Open station 605", OGL,
        (WIND_MOVED, "processed from MIDAS Open by others; place from the WMO station list"),
    ),
    "de_bilt": (
        "nl_de_bilt", "KNMI station 260", KNMI,
        (
            WIND_MOVED + "; it was measured at 10 or 20 m over the years",
            "vapour pressure derived from mean temperature and mean relative humidity",
            "rain below 0.05 mm stands as 0.025 mm",
        ),
    ),
    "milwaukee": ("us_milwaukee_wi", "NOAA GHCN-Daily USW00014839", NOAA, (US_NOTE,)),
    "philadelphia": ("us_philadelphia_pa", "NOAA GHCN-Daily USW00013739", NOAA, (US_NOTE,)),
    "west_palm_beach": ("us_west_palm_beach_fl", "NOAA GHCN-Daily USW00012844", NOAA, (US_NOTE,)),
}


def whole(texts: list[str]) -> tuple[np.ndarray, int]:
    """The column as int16 over the smallest divisor that keeps every printed digit."""
    values = np.array([float(text) if text else np.nan for text in texts])
    known = values[~np.isnan(values)]
    for divisor in DIVISORS:
        scaled = np.round(known * divisor)
        if np.array_equal(scaled / divisor, known) and np.abs(scaled).max() < -MISSING:
            out = np.full(values.size, MISSING, dtype=np.int16)
            out[~np.isnan(values)] = scaled
            return out, divisor
    raise ValueError("no divisor keeps this column exactly in 16 bits")


def package(name: str, shared: Path, about: dict[str, str]) -> dict[str, Any]:
    stem, source, licence, notes = RECORDS[name]
    with gzip.open(shared / f"weather/daily/{stem}.csv.gz", "rt", newline="") as file:
        rows = list(csv.DictReader(file))
    dates = [date.fromisoformat(row["date"]) for row in rows]
    if any((late - early).days != 1 for early, late in pairwise(dates)):
        raise ValueError(f"{stem}: the calendar has a hole")
    columns = {v: whole([row[c] for row in rows]) for v, c in COLUMNS.items() if c in rows[0]}
    # Low and high bytes apart: the high bytes hardly change, so deflate does much better.
    packed = {v: np.ascontiguousarray(a.astype("<i2").view(np.uint8).reshape(-1, 2).T)
              for v, (a, _) in columns.items()}
    np.savez_compressed(TARGET / f"{name}.npz", **packed)  # type: ignore[arg-type]
    return {
        "station": about["place"], "source": source, "licence": licence, "notes": notes,
        "lat": float(about["lat"]), "lon": float(about["lon"]), "height_m": float(about["elev_m"]),
        "start": (dates[0] - EPOCH).days, "days": len(dates),
        "divisors": {variable: divisor for variable, (_, divisor) in columns.items()},
    }


def main(shared: Path) -> None:
    TARGET.mkdir(parents=True, exist_ok=True)
    with (shared / "weather/SERIES.csv").open(newline="") as file:
        series = {Path(row["file"]).name.removesuffix(".csv.gz"): row for row in csv.DictReader(file)}
    about = {}
    for name, (stem, *_) in RECORDS.items():
        if series[stem]["licence_grade"] != "A":
            raise ValueError(f"{stem} is not free to ship")
        about[name] = package(name, shared, series[stem])
        print(name, (TARGET / f"{name}.npz").stat().st_size, about[name]["divisors"])
    text = json.dumps(about, ensure_ascii=False, indent=1)
    (TARGET / "records.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
