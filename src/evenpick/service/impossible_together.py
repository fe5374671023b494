"""What no plan of a cooperative can do, and on which farm what would mend it
(docs/design/cooperative.md, 9)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.language import tell
from evenpick.base.language import together as all_of
from evenpick.garden.cooperative import Cooperative
from evenpick.garden.garden import Garden
from evenpick.garden.limits import NO_LIMITS
from evenpick.plan.farms import row_of
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.options import Batch
from evenpick.plan.rows import HOURS
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem
from evenpick.plan.weekly import weeks_of
from evenpick.plan.worth import Worth
from evenpick.service.impossible import (
    GrowIn,
    Lack,
    alike,
    at_most,
    best_pace,
    lack_of_ground,
    lack_of_hours,
    nothing_but_rest,
    plain_area,
    to_grow,
    too_much,
    what_would_mend,
)

GROUND = ("open", "tunnel")
AS_MUCH = 0.9
"""of the pace on the best farm: as good a place for more ground (our choice)"""
LITTLE = 0.1
"""of what one more brings where it brings most: below it a farm has enough of it (our choice)"""


@dataclass(frozen=True, slots=True)
class Growers:
    """Who of a cooperative may grow what."""

    own: Cooperative
    gardens: Sequence[Garden]
    of_item: Sequence[frozenset[int]]
    """by item the numbers of the farms that may sow some crop of it"""

    @property
    def every(self) -> frozenset[int]:
        return frozenset(range(len(self.gardens)))

    def who(self) -> Bools:
        """Who may grow what; (farms, items)."""
        return np.array([[farm in farms for farms in self.of_item] for farm in range(len(self.gardens))])

    def names(self, farms: frozenset[int]) -> list[str]:
        return [self.own.farms[number].name for number in sorted(farms)]

    def named(self) -> list[list[str]] | None:
        """Names of the farms by item; None where there is one farm, whose rows bear no name."""
        return None if len(self.gardens) == 1 else [self.names(farms) for farms in self.of_item]

    def garden_of(self, farms: frozenset[int]) -> Garden:
        """All ground and hours of some farms, and what all want, as of one garden."""
        gardens = [self.gardens[number] for number in sorted(farms)]
        hours = [garden.limits.hours for garden in gardens]
        known = [each for each in hours if each is not None]
        return replace(
            gardens[0], outlets=self.own.outlets, wishes=self.own.wishes,
            grounds=tuple(each for garden in gardens for each in garden.grounds),
            anyway=tuple(each for garden in gardens for each in garden.anyway),
            limits=replace(NO_LIMITS, hours=sum(known) if len(known) == len(hours) else None,
                           rests=tuple(each for garden in gardens for each in garden.limits.rests)),
        )


def too_much_together(
    growers: Growers, work: Task, areas: Floats, wanted: Sequence[WantedItem], horizon: Horizon
) -> Iterator[str]:
    """Wishes that the ground or the hours of the farms that may grow them could not meet, the fewest farms
    first: what stands to be had of one farm alone is not helped by the ground of the others."""
    if len(growers.gardens) == 1:
        yield from too_much(growers.garden_of(growers.every), work, wanted, horizon)
        return
    most = _Most(growers, work, areas, wanted)
    groups = {farms for farms in growers.of_item if farms} | {growers.every}
    for farms in sorted(groups, key=lambda each: (len(each), sorted(each))):
        items = [number for number, own in enumerate(growers.of_item) if own and own <= farms]
        garden = growers.garden_of(farms)
        if nothing_but_rest(garden, horizon):
            yield tell("All the ground of {farms} is at rest in the first year, so nothing can be sown "
                       "there.", farms=all_of(growers.names(farms)))
        ground = lack_of_ground(garden, work, wanted, horizon, items)
        if ground is not None:
            yield _ground(growers, farms, items, wanted, garden, ground, most)
        hours = lack_of_hours(garden, work, wanted, items)
        if hours is not None:
            yield _hours(growers, farms, items, wanted, hours, most)


def _ground(
    growers: Growers, farms: frozenset[int], items: Sequence[int], wanted: Sequence[WantedItem],
    garden: Garden, lack: Lack, most: _Most,
) -> str:
    of = {"need": plain_area(lack.need), "there": plain_area(lack.there)}
    if farms == growers.every:
        what = tell("What is wanted in the first year needs at least {need} m² all year round, at the "
                    "best pace of each crop; all farms together have {there} m².", **of)
        more = alike(garden, lack)
    else:
        what = tell("{items}, for {farms} alone to grow: what is wanted in the first year needs at least "
                    "{need} m² all year round, at the best pace of each crop; there are {there} m².",
                    items=_items(items, wanted), farms=all_of(growers.names(farms)), **of)
        more = ""
    at_rest = tell("What is at rest is left out.") if lack.at_rest else ""
    mend = _more_ground(growers, farms, items, most)
    return " ".join(filter(None, (what, at_rest, at_most(lack), more, mend)))


def _more_ground(growers: Growers, farms: frozenset[int], items: Sequence[int], most: _Most) -> str:
    best = all_of(most.ground(farms, items))
    if farms == growers.every:
        return (tell("More ground would mend it, on {farm} most of all, or fewer wishes.", farm=best) if best
                else tell("More ground on any farm would mend it, or fewer wishes."))
    return (tell("More ground there would mend it, on {farm} most of all, other farms that grow it too, or "
                 "fewer wishes.", farm=best) if best
            else tell("More ground there would mend it, other farms that grow it too, or fewer wishes."))


def _hours(
    growers: Growers, farms: frozenset[int], items: Sequence[int], wanted: Sequence[WantedItem],
    lack: tuple[float, float], most: _Most,
) -> str:
    hours, there = lack
    if farms == growers.every:
        what = tell("Picking what is wanted would alone take {hours:.1f} h in a week of the year; all farms "
                    "together have {there:.1f} h.", hours=hours, there=there)
    else:
        what = tell("{items}, for {farms} alone to grow: picking this would take {hours:.1f} h in a week of "
                    "the year; there are {there:.1f} h.", items=_items(items, wanted),
                    farms=all_of(growers.names(farms)), hours=hours, there=there)
    best = all_of(most.hours(farms))
    mend = (tell("More hands would mend it, on {farm} most of all, or less of what is slow to pick.",
                 farm=best) if best else tell("More hands would mend it, or less of what is slow to pick."))
    return f"{what} {mend}"


def _items(items: Sequence[int], wanted: Sequence[WantedItem]) -> str:
    return ", ".join(wanted[number].name for number in items)


class _Most:
    """On which farms one more of something would help most."""

    def __init__(self, growers: Growers, work: Task, areas: Floats, wanted: Sequence[WantedItem]) -> None:
        self.growers, self.work, self.areas, self.wanted = growers, work, areas, wanted
        self.price: Floats | None = None

    def hours(self, farms: frozenset[int]) -> list[str]:
        """Where more hours would bring anything, if not everywhere."""
        return self._told(self._wanting((HOURS,), farms), farms)

    def ground(self, farms: frozenset[int], items: Sequence[int]) -> list[str]:
        """Where the items do best, of the farms whose ground is short, if not everywhere as well."""
        short = self._wanting(GROUND, farms) or farms
        pace = {number: best_pace(self.work, len(self.wanted), WEEKS, number) for number in short}
        best = np.maximum(np.max(list(pace.values()), axis=0), 1e-12)
        weight = np.array([each.weight for each in self.work.request.items])
        portions = weight * to_grow(self.work, self.wanted)
        well = {number: float((portions * own / best)[list(items)].sum()) for number, own in pace.items()}
        most = max(well.values())
        return self._told(frozenset(n for n, each in well.items() if each >= AS_MUCH * most), farms)

    def _told(self, found: frozenset[int], farms: frozenset[int]) -> list[str]:
        return [] if found == farms else self.growers.names(found)

    def _wanting(self, rows: Sequence[str], farms: frozenset[int]) -> frozenset[int]:
        """Farms on which a unit more in every week of the first year would bring something by the prices of
        the plan, beside where it would bring most."""
        each = {number: self._on(rows, self.growers.gardens[number].farm) for number in farms}
        most = max(each.values())
        return frozenset(number for number, price in each.items() if price > LITTLE * most)

    def _on(self, rows: Sequence[str], farm: str) -> float:
        if self.price is None:
            self.price = Worth(self.work.request, self.areas).price
        names = self.work.request.grounds.names
        mine = [names.index(name) for row in rows if (name := row_of(row, farm)) in names]
        return float(max((self.price[row, :YEAR_WEEKS].sum() for row in mine), default=0.0))


def what_would_mend_together(
    growers: Growers, missing: Mapping[int, Bools], wanted: Sequence[WantedItem], grow_in: Sequence[GrowIn],
    made: Mapping[str, Sequence[Batch]],
) -> Mapping[int, tuple[str, Bools]]:
    """As `what_would_mend` of a garden, farm by farm: for each item the farm, or farms, that would serve most
    of its weeks. A farm that the wish leaves out is asked first, as it is: that costs nobody anything.
    """
    found: dict[int, tuple[str, Bools]] = {}
    for way in (_left_out, _furnished):
        left = {number: weeks for number, weeks in missing.items() if number not in found}
        by_item = dict[int, list[tuple[str, str, Bools]]]()
        for number, garden in enumerate(growers.gardens):
            farm = growers.own.farms[number].name
            served = way(growers, number, left, wanted, _willing(garden, grow_in[number]), made)
            for item, (words, weeks) in served.items():
                by_item.setdefault(item, []).append((words, farm, weeks))
        found.update((item, _best(several)) for item, several in by_item.items())
    return found


def _willing(garden: Garden, grow_in: GrowIn) -> GrowIn:
    """The same of the crops that the farm does not refuse."""
    def grow(other: Garden, keys: Sequence[str]) -> Mapping[str, Sequence[Batch]]:
        return grow_in(other, [key for key in keys if key not in garden.never])

    return grow


def _left_out(
    growers: Growers, farm: int, missing: Mapping[int, Bools], wanted: Sequence[WantedItem], grow_in: GrowIn,
    made: Mapping[str, Sequence[Batch]],
) -> Mapping[int, tuple[str, Bools]]:
    """Weeks that a farm would serve as it is, of items that other farms alone may grow."""
    mine = {number: weeks for number, weeks in missing.items() if farm not in growers.of_item[number]}
    if not mine:
        return {}
    there = grow_in(growers.gardens[farm], list(dict.fromkeys(k for n in mine for k in wanted[n].crops)))
    served = {number: weeks & _weeks(wanted[number], there) & ~_weeks(wanted[number], made)
              for number, weeks in mine.items()}
    return {number: ("", weeks) for number, weeks in served.items() if weeks.any()}


def _furnished(
    growers: Growers, farm: int, missing: Mapping[int, Bools], wanted: Sequence[WantedItem], grow_in: GrowIn,
    made: Mapping[str, Sequence[Batch]],
) -> Mapping[int, tuple[str, Bools]]:
    """Weeks that a farm would serve with what it has not."""
    mine = {number: weeks for number, weeks in missing.items() if farm in growers.of_item[number]}
    return what_would_mend(growers.gardens[farm], mine, wanted, grow_in, made)


def _weeks(item: WantedItem, made: Mapping[str, Sequence[Batch]]) -> Bools:
    return weeks_of([batch for key in item.crops for batch in made.get(key, ())])


def _best(several: Sequence[tuple[str, str, Bools]]) -> tuple[str, Bools]:
    """What serves most weeks, the plainest first, with every farm where it does."""
    words, _, weeks = max(several, key=lambda each: int(each[2].sum()))
    *others, last = (farm for said, farm, also in several if said == words and np.array_equal(also, weeks))
    farms = tell(" or ").join(filter(None, (", ".join(others), last)))
    if not words:
        return tell("{farm} growing it too", farm=farms), weeks
    return tell("{words} on {farm}", words=words, farm=farms), weeks
