"""Planned sowings as a grower works them: metres of row, plants or square metres; grams or seeds."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from evenpick.base.language import later, tell, tell_n
from evenpick.crops.sown import planted_as
from evenpick.report.days import day, full_day, span
from evenpick.report.page import Block, Column, Heading, Table, Text
from evenpick.report.words import OUNCE_G, Words, count
from evenpick.service.plan_answer import PlannedSowing, SeedNeed

LEAST_OZ = 0.05  # of seed: lettuce for a whole bed was "<0.01 oz of seed"
FEW_SEEDS = 100  # up to here they are counted, above they are weighed


def _columns() -> tuple[Column, ...]:
    return (
        Column(tell("sow")), Column(tell("what"), wraps=True), Column(tell("where")),
        Column(tell("amount"), align="right"), Column(tell("seed"), align="right"), Column(tell("plant out")),
        Column(tell("first picked")), Column(tell("why"), below=True),
    )


def sowings_by_year(
    sowings: Sequence[PlannedSowing], words: Words, heading: str = later("sowings of {year}")
) -> list[Block]:
    """A heading and a table for each calendar year, one row a sowing, in the order of their days.

    Planting out and first picking need no year: they come within twelve months of the sowing.
    """
    ordered = sorted(sowings, key=lambda sowing: (sowing.sow, sowing.number))
    blocks: list[Block] = []
    for year, of_year in groupby(ordered, key=lambda sowing: sowing.sow.year):
        rows = tuple(_row(sowing, words) for sowing in of_year)
        blocks += [Heading(tell(heading, year=year)), Table(_columns(), rows)]
    return blocks


def amount(row_m: float | None, plants: int | None, area_m2: float, raised: bool, words: Words) -> str:
    """How much of it, as the grower works: plants where it is raised, else metres of row, plants or m²."""
    if row_m is not None and (not raised or plants is None):
        return words.row(row_m)
    return tell_n("{n:,} plant", "{n:,} plants", plants) if plants is not None else words.area(area_m2)


def seed(seeds: float | None, grams: float | None, words: Words) -> str:
    if grams is not None and _weighed(seeds, grams, words):
        return words.grams(grams)
    return "" if seeds is None else count(seeds)


def _weighed(seeds: float | None, grams: float, words: Words) -> bool:
    """Many seeds are weighed, if there is enough of them for the reader's unit to say how much."""
    return seeds is None or (seeds > FEW_SEEDS and (not words.imperial or grams >= LEAST_OZ * OUNCE_G))


def seed_words(seeds: float | None, grams: float | None, words: Words) -> str:
    """Seed as a job names it: '40 seeds', '0.6 g of seed'; empty for sets, cloves and tubers."""
    said = seed(seeds, grams, words)
    by_weight = grams is not None and _weighed(seeds, grams, words)
    if not said:
        return ""
    if by_weight:
        return tell("{amount} of seed", amount=said)
    return tell_n("{number} seed", "{number} seeds", 1 if said == "1" else 2, number=said)


def _row(sowing: PlannedSowing, words: Words) -> tuple[str, ...]:
    first = sowing.first_picking
    return (
        day(sowing.sow), words.name(sowing.name), words.cover(sowing.cover),
        amount(sowing.row_m, sowing.plants, sowing.area_m2, sowing.way == "raised", words),
        seed(sowing.seeds, sowing.grams, words),
        day(sowing.plant_out) if sowing.plant_out else "",
        span(first[0], first[2]) if first else "", sowing.because,
    )


def seed_covers(covers: tuple[date, date]) -> Text:
    """The first and last day of the weeks for whose sowings seed is told."""
    first, last = covers
    return Text(tell("For the sowings still to be made in the 52 weeks from {first} to {last}.",
                     first=full_day(first), last=full_day(last)))


def seed_table(needs: Sequence[SeedNeed], words: Words) -> Table:
    """What the year's sowings need, what the tin has and what is to be bought."""
    columns = (Column(tell("crop"), wraps=True), Column(tell("seeds"), align="right"),
               Column(tell("weight"), align="right"),
               Column(tell("in the tin"), align="right"), Column(tell("to buy"), align="right"))
    return Table(columns, tuple(
        (words.name(need.name), seeds_counted(need.crop, need.seeds),
         "" if need.grams is None else words.grams(need.grams), seeds_counted(need.crop, need.have_seeds),
         seeds_counted(need.crop, need.buy_seeds))
        for need in needs
    ))


def seeds_counted(crop: str, seeds: float | None) -> str:
    """How many; of what is planted with the word for it."""
    return "" if seeds is None else count(seeds) if not planted_as(crop) else pieces_of_seed(crop, seeds)


def pieces_of_seed(crop: str, number: float) -> str:
    """Seeds, or the tubers, slips, cloves or sets of what is planted."""
    said, whole = count(number), round(number)
    match planted_as(crop):
        case "tuber":
            return tell_n("{seeds} tuber", "{seeds} tubers", whole, seeds=said)
        case "slip":
            return tell_n("{seeds} slip", "{seeds} slips", whole, seeds=said)
        case "clove":
            return tell_n("{seeds} clove", "{seeds} cloves", whole, seeds=said)
        case "set":
            return tell_n("{seeds} set", "{seeds} sets", whole, seeds=said)
    return tell_n("{seeds} seed", "{seeds} seeds", whole, seeds=said)
