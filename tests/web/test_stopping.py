"""A plan being made beside the pages is stopped, for real: once keeps the best so far, twice nothing."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from datetime import date

import pytest
from served_garden import Place

from evenpick.base.days import day_number
from evenpick.garden.diary import Entry, Sowed, new_id
from evenpick.service.book import keep
from evenpick.service.store_plan import saved_plan
from evenpick.web.work import Told

PATIENCE = 120
"""seconds"""
LITTLE = """
[site]
at = "51.5, -1.25"
[plan]
years = 2
[[ground]]
name = "bed"
cover = "open"
area = "60 m²"
[[wish]]
item = "rocket"
each_week = "0.6 kg"
from = "05-01"
until = "08-31"
"""
"""a garden whose plan is soon searched to its end, on a slow machine too"""
pytestmark = pytest.mark.skipif(os.name == "nt", reason="breaks are sent in another way there")


def when(place: Place, so: Callable[[Told], bool]) -> Told:
    """How far the plan is, once it is so."""
    ends = time.monotonic() + PATIENCE
    while time.monotonic() < ends:
        told: Told = place.app.state.served.work.told()
        if so(told):
            return told
        time.sleep(0.02)
    raise TimeoutError


def begin(place: Place) -> None:
    """Until there is a plan to keep."""
    assert place.client.post("/api/work").json()["state"] == "running"
    when(place, lambda told: told.gap is not None)


def test_stopped_once_the_best_so_far_is_kept_and_said(place: Place) -> None:
    before = saved_plan(place.garden)
    begin(place)
    assert place.client.delete("/api/work").json()["state"] == "stopping"
    assert when(place, lambda told: told.state != "stopping").kept
    assert saved_plan(place.garden) != before
    told = place.client.get("/api/work").json()
    assert (told["state"], told["kept"]) == ("stopped", True)
    assert "Stopped; the best plan so far is kept." in place.client.get("/work").text


def test_stopped_twice_nothing_is_kept_and_that_is_said(place: Place) -> None:
    before = saved_plan(place.garden)
    begin(place)
    states = [place.client.delete("/api/work").json()["state"] for _ in range(2)]
    assert states[0] == "stopping"
    assert not when(place, lambda told: told.state != "stopping").kept
    assert saved_plan(place.garden) == before
    told = place.client.get("/api/work").json()
    assert (told["state"], told["kept"]) == ("stopped", False)
    assert "Stopped. The plan that there was stays." in place.client.get("/work").text


def test_stopped_sooner_than_the_plan_that_there_is_that_plan_stays(place: Place) -> None:
    """For the same day, garden and diary; once something is written in the diary it is another plan."""
    place.garden.write_text(LITTLE, encoding="utf-8")
    assert place.client.post("/api/work").json()["state"] == "running"
    assert when(place, lambda told: told.state == "done").kept
    before = saved_plan(place.garden)
    assert before is not None
    assert before.gap is not None
    begin(place)
    place.client.delete("/api/work")
    told = when(place, lambda told: told.state == "stopped")
    assert told.gap is not None
    assert told.gap > before.gap
    assert (told.kept, told.stays) == (False, True)
    assert saved_plan(place.garden) == before
    assert "proven nearer to the best possible" in place.client.get("/work").text
    keep(place.garden, [Entry(new_id(), day_number(date.today()), Sowed("rocket", "direct", "open", 1.0))])
    begin(place)
    place.client.delete("/api/work")
    assert when(place, lambda told: told.state == "stopped").kept
