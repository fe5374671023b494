"""Where a named town is, without the network: 110,000 towns of 2,000 people and more (GeoNames, CC BY 4.0).

Positions are whole hundredths of a degree (about 1 km); heights above the sea are those of an elevation
model, known for three towns in four.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.errors import Problem, UnknownPlace
from evenpick.base.language import tell
from evenpick.climate.regions import POSTED
from evenpick.climate.site import Site
from evenpick.climate.stations import great_circle_km

NO_HEIGHT = -9999
RIVAL_SHARE = 1 / 3  # a namesake with more than this share of the people makes a name ambiguous
TURNED_SHARE = 0.05  # the same of one across the equator: nobody means Sydney in Nova Scotia (our choice)
OWN_SHARE = 0.01  # the same where that is the larger town's other name: Cancún is not Changchun (our choice)
NEAR_TOWNS, NEAR_TOWN_KM = 3, 30.0
SAME_PLACE_KM = 25.0  # a namesake nearer than this is the same town or part of it
OTHER_COUNTRY_WORDS = {"uk": "GB", "britain": "GB", "great britain": "GB", "america": "US", "usa": "US",
                       "holland": "NL"}
LETTERS = {"ø": "o", "Ø": "o", "ł": "l", "Ł": "l", "đ": "d", "Đ": "d", "ı": "i", "æ": "ae", "Æ": "ae",
           "œ": "oe", "Œ": "oe", "ð": "d", "Ð": "d", "þ": "th", "Þ": "th", "ß": "ss", "ħ": "h", "ə": "e",
           "Ə": "e", "-": " ", "'": "", ".": ""}
WRITTEN_OUT = {"ä": "ae", "Ä": "ae", "ö": "oe", "Ö": "oe", "ø": "oe", "Ø": "oe", "ü": "ue", "Ü": "ue",
               "å": "aa", "Å": "aa"}
"""as German, Danish, Norwegian and Swedish write where these letters are not at hand"""


@dataclass(frozen=True, slots=True, eq=False)
class _Gazetteer:
    names: tuple[str, ...]
    folded: str
    """every name folded, each between line feeds, in the order of `names`"""
    other_folded: str
    other_town: Ints
    country: Ints
    state: Ints
    """rank in `states` plus one; 0 for none"""
    lat: Floats
    lon: Floats
    height_m: Floats
    people: Ints
    countries: tuple[tuple[str, str, str], ...]
    """two letters, three letters, name"""
    states: tuple[tuple[str, str, str], ...]
    """two letters of the country, code, name"""


def find_place(text: str) -> Site:
    """The town of this name: 'Dublin', 'Dublin, IE', 'Dublin, Ireland', 'Springfield, Illinois', 'Macon GA'.

    Accents and case do not matter, and ö, ü, å and the like may be written out (oe, ue, aa).
    After the comma, or as the last words of what is no town's name: a
    country, or a state of the US, Canada, Australia or the United Kingdom, by name or as the post has it; of
    several namesakes there the one with most people is taken, and Site.name says which. A county or province,
    which is not listed, is passed over where one town on earth alone is called so, or where a region that is
    listed stands with it; of namesakes that it may part there the second rule holds. Raises UnknownPlace
    for a name that is not listed (with close ones), and for a name with no country of which another bearer
    has more than a third of the first's people, or a twentieth if it lies on the other side of the equator,
    where the seasons are turned, or a hundredth if it is its own name and the first's other one (with the
    bearers).
    """
    known = _gazetteer()
    return _site(known, _town(known, text))


def country_of(text: str) -> str:
    """Two letters of the country in which `find_place` finds the town; raises as it does."""
    known = _gazetteer()
    letters, _, _ = known.countries[int(known.country[_town(known, text)])]
    return letters


def _town(known: _Gazetteer, text: str) -> int:
    """Its row."""
    name, *regions = _name_and_regions(known, text)
    everywhere = sorted(_rows(known, fold(name)), key=lambda row: -known.people[row])
    if not everywhere:
        raise UnknownPlace(_not_listed(known, name))
    rows = everywhere
    listed = [region for region in regions if region and _is_region(known, region)]
    for region in listed if listed or len(everywhere) == 1 else filter(None, regions):
        rows = [row for row in rows if fold(region) in _region_words(known, row)]
    if not rows:
        raise UnknownPlace(Problem(tell("no {name} is listed in {regions}.", name=name,
                                        regions=", ".join(regions)),
                                   tell("Listed are {known}.", known=_listed(known, everywhere))))
    rows = _as_written(known, rows, name)
    parted = any(regions) and len(listed) == len(list(filter(None, regions)))
    rivals = _rivals(known, rows, parted, set(_lines(known.folded, fold(name))))
    if rivals:
        raise UnknownPlace(Problem(
            tell("there are several towns named {name}: {known}.", name=name,
                 known=_listed(known, [rows[0], *rivals])),
            tell("Say which, such as '{known}', or give latitude and longitude.",
                 known=_label(known, rows[0])),
        ))
    return rows[0]


def _as_written(known: _Gazetteer, rows: list[int], name: str) -> list[int]:
    """Where the name has accents as the largest bearer's own has, the bearers with the same: Bodø is not
    Bodó."""
    if name.isascii() or not _same(known.names[rows[0]], name):
        return rows
    return [row for row in rows if _same(known.names[row], name)]


def _same(one: str, other: str) -> bool:
    return unicodedata.normalize("NFC", one).casefold() == unicodedata.normalize("NFC", other).casefold()


def _name_and_regions(known: _Gazetteer, text: str) -> list[str]:
    """Parted at the commas; without one, before the last word or two if those are a region of such a town."""
    parts = [part.strip() for part in text.split(",")]
    words = parts[0].split()
    if len(parts) > 1 or _rows(known, fold(parts[0])):
        return parts
    for at in (len(words) - 1, len(words) - 2):
        name, region = " ".join(words[:at]), " ".join(words[at:])
        if at > 0 and any(fold(region) in _region_words(known, row) for row in _rows(known, fold(name))):
            return [name, region]
    return parts


def fold(words: str) -> str:
    """Without accents, case, dots, apostrophes and hyphens; 'Saint ' as 'st ', 'Sainte ' as 'ste '. Line
    feeds stay."""
    for letter, plain in LETTERS.items():
        words = words.replace(letter, plain)
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    return plain.lower().replace("saint ", "st ").replace("sainte ", "ste ").strip(" ")


def _rows(known: _Gazetteer, key: str) -> set[int]:
    """Towns whose name, or whose other name, folds to the key; where there is none, those whose name does
    with its letters written out."""
    if not key:
        return set()
    others = known.other_town[list(_lines(known.other_folded, key))]
    found = set(_lines(known.folded, key)) | {int(row) for row in others}
    if found or not any(letters in key for letters in WRITTEN_OUT.values()):
        return found
    return set(_lines(_folded_written_out(), key))


@cache
def _folded_written_out() -> str:
    names = "\n".join(_gazetteer().names)
    for letter, letters in WRITTEN_OUT.items():
        names = names.replace(letter, letters)
    return f"\n{fold(names)}\n"


def _lines(folded: str, key: str) -> Iterator[int]:
    """Numbers of the lines that are exactly the key; quicker than making a dictionary for one question."""
    at, line = -1, 0
    while (found := folded.find(f"\n{key}\n", at + 1)) >= 0:
        line += folded.count("\n", max(at, 0), found)
        at = found
        yield line


def _region_words(known: _Gazetteer, row: int) -> set[str]:
    code, code3, country = known.countries[known.country[row]]
    words = {fold(word) for word in (code, code3, country)}
    words |= {word for word, meant in OTHER_COUNTRY_WORDS.items() if meant == code}
    if known.state[row]:
        _, letters, state = known.states[known.state[row] - 1]
        words |= {fold(word) for word in (letters, state, POSTED.get((code, state), ""))} - {""}
    return words


def _is_region(known: _Gazetteer, word: str) -> bool:
    """Whether some country or state goes by the word; a county or a province goes unread."""
    meant, letters = fold(word), {fold(posted) for posted in POSTED.values()}
    words = {fold(each) for row in (*known.countries, *known.states) for each in row}
    return meant in words | letters | set(OTHER_COUNTRY_WORDS)


def _rivals(known: _Gazetteer, rows: list[int], region_said: bool, own: set[int]) -> list[int]:
    """Namesakes that must not be passed over, those with the other half of the year as summer first; where
    a region was said, only those in another country, and of a first that is called so beside its name those
    whose `own` name it is."""
    first, *rest = rows
    apart = great_circle_km(known.lat[first], known.lon[first], known.lat[rest], known.lon[rest])
    turned = (known.lat[rest] < 0) != (known.lat[first] < 0)
    big = known.people[rest] > np.where(turned, TURNED_SHARE, RIVAL_SHARE) * known.people[first]
    elsewhere = known.country[rest] != known.country[first] if region_said else np.ones_like(turned)
    rightly = np.isin(rest, list(own)) & (known.people[rest] > OWN_SHARE * known.people[first])
    rivals = (big & elsewhere | rightly & (first not in own)) & (apart > SAME_PLACE_KM)
    other_first = np.argsort(~turned, kind="stable")
    return [rest[at] for at in other_first if rivals[at]]


def _label(known: _Gazetteer, row: int) -> str:
    state = [known.states[known.state[row] - 1][2]] if known.state[row] else []
    return ", ".join([known.names[row], *state, known.countries[known.country[row]][2]])


def _listed(known: _Gazetteer, rows: list[int]) -> str:
    shown = "; ".join(f"{_label(known, row)} ({known.people[row]:,} people)" for row in rows[:6])
    return shown if len(rows) <= 6 else f"{shown}; and {len(rows) - 6} more"


def _not_listed(known: _Gazetteer, name: str) -> Problem:
    mend = tell("Name the nearest larger town, or give latitude and longitude such as 53.43, -6.24.")
    key = fold(name)
    if not key:
        return Problem(tell("'{name}' has no Latin letters to look for.", name=name), tell(
                        "Write the name in them. {mend}", mend=mend))
    lines = enumerate(known.folded[1:-1].split("\n"))
    alike = [(line, row) for row, line in lines if line[:1] == key[:1] and abs(len(line) - len(key)) <= 2]
    largest = dict(sorted(alike, key=lambda pair: int(known.people[pair[1]])))
    close = [_label(known, largest[line]) for line in get_close_matches(key, largest, n=3, cutoff=0.75)]
    hint = tell("Did you mean {close}? ", close=" or ".join(close)) if close else ""
    return Problem(tell("'{name}' is not in the list of towns.", name=name), hint + mend)


def _site(known: _Gazetteer, row: int) -> Site:
    height = float(known.height_m[row])
    return Site(_label(known, row), float(known.lat[row]), float(known.lon[row]),
                None if np.isnan(height) else height)


def height_about(lat: float, lon: float) -> float | None:
    """Metres above the sea of a point by the three nearest towns with a height, each by 1/(km + 1)²; None
    where the nearest is over 30 km away.

    Beside weather stations it errs by 12 m in the middle, and by less than 80 at nine in ten
    (authorities/around.py, stations within 30 km of a town).
    """
    lats, lons, heights = _heights()
    km = great_circle_km(lat, lon, lats, lons)
    near = np.argpartition(km, NEAR_TOWNS)[:NEAR_TOWNS]
    if km[near].min() > NEAR_TOWN_KM:
        return None
    weight = (km[near] + 1.0) ** -2
    return float(weight @ heights[near] / weight.sum())


@cache
def _heights() -> tuple[Floats, Floats, Floats]:
    """Latitude, longitude and height of the towns whose height is known."""
    with (files("evenpick") / "data" / "places.npz").open("rb") as file, np.load(file) as packed:
        lat, lon = packed["place_hundredths"] / 100
        height = packed["height_m"].astype(np.float64)
    known = height != NO_HEIGHT
    return lat[known], lon[known], height[known]


@cache
def _gazetteer() -> _Gazetteer:
    with (files("evenpick") / "data" / "places.npz").open("rb") as file, np.load(file) as packed:
        words = {name: packed[name].tobytes().decode("utf-8")
                 for name in ("name", "other_name", "countries", "states")}
        lat, lon = packed["place_hundredths"] / 100
        height = packed["height_m"]
        return _Gazetteer(
            names=tuple(words["name"].split("\n")), folded=f"\n{fold(words['name'])}\n",
            other_folded=f"\n{fold(words['other_name'])}\n", other_town=packed["other_town"].astype(np.int64),
            country=packed["country"].astype(np.int64), state=packed["state"].astype(np.int64),
            lat=lat, lon=lon, height_m=np.where(height == NO_HEIGHT, np.nan, height),
            people=packed["people"].astype(np.int64),
            countries=_triples(words["countries"]), states=_triples(words["states"]),
        )


def _triples(text: str) -> tuple[tuple[str, str, str], ...]:
    rows = (line.split("\t") for line in text.split("\n"))
    return tuple((first, second, third) for first, second, third in rows)
