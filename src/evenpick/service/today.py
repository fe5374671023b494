"""What to do today, read off a made plan."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from evenpick.base.days import monday_of
from evenpick.service.answers import Band, ItemPickings, Job, PlanAnswer, PlannedSowing, TodayAnswer

WEEK = timedelta(days=7)
COMING = timedelta(days=14)
WAIT = timedelta(days=13)
"""a sowing put off longer is another sowing: the next one is made for those weeks"""
AHEAD_WEEKS = 8
BARE = 0.5
"""of what is wanted: a week likely below this counts as bare"""
LEAST_PICK = 0.02  # kg: less is not worth a walk down the garden


def today(plan: PlanAnswer, day: date) -> TodayAnswer:
    """Jobs of this ISO week and the fortnight after it, what to pick, and what will be bare."""
    monday = monday_of(day)
    jobs = sorted((job for sowing in plan.sowings for job in _jobs(sowing)), key=lambda job: job.when)
    due = tuple(job for job in jobs if monday <= job.when < monday + WEEK)
    coming = tuple(job for job in jobs if monday + WEEK <= job.when < monday + WEEK + COMING)
    return TodayAnswer(
        plan.site, day, due, tuple(_picks(plan, monday)), coming, tuple(_bare_ahead(plan, monday))
    )


def _jobs(sowing: PlannedSowing) -> Iterator[Job]:
    where = sowing.cover if sowing.way != "raised" else f"raising bench, for {sowing.cover}"
    verb = "plant" if sowing.way == "planted" else "sow"
    wait = min(sowing.latest, sowing.sow + WAIT)
    yield Job(sowing.sow, verb, sowing, where, sowing.because, wait)
    if sowing.plant_out is not None:
        sown = f"sown {sowing.sow.day} {sowing.sow:%b}; when it is ready and the ground is warm enough"
        yield Job(sowing.plant_out, "plant out", sowing, sowing.cover, sown, None)
    over = "its picking is over by now in four years of five; the ground is wanted"
    yield Job(sowing.clear, "clear", sowing, sowing.cover, over, None)


def _picks(plan: PlanAnswer, monday: date) -> Iterator[tuple[str, Band]]:
    for item in plan.pickings:
        for week in item.weeks:
            if week.week == monday and week.high > LEAST_PICK:
                yield item.item, Band(week.low, week.likely, week.high)


def _bare_ahead(plan: PlanAnswer, monday: date) -> Iterator[tuple[str, date]]:
    for item in plan.pickings:
        first = _first_bare(item, monday)
        if first is not None:
            yield item.item, first


def _first_bare(item: ItemPickings, monday: date) -> date | None:
    last = monday + AHEAD_WEEKS * WEEK
    bare = (
        week.week for week in item.weeks[item.lead :]
        if monday <= week.week < last and week.wanted > 0 and week.likely < BARE * week.wanted
    )
    return next(bare, None)
