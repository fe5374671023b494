"""Jobs told under their days (docs/design/season.md, 19), in all the answers. INVENTED week."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime

import invented
import pypdfium2
import pytest
import vobject
from invented import AMERICAN, BRITISH, SATURDAY, SUNDAY, WEEK

from evenpick.base.language import language, using
from evenpick.report.as_json import as_text
from evenpick.report.calendar import calendar
from evenpick.report.paper import BOX, pdf
from evenpick.report.plan_json import today_shape
from evenpick.report.sheets import week_sheet
from evenpick.report.terminal import render
from evenpick.report.today import today_page
from evenpick.report.work_days import beside, days_of_jobs, spoken
from evenpick.service.today_answer import WorkDay


@pytest.mark.parametrize(("minutes", "said"), [
    (0, "0 min"), (40, "40 min"), (60, "1 h"), (65, "1 h 05"), (130, "2 h 10"), (600, "10 h"),
])
def test_minutes_are_said_as_a_clock_says_them(minutes: int, said: str) -> None:
    assert spoken(minutes) == said


@pytest.mark.parametrize(("there", "dealt", "done", "said"), [
    (180, 130, 0, "2 h 10 of 3 h"), (180, 180, 0, "3 h of 3 h"), (180, 0, 0, "0 min of 3 h"),
    (180, 120, 60, "2 h of 3 h, 1 h done already"),
    (180, 200, 0, "3 h 20, more than is left of 3 h"),
    (180, 10, 175, "10 min, more than is left of 3 h, 2 h 55 done already"),
    (180, 0, 200, "0 min of 3 h, 3 h 20 done already"),
    (0, 0, 0, "no hours"), (0, 25, 0, "25 min, and no hours"),
])
def test_a_day_is_told_with_its_hours(there: int, dealt: int, done: int, said: str) -> None:
    days = WorkDay(WEEK.day, there, dealt, done), WorkDay(SATURDAY, there, dealt, done)
    told = [each.heading for each in days_of_jobs(replace(WEEK, days=days, jobs=()))]
    assert told[0] == f"today, Wednesday 3 Feb: {said}"
    assert told[1:] == ([f"Saturday 6 Feb: {said}"] if there or dealt else [])


def test_every_job_stands_once_under_its_day() -> None:
    """Wednesday, Saturday, Sunday with what goes on; Thursday and Friday have no hours; the rest apart."""
    told = [(each.heading, [job.kind for job in each.jobs] or each.none) for each in days_of_jobs(WEEK)]
    assert told == [
        ("today, Wednesday 3 Feb: 2 h 10 of 3 h, 20 min done already", ["thin"]),
        ("Saturday 6 Feb: 1 h of 1 h", ["sow", "clear"]),
        ("Sunday 7 Feb: 5 min of 1 h", "What was begun before goes on."),
        ("no time for it this week", ["plant out"]),
    ]
    idle = days_of_jobs(replace(WEEK, jobs=(), days=(WorkDay(WEEK.day, 180),)))
    assert [each.none for each in idle] == ["No job is put on it."]
    assert days_of_jobs(WEEK, on_paper=True)[0].heading.startswith("Wednesday 3 Feb")
    with using(language("en_US")):
        assert days_of_jobs(WEEK)[1].heading == "Saturday, Feb 6: 1 h of 1 h"


def test_without_hours_by_the_day_there_are_no_days() -> None:
    assert days_of_jobs(invented.TODAY) == ()
    assert "TO DO\n" in render(today_page(invented.TODAY, BRITISH))
    minutes = replace(invented.TODAY, jobs=tuple(replace(job, minutes=5) for job in invented.TODAY.jobs))
    assert render(today_page(minutes, BRITISH)) == render(today_page(invented.TODAY, BRITISH))


def test_late_and_going_on_are_said_beside() -> None:
    assert beside(WEEK.jobs[0], 2027) == "late, due 30 Jan"
    assert beside(WEEK.jobs[1], 2027) == "goes on until 7 Feb"
    assert beside(replace(WEEK.jobs[0], ends=SUNDAY), 2027) == "late, due 30 Jan, goes on until 7 Feb"
    assert beside(WEEK.jobs[2], 2027) == ""


def test_the_printed_week_stands_under_its_days() -> None:
    made = week_sheet(WEEK, BRITISH, "a4")
    words = pypdfium2.PdfDocument(pdf(made))[0].get_textpage().get_text_range()
    at = [words.index(said) for said in ("Wednesday 3 Feb: 2 h 10 of 3 h", "Saturday 6 Feb: 1 h of 1 h",
                                         "No time for it this week", "Likely to pick this week")]
    assert at == sorted(at)
    assert words.count(BOX) == len(WEEK.jobs)
    assert "Today" not in words
    assert "Sunday" not in words  # nothing is to be ticked there
    assert "Jobs of which the time is not known count as none." in words
    assert pdf(week_sheet(WEEK, AMERICAN, "letter"))


def test_the_calendar_puts_each_on_its_day() -> None:
    """The sowing, due on Saturday, and the thinning, due on 30 January, on the days they are dealt to; what
    finds no time on the day it is due. The rest of a plain calendar is as before."""
    stamp = datetime(2027, 2, 3, tzinfo=UTC)
    found = vobject.readOne(calendar(WEEK.jobs, BRITISH, "a garden", stamp, dealt=True).decode())
    thin, sow, clear, out = found.vevent_list
    assert (thin.dtstart.value, sow.dtstart.value, clear.dtstart.value) == (WEEK.day, SATURDAY, SATURDAY)
    assert thin.dtend.value == invented.date(2027, 2, 4)
    assert out.dtstart.value == WEEK.jobs[3].when
    assert thin.description.value.endswith("takes 2 h 10\nlate, due 30 Jan")
    assert sow.description.value.endswith("takes 1 h 05\ngoes on until 7 Feb")
    assert "takes" not in clear.description.value
    assert out.description.value.endswith("takes 1 h\nno time for it this week")
    plain = vobject.readOne(calendar(invented.TODAY.jobs, BRITISH, "a garden", stamp).decode())
    assert [event.dtstart.value for event in plain.vevent_list] == [job.when for job in invented.TODAY.jobs]
    assert "no time" not in plain.serialize()


def test_json_tells_days_and_minutes() -> None:
    answer = json.loads(as_text(today_shape(WEEK)))
    assert [(job["on"], job["minutes"], job["ends"]) for job in answer["jobs"]] == [
        ("2027-02-03", 130, None), ("2027-02-06", 65, "2027-02-07"), ("2027-02-06", None, None),
        (None, 60, None)]
    assert answer["days"][0] == {"day": "2027-02-03", "there": 180, "dealt": 130, "done": 20}
    assert len(answer["days"]) == 5
    assert json.loads(as_text(today_shape(invented.TODAY)))["days"] == []
