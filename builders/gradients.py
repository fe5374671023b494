"""How temperature changes upwards and towards the poles: `python builders/gradients.py`.

Least squares over all pairs of packaged stations less than 200 km apart, each weighed by 1/(km + 20), for
every month, of minima and of maxima: difference in temperature by difference in height and in latitude, which
counts from 25° on (our choice; 20 and 30 serve as well). Southern months stand by their season, July's with
the north's January. Writes src/evenpick/data/gradients.csv.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from evenpick.climate.around import poleward
from evenpick.climate.stations import great_circle_km, packaged_stations

TARGET = Path(__file__).resolve().parents[1] / "src/evenpick/data/gradients.csv"
NEAR_KM = 200.0
SAME_PLACE_KM = 2.0
NUGGET_KM = 20.0


def pairs() -> Iterator[tuple[np.ndarray, np.ndarray, np.ndarray]]:
    """For each station its rows, the rows of later ones near it, and how far they are."""
    stations = packaged_stations()
    for row in range(stations.lat.size - 1):
        later = slice(row + 1, None)
        km = great_circle_km(stations.lat[row], stations.lon[row], stations.lat[later], stations.lon[later])
        near = np.flatnonzero((km < NEAR_KM) & (km >= SAME_PLACE_KM))
        yield np.full(near.size, row), near + row + 1, km[near]


def by_season(monthly: np.ndarray) -> np.ndarray:
    south = packaged_stations().lat < 0
    return np.where(south[:, None], np.roll(monthly, 6, axis=1), monthly)


def main() -> None:
    stations = packaged_stations()
    one, other, km = (np.concatenate(parts) for parts in zip(*pairs(), strict=True))
    pole = poleward(stations.lat)
    up = (stations.height_m[one] - stations.height_m[other]) / 1000
    apart = np.stack([up, pole[one] - pole[other]], axis=1)
    weight = (1 / (km + NUGGET_KM)) ** 0.5
    with TARGET.open("w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["of", "month_in_the_north", "per_km_up", "per_degree_poleward"])
        for name in ("tmin", "tmax"):
            values = by_season(stations.monthly[name])
            for month in range(12):
                difference = values[one, month] - values[other, month]
                found = np.linalg.lstsq(apart * weight[:, None], difference * weight, rcond=None)[0]
                table.writerow([name, month + 1, *(f"{value:.2f}" for value in found)])
    print(f"{km.size} pairs")


if __name__ == "__main__":
    main()
