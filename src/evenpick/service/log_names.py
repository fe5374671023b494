"""The garden's own names for a line of the diary, read from the book and the garden file in a moment.

The whole garden is checked elsewhere; here only its ground, wishes, seed and words are taken.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from functools import cache, partial
from pathlib import Path
from typing import Any

from evenpick.base.days import day_number
from evenpick.base.errors import EvenpickError
from evenpick.base.trade import CoverName
from evenpick.crops.crop_words import crop_words
from evenpick.garden.areas import bed_shape
from evenpick.garden.diary import CameUp, Cleared, Entry, Lost, PlantedOut, SeedGot, Sowed
from evenpick.garden.diary_grounds import GroundName
from evenpick.garden.diary_names import Names, PacketName, PlannedName
from evenpick.garden.diary_scan import plain
from evenpick.garden.packet_ids import file_packet_id
from evenpick.garden.record import Record, Sowing
from evenpick.service.book import record_of
from evenpick.service.setups import garden_of, setup_text
from evenpick.store.book import Book, book_path

KINDS = tuple(fact.kind for fact in (Sowed, CameUp, PlantedOut, Lost, Cleared, SeedGot))
"""all that tells which sowings are under way; pickings would only make it slow"""


def names_of(garden: Path, record: Record | None = None) -> Names:
    """BadGarden where the garden file can't be read, BadBook where the book can't."""
    return names_in(garden, told_of(garden), record_of(garden, KINDS) if record is None else record)


def names_in(garden: Path, told: Mapping[str, Any], found: Record) -> Names:
    """As `names_of`, of a garden file that was read already (`told_of`)."""
    words = _section(told, "words")
    sowings = tuple(found.sowings.values())
    crops = Names(crop_words()).words
    wished = {
        key
        for wish in _tables(told, "wish")
        for name in _wished(wish)
        for key in crops.get(plain(name), ())[:1]
    }
    packets = (
        *_file_packets(told, crops),
        *(_packet(entry, entry.fact) for entry in found.entries if isinstance(entry.fact, SeedGot)),
    )
    kinds = [(sowing.fact.crop, sowing.fact.variety) for sowing in sowings]
    kinds += [(packet.crop, packet.variety) for packet in packets]
    english = words.get("english")
    return Names(
        crop_words(),
        _grounds(garden, told),
        sowings,
        packets,
        _varieties(kinds),
        frozenset([*wished, *(crop for crop, _ in kinds)]),
        None if english is None else english == "british",
        words.get("units") == "imperial",
        cache(partial(_planned, garden)),
        english == "american",
        _room(told),
    )


def names_after(names: Names, sowings: tuple[Sowing, ...], entries: Iterable[Entry]) -> Names:
    """Names once more entries are written; `sowings` are all there then are."""
    facts = [(entry, entry.fact) for entry in entries]
    packets = [_packet(entry, fact) for entry, fact in facts if isinstance(fact, SeedGot)]
    kinds = [(fact.crop, fact.variety) for _, fact in facts if isinstance(fact, (Sowed, SeedGot))]
    if not kinds:
        return replace(names, sowings=sowings)
    return replace(names, sowings=sowings, packets=(*names.packets, *packets),
                   varieties=_varieties(kinds, names.varieties),
                   grown=names.grown | {crop for crop, _ in kinds})


def told_of(garden: Path) -> Mapping[str, Any]:
    """What the garden's set-up says, as TOML has it. BadGarden, BadBook."""
    text = setup_text(garden)
    try:
        return tomllib.loads(text.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError:
        garden_of(garden)  # tells the fault with its line
        raise


def _section(told: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    found = told.get(name)
    return found if isinstance(found, dict) else {}


def _tables(told: Mapping[str, Any], name: str) -> list[Mapping[str, Any]]:
    found = told.get(name)
    return [each for each in found if isinstance(each, dict)] if isinstance(found, list) else []


def _wished(wish: Mapping[str, Any]) -> list[str]:
    """Crops of a wish; without a list its item is one."""
    named = wish.get("crops")
    return [str(name) for name in named] if isinstance(named, list) else [str(wish.get("item", ""))]


def _grounds(garden: Path, told: Mapping[str, Any]) -> tuple[GroundName, ...]:
    """Every piece of ground and every bed of it."""
    try:
        each_ground = [tuple(_beds(ground)) for ground in _tables(told, "ground")]
    except (KeyError, EvenpickError):
        garden_of(garden)  # tells the fault with its line
        raise
    return tuple({each.name: each for beds in each_ground for each in beds}.values())


def _room(told: Mapping[str, Any]) -> Mapping[CoverName, float]:
    """m² of all the ground under each cover; the file is known to be read by now."""
    room: dict[CoverName, float] = {}
    for ground in _tables(told, "ground"):
        cover = _cover(ground)
        room[cover] = room.get(cover, 0.0) + bed_shape(str(ground["area"])).whole
    return room


def _cover(ground: Mapping[str, Any]) -> CoverName:
    return "tunnel" if ground.get("cover") == "tunnel" else "open"


def _beds(ground: Mapping[str, Any]) -> Iterator[GroundName]:
    cover = _cover(ground)
    name, shape = str(ground["name"]), bed_shape(str(ground["area"]))
    yield GroundName(name, cover, shape.whole)
    told = ground.get("beds")
    names = (
        [str(bed) for bed in told]
        if isinstance(told, list)
        else [f"{name} {number}" for number in range(1, shape.count + 1)]
    )
    if shape.count > 1:
        for bed in names:
            yield GroundName(bed, cover, shape.area, name)


def _file_packets(told: Mapping[str, Any], crops: Mapping[str, tuple[str, ...]]) -> Iterator[PacketName]:
    for seed in _tables(told, "seed"):
        variety, year = str(seed.get("variety", "")), seed.get("year")
        for key in crops.get(plain(str(seed.get("crop", ""))), ())[:1]:
            if isinstance(year, int):
                yield PacketName(file_packet_id(key, variety, year), key, variety, year)


def _packet(entry: Entry, got: SeedGot) -> PacketName:
    return PacketName(entry.id, got.crop, got.variety, got.year)


def _varieties(
    kinds: Iterable[tuple[str, str]], known: Mapping[str, frozenset[tuple[str, str]]] | None = None
) -> Mapping[str, frozenset[tuple[str, str]]]:
    found = dict(known or {})
    for crop, variety in kinds:
        if len(plain(variety)) > 2:
            found[plain(variety)] = found.get(plain(variety), frozenset()) | {(crop, variety)}
    return found


def _planned(garden: Path) -> list[PlannedName]:
    """The kept plan's sowings, or none where it is of a form that is not read any more."""
    kept = Book(book_path(garden)).plan()
    if kept is None:
        return []
    try:
        return [
            PlannedName(
                each["id"],
                each["crop"],
                each["way"],
                each["cover"],
                day_number(date.fromisoformat(each["sow"])),
                day_number(date.fromisoformat(out)) if (out := each.get("plant_out")) else None,
                each["area_m2"],
                each["plants"],
                each["seeds"],
            )
            for each in json.loads(kept.body)["sowings"]
        ]
    except (ValueError, TypeError, KeyError):
        return []
