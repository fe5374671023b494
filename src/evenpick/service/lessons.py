"""What the diary taught, one line a lesson, each with its evidence (docs/design/learning.md, 5 to 8)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import exp
from pathlib import Path

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.sown import amount
from evenpick.crops.ways import way_of
from evenpick.garden.diary import Cause, LeftOut, Picked, Relearned
from evenpick.garden.garden import Garden, Wish
from evenpick.garden.record import Record, Sowing
from evenpick.learn.shrinking import Evidence
from evenpick.service.book import record_of, write
from evenpick.service.jobs import tag
from evenpick.service.learning import Lessons, learn_from
from evenpick.service.setups import garden_of

OVER, UNDER = 1.5, 0.6
"""picked over wanted in a month: from there it is a lesson"""
WORTH_SAYING = 2.0
"""days or more that a crop differs from the book"""
YIELD_WORTH_SAYING = 0.15
"""share by which a yield differs from the book"""
OFTEN = 0.15
"""mean share lost to one cause from which it is a lesson"""


@dataclass(frozen=True, slots=True)
class TimingLesson:
    crop: str
    name: str
    days_later: float
    """than the catalogue has it, from standing in its place to first picking; minus is earlier"""
    records: int
    doubted: int
    """records that fit the others so badly that they hardly count"""


@dataclass(frozen=True, slots=True)
class YieldLesson:
    crop: str
    name: str
    kg_per_m2: float
    book: float
    records: int


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


@dataclass(frozen=True, slots=True)
class LossLesson:
    crop: str
    name: str
    cause: Cause
    by: str
    hit: int
    sowings: int
    share: float
    """lost to it of all that was sown of the crop, by area"""


@dataclass(frozen=True, slots=True)
class UsedRecord:
    """A sowing that teaches."""

    sowing: str
    """its id"""
    tag: str
    """four characters that stand for the id on this page"""
    name: str
    variety: str
    cover: CoverName
    sown: date
    first_picked: date
    time: float | None
    """thermal time it took over the book's; None where its timing is not used"""
    kg_per_m2: float | None
    """None where it was not weighed to the end"""
    weight: float
    """how far it is believed, 1 and more where it fits the others"""


@dataclass(frozen=True, slots=True)
class LessonsAnswer:
    site: Site
    timing: tuple[TimingLesson, ...]
    yields: tuple[YieldLesson, ...]
    wants: tuple[WantLesson, ...]
    losses: tuple[LossLesson, ...]
    unweighed: tuple[tuple[str, int], ...]
    """crop name and pickings without a weight, from which nothing is learned of its yield"""
    left_out: int
    """sowings that the grower had left out"""
    records: tuple[UsedRecord, ...] = ()


def lessons(garden: Path, today: date | None = None) -> LessonsAnswer:
    """Everything the diary taught up to a day. BadGarden, BadBook, BadWeatherFile."""
    described, record = garden_of(garden), record_of(garden)
    found = learn_from(described.site, described.weather, record, lowest=described.lowest)
    last = day_number(today or date.today())
    return LessonsAnswer(
        described.site, tuple(_timing(found)), tuple(_yields(found)),
        tuple(_wants(described, record, last)), tuple(_losses(record)), tuple(_unweighed(record)),
        sum(sowing.left_out for sowing in record.sowings.values()), tuple(_used(record, found)),
    )


def leave_out(garden: Path, sowing: str, day: date) -> None:
    """Learn nothing from a sowing, by its id or its tag. BadRequest if there is none, or more than one."""
    record = record_of(garden)
    found = [one for one in record.sowings if sowing in (one, tag(one))]
    if len(found) != 1:
        what = tell("the diary has no sowing '{sowing}'.", sowing=sowing) if not found else tell(
                        "'{sowing}' may be several sowings.", sowing=sowing)
        raise BadRequest(Problem(what, tell("Take a mark of: evenpick lessons --records"),
                                 field="--leave-out"))
    write(garden, [(day, LeftOut(found[0]), "")])


def reset(garden: Path, crop: str | None, day: date) -> None:
    """Learn anew from a day on, of one crop by any of its names or of all. UnknownCrop."""
    key = None if crop is None else load_catalogue().crop(crop).key
    write(garden, [(day, Relearned(key), "")])


def _used(record: Record, found: Lessons) -> Iterator[UsedRecord]:
    """Each sowing that teaches timing or yield, the oldest first."""
    weights = found.learned.timing.weights
    time = {one.sowing: (one, float(weight)) for one, weight in zip(found.timing, weights, strict=True)}
    weighed = {one.sowing for one in found.yields}
    for sowing in sorted(record.sowings.values(), key=lambda one: (one.day, one.id)):
        if sowing.id not in time and sowing.id not in weighed:
            continue
        seen, weight = time.get(sowing.id, (None, 1.0))
        yield UsedRecord(
            sowing.id, tag(sowing.id), _crop(sowing.fact.crop).name, sowing.fact.variety, sowing.cover,
            day_date(sowing.day), day_date(sowing.pickings[0].day), None if seen is None else exp(seen.y),
            sowing.picked_kg / (sowing.area * sowing.left) if sowing.id in weighed else None, weight,
        )


def _crop(key: str) -> Crop:
    return load_catalogue().crop(key)


def _timing(found: Lessons) -> Iterator[TimingLesson]:
    shrunk = found.learned.timing
    for key, seen in _by_crop(found.timing):
        mean = shrunk.belief(key).mean
        book = sum(one.days / exp(one.y) for one in seen) / len(seen)
        doubted = sum(bool(weight < 0.3) for one, weight in zip(found.timing, shrunk.weights, strict=True)
                      if one.crop == key)
        later = book * (exp(mean) - 1)
        if abs(later) >= WORTH_SAYING:
            yield TimingLesson(key, _crop(key).name, later, len(seen), doubted)


def _yields(found: Lessons) -> Iterator[YieldLesson]:
    for key, seen in _by_crop(found.yields):
        mean, book = found.learned.yields.belief(key).mean, _crop(key).produce.kg_per_m2
        if abs(exp(mean) - 1) >= YIELD_WORTH_SAYING:
            yield YieldLesson(key, _crop(key).name, book * exp(mean), book, len(seen))


def _by_crop(records: Sequence[Evidence]) -> Iterator[tuple[str, list[Evidence]]]:
    for key in dict.fromkeys(record.crop for record in records):
        yield key, [record for record in records if record.crop == key]


def _wants(garden: Garden, record: Record, last: int) -> Iterator[WantLesson]:
    """Months that are over in which far more or far less was picked of an item than was wanted.

    A month with a picking that was neither weighed nor counted says nothing, nor does one before the diary.
    """
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
            yield from _want(garden, record, item, first, after, [fact for _, fact in picked])


def _want(
    garden: Garden, record: Record, item: str, first: date, after: date, picked: Sequence[Picked]
) -> Iterator[WantLesson]:
    wishes = [wish for wish in garden.wishes if wish.item == item]
    crops = {crop for wish in wishes for crop in wish.crops}
    mine = [fact for fact in picked if fact.crop in crops]
    weights = [_kg(fact) for fact in mine]
    wanted = sum(_wanted(wish, first, after) for wish in wishes)
    if not mine or wanted <= 0 or None in weights:
        return
    got = sum(weight for weight in weights if weight is not None)
    if UNDER < got / wanted < OVER:
        return
    from_them = {fact.sowing for fact in mine if fact.sowing in record.sowings}
    sowings = [record.sowings[one] for one in from_them if one is not None]
    rows = [_row_m(sowing) for sowing in sowings]
    row_m = sum(row for row in rows if row is not None) if rows and None not in rows else None
    yield WantLesson(
        item, first, got, wanted, len(sowings), sum(sowing.area for sowing in sowings), row_m,
        wanted / got if sowings else None,
    )


def _row_m(sowing: Sowing) -> float | None:
    crop = _crop(sowing.fact.crop)
    return amount(crop, way_of(crop, sowing.fact.way), sowing.area, 1.0).row_m


def _kg(fact: Picked) -> float | None:
    """What a picking weighed, by its pieces where those were counted; None where nobody said."""
    if fact.kg is not None or fact.pieces is None:
        return fact.kg
    return fact.pieces * _crop(fact.crop).produce.piece_kg


def _wanted(wish: Wish, first: date, after: date) -> float:
    days = (first + timedelta(days=n) for n in range((after - first).days))
    return wish.kg_per_week / 7 * sum(wish.wanted_on(day.month, day.day) for day in days)


def _next_month(first: date) -> date:
    return (first + timedelta(days=32)).replace(day=1)


def _losses(record: Record) -> Iterator[LossLesson]:
    by_crop: dict[str, list[Sowing]] = defaultdict(list)
    for sowing in record.sowings.values():
        by_crop[sowing.fact.crop].append(sowing)
    for key, sowings in by_crop.items():
        area = sum(sowing.area for sowing in sowings)
        lost: dict[tuple[Cause, str], float] = defaultdict(float)
        hit: dict[tuple[Cause, str], set[str]] = defaultdict(set)
        for sowing in sowings:
            left = 1.0
            for loss in sowing.losses:
                about = loss.cause, loss.by.casefold()
                lost[about] += sowing.area * left * loss.share
                hit[about].add(sowing.id)
                left *= 1.0 - loss.share
        for (cause, by), square in sorted(lost.items(), key=lambda each: -each[1]):
            if area > 0 and square / area >= OFTEN:
                often = len(hit[cause, by])
                yield LossLesson(key, _crop(key).name, cause, by, often, len(sowings), square / area)


def _unweighed(record: Record) -> Iterator[tuple[str, int]]:
    counts: dict[str, int] = defaultdict(int)
    for entry in record.entries:
        if isinstance(entry.fact, Picked) and _kg(entry.fact) is None:
            counts[entry.fact.crop] += 1
    for key, count in counts.items():
        yield _crop(key).name, count
