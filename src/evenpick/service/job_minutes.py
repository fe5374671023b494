"""Minutes that jobs take (data/hours.csv; docs/design/season.md, 23), and what a day's work has taken."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from evenpick.base.days import day_number, monday_of
from evenpick.base.trade import WayName
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.labour import Labour, labour
from evenpick.garden.diary import Entry, Picked, PlantedOut, Sowed, Tended
from evenpick.garden.record import Record
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing
from evenpick.service.today_answer import Job, JobKind

TENDING: tuple[JobKind, ...] = ("thin", "weed", "earth up", "support", "net")
"""in the ground: a week's tending each; what is done on the bench has no figure"""
TENDED = ("thinned", "weeded", "earthed up", "supported", "covered")
"""the same as the diary has them"""
LEAST_KG = 0.02  # less that is likely is nothing to reckon with


def with_minutes(jobs: Sequence[Job], plan: PlanAnswer | None, record: Record, day: date) -> list[Job]:
    """The jobs with what each takes, where anything is known of it; pickings are of the week of `day`."""
    known = _Known(plan, record)
    kilos = _kilos([job for job in jobs if job.kind == "pick"], known, day)
    return [replace(job, minutes=_whole(known.minutes(job, kilos.get(job.id)))) for job in jobs]


def done_on(record: Record, day: date) -> int:
    """Minutes of a day that the diary says were worked: sown, planted out, tended, picked and weighed."""
    told = (entry for entry in record.entries if entry.day == day_number(day))
    return sum(_whole(_of_entry(entry, record)) or 0 for entry in told)


def _whole(minutes: float | None) -> int | None:
    """Whole minutes, one at least."""
    return None if minutes is None else max(1, round(minutes))


class _Known:
    """What plan and diary tell of a job's sowing."""

    def __init__(self, plan: PlanAnswer | None, record: Record) -> None:
        self.plan, self.record = plan, record
        self.planned: Mapping[str, PlannedSowing] = {} if plan is None else {s.id: s for s in plan.sowings}

    def minutes(self, job: Job, kg: float | None) -> float | None:
        way = self._way(job)
        if way is None:
            return None
        each = _each(job.crop, way, job.name)
        if job.kind in ("sow", "plant"):
            return each.sow * job.area_m2
        if job.kind == "plant out":
            return each.plant_out * self.left(job)
        if job.kind in TENDING:
            return each.tend * self.left(job)
        return each.pick * kg if job.kind == "pick" and kg is not None else None

    def _way(self, job: Job) -> WayName | None:
        made = self.record.sowings.get(job.sowing or "")
        if made is not None:
            return made.fact.way
        planned = self.planned.get(job.planned or "")
        return None if planned is None else planned.way

    def left(self, job: Job) -> float:
        """m² that no loss has taken."""
        made = self.record.sowings.get(job.sowing or "")
        return job.area_m2 if made is None else made.area * made.left

    def item(self, job: Job) -> str | None:
        """The item that a sowing under way serves in the plan."""
        stands = () if self.plan is None else self.plan.standing
        found = next((one.item for one in stands if one.id == job.sowing), None)
        planned = self.planned.get(job.planned or "")
        return found if planned is None else planned.item


def _each(crop: str, way: WayName, name: str = "") -> Labour:
    """By the plants of the type that a plan tells by this `name`; of the crop's own varieties for others."""
    return labour(load_catalogue().crop(crop).told_as(name), way)


def _kilos(jobs: Iterable[Job], known: _Known, day: date) -> Mapping[str, float]:
    """kg likely of each picking: of what is likely of its item in the week, its share by ground."""
    if known.plan is None:
        return {}
    likely = {item.item: week.likely for item in known.plan.pickings for week in item.weeks
              if week.week == monday_of(day) and week.likely > LEAST_KG}
    ground: dict[str, float] = {}
    picked = [(job, item) for job in jobs if (item := known.item(job)) in likely and item is not None]
    for job, item in picked:
        ground[item] = ground.get(item, 0.0) + known.left(job)
    return {job.id: likely[item] * known.left(job) / ground[item] for job, item in picked if ground[item] > 0}


def _of_entry(entry: Entry, record: Record) -> float | None:
    fact = entry.fact
    if isinstance(fact, Sowed):
        each = _each(fact.crop, fact.way)
        return (each.plant_out if fact.bought else each.sow) * fact.area
    made = record.sowings.get(getattr(fact, "sowing", None) or "")
    if isinstance(fact, Picked) and fact.kg is not None:
        return _each(fact.crop, made.fact.way if made is not None else "direct").pick * fact.kg
    if made is None:
        return None
    each = _each(made.fact.crop, made.fact.way)
    if isinstance(fact, PlantedOut):
        return each.plant_out * (made.area if fact.area is None else fact.area)
    tended = isinstance(fact, Tended) and fact.what in TENDED
    return each.tend * made.area * made.left if tended else None
