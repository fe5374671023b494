"""Rows that a plan shares beside its ground: hours, seed, families (docs/design/season.md, 9 to 11)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import GroundCover
from evenpick.crops.crop import Crop, Way
from evenpick.crops.labour import labour
from evenpick.crops.sown import standing_share
from evenpick.garden.garden import Garden
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS
from evenpick.plan.options import Option
from evenpick.plan.request import Supply

HOURS, SEED, FAMILY = "hours", "seed of ", "family "


@dataclass(frozen=True, slots=True)
class Extra:
    """A row: each candidate takes `coefficient` of `limit` per m² in a week."""

    name: str
    limit: Floats
    """(weeks,)"""
    candidate: Ints
    week: Ints
    coefficient: Floats


def extra_rows(
    options: Sequence[Option], supply: Supply, years: int, garden: Garden, seeds: Mapping[str, float],
    hours: Floats | None, there: Floats,
) -> Iterator[Extra]:
    """`seeds`: what there is of the crops of which no more is bought; `hours`: minutes in each week, `there`
    the part of its days on which somebody is there; (weeks,) both."""
    if hours is not None:
        yield _work(options, supply, years, hours, there)
    for key, have in seeds.items():
        mine = [(n, o) for n, o in enumerate(options) if o.batch.crop.key == key and o.day < 7 * YEAR_WEEKS]
        each = [(n, 0, seeds_per_m2(o.batch.crop, o.batch.way, _emerged(o))) for n, o in mine]
        yield _row(SEED + key, have, each)
    yield from _families(options, garden)


def _row(name: str, limit: float, entries: Sequence[tuple[int, int, float]]) -> Extra:
    candidate, week, coefficient = np.array(entries, dtype=np.float64).reshape(-1, 3).T
    return Extra(name, np.full(WEEKS, limit), candidate.astype(np.int64), week.astype(np.int64), coefficient)


def _emerged(option: Option) -> float:
    return float(option.batch.outcome.emerged[:, option.index].mean())


def seeds_per_m2(crop: Crop, way: Way, emerged: float) -> float:
    """Seeds, losses reckoned in; sets, cloves and tubers by their places. `emerged`: share that comes up."""
    plants = 1.0 / (crop.spacing.in_row * crop.spacing.row)
    if crop.spacing.seeds_per_g is None:
        return plants
    return plants / standing_share(way, emerged)


def _work(
    options: Sequence[Option], supply: Supply, years: int, minutes: Floats, there: Floats
) -> Extra:
    """Sowing, planting out, tending by the week, and picking what ripens in the mean of the years."""
    n = len(options)
    picked = np.bincount(supply.candidate * WEEKS + supply.ripe, supply.kg, n * WEEKS).reshape(n, WEEKS)
    taken = picked / years
    for number, option in enumerate(options):
        batch, i = option.batch, option.index
        each = labour(batch.crop, batch.way.name)
        taken[number] *= each.pick
        taken[number, option.day // 7] += each.sow
        taken[number, int(batch.from_week[i])] += each.plant_out
        held = slice(option.held.start, option.held.stop)
        # what stands while nobody is there is tended before and after
        taken[number, held] += each.tend * there[held]
    # nothing is sown, set or eaten then
    taken[:, minutes <= 0.0] = 0.0
    candidate, week = np.nonzero(taken)
    return Extra(HOURS, minutes, candidate, week, taken[candidate, week])


def _families(options: Sequence[Option], garden: Garden) -> Iterator[Extra]:
    """At any time a family stands on no more than its part of the ground, by cover."""
    covers: tuple[GroundCover, ...] = ("open", "tunnel") if garden.limits.rotated_tunnel else ("open",)
    for family, years in garden.limits.rotation.items():
        for cover in covers:
            mine = [
                (number, week, 1.0) for number, option in enumerate(options)
                if option.batch.crop.family == family
                and (option.batch.cover == "tunnel") == (cover == "tunnel")
                for week in option.held
            ]
            if mine and years > 1:
                yield _row(f"{FAMILY}{family} {cover}", garden.area(cover) / years, mine)
