"""Minutes of jobs by hand from data/hours.csv, and a week's page dealt by them (docs/design/season.md, 23).
Invented garden, plan and diary, real weather of Dublin Airport.

Catalogue: rocket in rows 0.25 m apart (cut, 12 min a kg), leeks 0.15 m in rows 0.35 m apart, runner beans
0.15 m in rows 1 m apart.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.garden.diary import CameUp, Entry, Fact, Lost, Picked, PlantedOut, Sowed, Tended, new_id
from evenpick.garden.record import Record, fold
from evenpick.service.job_answers import answer_job
from evenpick.service.job_minutes import done_on, with_minutes
from evenpick.service.planning import save_plan
from evenpick.service.store_plan import garden_digest
from evenpick.service.today import jobs_ahead, today
from evenpick.service.today_answer import Job, JobKind, WorkDay

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
import invented

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
sowing_day = ["wednesday", "saturday"]
[hours]
days = { wednesday = "30 min", saturday = "2 h" }
[[ground]]
name = "bed 3"
cover = "open"
area = "30 m2"
[[wish]]
item = "salad leaves"
crops = ["rocket"]
each_week = "250 g"
[[away]]
from = 2027-02-06
until = 2027-02-06
hours = "50 %"
"""
ROCKET, BEANS = invented.SOWINGS[1], invented.SOWINGS[0]
JUNE = date(2027, 6, 21)
"""the Monday of a week in which 1 kg of salad leaves is likely"""


def job(kind: JobKind, crop: str = "rocket", area: float = 10.0, **about: str) -> Job:
    made = replace(invented.SOW, id=f"{kind} {about}", kind=kind, crop=crop, area_m2=area, planned=None)
    return replace(made, **about)


def minutes(jobs: list[Job], record: Record, day: date = JUNE) -> list[int | None]:
    return [each.minutes for each in with_minutes(jobs, invented.PLAN, record, day)]


def sown(
    crop: str, way: str, area: float, *facts: Fact, planned: str | None = None
) -> tuple[str, list[Entry]]:
    """A sowing of 1 March with what followed, all on 21 June."""
    identity = new_id()
    made = Sowed(crop, way, "open", area, planned=planned)  # type: ignore[arg-type]
    later = [Entry(new_id(), day_number(JUNE), replace(fact, sowing=identity)) for fact in facts]
    return identity, [Entry(identity, day_number(date(2027, 3, 1)), made), *later]


def test_sowing_by_its_row() -> None:
    """10 m² are 40 m of row at 0.6: 24. 3 m² of raised beans 20 plants at 0.25: 5. A dot takes one."""
    jobs = [job("sow", planned=ROCKET.id), job("sow", "runner-bean", 3.0, planned=BEANS.id),
            job("sow", area=0.1, planned=ROCKET.id), job("sow", planned="nobody knows")]
    assert minutes(jobs, fold([])) == [24, 5, 1, None]


def test_planting_out_by_what_is_left() -> None:
    """3 m² of leeks are 57 plants, at 0.4 22.9 minutes; half were lost: 11.4."""
    whole, entries = sown("leek", "raised", 3.0)
    half, more = sown("leek", "raised", 3.0, Lost("", "eaten", 0.5))
    jobs = [job("plant out", "leek", 3.0, sowing=whole), job("plant out", "leek", 3.0, sowing=half)]
    assert minutes(jobs, fold([*entries, *more])) == [23, 11]


def test_tending_is_a_week_of_its_ground_and_the_rest_is_not_known() -> None:
    """20 m² at 0.6 a week: 12."""
    carrots, entries = sown("early-carrot", "direct", 20.0)
    tended: list[JobKind] = ["thin", "weed", "earth up", "support", "net"]
    other: list[JobKind] = ["look", "prick out", "pot on", "harden off", "cover", "water", "clear"]
    jobs = [job(kind, "early-carrot", 20.0, sowing=carrots) for kind in (*tended, *other)]
    assert minutes(jobs, fold(entries)) == [12] * 5 + [None] * 7


def test_picking_by_what_is_likely_shared_by_ground() -> None:
    """1 kg likely of 3 and 1 m²: 0.75 and 0.25 kg at 12 minutes. In February nothing is likely, and of what
    serves no item nothing is known."""
    large, first = sown("rocket", "direct", 3.0, planned=ROCKET.id)
    small, second = sown("rocket", "direct", 1.0, planned=ROCKET.id)
    other, third = sown("leek", "raised", 1.0)
    record = fold([*first, *second, *third])
    jobs = [job("pick", sowing=large, planned=ROCKET.id), job("pick", sowing=small, planned=ROCKET.id),
            job("pick", "leek", sowing=other)]
    assert minutes(jobs, record) == [9, 3, None]
    assert minutes(jobs, record, invented.MONDAY) == [None, None, None]
    assert [each.minutes for each in with_minutes(jobs, None, record, JUNE)] == [None, None, None]


def test_what_the_diary_has_of_a_day_has_taken_its_minutes() -> None:
    """21 June: 0.5 kg of rocket 6, weeding 10 m² of it 6, 57 leeks out 23; looking, unweighed and another
    day's sowing nothing."""
    _, rocket = sown("rocket", "direct", 10.0, Picked("rocket", kg=0.5), Tended("weeded"), CameUp(""),
                     Picked("rocket"))
    _, leeks = sown("leek", "raised", 3.0, PlantedOut(""))
    record = fold([*rocket, *leeks])
    assert done_on(record, JUNE) == 6 + 6 + 23
    assert done_on(record, date(2027, 3, 1)) == 24 + 14  # 40 m of rocket, 57 cells of leeks
    assert done_on(record, JUNE + timedelta(days=1)) == 0


@pytest.fixture
def garden(garden: Path) -> Path:
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(TEXT))
    save_plan(garden, replace(invented.PLAN, made_from=made_from))
    return garden


def test_the_week_is_dealt_from_today_on(garden: Path) -> None:
    """Half of Saturday's 2 h are left. The rocket, 1.2 m² or 4.8 m of row, 3 minutes, is for Saturday."""
    wednesday, saturday = date(2027, 2, 3), date(2027, 2, 6)
    page = today(garden, wednesday)
    assert [(day.day, day.there, day.dealt) for day in page.days if day.there] == [
        (wednesday, 30, 0), (saturday, 60, 3)]
    assert page.days[0].day == wednesday
    assert page.days[-1].day == date(2027, 2, 7)
    assert [(each.planned, each.on, each.minutes) for each in page.jobs] == [(ROCKET.id, saturday, 3)]
    assert all(each.on is None for each in page.coming)


def test_what_is_done_is_taken_off_its_day(garden: Path) -> None:
    saturday = date(2027, 2, 6)
    answer_job(garden, today(garden, saturday).jobs[0].id, "done", saturday)
    page = today(garden, saturday)
    assert page.days[0] == WorkDay(saturday, 60, 0, 3)


def test_a_job_put_off_past_the_weeks_hours_finds_no_time(garden: Path) -> None:
    wednesday, sunday = date(2027, 2, 3), date(2027, 2, 7)
    answer_job(garden, today(garden, wednesday).jobs[0].id, "put off", wednesday, sunday)
    (rocket,) = today(garden, wednesday).jobs
    assert (rocket.on, rocket.minutes, rocket.when) == (None, 3, sunday)


def test_weeks_ahead_are_dealt_each_by_itself(garden: Path) -> None:
    """No diary is kept. Beans planned for Saturday 8 May; the clearing of rocket is due on Monday 10 May and
    its week's first hours are Wednesday's."""
    ahead, dealt, _ = jobs_ahead(garden, date(2027, 2, 3), 100)
    assert dealt
    assert [(each.kind, each.crop, each.on) for each in ahead] == [
        ("sow", "rocket", date(2027, 2, 6)), ("sow", "runner-bean", date(2027, 5, 8)),
        ("clear", "rocket", date(2027, 5, 12))]


def test_without_hours_by_the_day_nothing_is_dealt(garden: Path) -> None:
    text = TEXT.replace('days = { wednesday = "30 min", saturday = "2 h" }', 'week = "150 min"')
    garden.write_text(text, encoding="utf-8")
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(text))
    save_plan(garden, replace(invented.PLAN, made_from=made_from))
    page = today(garden, date(2027, 2, 3))
    assert page.days == ()
    assert [(each.on, each.minutes) for each in page.jobs] == [(None, 3)]
    ahead, dealt, _ = jobs_ahead(garden, date(2027, 2, 3), 100)
    assert not dealt
    assert [(each.kind, each.when, each.on) for each in ahead] == [
        ("sow", date(2027, 2, 6), None), ("sow", date(2027, 5, 8), None), ("clear", date(2027, 5, 10), None)]
