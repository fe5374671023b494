"""The seed tin: packets and what is left in them, by the garden file and the diary (docs/design/seed.md)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from evenpick.base.days import day_date
from evenpick.garden.diary import Entry, SeedGot, SeedLeft, SeedTested, Sowed
from evenpick.garden.garden import Packet
from evenpick.garden.packet_ids import file_packet_id


@dataclass(frozen=True, slots=True)
class GerminationTest:
    day: int
    tried: int
    came: int


@dataclass(frozen=True, slots=True)
class Tinned:
    """One packet as it is now. Seeds and grams are None where nobody said how much there is."""

    id: str
    """of the entry, or made of the garden file's line"""
    crop: str
    variety: str
    year: int | None
    seeds: float | None
    grams: float | None
    germination: float | None
    """the maker's share, or the one the garden file calls tested"""
    tests: tuple[GerminationTest, ...] = ()
    f1: bool | None = None
    saved: bool = False
    reckoned: bool = False
    """something was sown from it of which the amount was not said"""
    undated: bool = False
    """the share that germinated was tried by the grower on a day that is not said, some time since packing"""


def tin(
    packets: Sequence[Packet], entries: Iterable[Entry], seeds_per_g: Mapping[str, float | None]
) -> tuple[Tinned, ...]:
    """Packets of the garden file, then those of the diary in the order they came.

    A sowing takes from the packet it names; else from the one packet of its crop and variety, if there is
    just one. What was sown without a number of seeds only marks the packet as reckoned.
    """
    found = {one.id: one for one in (_of_file(packet) for packet in packets)}
    for entry in sorted(entries, key=lambda entry: (entry.day, entry.id)):
        fact = entry.fact
        if isinstance(fact, SeedGot):
            year = fact.year if fact.year is not None else day_date(entry.day).year
            found[entry.id] = Tinned(entry.id, fact.crop, fact.variety, year, fact.seeds, fact.grams,
                                     fact.germination, (), fact.f1, fact.saved)
        elif isinstance(fact, SeedTested) and fact.packet in found:
            one = found[fact.packet]
            test = GerminationTest(entry.day, fact.tried, fact.came)
            found[fact.packet] = replace(one, tests=(*one.tests, test))
        elif isinstance(fact, SeedLeft) and fact.packet in found:
            one = found[fact.packet]
            found[one.id] = replace(one, seeds=fact.seeds, grams=fact.grams, reckoned=False)
        elif isinstance(fact, Sowed) and not fact.bought:
            packet = _sown_from(fact, found)
            if packet is not None:
                found[packet] = _less(found[packet], fact, seeds_per_g.get(fact.crop))
    return tuple(found.values())


def _of_file(packet: Packet) -> Tinned:
    name = file_packet_id(packet.crop, packet.variety, packet.year)
    return Tinned(name, packet.crop, packet.variety, packet.year, packet.seeds, packet.grams,
                  packet.germination, undated=packet.germination is not None)


def _sown_from(fact: Sowed, found: dict[str, Tinned]) -> str | None:
    if fact.packet is not None:
        return fact.packet if fact.packet in found else None
    alike = [one.id for one in found.values() if one.crop == fact.crop and not _empty(one)
             and (not fact.variety or one.variety.casefold() == fact.variety.casefold())]
    return alike[0] if len(alike) == 1 else None


def _empty(one: Tinned) -> bool:
    return one.seeds == 0 or one.grams == 0


def _less(one: Tinned, fact: Sowed, per_g: float | None) -> Tinned:
    if fact.seeds is None:
        return replace(one, reckoned=True)
    grams = None if one.grams is None else one.grams - fact.seeds / per_g if per_g else one.grams
    return replace(
        one, seeds=None if one.seeds is None else max(0.0, one.seeds - fact.seeds),
        grams=None if grams is None else max(0.0, grams),
    )
