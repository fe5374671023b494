"""Sowings that stand, or are fixed, as the plan tells of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from evenpick.base.days import day_date
from evenpick.crops.sown import amount
from evenpick.crops.ways import way_of
from evenpick.plan.standing import Grown, serves
from evenpick.plan.wanted import WantedItem
from evenpick.service.outlook_answer import Band
from evenpick.service.plan_answer import PlannedSowing, StandingSowing
from evenpick.service.sowing_ids import named
from evenpick.service.sowings import first_picking
from evenpick.service.standing import UnderWay


def told(one: Grown, wanted: Sequence[WantedItem]) -> StandingSowing:
    standing, item = one.standing, serves(one, wanted)
    by_year = np.bincount(one.year, one.kg, one.outcome.first.shape[0])
    low, likely, high = (float(kg) for kg in np.quantile(by_year, (0.1, 0.5, 0.9)))
    return StandingSowing(
        standing.id, day_date(standing.sow), one.crop.key, one.crop.name, standing.way, standing.cover,
        standing.ground, standing.area, standing.left, None if item is None else wanted[item].name,
        first_picking(one.outcome, 0, one.start), Band(low, likely, high), _clear(one), _ground_from(one),
    )


def _ground_from(one: Grown) -> date | None:
    """The Monday from which it takes ground, if that is still to come."""
    first = min((hold.first for hold in one.holds if hold.row in ("open", "tunnel")), default=0)
    return day_date(one.horizon + 7 * first) if first > 0 else None


def _clear(one: Grown) -> date:
    """The Monday from which its ground is free."""
    ends = [hold.end for hold in one.holds if hold.row in ("open", "tunnel")]
    return day_date(one.horizon + 7 * max(ends, default=0))


def fixed_sowings(fixed: Sequence[PlannedSowing], stood: Sequence[Grown]) -> list[PlannedSowing]:
    """Fixed sowings with their amounts and days as they now look."""
    by_id = {one.standing.id: one for one in stood}
    return [_again(sowing, by_id[sowing.id]) for sowing in fixed if sowing.id in by_id]


def _again(sowing: PlannedSowing, one: Grown) -> PlannedSowing:
    way = way_of(one.crop, sowing.way)
    sown = amount(one.crop, way, sowing.area_m2, float(one.outcome.emerged[:, 0].mean()))
    out = day_date(one.start + int(np.median(one.outcome.place[:, 0]))) if way.name == "raised" else None
    return replace(
        sowing, row_m=sown.row_m, plants=sown.plants, seeds=sown.seeds, grams=sown.grams, plant_out=out,
        first_picking=first_picking(one.outcome, 0, one.start), clear=_clear(one),
    )


def listed(
    new: Sequence[PlannedSowing], fixed: Sequence[PlannedSowing], season: UnderWay
) -> tuple[PlannedSowing, ...]:
    """New and fixed sowings by day, numbered from 1; new ones named after those of the plan before."""
    before = () if season.before is None else season.before.sowings
    gone = season.decided.names
    names = named(new, [sowing for sowing in before if sowing.id not in gone], gone)
    every = sorted((*names, *fixed), key=lambda sowing: (sowing.sow, sowing.number))
    return tuple(replace(sowing, number=number) for number, sowing in enumerate(every, 1))
