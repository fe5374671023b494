"""Beds that want water on a day, in the words of the round of water (docs/design/record.md, R12)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from evenpick.base.days import day_number
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.record import Record
from evenpick.service.by_hand import ByHand
from evenpick.service.expectation import Expected
from evenpick.service.today_answer import Job, ThirstyBed
from evenpick.service.water_days import LIKELY
from evenpick.service.watered import last_watered


def thirsty(
    record: Record, coming: Mapping[str, Expected], day: date, hand: ByHand
) -> tuple[ThirstyBed, ...]:
    """Of the sowings expected, those that are up and due, the most litres first; not what the diary has
    watered on that day already."""
    return tuple(sorted(_beds(record, coming, day, hand), key=lambda bed: (-bed.litres, bed.sowing)))


def had_its_water(job: Job, record: Record, day: date, hand: ByHand) -> bool:
    """Whether a line of the diary did a job of water; one that was answered stays, to be listed as that."""
    if job.kind != "water" or job.sowing is None or job.id in record.answers:
        return False
    return last_watered(record.sowings[job.sowing], record, day_number(day), hand) == day


def _beds(
    record: Record, coming: Mapping[str, Expected], day: date, hand: ByHand
) -> Iterator[ThirstyBed]:
    number = day_number(day)
    for name, expect in coming.items():
        one = record.sowings[name]
        due = expect.thirst >= LIKELY and expect.per_m2 > 0
        if not due or one.over(number) or last_watered(one, record, number, hand) == day:
            continue
        said = one.named(load_catalogue().crop(one.fact.crop).name)
        litres = expect.per_m2 * one.area * one.left_on(number)
        yield ThirstyBed(name, one.fact.crop, said, one.ground, one.cover, litres, expect.thirst_why)
