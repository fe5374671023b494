"""What may be sown when, and why, as JSON: windows, a month, a sowing, the weather of the weeks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

from evenpick.report.as_json import Shape, band_shape, place_shape
from evenpick.report.plan_json import sowing_shape

if TYPE_CHECKING:
    from evenpick.report.words import Words
    from evenpick.service.outlook_answer import (
        LaterRow,
        MonthAnswer,
        MonthDay,
        MonthRow,
        OutlookAnswer,
        PossibleRow,
        WindowRow,
        WindowsAnswer,
    )
    from evenpick.service.weather_weeks import WeatherAnswer
    from evenpick.service.why_answer import WhyAnswer


def windows_shape(answer: WindowsAnswer, words: Words) -> Shape:
    return {**place_shape(answer.site, answer.climate), **opened(answer, words)}


def warmer_shape(degrees: float, then: WindowsAnswer, words: Words) -> Shape:
    """Windows in the same weather so many °C warmer."""
    return {"degrees": degrees, **opened(then, words)}


def opened(answer: WindowsAnswer, words: Words) -> Shape:
    return {
        "windows": [_window(row, words) for row in answer.windows],
        "never": [{"name": words.name(name), "why": why} for name, why in answer.never],
        "watered": answer.watered,
    }


def weather_shape(answer: WeatherAnswer) -> Shape:
    return {
        **place_shape(answer.site, answer.climate), "day": answer.day,
        "own": None if answer.own is None else asdict(answer.own),
        "fetched": None if answer.fetched is None else asdict(answer.fetched),
        "weeks": [{**asdict(week), "mean": band_shape(week.mean), "rain": band_shape(week.rain)}
                  for week in answer.weeks],
    }


def outlook_shape(answer: OutlookAnswer, words: Words) -> Shape:
    return {
        **place_shape(answer.site, answer.climate),
        "crop": answer.crop, "name": words.name(answer.name), "way": answer.way,
        "cover": answer.cover, "purpose": answer.purpose, "sow": answer.sow,
        "emergence": band_shape(answer.emergence), "planting_out": band_shape(answer.planting_out),
        "first_picking": band_shape(answer.first_picking), "last_picking": band_shape(answer.last_picking),
        "fates": dict(answer.fates), "cut_short": answer.cut_short, "members": answer.members,
        "own_time": answer.own_time,
        "drill": None if answer.drill is None else asdict(answer.drill),
    }


def month_shape(answer: MonthAnswer, words: Words) -> Shape:
    return {
        **place_shape(answer.site, answer.climate), "year": answer.year, "month": answer.month,
        "watered": answer.watered,
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
        "plan": [sowing_shape(sowing, words) for sowing in answer.plan],
    }


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


def _month_day(pair: MonthDay) -> str:
    return f"{pair[0]:02d}-{pair[1]:02d}"
