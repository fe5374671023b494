"""Answers as strict JSON in SI units (docs/interface.md): no NaN, dates as year-month-day.

The shapes are a promise to other programs and are written out here, apart from the records they come from.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import date
from math import isfinite
from typing import TYPE_CHECKING, Any, TypeAlias

from evenpick.base.days import week_label
from evenpick.report.shares_json import shares_list, worth_shape
from evenpick.service.plan_command import noted, with_command

if TYPE_CHECKING:
    from evenpick.climate.origin import ClimateOrigin
    from evenpick.climate.site import Site
    from evenpick.report.shares import SharesOf
    from evenpick.report.words import Words
    from evenpick.service.ground_answer import BedAnswer, GroundAnswer
    from evenpick.service.lessons import LessonsAnswer
    from evenpick.service.loss_answer import AfterLoss, Filling, LossRow
    from evenpick.service.outlook_answer import (
        Band,
        LaterRow,
        MonthAnswer,
        MonthDay,
        MonthRow,
        OutlookAnswer,
        PossibleRow,
        WindowRow,
        WindowsAnswer,
    )
    from evenpick.service.plan_answer import (
        ItemPickings,
        Lying,
        Moved,
        PlanAnswer,
        PlannedSowing,
        StandingSowing,
    )
    from evenpick.service.saving import SavingAnswer
    from evenpick.service.tin import TinAnswer
    from evenpick.service.today_answer import Job, TodayAnswer
    from evenpick.service.weather_weeks import WeatherAnswer
    from evenpick.service.why_answer import WhyAnswer

Shape: TypeAlias = dict[str, Any]


def as_text(shape: Shape) -> str:
    """Strict JSON text: what is not a finite number is null, floats to six decimals."""
    return json.dumps(_strict(shape), ensure_ascii=False, allow_nan=False, indent=1)


def windows_shape(answer: WindowsAnswer, words: Words) -> Shape:
    return {**_place(answer.site, answer.climate), **opened(answer, words)}


def warmer_shape(degrees: float, then: WindowsAnswer, words: Words) -> Shape:
    """Windows in the same weather so many °C warmer."""
    return {"degrees": degrees, **opened(then, words)}


def opened(answer: WindowsAnswer, words: Words) -> Shape:
    return {
        "windows": [_window(row, words) for row in answer.windows],
        "never": [{"name": words.name(name), "why": why} for name, why in answer.never],
    }


def weather_shape(answer: WeatherAnswer) -> Shape:
    return {
        **_place(answer.site, answer.climate), "day": answer.day,
        "own": None if answer.own is None else asdict(answer.own),
        "fetched": None if answer.fetched is None else asdict(answer.fetched),
        "weeks": [{**asdict(week), "mean": _band(week.mean), "rain": _band(week.rain)}
                  for week in answer.weeks],
    }


def outlook_shape(answer: OutlookAnswer, words: Words) -> Shape:
    return {
        **_place(answer.site, answer.climate),
        "crop": answer.crop, "name": words.name(answer.name), "way": answer.way,
        "cover": answer.cover, "purpose": answer.purpose, "sow": answer.sow,
        "emergence": _band(answer.emergence), "planting_out": _band(answer.planting_out),
        "first_picking": _band(answer.first_picking), "last_picking": _band(answer.last_picking),
        "fates": dict(answer.fates), "cut_short": answer.cut_short, "members": answer.members,
        "drill": None if answer.drill is None else asdict(answer.drill),
    }


def month_shape(answer: MonthAnswer, words: Words) -> Shape:
    return {
        **_place(answer.site, answer.climate), "year": answer.year, "month": answer.month,
        "now": [_now(row, words) for row in answer.now],
        "later": [_later(row, words) for row in answer.later],
        "past": [_later(row, words) for row in answer.past],
        "possible": [_possible(row, words) for row in answer.possible],
    }


def why_shape(answer: WhyAnswer, words: Words) -> Shape:
    return {
        "outlook": outlook_shape(answer.outlook, words),
        "windows": [_window(row, words) for row in answer.windows],
        "score": answer.score, "worth_from": answer.worth_from, "good_time": answer.good_time,
        "judgement": answer.judgement, "against": answer.against, "leverage": answer.leverage,
        "hazards": dict(answer.hazards),
        "values": [{"value": value, "figure": figure, "source": source}
                   for value, figure, source in answer.values],
        "sources": dict(answer.sources),
        "plan": [_sowing(sowing, words) for sowing in answer.plan],
    }


def plan_shape(answer: PlanAnswer, words: Words) -> Shape:
    return {
        **_place(answer.site, answer.climate), "begins": answer.begins, "invented": answer.invented,
        "sowings": [_sowing(sowing, words) for sowing in answer.sowings],
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
        "refused": [_sowing(sowing, words) for sowing in answer.refused],
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
    return {**_place(answer.site, answer.climate), "begins": answer.begins, "invented": answer.invented,
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
        **_site(answer.site), "day": answer.day, "jobs": [_job(job) for job in answer.jobs],
        "pick": [{"item": one.item, **_ends(one.have), "piece": one.piece, "piece_kg": one.piece_kg}
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


def far_shape(climate: ClimateOrigin) -> Shape:
    """Where weather comes from that was measured far off."""
    return {"source": climate.source, "station": climate.station, "distance_km": climate.distance_km}


def ground_shape(answer: GroundAnswer, words: Words) -> Shape:
    return {
        **_site(answer.site), "begins": answer.begins, "invented": answer.invented,
        "beds": [_bed(bed, words) for bed in answer.beds],
        "no_room": [_named(each, words) for each in answer.no_room],
        "too_soon": [{**_named(each, words), "after": words.name(each.after)} for each in answer.too_soon],
        "moved": moved_list(answer.moved, words), "notes": answer.notes,
    }


def moved_list(several: Sequence[Moved], words: Words) -> list[Shape]:
    """Where each was to go and where it goes, as stretches of beds."""
    return [{**_named(each, words), "was": [_stretch(one) for one in each.was],
             "now": [_stretch(one) for one in each.now]} for each in several]


def _stretch(lying: Lying) -> Shape:
    return {"bed": lying.bed, "from_m": lying.from_m, "to_m": lying.to_m}


def _bed(bed: BedAnswer, words: Words) -> Shape:
    return {
        **asdict(bed), "grew": [{"year": year, "family": family} for year, family in bed.grew],
        "spans": [{**_named(span, words), "follows": words.name(span.follows)} for span in bed.spans],
    }


def lessons_shape(answer: LessonsAnswer, words: Words) -> Shape:
    return {
        **_site(answer.site),
        **{part: [_named(one, words) for one in getattr(answer, part)]
           for part in ("timing", "yields", "wants", "losses", "records")},
        "unweighed": [{"name": words.name(name), "pickings": count} for name, count in answer.unweighed],
        "left_out": answer.left_out,
        "unfinished": [{"item": item, "month": month} for item, month in answer.unfinished],
    }


def tin_shape(answer: TinAnswer, words: Words) -> Shape:
    return {
        **_site(answer.site), "day": answer.day, "kept": answer.kept, "unplanned": answer.unplanned,
        "packets": [
            {**_named(row, words), "grows": _band(row.grows),
             "tested": row.tested and dict(zip(("on", "tried", "came"), row.tested, strict=True))}
            for row in answer.packets
        ],
        "shopping": [_named(row, words) for row in answer.shopping],
        "covers": {"first": answer.covers[0], "last": answer.covers[1]},
    }


def losses_shape(rows: Sequence[LossRow], words: Words) -> Shape:
    return {"losses": [_named(row, words) for row in rows]}


def after_loss_shape(answer: AfterLoss, words: Words) -> Shape:
    return {
        **_place(answer.site, answer.climate), "day": answer.day, "sowing": answer.sowing,
        "name": words.name(answer.name), "sown": answer.sown, "item": answer.item, "lost": answer.lost,
        "weeks": [{"week": week, "wanted": wanted, "likely": had} for week, wanted, had in answer.weeks],
        "fillings": [_filling(one, words) for one in answer.fillings],
        "instead": [_filling(one, words) for one in answer.instead],
        "besides": [_filling(one, words) for one in answer.besides], "words": answer.words,
        "command": answer.command, "caution": answer.caution,
    }


def _filling(one: Filling, words: Words) -> Shape:
    weeks = [{"week": week, "share": share} for week, share in one.weeks]
    return {**_named(one, words), "weeks": weeks}


def saving_shape(answer: SavingAnswer, words: Words) -> Shape:
    return {**_named(answer, words), "crosses": [_named(one, words) for one in answer.crosses],
            "sources": dict(answer.sources)}


def _named(record: Any, words: Words) -> Shape:
    shape = asdict(record)
    return {**shape, "name": words.name(shape["name"])} if "name" in shape else shape


def pickings_list(items: Sequence[ItemPickings]) -> list[Shape]:
    return [
        {
            "item": item.item, "piece": item.piece, "piece_kg": item.piece_kg, "lead_weeks": item.lead,
            "weeks": [{**asdict(week), "iso_week": week_label(week.week)} for week in item.weeks],
        }
        for item in items
    ]


def _place(site: Site, climate: ClimateOrigin) -> Shape:
    return {**_site(site), "climate": asdict(climate)}


def _site(site: Site) -> Shape:
    return {"site": asdict(site)}


def _window(row: WindowRow, words: Words) -> Shape:
    return {
        **asdict(row), "name": words.name(row.name),
        "opens": _month_day(row.opens), "closes": _month_day(row.closes),
        "first_picking": [{"sow": _month_day(first.sow), "p10": first.days.low,
                           "p50": first.days.likely, "p90": first.days.high}
                          for first in row.first_picking],
    }


def _now(row: MonthRow, words: Words) -> Shape:
    return {
        "crop": row.crop, "name": words.name(row.name), "way": row.way, "covers": row.covers,
        "from_day": row.from_day, "to_day": row.to_day, "spans": _spans(row.spans),
        "bench_c": row.bench, "depth_m": row.depth,
        "in_row_m": row.in_row, "between_rows_m": row.row, "layout": row.layout,
        "picked_from": row.picked_from, "picked_to": row.picked_to, "success": row.success,
        "interval_days": row.interval, "cautions": row.cautions,
        "closes": None if row.closes is None else _month_day(row.closes),
    }


def _possible(row: PossibleRow, words: Words) -> Shape:
    opens = None if row.opens is None else _month_day(row.opens)
    return {"crop": row.crop, "name": words.name(row.name), "way": row.way, "cover": row.cover,
            "spans": _spans(row.spans), "opens": opens, "why": row.why}


def _spans(spans: Sequence[tuple[int, int]]) -> list[Shape]:
    return [{"from_day": first, "to_day": last} for first, last in spans]


def _later(row: LaterRow, words: Words) -> Shape:
    opens = None if row.opens is None else _month_day(row.opens)
    return {"crop": row.crop, "name": words.name(row.name), "opens": opens, "why": row.why}


def _sowing(sowing: PlannedSowing, words: Words) -> Shape:
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


def _band(band: Band | None) -> Shape | None:
    return None if band is None else {"p10": band.low, "p50": band.likely, "p90": band.high}


def _ends(band: Band) -> Shape:
    return {"low": band.low, "likely": band.likely, "high": band.high}


def _month_day(pair: MonthDay) -> str:
    return f"{pair[0]:02d}-{pair[1]:02d}"


def _strict(value: Any) -> Any:
    match value:
        case dict():
            return {key: _strict(item) for key, item in value.items()}
        case list() | tuple():
            return [_strict(item) for item in value]
        case float():
            return round(value, 6) if isfinite(value) else None
        case date():
            return value.isoformat()
        case _:
            return value
