"""What the diary taught, one line a lesson, each with its evidence (docs/design/learning.md, 5 to 8)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import exp
from pathlib import Path

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.garden.diary import Cause, LeftOut, Picked, Relearned
from evenpick.garden.record import Record, Sowing
from evenpick.learn.shrinking import Evidence
from evenpick.service.book import record_of, write
from evenpick.service.jobs import tag
from evenpick.service.learning import Lessons, learn_from
from evenpick.service.setups import garden_of
from evenpick.service.want_lessons import WantLesson, picked_kg, want_lessons

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
    unfinished: tuple[tuple[str, date], ...] = ()
    """item and first day of months in which less than enough of it was written down, but not of all that
    stood then: nothing is learned of what was wanted"""


def lessons(garden: Path, today: date | None = None) -> LessonsAnswer:
    """Everything the diary taught up to a day. BadGarden, BadBook, BadWeatherFile."""
    described, record = garden_of(garden), record_of(garden)
    found = learn_from(described.site, described.weather, record, lowest=described.lowest,
                       wishes=described.wishes, seedbed=described.seedbed, away=described.limits.away)
    last = day_number(today or date.today())
    wants, unfinished = want_lessons(described, record, last)
    return LessonsAnswer(
        described.site, tuple(_timing(found)), tuple(_yields(found)),
        wants, tuple(_losses(record)), tuple(_unweighed(record)),
        sum(sowing.left_out for sowing in record.sowings.values()), tuple(_used(record, found)), unfinished,
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
        if isinstance(entry.fact, Picked) and picked_kg(entry.fact) is None:
            counts[entry.fact.crop] += 1
    for key, count in counts.items():
        yield _crop(key).name, count
