"""What was typed stands in the form that was refused, on every page, also where no script runs."""

from __future__ import annotations

import html
import re

import pytest
from served_garden import DAY, DRILL, Place

from evenpick.base.days import day_number
from evenpick.garden.diary import Entry, SeedGot, SeedLeft, TrialRecorded, new_id
from evenpick.service.book import keep, record_of

PACKETS = [f"{1_810_000_000_000 + n:012x}{n:020x}" for n in range(2)]
PICKS = "2027-04-24"
SOWING = "/sowings/runner-bean.raised.open.2027-05-08"


def tin(place: Place) -> None:
    keep(place.garden, [Entry(identity, day_number(DAY), SeedGot("rocket", f"no. {n}", 2026, None, 2.0))
                        for n, identity in enumerate(PACKETS)])


def refused(place: Place, path: str, **typed: str) -> str:
    sent = place.client.post(path, data={"token": place.token, "id": new_id(), **typed})
    assert 400 <= sent.status_code < 500
    page = html.unescape(sent.text)
    assert 'role="alert"' in page
    return page


def stands(page: str, field: str, text: str) -> bool:
    found = re.findall(rf'<input[^>]*name="{field}"[^>]*>', page)
    return any(f'value="{text}"' in each for each in found)


@pytest.mark.parametrize(("path", "typed", "why"), [
    ("/tin/left", {"amount": "a handful"}, "'a handful' can't be read"),
    ("/tin/test", {"tried": "20", "came": "25"}, "25 of 20 can't be"),
    ("/tin/test", {"tried": "20", "came": "most"}, "'most' is not a number"),
    ("/tin/test", {"tried": "0", "came": "0"}, "1 or more"),
])
def test_of_a_packet_in_the_tin(place: Place, path: str, typed: dict[str, str], why: str) -> None:
    tin(place)
    page = refused(place, path, packet=PACKETS[1], **typed)
    assert why in page
    assert all(stands(page, field, text) for field, text in typed.items())
    form = page[page.index(f'action="{path}"'):].split("</form>")[0]
    assert f'<option value="{PACKETS[1]}" selected>' in form


@pytest.mark.parametrize(("typed", "why"), [
    ({"sow": "2027-05-20", "area": "lots"}, "'lots' can't be read"),
    ({"sow": "2027-01-05", "area": "12 plants"}, "2027-01-05 is past"),
])
def test_of_a_planned_sowing(place: Place, typed: dict[str, str], why: str) -> None:
    page = refused(place, SOWING, decision="fixed", **typed)
    assert why in page
    assert all(stands(page, field, text) for field, text in typed.items())


def test_of_a_weight_beside_a_job(grown: Place) -> None:
    page = grown.client.get(f"/?on={PICKS}").text
    job = re.search(r'name="job" value="(pick:[^"]+)"', page)
    assert job is not None
    told = refused(grown, "/jobs", job=job[1], answer="done", weight="two buckets",
                   shown=f"{PICKS}", day=f"{PICKS}")
    assert "'two buckets' can't be read" in told
    assert told.count('value="two buckets"') == 1
    assert job[1] in told.split('value="two buckets"')[0].rsplit("<form", 1)[1]
    assert "two buckets" not in grown.client.get(f"/?on={PICKS}").text


@pytest.mark.parametrize(("more", "why"), [
    ({"day": "3.2.2027"}, "'3.2.2027' is not a date"),
    ({"day": "2027-02-03", "answers": "{"}, "can't be read"),
])
def test_of_a_line_of_the_diary(place: Place, more: dict[str, str], why: str) -> None:
    page = refused(place, "/diary", line="Picked 2,5 kg rocket", **more)
    assert why in page
    assert ">Picked 2,5 kg rocket</textarea>" in page


def test_a_line_that_the_browser_takes_is_not_too_long_for_the_garden(place: Place) -> None:
    """A browser counts the end of a line as one letter and sends two."""
    line = "note: " + "a\n" * 997
    sent = {"token": place.token, "id": new_id(), "line": line.replace("\n", "\r\n"), "step": "words"}
    assert len(line) == 2000
    assert place.client.post("/diary", data=sent).status_code == 303


def trial(place: Place) -> str:
    sent = {"token": place.token, "name": "cos", "varieties": "Webb, Bijou, Cos", "length": "22,5",
            "plot": "1"}
    laid = place.client.post("/trials", data=sent)
    assert laid.status_code == 303, laid.text
    return str(laid.headers["location"])


@pytest.mark.parametrize("typed", ["plenty", "-1", "1,500"])
def test_of_a_trials_figure(place: Place, typed: str) -> None:
    page = refused(place, trial(place), plot="4", measure="count", value=typed)
    assert f"'{typed}'" in page
    assert stands(page, "value", typed)
    assert '<option value="4" selected>' in page
    assert '<option value="count" selected>' in page


def test_of_a_new_trials_lengths(place: Place) -> None:
    page = refused(place, "/trials", name="cos", varieties="Webb, Bijou", length="long", plot="1,5")
    assert stands(page, "length", "long")
    assert stands(page, "plot", "1,5")
    assert stands(page, "varieties", "Webb, Bijou")


def test_decimals_may_stand_after_a_comma_wherever_figures_are_typed(place: Place) -> None:
    tin(place)
    told = place.client.post("/tin/left", data={"token": place.token, "id": new_id(), "packet": PACKETS[0],
                                                "amount": "1,5 g"})
    assert told.status_code == 303
    at = trial(place)
    told = place.client.post(at, data={"token": place.token, "id": new_id(), "plot": "1", "value": "2,5",
                                       "measure": "weight_kg"})
    assert told.status_code == 303
    facts = [entry.fact for entry in record_of(place.garden).entries]
    assert [fact.grams for fact in facts if isinstance(fact, SeedLeft)] == [1.5]
    assert [fact.value for fact in facts if isinstance(fact, TrialRecorded)] == [2.5]


@pytest.mark.parametrize("path", ["/tin/left", "/tin/got", "/lessons/leave-out", "trial"])
def test_what_was_kept_is_said_and_so_is_what_was_undone(grown: Place, path: str) -> None:
    tin(grown)
    sent = {"token": grown.token, "id": new_id()}
    more = {"/tin/left": {"packet": PACKETS[0], "amount": "1 g"},
            "/tin/got": {"crop": "kale", "amount": "3 g"},
            "/lessons/leave-out": {"sowing": DRILL},
            "trial": {"plot": "1", "measure": "count", "value": "7"}}[path]
    told = grown.client.post(trial(grown) if path == "trial" else path, data={**sent, **more})
    page = grown.client.get(told.headers["location"]).text
    assert re.search(r'<p class="said" role="status">Kept: 3 Feb 2027, ', page)
    undo = re.search(r'action="/diary/undo".*?name="entry" value="(\w+)"', page, re.DOTALL)
    assert undo is not None
    assert undo[1] == sent["id"]
    gone = grown.client.post("/diary/undo", data={"token": grown.token, "id": new_id(), "entry": undo[1]})
    assert "Undone: 3 Feb 2027, " in grown.client.get(gone.headers["location"]).text


def test_a_job_undone_is_said(place: Place) -> None:
    job = re.search(r'name="job" value="(sow:[^"]+)"', place.client.get("/").text)
    assert job is not None
    sent = {"token": place.token, "job": job[1], "day": "2027-02-03"}
    assert place.client.post("/jobs", data={**sent, "id": new_id(), "answer": "done"}).status_code == 303
    told = place.client.post("/jobs/undo", data={**sent, "id": new_id()})
    page = place.client.get(told.headers["location"]).text
    said = re.search(r'<p class="said" role="status">Undone: ([^<]+)', page)
    assert said is not None
    assert "Rocket" in said[1]
