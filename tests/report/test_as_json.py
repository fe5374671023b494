"""JSON shapes as docs/interface.md promises them; strict JSON, SI units."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

import invented
import pytest
from invented import AMERICAN, BRITISH

from evenpick.report import as_json, plan_json, when_json
from evenpick.report.pickings import shown_weeks


def no_constant(word: str) -> None:
    raise AssertionError(f"{word} is not JSON")


def read(shape: dict[str, Any]) -> Any:
    return json.loads(as_json.as_text(shape), parse_constant=no_constant)


def test_windows() -> None:
    answer = read(when_json.windows_shape(invented.WINDOWS, BRITISH))
    assert answer["site"] == {"name": "Testham", "lat": 51.5, "lon": -1.25, "height_m": 60.0}
    assert set(answer["climate"]) == {
        "source", "station", "distance_km", "height_difference_m", "years", "licence", "notes", "made"}
    assert answer["windows"][0] == {
        "crop": "rocket", "name": "Rocket", "way": "direct", "cover": "open", "purpose": "baby leaf",
        "opens": "03-14", "closes": "09-20", "all_year": False, "success": 0.93,
        "first_picking": [{"sow": "04-01", "p10": 31, "p50": 35, "p90": 41}],
        "closed_before": "too cold to start", "closed_after": "slow growth", "use": "",
    }
    assert answer["never"] == [{"name": "Runner bean", "why": "frosted"}]


def test_names_follow_the_reader() -> None:
    answer = read(when_json.windows_shape(invented.WINDOWS, AMERICAN))
    assert answer["windows"][0]["name"] == "Arugula"
    assert answer["windows"][0]["crop"] == "rocket"


def test_outlook() -> None:
    answer = read(when_json.outlook_shape(invented.OUTLOOK, BRITISH))
    assert answer["sow"] == "2027-05-01"
    assert answer["first_picking"] == {"p10": 70, "p50": 81, "p90": 95}
    assert answer["fates"] == {"good": 0.9, "frosted": 0.1, "bolted": 0.0}
    hopeless = read(when_json.outlook_shape(invented.HOPELESS, BRITISH))
    assert hopeless["first_picking"] is None
    assert hopeless["emergence"] is None


def test_plan() -> None:
    answer = read(plan_json.plan_shape(invented.PLAN, BRITISH))
    bean = answer["sowings"][0]
    assert (bean["date"], bean["crop"], bean["plants"], bean["row_m"], bean["grams"]) == (
        "2027-05-08", "runner-bean", 24, 3.5, 42.0)
    assert bean["first_picking"] == {"p10": "2027-07-16", "p50": "2027-07-24", "p90": "2027-08-07"}
    assert bean["fills"] == {"first": "2027-07-19", "last": "2027-09-06"}
    week = answer["pickings"][1]["weeks"][26]
    assert week == {"week": "2027-08-02", "iso_week": "2027-W31", "wanted": 2.0, "low": 2.38, "likely": 3.4,
                    "high": 4.42, "bare": 0.0, "spare": 1.4, "piece_kg": None, "of_all": None}
    assert answer["unseen"]["plan"]["bare"] == 0.052
    assert answer["unseen"]["interval_rule"]["setting"] == "every 14 days, equal areas"
    assert answer["made_from"]["seed"] == 7
    assert {"gap", "seconds", "stages", "cannot", "ground", "seed", "notes", "invented"} <= set(answer)


def test_what_is_no_number_is_null() -> None:
    answer = read(plan_json.plan_shape(invented.EMPTY, BRITISH))
    assert answer["unseen"]["plan"]["spare"] is None


def test_month_why_and_today() -> None:
    month = read(when_json.month_shape(invented.MONTH, BRITISH))
    assert month["now"][7]["bench_c"] == 16.0
    assert month["later"][0]["opens"] == "07-10"
    assert month["past"][0]["opens"] is None
    why = read(when_json.why_shape(invented.WHY, BRITISH))
    assert why["sources"] == {"invented2027": "Nobody 2027, An invented source"}
    assert why["outlook"]["crop"] == "runner-bean"
    today = read(plan_json.today_shape(invented.TODAY))
    assert today["jobs"][0]["can_wait_until"] == "2027-02-13"
    assert today["pick"] == [{"item": "salad leaves", "low": 0.31, "likely": 0.46, "high": 0.7,
                              "piece": "bunch", "piece_kg": 0.2, "of_all": None}]


@pytest.mark.parametrize(
    ("on", "first"), [(date(2027, 7, 15), "2027-07-12"), (date(2026, 1, 1), "2027-02-01")]
)
def test_pickings_tell_only_the_weeks_asked_for(on: date, first: str) -> None:
    shown = shown_weeks(invented.PLAN.pickings, on, invented.PLAN.begins, 3)
    answer = read(plan_json.pickings_shape(invented.PLAN, shown, BRITISH, lambda week: invented.SHARES[:1]))
    for item in answer["pickings"]:
        assert len(item["weeks"]) == 3
        assert item["weeks"][0]["week"] == first
    assert len(answer["shares"]) == 3
    assert answer["shares"][0] == {
        "week": first, "outlet": "boxes", "kg": 3.43, "least_kg": 4.0, "worth": 11.2, "least_worth": 12.5,
        "unpriced": False, "money": "€",
    }


def test_shares_that_fall_short_and_takings() -> None:
    answer = read(plan_json.plan_shape(invented.PLAN, BRITISH))
    assert answer["money"] == "€"
    assert answer["short_shares"][1] == {"outlet": "boxes", "what": "worth", "least": 12.5,
                                         "weeks": ["2027-02-01"], "wished_less": 0}
    assert answer["takings"][1] == {
        "outlet": "stall", "low": 0.0, "likely": 3.4, "high": 88.0, "unpriced": [],
        "months": [{"month": "2027-02-01", "likely": 0.0}, {"month": "2027-03-01", "likely": 3.4}],
    }
    assert answer["takings"][2]["outlet"] is None
