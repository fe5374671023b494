"""The JSON API: the command line's shapes, entries kept once, faults located; fuzzed from its description."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import invented
import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from served_garden import GARDEN, HERE, Place

from evenpick.garden.diary import new_id
from evenpick.report.as_json import as_text
from evenpick.report.plan_json import plan_shape
from evenpick.service.book import record_of


def entry(**more: Any) -> dict[str, Any]:
    return {"id": new_id(), "day": "2027-02-02", "kind": "noted", "note": "frost", **more}


def test_the_plan_is_the_command_lines(place: Place) -> None:
    shape = place.client.get("/api/plan").json()
    wanted = json.loads(as_text(plan_shape(invented.PLAN, invented.BRITISH)))
    assert {**shape, "made_from": None} == {**wanted, "made_from": None}


def test_today_and_pickings(place: Place) -> None:
    assert place.client.get("/api/today?on=2027-02-03").json()["day"] == "2027-02-03"
    weeks = place.client.get("/api/pickings?on=2027-03-01&weeks=2").json()["pickings"][0]["weeks"]
    assert [week["week"] for week in weeks] == ["2027-03-01", "2027-03-08"]


NORMALS = """\
lat = 51.5
lon = -1.25
tmin = [1, 1, 2, 4, 7, 10, 12, 12, 9, 7, 4, 2]
tmax = [7, 8, 10, 13, 17, 20, 22, 22, 19, 15, 10, 8]
rain = [50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50]
name = "{name}"
[units]
temperature = "C"
rain = "mm"
"""


def test_what_the_grower_changes_in_a_weather_file_is_answered_next(place: Place) -> None:
    own, asked = place.garden.with_name("normals.toml"), "/api/outlook?crop=radish&sow=2027-04-10"
    place.garden.write_text(GARDEN.replace("[site]", '[site]\nnormals = "normals.toml"'), encoding="utf-8")
    for name in ("Top field", "Bottom field"):
        own.write_text(NORMALS.format(name=name), encoding="utf-8")
        assert name in place.client.get(asked).text


def test_entries_sent_thrice_are_kept_once(place: Place) -> None:
    sent = {"entries": [entry(), entry(kind="weather", tmin=-2.5, note="")]}
    told = [place.client.post("/api/diary", json=sent).json() for _ in range(3)]
    assert told == [{"new": 2, "known": 0}, {"new": 0, "known": 2}, {"new": 0, "known": 2}]
    kept = place.client.get("/api/diary").json()["entries"]
    wanted = [{key: value for key, value in each.items() if value != ""} for each in sent["entries"]]
    assert [each for each in kept if each["kind"] != "set up"] == sorted(wanted, key=lambda each: each["id"])


def test_an_entry_twice_in_one_body_is_one(place: Place) -> None:
    one, other = entry(), entry(note="rain")
    told = [place.client.post("/api/diary", json={"entries": sent}).json()
            for sent in ([one, one], [one, one], [one, other, one, other])]
    assert told == [{"new": 1, "known": 0}, {"new": 0, "known": 1}, {"new": 1, "known": 1}]
    notes = [each.note for each in record_of(place.garden).entries if each.note in ("frost", "rain")]
    assert sorted(notes) == ["frost", "rain"]


def test_entries_sent_by_ten_at_once_are_kept_once(place: Place) -> None:
    sent = {"entries": [entry()]}
    with ThreadPoolExecutor(10) as pool:
        answers = list(pool.map(lambda _: place.client.post("/api/diary", json=sent).status_code, range(20)))
    assert set(answers) == {200}
    assert sum(each.note == "frost" for each in record_of(place.garden).entries) == 1


def test_all_entries_are_kept_or_none(place: Place) -> None:
    answer = place.client.post("/api/diary", json={"entries": [entry(), entry(kind="sowwed")]})
    assert answer.status_code == 400
    assert answer.json()["problems"][0]["field"] == "kind"
    assert not [each for each in record_of(place.garden).entries if each.note == "frost"]


@pytest.mark.parametrize("wrong", [
    {"id": "x"}, {"day": "tomorrow"}, {"kind": "set up", "text": "x"}, {"kind": "picked"},
    {"kind": "weather", "tmin": "cold"}, {"day": "9999-12-31", "kind": "weather", "rain": -1},
])
def test_a_wrong_entry_is_told_with_its_field(place: Place, wrong: dict[str, Any]) -> None:
    answer = place.client.post("/api/diary", json={"entries": [entry(**wrong)]})
    assert answer.status_code in (400, 422)
    assert all(problem["mend"] for problem in answer.json()["problems"])


DECIDED = {"kind": "decided", "planned": "x", "decision": "fixed"}
PUT_OFF = {"kind": "job", "job": "sow:x", "answer": "put off"}


def corrected(day: str, **fact: str) -> dict[str, Any]:
    said = {"entry": "0" * 32, "day": day, "fact": {"kind": "noted", **fact}}
    return {"kind": "corrected", "correction": said}


@pytest.mark.parametrize("day", ["0001-01-01", "1899-12-31", "2201-01-01", "9999-12-31"])
def test_a_day_too_far_off_is_refused_wherever_it_is_told(place: Place, day: str) -> None:
    for field, wrong in (("day", {"day": day}), ("sow", {**DECIDED, "sow": day}),
                         ("until", {**PUT_OFF, "until": day}), ("day", corrected(day)),
                         ("until", corrected("2027-02-02", **{**PUT_OFF, "until": day}))):
        answer = place.client.post("/api/diary", json={"entries": [entry(), entry(**wrong)]})
        assert answer.status_code == 400
        assert answer.json()["problems"] == [{
            "what": f"{day} is too far off.", "mend": "Give a year from 1900 to 2200.", "line": None,
            "field": field}]
    job = place.client.get("/api/today?on=2027-02-03").json()["jobs"][0]["job"]
    put_off = {"id": new_id(), "job": job, "answer": "put off", "day": "2027-02-03", "until": day}
    assert place.client.post("/api/jobs", json=put_off).json()["problems"][0]["field"] == "until"
    assert not [each for each in record_of(place.garden).entries if each.fact.kind != "set up"]


@pytest.mark.parametrize("day", ["1900-01-01", "2200-12-31"])
def test_the_first_and_the_last_day_that_are_near_enough_are_kept(place: Place, day: str) -> None:
    sent = {"entries": [entry(day=day), entry(**DECIDED, sow=day), entry(**corrected(day))]}
    assert place.client.post("/api/diary", json=sent).json() == {"new": 3, "known": 0}


def test_an_id_with_other_words_is_refused(place: Place) -> None:
    first = entry()
    assert place.client.post("/api/diary", json={"entries": [first]}).status_code == 200
    other = place.client.post("/api/diary", json={"entries": [{**first, "note": "rain"}]})
    assert other.status_code == 409


def test_a_job_is_answered_by_the_device_once(place: Place) -> None:
    job = place.client.get("/api/today?on=2027-02-03").json()["jobs"][0]["job"]
    sent = {"id": new_id(), "job": job, "answer": "done", "day": "2027-02-03"}
    assert [place.client.post("/api/jobs", json=sent).json()["known"] for _ in range(2)] == [0, 1]
    undo = {**sent, "id": new_id(), "answer": "undo"}
    assert [place.client.post("/api/jobs", json=undo).json()["known"] for _ in range(2)] == [0, 1]


def test_a_job_that_another_answered_is_told_with_both_answers(place: Place) -> None:
    job = place.client.get("/api/today?on=2027-02-03").json()["jobs"][0]["job"]
    sent = {"job": job, "answer": "done", "day": "2027-02-03"}
    assert place.client.post("/api/jobs", json={**sent, "id": new_id()}).status_code == 200
    late = place.client.post("/api/jobs", json={**sent, "id": new_id(), "answer": "refused"})
    assert late.status_code == 409
    assert "answered meanwhile: done, 2027-02-03. Yours, refused," in late.json()["problems"][0]["what"]


def test_a_form_of_another_site_can_not_be_json(place: Place) -> None:
    """A page elsewhere can send text without asking first; such a body is not taken as JSON."""
    body = json.dumps({"entries": [entry()]})
    for kind in ("text/plain", "application/x-www-form-urlencoded", ""):
        answer = place.client.post("/api/diary", content=body, headers={"content-type": kind})
        assert answer.status_code in (400, 415, 422), kind


def test_the_description_holds_the_api_alone(place: Place) -> None:
    described = place.client.get("/api/openapi.json").json()
    assert all(path.startswith("/api/") for path in described["paths"])
    assert {"/api/today", "/api/diary", "/api/plan"} <= set(described["paths"])


def test_fuzzed_from_its_own_description(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    """No 5xx, whatever is asked; a quick form with few examples."""
    monkeypatch.setattr(place.app.state.served.work, "start", lambda seconds=None: True)
    schema = schemathesis.openapi.from_dict(place.client.get("/api/openapi.json").json())
    quick = settings(max_examples=12, database=None, derandomize=True,
                     phases=[Phase.explicit, Phase.generate], suppress_health_check=list(HealthCheck))
    slow = {"/api/windows", "/api/why", "/api/outlook", "/api/month/{month}"}
    for found in schema.get_all_operations():
        operation = found.ok()
        if operation.path in slow and operation.method == "get":
            continue

        @quick
        @given(case=operation.as_strategy())
        def ask(case: Any) -> None:
            sent = case.as_transport_kwargs(base_url=HERE)
            answer = place.client.request(
                sent["method"], sent["url"], params=sent.get("params"),
                headers=dict(sent.get("headers") or {}), json=sent.get("json"), content=sent.get("data"))
            assert answer.status_code < 500, answer.text

        ask()
