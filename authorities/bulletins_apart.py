"""How far planting calendars of like climates lie apart: what any rule can be expected to reach.

    PYTHONPATH=src python authorities/bulletins_apart.py > authorities/bulletins_apart.md

Each edge of a bulletin (authorities/calendars/) is held against the bulletin of another place, the one whose
year is most like its own: the root mean square of the difference between the two usual means of each day, as
the service has them for the two points. Of that bulletin counts the nearest edge of the same kind of the same
crop, sown or planted in the same way, which is how windows of ours are matched too (calendar_matching.py).
Beside it stands ours, on the very same edges. Nothing was tuned on this.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from calendar_matching import SOW_YEAR, Edge, Found, Place, Row, apart, compare, half_of, places, toml
from calendars import HEAD, errors_line, header

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.first_frost import COOL
from evenpick.outlook.setting import Settings
from evenpick.outlook.usual_year import usual_mean
from evenpick.outlook.windows import MARGIN, YEAR
from evenpick.service.windows import year_weather

ALIKE = (1.0, 1.5, 2.5)  # °C between two years of usual means, at most
MORE = "-more"  # a second sheet of the same place
READING = """\
An edge is held against the nearest of its kind in the other bulletin, as against the nearest of ours; edges
of windows that ours do not meet are in neither line. Two bulletins err each for itself, so a rule that knew
what is right would lie nearer to either than they lie to each other, by a third if they err alike. So the
bars of calendars.md (a median of 12 days, three quarters within 21) ask for what no bulletin of a like
climate gives, and are not beyond what could be had."""


@dataclass(frozen=True, slots=True)
class Pair:
    """One edge of a bulletin beside that of the place most like it."""

    edge: Edge
    other: float
    """the other bulletin's edge minus this one's, days"""
    difference: float
    """between the two climates, °C"""
    coldest: float
    """the usual mean of its own coldest weeks, °C"""


def usual_year(place: Place) -> Floats:
    weather = year_weather(place.site, WeatherChoice(), SOW_YEAR, DEFAULT_SEED)
    return usual_mean(Settings(weather).cover("open"))[MARGIN : MARGIN + YEAR]


def day(row: Row, kind: str) -> int | None:
    """The row's edge of a kind, where the bulletin gives it."""
    return (row.first if kind == "first" else row.last) if row.edges in (kind, "both") else None


def same_way(one: str, other: str) -> bool:
    return one == other or "either" in (one, other)


def nearest(edge: Edge, other: Place) -> float | None:
    """Days from the edge to the nearest of its kind in another bulletin; None where there is none."""
    own = day(edge.row, edge.kind)
    theirs = [day(row, edge.kind) for row in other.rows
              if row.crop == edge.row.crop and same_way(row.way, edge.row.way)]
    found = [float(apart(each, own)) for each in theirs if each is not None and own is not None]
    return min(found, key=abs, default=None)


def most_alike(
    place: Place, years: Mapping[str, Floats], every: Sequence[Place]
) -> list[tuple[float, Place]]:
    """The other places and how far their climates are from this one's, °C, the nearest first."""
    others = [other for other in every if other.name.removesuffix(MORE) != place.name.removesuffix(MORE)]
    away = [float(np.sqrt(np.mean((years[other.name] - years[place.name]) ** 2))) for other in others]
    return sorted(zip(away, others, strict=True), key=lambda one: (one[0], one[1].name))


def pairs(founds: Sequence[Found], years: Mapping[str, Floats], every: Sequence[Place]) -> Iterator[Pair]:
    """Each edge beside the most alike place's whose bulletin has one of its kind."""
    for found in founds:
        others = most_alike(found.place, years, every)
        for edge in found.edges:
            there = ((difference, nearest(edge, other)) for difference, other in others)
            for difference, days in there:
                if days is not None:
                    yield Pair(edge, days, difference, found.coldest)
                    break


def table(title: str, every: Sequence[Pair]) -> None:
    print(f"\n## {title}\n\n" + header("edge", *HEAD))
    for most in ALIKE:
        near = [pair for pair in every if pair.difference <= most]
        cold = [pair for pair in near if pair.coldest < COOL]
        mild = [pair for pair in near if pair.coldest >= COOL]
        for name, some in (("all", near), (f"coldest weeks under {COOL:g} °C", cold), ("milder", mild)):
            print(errors_line(f"{name}, climates within {most:g} °C: the other bulletin",
                              [pair.other for pair in some]))
            print(errors_line("the same: ours", [pair.edge.error for pair in some]))


def main() -> None:
    chosen = toml("halves.toml")
    near = [f for f in map(compare, places()) if (f.origin.distance_km or 0.0) <= chosen["farthest_km"]]
    years = {f.place.name: usual_year(f.place) for f in near}
    every = [f.place for f in near]
    both = {half: list(pairs([f for f in near if half_of(f.place, chosen) == half], years, every))
            for half in ("untouched", "tuning")}
    print("# Planting calendars of like climates, held against each other\n")
    print("Written by `PYTHONPATH=src python authorities/bulletins_apart.py`; how: its docstring.")
    for half, mine in both.items():
        table(f"The {half} half", mine)
    table("Both halves", [*both["untouched"], *both["tuning"]])
    print("\n" + READING)


if __name__ == "__main__":
    main()
