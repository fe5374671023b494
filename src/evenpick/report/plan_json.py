"""The plan as JSON, and what follows from it: pickings, the jobs of a day, the beds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

from evenpick.base.days import week_label
from evenpick.report.as_json import Shape, far_shape, named_shape, place_shape, site_shape
from evenpick.report.shares_json import shares_list, worth_shape
from evenpick.service.plan_command import noted, with_command

if TYPE_CHECKING:
    from evenpick.report.shares import SharesOf
    from evenpick.report.words import Words
    from evenpick.service.ground_answer import BedAnswer, GroundAnswer
    from evenpick.service.outlook_answer import Band
    from evenpick.service.pickings_answer import ItemPickings
    from evenpick.service.plan_answer import Lying, Moved, PlanAnswer, PlannedSowing, StandingSowing
    from evenpick.service.today_answer import Job, TodayAnswer


def plan_shape(answer: PlanAnswer, words: Words) -> Shape:
    return {
        **place_shape(answer.site, answer.climate), "begins": answer.begins, "invented": answer.invented,
        "sowings": [sowing_shape(sowing, words) for sowing in answer.sowings],
        "pickings": pickings_list(answer.pickings),
        "ground": [asdict(use) for use in answer.ground],
        "seed": [{**asdict(need), "name": words.name(need.name)} for need in answer.seed],
        "unseen": {
            "plan": asdict(answer.plan),
            "interval_rule": {**asdict(answer.interval_rule), "setting": answer.interval_rule_setting},
        },
        "gap": answer.gap, "gap_uncounted": answer.uncounted, "seconds": answer.seconds,
        "stages": dict(answer.stages),
        "standing": [_standing(sowing, words) for sowing in answer.standing],
        "refused": [sowing_shape(sowing, words) for sowing in answer.refused],
        "learned": [asdict(each) for each in answer.learned],
        "changes": [asdict(each) | {"name": words.name(each.name)} for each in answer.changes],
        "moved": moved_list(answer.moved, words),
        "holding": [asdict(each) for each in answer.holding],
        "given_up": [asdict(each) for each in answer.given_up],
        "short_of": answer.short_of, **worth_shape(answer), "hours": answer.hours and asdict(answer.hours),
        "cannot": answer.cannot, "made_from": asdict(answer.made_from),
        "notes": [*filter(None, (answer.beaten, *answer.notes))],
    }


def pickings_shape(
    answer: PlanAnswer, items: Sequence[ItemPickings], words: Words, shares: SharesOf
) -> Shape:
    return {**place_shape(answer.site, answer.climate), "begins": answer.begins, "invented": answer.invented,
            "pickings": pickings_list(items), "notes": noted(answer), "shares": shares_list(items, shares)}


def _job(job: Job) -> Shape:
    return {
        "job": job.id, "tag": job.tag, "when": job.when, "kind": job.kind, "what": job.name, "crop": job.crop,
        "sowing": job.number, "planned": job.planned, "diary": job.sowing, "area_m2": job.area_m2,
        "row_m": job.row_m, "plants": job.plants, "seeds": job.seeds, "grams": job.grams,
        "drill": None if job.drill is None else asdict(job.drill), "litres_per_m": job.litres_per_m,
        "where": job.where, "why": job.why,
        "can_wait_until": job.can_wait_until, "late": job.late,
        "minutes": job.minutes, "on": job.on, "ends": job.ends,
    }


def today_shape(answer: TodayAnswer) -> Shape:
    return {
        **site_shape(answer.site), "day": answer.day, "jobs": [_job(job) for job in answer.jobs],
        "pick": [{"item": one.item, **_ends(one.have), "piece": one.piece, "piece_kg": one.piece_kg,
                  "of_all": one.of_all}
                 for one in answer.pick],
        "coming": [_job(job) for job in answer.coming],
        "bare_ahead": [{"item": item, "week": week} for item, week in answer.bare_ahead],
        "missed": [_job(job) for job in answer.missed],
        "answered": [asdict(job) for job in answer.answered],
        "notes": [with_command(note, answer.take_in) for note in answer.notes],
        "lost": [asdict(row) for row in answer.lost], "days": [asdict(each) for each in answer.days],
        "far": None if answer.far is None else far_shape(answer.far),
        "thirsty": [asdict(bed) for bed in answer.thirsty],
    }


def ground_shape(answer: GroundAnswer, words: Words) -> Shape:
    return {
        **site_shape(answer.site), "begins": answer.begins, "invented": answer.invented,
        "beds": [_bed(bed, words) for bed in answer.beds],
        "no_room": [named_shape(each, words) for each in answer.no_room],
        "too_soon": [{**named_shape(each, words), "after": words.name(each.after)}
                     for each in answer.too_soon],
        "moved": moved_list(answer.moved, words), "notes": answer.notes,
    }


def moved_list(several: Sequence[Moved], words: Words) -> list[Shape]:
    """Where each was to go and where it goes, as stretches of beds."""
    return [{**named_shape(each, words), "was": [_stretch(one) for one in each.was],
             "now": [_stretch(one) for one in each.now]} for each in several]


def _stretch(lying: Lying) -> Shape:
    return {"bed": lying.bed, "from_m": lying.from_m, "to_m": lying.to_m}


def _bed(bed: BedAnswer, words: Words) -> Shape:
    return {
        **asdict(bed), "grew": [{"year": year, "family": family} for year, family in bed.grew],
        "spans": [{**named_shape(span, words), "follows": words.name(span.follows)} for span in bed.spans],
    }


def pickings_list(items: Sequence[ItemPickings]) -> list[Shape]:
    return [
        {
            "item": item.item, "piece": item.piece, "piece_kg": item.piece_kg, "lead_weeks": item.lead,
            "weeks": [{**asdict(week), "iso_week": week_label(week.week)} for week in item.weeks],
        }
        for item in items
    ]


def sowing_shape(sowing: PlannedSowing, words: Words) -> Shape:
    shape = {**asdict(sowing), "name": words.name(sowing.name)}
    shape["date"] = shape.pop("sow")
    first, fills = sowing.first_picking, sowing.fills
    shape["first_picking"] = first and dict(zip(("p10", "p50", "p90"), first, strict=True))
    shape["fills"] = fills and {"first": fills[0], "last": fills[1]}
    return shape


def _standing(sowing: StandingSowing, words: Words) -> Shape:
    first = sowing.first_picking
    return {
        **asdict(sowing), "name": words.name(sowing.name), "to_come": asdict(sowing.to_come),
        "first_picking": first and dict(zip(("p10", "p50", "p90"), first, strict=True)),
    }


def _ends(band: Band) -> Shape:
    return {"low": band.low, "likely": band.likely, "high": band.high}
