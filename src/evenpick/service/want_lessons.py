"""What was picked of each item in a month against what was wanted (docs/design/learning.md, 6)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence, Set
from dataclasses import dataclass
from datetime import date, timedelta

from evenpick.base.days import day_date, day_number
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.sown import amount
from evenpick.crops.ways import way_of
from evenpick.garden.diary import Picked
from evenpick.garden.garden import Garden, Wish
from evenpick.garden.record import Record, Sowing

OVER, UNDER = 1.5, 0.6
"""picked over wanted in a month: from there it is a lesson"""


@dataclass(frozen=True, slots=True)
class WantLesson:
    item: str
    month: date
    """its first day"""
    picked: float
    wanted: float
    """kg"""
    sowings: int
    """that it was picked from; 0 where the pickings don't say"""
    sown_m2: float
    row_m: float | None
    """metres of row of those; None for what is not grown in rows"""
    would_do: float | None
    """the share of that ground that would have met the want"""


def want_lessons(
    garden: Garden, record: Record, last: int
) -> tuple[tuple[WantLesson, ...], tuple[tuple[str, date], ...]]:
    """Months over by a `last` day in which far more or far less was picked of an item than was wanted; and
    item and month of those in which little was written down, but something may not have been.

    A month with a picking that was neither weighed nor counted says nothing, nor does one before the diary.
    """
    found: list[WantLesson] = []
    unfinished: list[tuple[str, date]] = []
    pickings: dict[tuple[int, int], list[tuple[int, Picked]]] = defaultdict(list)
    for entry in record.entries:
        if isinstance(entry.fact, Picked):
            when = day_date(entry.day)
            pickings[when.year, when.month].append((entry.day, entry.fact))
    for (year, month), picked in sorted(pickings.items()):
        first, after = date(year, month, 1), _next_month(date(year, month, 1))
        if day_number(after) > last:
            continue
        for item in dict.fromkeys(wish.item for wish in garden.wishes):
            wishes = [wish for wish in garden.wishes if wish.item == item]
            if any(wish.keep for wish in wishes):  # a whole season's amount, to be had in any of its months
                continue
            crops = {crop for wish in wishes for crop in wish.crops}
            mine = [fact for _, fact in picked if fact.crop in crops]
            want = _want(record, wishes, mine, first, after)
            if want is None:
                continue
            if want.picked > want.wanted or _all_written(record, crops, mine, first, after, last):
                found.append(want)
            else:
                unfinished.append((item, first))
    return tuple(found), tuple(unfinished)


def _want(
    record: Record, wishes: Sequence[Wish], mine: Sequence[Picked], first: date, after: date
) -> WantLesson | None:
    weights = [picked_kg(fact) for fact in mine]
    wanted = sum(_wanted(wish, first, after) for wish in wishes)
    if not mine or wanted <= 0 or None in weights:
        return None
    got = sum(weight for weight in weights if weight is not None)
    if UNDER < got / wanted < OVER:
        return None
    from_them = {fact.sowing for fact in mine if fact.sowing in record.sowings}
    sowings = [record.sowings[one] for one in from_them if one is not None]
    rows = [_row_m(sowing) for sowing in sowings]
    row_m = sum(row for row in rows if row is not None) if rows and None not in rows else None
    return WantLesson(
        wishes[0].item, first, got, wanted, len(sowings), sum(sowing.area for sowing in sowings), row_m,
        wanted / got if sowings else None,
    )


def _all_written(
    record: Record, crops: Set[str], picked: Sequence[Picked], first: date, after: date, last: int
) -> bool:
    """Whether by a `last` day all is known of what a month gave: each picking names its sowing, and each
    sowing of these crops that stood in the month was cleared or lost, or first picked after it."""
    named = all(fact.sowing in record.sowings for fact in picked)
    begins, ends = day_number(first), day_number(after)
    stood = [
        sowing for sowing in record.sowings.values()
        if sowing.fact.crop in crops and sowing.day < ends and not sowing.over(begins)
        and not (sowing.pickings and sowing.pickings[0].day >= ends)
    ]
    return named and all(sowing.over(last) for sowing in stood)


def _row_m(sowing: Sowing) -> float | None:
    crop = load_catalogue().crop(sowing.fact.crop)
    return amount(crop, way_of(crop, sowing.fact.way), sowing.area, 1.0).row_m


def picked_kg(fact: Picked) -> float | None:
    """What a picking weighed, by its pieces where those were counted; None where nobody said."""
    if fact.kg is not None or fact.pieces is None:
        return fact.kg
    return fact.pieces * load_catalogue().crop(fact.crop).produce.piece_kg


def _wanted(wish: Wish, first: date, after: date) -> float:
    days = (first + timedelta(days=n) for n in range((after - first).days))
    return wish.kg_per_week / 7 * sum(wish.wanted_on(day.month, day.day) for day in days)


def _next_month(first: date) -> date:
    return (first + timedelta(days=32)).replace(day=1)
