"""Jobs of sowings under way and what the grower says to them (docs/design/record.md, R8 to R10). Invented
garden and diary, real weather of Dublin Airport."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest
from evenpick.garden.diary import CameUp, Corrected, Lost, PlantedOut, Reading, Sowed
from evenpick.service.answers import TodayAnswer
from evenpick.service.book import record_of, write
from evenpick.service.job_answers import answer_job, undo_job
from evenpick.service.planning import save_plan
from evenpick.service.store_plan import garden_digest
from evenpick.service.today import today

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
import invented

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "bed 3"
cover = "open"
area = "30 m2"
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "10 m2"
[[wish]]
item = "rocket"
each_week = "250 g"
"""
SOWN = date(2027, 4, 10)


@pytest.fixture
def garden(garden: Path) -> Path:
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(TEXT))
    save_plan(garden, replace(invented.PLAN, made_from=made_from))
    return garden


def sow(garden: Path, fact: Sowed, when: date = SOWN) -> str:
    return write(garden, [(when, fact, "")])[0].id


def kinds(answer: TodayAnswer, sowing: str) -> set[str]:
    return {job.kind for job in (*answer.jobs, *answer.coming) if job.sowing == sowing}


def test_carrots_are_looked_for_thinned_weeded_and_netted(garden: Path) -> None:
    sowing = sow(garden, Sowed("early-carrot", "direct", "open", 1.2, ground="bed 3"))
    seen: set[str] = set()
    for week in range(56):
        seen |= kinds(today(garden, SOWN + timedelta(weeks=week)), sowing)
    assert seen - {"water"} == {"look", "thin", "weed", "net", "pick", "clear"}


def test_up_later_than_reckoned_is_picked_later(garden: Path) -> None:
    sowing = sow(garden, Sowed("radish", "direct", "open", 1.0))

    def first_pick() -> date:
        days = (SOWN + timedelta(days=n) for n in range(20, 120))
        return next(day for day in days if any(
            job.kind == "pick" and job.sowing == sowing for job in today(garden, day).jobs))

    reckoned = first_pick()
    write(garden, [(date(2027, 5, 20), CameUp(sowing), "")])
    assert first_pick() > reckoned + timedelta(days=14)


def test_a_raised_crop_is_hardened_off_before_it_goes_out(garden: Path) -> None:
    sowing = sow(garden, Sowed("leek", "raised", "open", 3.0))
    days = {
        job.kind: job.when for week in range(20)
        for job in today(garden, SOWN + timedelta(weeks=week)).jobs if job.sowing == sowing
    }
    assert days["harden off"] < days["plant out"]
    write(garden, [(days["plant out"], PlantedOut(sowing, "bed 3"), "")])
    later = today(garden, days["plant out"])
    assert "plant out" not in kinds(later, sowing)


def test_a_frost_tonight_covers_what_it_would_kill(garden: Path) -> None:
    beans = sow(garden, Sowed("dwarf-bean", "direct", "open", 1.0), date(2027, 5, 15))
    write(garden, [(date(2027, 5, 28), CameUp(beans), "")])
    onions = sow(garden, Sowed("onion-sets", "planted", "open", 1.0), date(2027, 3, 15))
    mild, cold = today(garden, date(2027, 6, 1), tonight=9.0), today(garden, date(2027, 6, 1), tonight=-2.0)
    assert "cover" not in kinds(mild, beans)
    assert cold.jobs[0].kind == "cover"
    assert cold.jobs[0].sowing == beans
    assert "cover" not in kinds(cold, onions)


def test_done_is_written_and_undone(garden: Path) -> None:
    plan = replace(invented.PLAN)
    rocket = next(sowing for sowing in plan.sowings if sowing.crop == "rocket")
    job = next(job for job in today(garden, rocket.sow).jobs if job.planned == rocket.id)
    answer_job(garden, job.tag, "done", rocket.sow)
    made = next(iter(record_of(garden).sowings.values()))
    assert (made.fact.planned, made.area, made.day) == (rocket.id, rocket.area_m2, day_number(rocket.sow))
    page = today(garden, rocket.sow)
    assert job.id not in {each.id for each in page.jobs}
    assert [(each.id, each.answer) for each in page.answered] == [(job.id, "done")]
    undo_job(garden, job.tag, rocket.sow)
    assert not record_of(garden).sowings
    assert job.id in {each.id for each in today(garden, rocket.sow).jobs}


def test_put_off_comes_back_and_refused_does_not(garden: Path) -> None:
    rocket = next(sowing for sowing in invented.PLAN.sowings if sowing.crop == "rocket")
    job = next(job for job in today(garden, rocket.sow).jobs if job.planned == rocket.id)
    answer_job(garden, job.id, "put off", rocket.sow, rocket.sow + timedelta(days=9))
    assert job.id not in {each.id for each in today(garden, rocket.sow).jobs}
    assert job.id in {each.id for each in today(garden, rocket.sow + timedelta(days=9)).jobs}
    answer_job(garden, job.id, "refused", rocket.sow + timedelta(days=9))
    assert record_of(garden).decisions[rocket.id].decision == "refused"
    assert job.id not in {each.id for each in today(garden, rocket.sow + timedelta(days=9)).jobs}


def test_what_was_lost_whole_is_cleared(garden: Path) -> None:
    sowing = sow(garden, Sowed("kohlrabi", "direct", "open", 1.0))
    write(garden, [(date(2027, 5, 20), Lost(sowing, "eaten", 1.0, "slugs"), "")])
    assert kinds(today(garden, date(2027, 5, 21)), sowing) == {"clear"}


def test_an_unknown_job_is_told_with_those_there_are(garden: Path) -> None:
    with pytest.raises(BadRequest, match="there is no job 'zzzz'"):
        answer_job(garden, "zzzz", "done", date(2027, 2, 6))
    tag = today(garden, date(2027, 2, 6)).jobs[0].tag
    with pytest.raises(BadRequest, match="no later day"):
        answer_job(garden, tag, "put off", date(2027, 2, 6), date(2027, 2, 1))


def test_a_drill_in_a_dry_week_is_watered_and_in_a_wet_one_left(garden: Path) -> None:
    carrots = sow(garden, Sowed("early-carrot", "direct", "open", 1.2), date(2027, 6, 1))
    days = [date(2027, 5, 20) + timedelta(days=n) for n in range(20)]
    dry = [(day, Reading(tmin=12.0, tmax=26.0, rain=0.0), "") for day in days]
    written = write(garden, dry)
    due = [job for job in today(garden, date(2027, 6, 6)).jobs if job.kind == "water"]
    assert [(job.sowing, job.when) for job in due] == [(carrots, date(2027, 6, 6))]
    assert due[0].litres_per_m is not None
    assert 0.1 < due[0].litres_per_m < 5
    wet = [(day, Corrected(one.id, one.day, Reading(tmin=12.0, tmax=18.0, rain=8.0)), "")
           for day, one in zip(days, written, strict=True)]
    write(garden, wet)
    assert not [job for job in today(garden, date(2027, 6, 6)).jobs if job.kind == "water"]
