"""Weather files that the tests of the readers write and share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.errors import BadWeatherFile
from evenpick.climate.readers.daily_csv import read_daily_csv

SAMPLES = Path(__file__).parents[1] / "data" / "weather"
TWO_METRES = 4.87 / np.log(672.58)  # allen1998, equation 47 at 10 m



def written(folder: Path, text: str) -> Path:
    """A file with this text."""
    path = folder / "record.csv"
    path.write_text(text, encoding="utf-8")
    return path


def problems(path: Path, read: Callable[[Path], object] = read_daily_csv) -> tuple[str, ...]:
    with pytest.raises(BadWeatherFile) as caught:
        read(path)
    return tuple(str(problem) for problem in caught.value.problems)


def ghcn_rows() -> list[list[str]]:
    return [line.split(",") for line in (SAMPLES / "ghcn_long.csv").read_text().split()[1:]]


def ghcn_long() -> str:
    return "\n".join(",".join(["USW00094846", *row]) for row in ghcn_rows())


def ghcn_fixed() -> str:
    months: dict[tuple[str, str], list[str]] = {}
    for day, element, value, measured, quality, source, *_ in ghcn_rows():
        cells = months.setdefault((day[:6], element), ["-9999   "] * 31)
        cells[int(day[6:]) - 1] = f"{value:>5}{measured:1}{quality:1}{source:1}"
    return "\n".join(f"USW00094846{month}{element}{''.join(c)}" for (month, element), c in months.items())


def ghcn_wide(order: str = "STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME") -> str:
    elements = ["PRCP", "TMAX", "TMIN", "AWND"]
    header = order.split(",") + [name for e in elements for name in (e, f"{e}_ATTRIBUTES")]
    found = {(row[0], row[1]): row for row in ghcn_rows()}
    lines = [header]
    for day in sorted({row[0] for row in ghcn_rows()}):
        where = dict(zip(order.split(","), ["USW00094846", f"{day[:4]}-{day[4:6]}-{day[6:]}", "41.995",
                                            "-87.9336", "201.8", "A FIELD, IL US"], strict=True))
        rows = [found[day, element] for element in elements]
        lines.append([*where.values(), *(cell for r in rows for cell in (f"{r[2]:>5}", ",".join(r[3:6])))])
    return "\n".join(",".join(f'"{cell}"' for cell in line) for line in lines)


METRIC = "date,tmin_c,tmax_c,rain_mm"


def plain(*rows: str, header: str = METRIC) -> str:
    return "\n".join((header, *rows)) + "\n"


