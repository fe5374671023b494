"""What no plan can do in a garden, since when, and what would mend it (docs/design/season.md, 17)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.language import later, tell, together
from evenpick.crops.labour import labour
from evenpick.garden.garden import Bench, Garden, Ground
from evenpick.plan.horizon import COUNTED_WEEKS, WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.options import Batch
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem
from evenpick.plan.weekly import weeks_of

WHOLE_METRES = 10.0  # m²: of more ground no parts are told
LEAST_GROUND = 1e-6  # m²: less is none
TRIED = 10.0  # m² of tunnel, to see whether one would help
WARM = 16.0  # °C of a heated bench
NEARLY_ALL = 0.995  # of what is wanted: no bound is told above it
GrowIn = Callable[[Garden, Sequence[str]], Mapping[str, Sequence[Batch]]]
"""a garden and catalogue keys → the batches of each crop in it"""


@dataclass(frozen=True, slots=True)
class Lack:
    """More ground that is needed than there is, m² in the mean of the first year."""

    need: float
    there: float
    at_rest: bool
    """whether some of the ground is at rest and not counted as there"""
    most: float
    """a share of the portions wanted that no plan can be above"""


def too_much(garden: Garden, work: Task, wanted: Sequence[WantedItem], horizon: Horizon) -> Iterator[str]:
    """Wishes that ground or hours could not meet if every week were filled with the best of sowings."""
    if nothing_but_rest(garden, horizon):
        yield tell("All the ground is at rest in the first year, so nothing can be sown.")
    items = range(len(wanted))
    lack = lack_of_ground(garden, work, wanted, horizon, items)
    if lack is not None:
        what = later("What is wanted in the first year needs at least {need} m² all year round, at the "
                     "best pace of each crop; there are {there} m².")
        if lack.at_rest:
            what = later("What is wanted in the first year needs at least {need} m² all year round, at "
                         "the best pace of each crop; there are {there} m² in the mean, what is at rest left "
                         "out.")
        yield " ".join(filter(None, (
            tell(what, need=plain_area(lack.need), there=plain_area(lack.there)), at_most(lack),
            alike(garden, lack),
            tell("More ground would mend it, or fewer wishes."),
        )))
    short = lack_of_hours(garden, work, wanted, items)
    if short is not None:
        yield tell("Picking what is wanted would alone take {hours:.1f} h in a week of the year; there are "
                   "{limits_hours:.1f} h. More hands would mend it, or less of what is slow to pick.",
                   hours=short[0], limits_hours=short[1])


def nothing_but_rest(garden: Garden, horizon: Horizon) -> bool:
    """Whether all its ground is at rest in the first year."""
    return garden.cropped > 0 and _there(garden, horizon, YEAR_WEEKS) <= LEAST_GROUND


def lack_of_ground(
    garden: Garden, work: Task, wanted: Sequence[WantedItem], horizon: Horizon, items: Sequence[int]
) -> Lack | None:
    """What is wanted of some items against all the ground that may bear them; None where it may be enough."""
    year, best = to_grow(work, wanted), best_pace(work, len(wanted), WEEKS)
    there = _there(garden, horizon, YEAR_WEEKS)
    need = sum(year[item] / best[item] for item in items if best[item] > 0) / YEAR_WEEKS
    if not need > there > LEAST_GROUND:
        return None
    most = most_met(work, _there(garden, horizon, COUNTED_WEEKS), items)
    return Lack(need, there, there < garden.cropped, most)


def lack_of_hours(
    garden: Garden, work: Task, wanted: Sequence[WantedItem], items: Sequence[int]
) -> tuple[float, float] | None:
    """Hours in the mean week that picking what is wanted of some items takes, and those there are; None where
    these are enough, or nobody counts them."""
    if garden.limits.hours is None:
        return None
    year, minutes = to_grow(work, wanted), 0.0
    for number in items:
        each = [labour(o.batch.crop, o.batch.way.name).pick for o in work.options if o.item == number]
        minutes += year[number] * min(each, default=0.0)
    hours = minutes / 60 / YEAR_WEEKS
    return (hours, garden.limits.hours) if hours > garden.limits.hours else None


def to_grow(work: Task, wanted: Sequence[WantedItem]) -> list[float]:
    """kg of each item in the first year beside what comes without a sowing."""
    come = np.bincount(work.given.item, work.given.kg, len(wanted)) / work.request.years
    return [max(float(item.kg[:YEAR_WEEKS].sum() - kg), 0.0) for item, kg in zip(wanted, come, strict=True)]


def _there(garden: Garden, horizon: Horizon, weeks: int) -> float:
    """m² that can be cropped in the mean of the first so many weeks."""
    return garden.cropped - garden.resting(horizon.start, horizon.start + 7 * weeks)


def at_most(lack: Lack) -> str:
    """The most that any plan can meet."""
    if lack.most >= NEARLY_ALL:
        return ""
    return tell("No plan can meet more than about {share:.0f} % of the portions wanted, and that only with "
                "what gives most for its ground.", share=max(1.0, 100 * lack.most))


def alike(garden: Garden, lack: Lack) -> str:
    """How many of each outlet's shares could have all that they want."""
    share = lack.there / lack.need
    boxes = [tell("{max} of {shares} shares for {name}", max=max(1, int(share * o.shares)), shares=o.shares,
                  name=o.name)
             for o in garden.outlets if o.shares > 1]
    if not boxes:
        return ""
    return tell("With all items in equal part it is enough for about {boxes}.",
                boxes=together(boxes))


def most_met(work: Task, there: float, items: Sequence[int]) -> float:
    """A share of what is wanted of some items in the counted weeks, in portions, that no plan on so many m²
    can be above: all ground in all weeks, filled with what gives most portions to a square metre and week,
    each item as far as it is wanted."""
    request, number = work.request, len(work.request.items)
    weight = np.array([item.weight for item in request.items])
    wanted = np.zeros(number)
    wanted[list(items)] = request.wanted[list(items), :COUNTED_WEEKS].sum(axis=1)
    come = np.minimum(np.bincount(work.given.item, work.given.kg, number) / request.years, wanted)
    pace, left, met = best_pace(work, number, COUNTED_WEEKS), there * COUNTED_WEEKS, float(weight @ come)
    for item in np.argsort(-weight * pace, kind="stable"):
        ground = min(left, (wanted[item] - come[item]) / pace[item]) if pace[item] > 0 else 0.0
        left, met = left - ground, met + float(weight[item] * pace[item] * ground)
    return met / max(float(weight @ wanted), 1e-9)


def plain_area(area: float) -> str:
    """m² as far as anybody measures them."""
    return f"{area:.0f}" if area >= WHOLE_METRES else f"{area:.2g}"


def best_pace(work: Task, items: int, weeks: int, farm: int | None = None) -> Floats:
    """The most kg that any sowing of each item gives to a square metre and week of ground, mean of years;
    both only as far as they lie in the first `weeks`; on one `farm` alone where it is told."""
    request, n = work.request, len(work.options)
    ripe = request.supply.ripe < weeks
    kg = np.bincount(request.supply.candidate[ripe], request.supply.kg[ripe], n) / request.years
    held = np.array([float(min(o.held.stop, weeks) - o.held.start) for o in work.options])
    best = np.zeros(items)
    own = np.array([farm is None or option.farm == farm for option in work.options], dtype=bool)
    np.maximum.at(best, request.candidates.item[own], (kg / np.maximum(held, 1.0))[own])
    return best


def what_would_mend(
    garden: Garden, missing: Mapping[int, Bools], wanted: Sequence[WantedItem], grow_in: GrowIn,
    made: Mapping[str, Sequence[Batch]],
) -> Mapping[int, tuple[str, Bools]]:
    """For items (by number) with weeks that nothing can serve: what would, and the weeks it would.

    Water where nobody waters; else a tunnel, a heated bench and both are tried in this order, by growing
    the crops so. Weeks that what is `made` in the garden as it is could serve miss something else: days on
    which somebody is there, a sowing worth making.
    """
    found: dict[int, tuple[str, Bools]] = {}
    for words, other in _others(garden):
        left = {number: weeks for number, weeks in missing.items() if number not in found}
        if not left:
            break
        there = grow_in(other, list(dict.fromkeys(key for number in left for key in wanted[number].crops)))
        for number, weeks in left.items():
            now, then = (weeks_of([batch for key in wanted[number].crops for batch in each.get(key, ())])
                         for each in (made, there))
            served = weeks & then & ~now
            if served.any():
                found[number] = words, served
    return found


def _others(garden: Garden) -> Iterator[tuple[str, Garden]]:
    """The garden with what it has not."""
    if not garden.watered:  # what wants water first: a tunnel that nobody waters grows nothing
        yield tell("water"), replace(garden, watered=True)
        return
    tunnel = replace(garden, grounds=(*garden.grounds, Ground("a tunnel", "tunnel", TRIED)))
    bench = Bench(1000, WARM)
    cold = garden.bench is None or not garden.bench.places or garden.bench.lowest < WARM
    if not garden.area("tunnel"):
        yield tell("a tunnel"), tunnel
    if cold:
        yield tell("a raising bench kept at {warm:.0f} °C", warm=WARM), replace(garden, bench=bench)
    if not garden.area("tunnel") and cold:
        yield tell("a tunnel and a raising bench kept at {warm:.0f} °C",
                   warm=WARM), replace(tunnel, bench=bench)
