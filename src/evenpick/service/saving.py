"""Seed to be saved: does it come true, what would cross with it, what it takes (docs/design/seed.md)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from evenpick.base.language import later, tell, tell_n
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.seed import Seed, seed_of
from evenpick.crops.seed_saving import SavingSteps, saving_steps
from evenpick.crops.winter import has_winter
from evenpick.garden.diary import SeedGot
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.service.book import record_of
from evenpick.service.setups import garden_of

ComesTrue = Literal["yes", "mostly", "no"]
RAW_BEANS = frozenset(
    {"runner-bean", "dwarf-bean", "climbing-bean", "yardlong-bean", "southern-pea", "lima-bean", "edamame"}
)
"""crops whose ripe seed is poisonous raw"""
BEANS = (
    later("Seed beans are raw beans: never eat them without soaking them, throwing that water away and "
          "boiling them hard.")
)
POTATO = (
    later("Tubers that have turned green are not for eating. Saved tubers carry virus: buy certified "
          "ones every few years, as your local rules have it.")
)
SLIPS = (
    later("Planted as slips: about six weeks before, sprout sound roots in warm, moist sand and take the "
          "shoots. Saved roots carry virus: buy certified slips every few years, as your local rules have "
          "it.")
)
DRY = (
    later("Dry the seed out of the sun at no more than 35 °C (95 °F) until it snaps or breaks and does "
          "not bend."),
    later("Write crop, variety and year on it, and keep it dry and cool: see evenpick tin."),
)
WILD = {
    "Daucus carota": later("wild carrot"), "Beta vulgaris": later("sea beet"),
    "Pastinaca sativa": later("wild parsnip"),
    "Brassica rapa": later("wild turnip"), "Brassica napus": later("oilseed rape in the fields"),
    "Raphanus sativus": later("wild radish"), "Cichorium intybus": later("wild chicory"),
}


@dataclass(frozen=True, slots=True)
class Cross:
    name: str
    when: str
    """when it would: at once, or only if it is let flower"""


@dataclass(frozen=True, slots=True)
class SavingAnswer:
    crop: str
    name: str
    species: str
    pollination: str
    true: ComesTrue
    """whether seed saved here comes true"""
    why: str
    crosses: tuple[Cross, ...]
    isolation_m: float | None
    plants: int
    area_m2: float
    """ground that so many plants hold"""
    cycle: str
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[tuple[str, str], ...]
    """what, and its source"""


def saving(garden: Path, crop: str) -> SavingAnswer:
    """Of one crop, beside what the garden grows and wishes for. UnknownCrop, BadGarden, BadBook."""
    described, record = garden_of(garden), record_of(garden)
    found = load_catalogue().crop(crop)
    seed, steps = seed_of(found.key), saving_steps(found.key)
    crosses = tuple(_crosses(found, seed, described, record))
    true, why = _true(found, seed, crosses, record)
    area = seed.plants * found.spacing.in_row * found.spacing.row
    return SavingAnswer(
        found.key, found.name, seed.species, seed.pollination, true, why, crosses, seed.isolation,
        seed.plants, area, seed.cycle, tuple(_steps(seed, steps, has_winter(described.site.lat))),
        tuple(_cautions(found)),
        ((tell("years of life"), seed.sources["years"]),
         (tell("crossing, isolation, plants"), seed.sources["crossing"]),
         (tell("annual or biennial"), seed.sources["cycle"])),
    )


def _true(crop: Crop, seed: Seed, crosses: tuple[Cross, ...], record: Record) -> tuple[ComesTrue, str]:
    if seed.cycle == "clone":
        return "yes", tell("it is kept by its bulbs, cloves, tubers or slips, and they are the same plant "
                           "again")
    if _only_f1(crop, record):
        return "no", tell("what the tin holds of it is F1: its seed gives a mixture, not the variety")
    if seed.pollination == "self":
        return "yes", tell("it fertilises itself; a stray cross is rare")
    if crosses:
        carrier = tell("the wind carries") if seed.pollination == "wind" else tell("insects carry")
        return "no", tell("{carrier} pollen, and others of {species} grow here or near by", carrier=carrier,
                          species=seed.species)
    return "mostly", tell("pollen comes from afar, so it is as true as the neighbours let it be")


def _only_f1(crop: Crop, record: Record) -> bool:
    packets = [entry.fact for entry in record.entries
               if isinstance(entry.fact, SeedGot) and entry.fact.crop == crop.key]
    return bool(packets) and all(packet.f1 for packet in packets)


def _crosses(crop: Crop, seed: Seed, garden: Garden, record: Record) -> Iterator[Cross]:
    """Others of the species among what the garden wishes for and what stands in it, and other varieties."""
    if seed.pollination in ("self", "clone"):
        return
    wished = {key for wish in garden.wishes for key in wish.crops}
    standing = {sowing.fact.crop for sowing in record.sowings.values() if sowing.ended is None}
    for key in sorted((wished | standing) - {crop.key}):
        other = seed_of(key)
        if other.cycle != "clone" and _same_species(seed.species, other.species):
            yield Cross(load_catalogue().crop(key).name, _when(key, seed, other))
    varieties = sorted({
        sowing.fact.variety for sowing in record.sowings.values()
        if sowing.fact.crop == crop.key and sowing.ended is None and sowing.fact.variety
    })
    if len(varieties) > 1:
        yield Cross(f"{crop.told}: {', '.join(varieties)}", tell("they flower together"))
    if seed.species in WILD:
        yield Cross(tell(WILD[seed.species]), tell("if it grows near by"))


def _same_species(one: str, other: str) -> bool:
    """Squashes are of three species: without the variety's own, they may be the same."""
    return one == other or (one.startswith("Cucurbita") and other.startswith("Cucurbita"))


def _when(key: str, seed: Seed, other: Seed) -> str:
    steps = saving_steps(key)
    if steps is not None and steps.flowers_while_picked:
        return tell("it flowers while it is picked")
    same = tell("in the same year") if other.cycle == seed.cycle else tell("in a year in which both do")
    return tell("only if it is left to flower {same}; clear it before", same=same)


def _steps(seed: Seed, steps: SavingSteps | None, winter: bool) -> Iterator[str]:
    if steps is None:
        yield (tell("keep the best and soundest over winter, and plant those again") if winter else
               tell("keep the best and soundest to the next planting, and plant those again"))
        return
    yield tell_n("take seed from {n} plant or more, the best, and none that bolted or ailed first",
                 "take seed from {n} plants or more, the best, and none that bolted or ailed first",
                 seed.plants)
    if seed.cycle == "biennial":
        yield (tell("it flowers in its second year: its ground is held over winter and to late summer")
               if winter else
               tell("it flowers after months of cold; without a winter it may never, except high up: ask who "
                    "saves seed of it near by"))
    yield steps.how
    flowering = tell("from spring") if winter else tell("after it begins to flower")
    since = flowering if seed.cycle == "biennial" else tell("after it is fit to eat")
    yield tell_n("seed is ripe about {n} week {since}; choose dry days",
                 "seed is ripe about {n} weeks {since}; choose dry days", steps.weeks, since=since)
    yield from DRY


def _cautions(crop: Crop) -> Iterator[str]:
    yield from crop.cautions
    if crop.key in RAW_BEANS:
        yield tell(BEANS)
    if crop.key in ("early-potato", "main-potato"):
        yield tell(POTATO)
    if crop.key == "sweet-potato":
        yield tell(SLIPS)
