"""An INVENTED garden in June 2027, with its sowings under way, in which the diary phrases are read."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from evenpick.base.days import day_number
from evenpick.crops.crop_words import crop_words
from evenpick.garden.diary import CameUp, Cleared, Entry, Fact, PlantedOut, SeedGot, Sowed
from evenpick.garden.diary_asking import Outcome, Understood
from evenpick.garden.diary_grounds import GroundName
from evenpick.garden.diary_json import fact_json
from evenpick.garden.diary_line import Dated, read_line
from evenpick.garden.diary_names import Names, PacketName
from evenpick.garden.diary_scan import plain
from evenpick.garden.record import Record, fold

TODAY = date(2027, 6, 12)
HERE = Path(__file__).resolve().parent
GROUNDS = tuple(
    GroundName(name, "tunnel" if name == "tunnel" else "open", 10.0)
    for name in ("bed 1", "bed 2", "bed 3", "bed 4", "long bed", "south border", "Grandad's patch", "tunnel")
)
SOWN: tuple[tuple[str, str, str, str, str | None, str, str | None], ...] = (
    # id, crop, variety, way, ground, sown, came up
    ("carrot-a", "early-carrot", "Nantes", "direct", "bed 3", "2027-04-03", "2027-04-25"),
    ("carrot-b", "early-carrot", "Amsterdam", "direct", "bed 3", "2027-05-22", None),
    ("beetroot", "beetroot", "Boltardy", "direct", "bed 2", "2027-04-17", "2027-05-01"),
    ("pea", "pea", "Kelvedon Wonder", "direct", "tunnel", "2027-03-06", "2027-03-20"),
    ("kohlrabi", "kohlrabi", "", "direct", "bed 1", "2027-04-24", "2027-05-04"),
    ("leek", "leek", "Musselburgh", "raised", None, "2027-03-13", "2027-03-27"),
    ("leaf-lettuce", "leaf-lettuce", "", "direct", "bed 4", "2027-04-10", "2027-04-20"),
    ("cos-lettuce", "cos-lettuce", "", "direct", "bed 1", "2027-04-10", "2027-04-20"),
    ("broad-bean", "broad-bean", "Aquadulce", "direct", "long bed", "2027-02-27", "2027-03-27"),
    ("runner-bean", "runner-bean", "", "raised", None, "2027-05-08", "2027-05-18"),
    ("dwarf-bean", "dwarf-bean", "", "direct", "bed 4", "2027-05-29", None),
    ("radish", "radish", "French Breakfast", "direct", "bed 2", "2027-05-08", "2027-05-14"),
    ("onion-sets", "onion-sets", "", "planted", "bed 2", "2027-03-20", "2027-04-10"),
    ("tomato", "tomato", "Gardener's Delight", "raised", "tunnel", "2027-02-27", "2027-03-08"),
    ("courgette", "courgette", "", "raised", "Grandad's patch", "2027-04-24", "2027-05-01"),
    ("cucumber", "cucumber", "", "raised", "tunnel", "2027-04-20", "2027-04-27"),
    ("early-potato", "early-potato", "", "planted", "south border", "2027-03-27", "2027-04-25"),
    ("garlic", "garlic", "", "planted", "bed 4", "2026-10-24", "2026-12-01"),
    ("calabrese", "calabrese", "", "raised", None, "2027-05-01", "2027-05-08"),
    ("kale", "kale", "", "raised", None, "2027-05-08", "2027-05-14"),
    ("winter-squash", "winter-squash", "", "raised", None, "2027-04-24", "2027-05-02"),
    ("sweetcorn", "sweetcorn", "", "raised", None, "2027-04-25", "2027-05-03"),
    ("chard", "chard", "", "direct", "bed 1", "2027-04-24", "2027-05-04"),
    ("turnip", "turnip", "", "direct", "bed 2", "2027-05-01", "2027-05-08"),
    ("parsnip", "parsnip", "", "direct", "long bed", "2027-05-15", None),
    ("spinach", "spinach", "", "direct", "bed 1", "2027-03-27", "2027-04-08"),
)
PACKETS = (
    ("p-onion", "onion", "Ailsa Craig"),
    ("p-beet1", "beetroot", "Boltardy"),
    ("p-beet2", "beetroot", "Chioggia"),
    ("p-carrot", "early-carrot", "Nantes"),
)
WISHED = (
    "early-carrot",
    "leaf-lettuce",
    "cos-lettuce",
    "summer-cabbage",
    "winter-cabbage",
    "early-potato",
    "calabrese",
    "pea",
    "radish",
    "beetroot",
)


def day(text: str) -> int:
    return day_number(date.fromisoformat(text))


def record() -> Record:
    """The diary of the garden, folded."""
    entries: list[Entry] = []

    def add(when: str, fact: Fact, identity: str = "") -> None:
        entries.append(Entry(identity or f"e{len(entries)}", day(when), fact))

    for identity, crop, variety, way, ground, sown, up in SOWN:
        raised: Any = way
        in_tunnel = "tunnel" if ground == "tunnel" else "open"
        add(
            sown,
            Sowed(crop, raised, in_tunnel, 2.0, variety, ground if way != "raised" else None),  # type: ignore[arg-type]
            identity,
        )
        if up:
            add(up, CameUp(identity))
        if way == "raised" and ground:
            add("2027-05-29", PlantedOut(identity, ground))
    add("2027-06-01", Cleared("spinach"))
    for identity, crop, variety in PACKETS:
        add("2027-01-10", SeedGot(crop, variety, 2027), identity)
    return fold(entries)


def names(**other: Any) -> Names:
    sowings = tuple(record().sowings.values())
    varieties: dict[str, frozenset[tuple[str, str]]] = {}
    told = [*((crop, variety) for _, crop, variety, *_ in SOWN if variety), *(each[1:] for each in PACKETS)]
    for crop, variety in told:
        varieties[plain(variety)] = varieties.get(plain(variety), frozenset()) | {(crop, variety)}
    grown = frozenset([*WISHED, *(sowing.fact.crop for sowing in sowings)])
    packets = tuple(PacketName(identity, crop, variety, 2027) for identity, crop, variety in PACKETS)
    return Names(crop_words(), GROUNDS, sowings, packets, varieties, grown, **other)


def read(line: str, answers: Mapping[str, str] | None = None) -> Outcome:
    """A line read in the garden on its day."""
    return read_line(line, TODAY, usual_names(), answers)


def fact_of(line: str, answers: Mapping[str, str] | None = None) -> Fact:
    """The one fact that a line tells."""
    outcome = read(line, answers)
    assert isinstance(outcome, Understood), outcome
    (dated,) = outcome.facts
    return dated.fact


@cache
def usual_names() -> Names:
    return names()


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def expected_facts(text: str, today: date) -> list[dict[str, Any]]:
    """Facts as the phrase tables write them: 'picked crop=pea kg=1.2; watered ground=bed 2'."""
    return [_expected(part.strip(), today) for part in text.split(";")]


def _expected(text: str, today: date) -> dict[str, Any]:
    import re

    parts = re.split(r" (?=\w+=)", text)
    shape: dict[str, Any] = {"kind": parts[0], "day": today.isoformat()}
    for part in parts[1:]:
        name, value = part.split("=", 1)
        shape["lost_to" if name == "by" else name] = _value(name, value)
    sowed_crop = shape.get("crop", "")
    if "sowing" in shape:
        sowed_crop = next(each[1] for each in SOWN if each[0] == shape["sowing"])
    if "row_m" in shape:
        shape["area"] = shape.pop("row_m") * crop_words()[sowed_crop].row
    if "plants" in shape:
        words = crop_words()[sowed_crop]
        shape["area"] = shape.pop("plants") * words.in_row * words.row
    return shape


def _value(name: str, value: str) -> Any:
    if name in ("tried", "came", "days"):
        return int(value)
    if name in (
        "row_m",
        "plants",
        "area",
        "kg",
        "pieces",
        "share",
        "seeds",
        "grams",
        "litres",
        "tmin",
        "tmax",
        "rain",
    ):
        return float(value)
    return True if value == "true" else value


def read_facts(facts: tuple[Dated, ...]) -> list[dict[str, Any]]:
    return [{**fact_json(each.fact), "day": each.day.isoformat()} for each in facts]


def same(read: list[dict[str, Any]], wanted: list[dict[str, Any]]) -> bool:
    """Whether facts are the same, numbers to a millionth."""
    if len(read) != len(wanted):
        return False
    return all(
        a.keys() == b.keys() and all(_alike(a[key], b[key]) for key in a)
        for a, b in zip(read, wanted, strict=True)
    )


def _alike(a: Any, b: Any) -> bool:
    return abs(a - b) < 1e-6 if isinstance(a, float) and isinstance(b, float) else bool(a == b)
