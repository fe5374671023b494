"""What to do today, read off a made plan."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from evenpick.service.answers import Band, ItemPickings, Job, PlanAnswer, PlannedSowing, TodayAnswer

WEEK = timedelta(days=7)
COMING = timedelta(days=14)
AHEAD_WEEKS = 8
BARE = 0.5
"""of what is wanted: a week likely below this counts as bare"""
LEAST_PICK = 0.02  # kg: less is not worth a walk down the garden


def today(plan: PlanAnswer, day: date) -> TodayAnswer:
    """Jobs of this ISO week and the fortnight after it, what to pick, and what will be bare."""
    monday = day - timedelta(days=day.weekday())
    jobs = sorted((job for sowing in plan.sowings for job in _jobs(sowing)), key=lambda job: job.when)
    due = tuple(job for job in jobs if monday <= job.when < monday + WEEK)
    coming = tuple(job for job in jobs if monday + WEEK <= job.when < monday + WEEK + COMING)
    return TodayAnswer(
        plan.site, day, due, tuple(_picks(plan, monday)), coming, tuple(_bare_ahead(plan, monday))
    )


def _jobs(sowing: PlannedSowing) -> Iterator[Job]:
    where = sowing.cover if sowing.way != "raised" else f"raising bench, for {sowing.cover}"
    verb = {"direct": "sow", "raised": "sow", "planted": "plant"}[sowing.way]
    yield Job(sowing.sow, verb, sowing.name, amount_words(sowing), where, sowing.because, sowing.latest)
    if sowing.plant_out is not None:
        plants = f"{sowing.plants} plants" if sowing.plants else f"{sowing.area_m2:.1f} m²"
        yield Job(
            sowing.plant_out, "plant out", sowing.name, plants, sowing.cover,
            f"sown {sowing.sow.day} {sowing.sow:%b}; when it is ready and the ground is warm enough", None,
        )
    yield Job(
        sowing.clear, "clear", sowing.name, f"{sowing.area_m2:.1f} m²", sowing.cover,
        "its picking is over by now in four years of five; the ground is wanted", None,
    )


def amount_words(sowing: PlannedSowing) -> str:
    """Metres of row, plants or square metres, and seed."""
    if sowing.row_m is not None and sowing.way != "raised":
        place = f"{sowing.row_m:g} m of row"
    elif sowing.plants is not None:
        place = f"{sowing.plants} plants"
    else:
        place = f"{sowing.area_m2:.2g} m²"
    return place if sowing.seeds is None else f"{place}, {sowing.seeds} seeds"


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
