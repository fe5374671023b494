"""Jobs of sowings under way and what the grower says to them (docs/design/record.md, R8 to R10). Invented
garden and diary, real weather of Dublin Airport."""

from __future__ import annotations

import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date, timedelta
from functools import partial
from pathlib import Path
from threading import Barrier

import pytest

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import (
    Answered,
    CameUp,
    Cleared,
    Corrected,
    Decided,
    JobAnswer,
    Lost,
    PlantedOut,
    Reading,
    Sowed,
    Tended,
    Watered,
    new_id,
)
from evenpick.report.terminal import render
from evenpick.report.today import gathered, today_page
from evenpick.report.words import words_for
from evenpick.service import job_answers
from evenpick.service.book import record_of, write
from evenpick.service.job_answers import AnsweredMeanwhile, answer_job, undo_job
from evenpick.service.plan_answer import Lying, PlannedSowing
from evenpick.service.planning import save_plan
from evenpick.service.standing import standing_sowings
from evenpick.service.store_plan import garden_digest, saved_plan
from evenpick.service.today import jobs_ahead, today
from evenpick.service.today_answer import Job, TodayAnswer
from evenpick.service.undoing import undo
from evenpick.store.book import Book, book_path

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
    for week in range(0, 56, 2):  # each day's answer has its week and the fortnight after it
        seen |= kinds(today(garden, SOWN + timedelta(weeks=week)), sowing)
    assert seen - {"water"} == {"look", "thin", "weed", "net", "pick", "clear"}


def test_up_later_than_reckoned_is_picked_later(garden: Path) -> None:
    sowing = sow(garden, Sowed("radish", "direct", "open", 1.0))

    def first_pick() -> date:
        days = (SOWN + timedelta(days=n) for n in range(20, 120, 3))
        return next(day for day in days if any(
            job.kind == "pick" and job.sowing == sowing for job in today(garden, day).jobs))

    reckoned = first_pick()
    write(garden, [(date(2027, 5, 20), CameUp(sowing), "")])
    assert first_pick() > reckoned + timedelta(days=14)


def test_late_looks_come_after_what_matters_and_in_one_line(garden: Path) -> None:
    """Spring opened with a page of sowings to look for, each late."""
    crops = ("radish", "early-carrot", "beetroot", "spinach")
    for crop in crops:
        sow(garden, Sowed(crop, "direct", "open", 1.0, ground="bed 3"), date(2027, 4, 1))
    sow(garden, Sowed("onion-sets", "planted", "open", 1.0), date(2027, 3, 15))
    day = next(day for day in (date(2027, 4, 20) + timedelta(days=n) for n in range(40)) if len(
        [job for job in today(garden, day).jobs if job.kind == "look" and job.late]) >= 4)
    answer = today(garden, day)
    late = [job for job in answer.jobs if job.kind == "look" and job.late]
    assert list(answer.jobs[-len(late):]) == late
    first, looks = gathered(answer.jobs)
    assert (looks, len(first) + len(looks)) == (tuple(late), len(answer.jobs))
    said = render(today_page(answer, words_for("british", "metric", load_catalogue())))
    (line,) = [line for line in said.split("\n\n") if "In passing" in line]
    assert all(job.tag in line for job in late)
    assert said.count("dig for a seed") == len([job for job in first if job.kind == "look"])


def test_what_is_lost_unless_done_this_week_comes_before_what_is_late(garden: Path) -> None:
    """In autumn eight beds to clear, late by weeks, stood before the last sowing that could still be made."""
    plan = invented.PLAN
    over, last = plan.sowings[0], plan.sowings[1]
    day = date(2027, 4, 17)
    sowings = (replace(over, sow=date(2027, 2, 20), latest=date(2027, 2, 27), clear=date(2027, 3, 27)),
               replace(last, sow=day - timedelta(days=3), latest=day, clear=date(2027, 9, 1)))
    made_from = replace(plan.made_from, garden=garden_digest(TEXT))
    save_plan(garden, replace(plan, sowings=sowings, made_from=made_from))
    jobs = [(job.kind, job.late) for job in today(garden, day).jobs]
    assert jobs.index(("clear", True)) > jobs.index(("sow", False))


def test_what_is_to_be_picked_is_not_to_be_looked_for_too(garden: Path) -> None:
    radish = sow(garden, Sowed("radish", "direct", "open", 1.0))
    week = (kinds(today(garden, SOWN + timedelta(days=n)), radish) for n in range(25, 90, 2))
    assert all(not {"look", "pick"} <= each for each in week)


def test_what_was_thinned_or_picked_is_up(garden: Path) -> None:
    radish = sow(garden, Sowed("radish", "direct", "open", 1.0))
    day = next(day for day in (SOWN + timedelta(days=n) for n in range(60))
               if "look" in {job.kind for job in today(garden, day).jobs if job.sowing == radish})
    write(garden, [(day, Tended("thinned", radish), "")])
    assert "look" not in kinds(today(garden, day), radish)


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


@pytest.mark.parametrize(("days", "said"), [
    (-370, "The plan begins on 1 Mar 2027: it asks nothing before. Is today's date right?"),
    (-8, "The plan begins on 1 Mar 2027: it asks nothing before. Is today's date right?"),
    (0, None), (7 * 63, None),
    (7 * 64, "The plan is of 1 Mar 2027 and plans no sowing from 22 May 2028 on. It is time for a new one."),
])
def test_a_day_that_the_plan_does_not_reach_is_told(tmp_path: Path, days: int, said: str | None) -> None:
    """With its clock set back the week had nothing to do, and nothing said why."""
    path = tmp_path / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(TEXT))
    save_plan(path, replace(invented.PLAN, begins=date(2027, 3, 1), made_from=made_from))
    notes = today(path, date(2027, 3, 1) + timedelta(days)).notes
    assert [note for note in notes if note.startswith("The plan ")] == ([said] if said else [])


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


def in_beds(garden: Path, *beds: str) -> PlannedSowing:
    """The plan kept with its rocket in these beds; the rocket."""
    rocket = next(sowing for sowing in invented.PLAN.sowings if sowing.crop == "rocket")
    rocket = replace(rocket, beds=beds)
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(garden.read_text(encoding="utf-8")))
    lying = tuple(Lying(rocket.id, bed, 0.0, 1.0) for bed in beds)
    save_plan(garden, replace(invented.PLAN, made_from=made_from, lying=lying, sowings=(rocket,)))
    return rocket


def test_r10a_what_is_done_stands_in_the_bed_that_the_plan_told(garden: Path) -> None:
    """Two rows of spinach were both to be thinned 'in the open', clearing a whole bed was refused."""
    rocket = in_beds(garden, "bed 3")
    (job,) = [job for job in today(garden, rocket.sow).jobs if job.planned == rocket.id]
    answer_job(garden, job.tag, "done", rocket.sow)
    (made,) = record_of(garden).sowings.values()
    assert made.ground == job.where == "bed 3"
    asked = today(garden, rocket.sow + timedelta(days=35))
    assert {job.where for job in (*asked.jobs, *asked.coming) if job.sowing == made.id} == {"bed 3"}


def test_r10a_of_two_beds_their_ground_is_written(garden: Path) -> None:
    garden.write_text(TEXT.replace('"30 m2"', '"2 x 3 m x 5 m"'), encoding="utf-8")
    rocket = in_beds(garden, "bed 3 1", "bed 3 2")
    answer_job(garden, f"sow:{rocket.id}", "done", rocket.sow)
    assert [one.ground for one in record_of(garden).sowings.values()] == ["bed 3"]


def test_r10a_what_was_sown_as_planned_is_asked_for_by_its_bed(garden: Path) -> None:
    """Of what the diary names no bed; not of what no plan told."""
    rocket = in_beds(garden, "bed 3")
    told = sow(garden, Sowed("rocket", "direct", "open", 1.0, planned=rocket.id), rocket.sow)
    beside = sow(garden, Sowed("radish", "direct", "open", 1.0), rocket.sow)
    asked = today(garden, rocket.sow + timedelta(days=35))
    where = {(job.sowing, job.where) for job in (*asked.jobs, *asked.coming) if job.sowing}
    assert where == {(told, "bed 3"), (beside, "open")}


def test_what_was_answered_is_named_when_the_plan_is_another(garden: Path) -> None:
    """'spinach.direct.open.2026-08-08' was told as done once the plan was mended."""
    rocket = in_beds(garden, "bed 3")
    answer_job(garden, f"sow:{rocket.id}", "refused", rocket.sow)
    made_from = replace(invented.PLAN.made_from, garden=garden_digest(TEXT))
    save_plan(garden, replace(invented.PLAN, made_from=made_from, sowings=()))
    assert [each.name for each in today(garden, rocket.sow).answered] == ["Rocket"]


def test_put_off_comes_back_and_refused_does_not(garden: Path) -> None:
    rocket = next(sowing for sowing in invented.PLAN.sowings if sowing.crop == "rocket")
    job = next(job for job in today(garden, rocket.sow).jobs if job.planned == rocket.id)
    answer_job(garden, job.id, "put off", rocket.sow, rocket.sow + timedelta(days=9))
    assert job.id not in {each.id for each in today(garden, rocket.sow).jobs}
    assert job.id in {each.id for each in today(garden, rocket.sow + timedelta(days=9)).jobs}
    answer_job(garden, job.id, "refused", rocket.sow + timedelta(days=9))
    assert record_of(garden).decisions[rocket.id].decision == "refused"
    assert job.id not in {each.id for each in today(garden, rocket.sow + timedelta(days=9)).jobs}


def all_see_the_page_first(monkeypatch: pytest.MonkeyPatch, people: int) -> None:
    """Nobody writes until everybody has read the page."""
    together, read = Barrier(people, timeout=20), job_answers.today

    def page(garden: Path, day: date) -> TodayAnswer:
        found = read(garden, day)
        together.wait()
        return found

    monkeypatch.setattr(job_answers, "today", page)


def answered(garden: Path, job: Job, answer: JobAnswer, identity: str | None = None) -> str | int:
    """How many entries were written, or the answer that stood already."""
    try:
        return len(answer_job(garden, job.id, answer, job.when, identity=identity))
    except AnsweredMeanwhile as first:
        return first.answer


def first_job(garden: Path) -> Job:
    rocket = next(sowing for sowing in invented.PLAN.sowings if sowing.crop == "rocket")
    return next(job for job in today(garden, rocket.sow).jobs if job.planned == rocket.id)


def test_r10_of_several_who_answer_at_once_one_does_and_the_others_are_told(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, said = first_job(garden), ("done", "done", "refused", "done", "refused")
    all_see_the_page_first(monkeypatch, len(said))
    with ThreadPoolExecutor(len(said)) as pool:
        told = list(pool.map(partial(answered, garden, job), said))
    facts = [entry.fact for entry in record_of(garden).entries]
    stood, = (fact for fact in facts if isinstance(fact, Answered))
    assert sorted(map(str, told)) == sorted(["2", *[stood.answer] * (len(said) - 1)])
    assert sum(isinstance(fact, Sowed | Decided) for fact in facts) == 1


@pytest.mark.parametrize(("mine", "theirs"), [("done", "done"), ("refused", "done"), ("put off", "refused")])
def test_r10_answered_by_another_between_reading_and_writing_is_told(
    garden: Path, monkeypatch: pytest.MonkeyPatch, mine: JobAnswer, theirs: JobAnswer
) -> None:
    job, read = first_job(garden), job_answers.today

    def page(garden: Path, day: date) -> TodayAnswer:
        found = read(garden, day)
        monkeypatch.setattr(job_answers, "today", read)
        answer_job(garden, job.id, theirs, day, by="Ann")
        return found

    monkeypatch.setattr(job_answers, "today", page)
    with pytest.raises(AnsweredMeanwhile) as caught:
        answer_job(garden, job.id, mine, job.when)
    assert (caught.value.answer, caught.value.theirs.by) == (theirs, "Ann")
    assert f"{theirs}, {job.when}. Yours, {mine}," in str(caught.value)
    assert [entry.fact.answer for entry in record_of(garden).entries
            if isinstance(entry.fact, Answered)] == [theirs]


def test_r10_what_was_put_off_or_undone_meanwhile_is_still_open(garden: Path) -> None:
    job = first_job(garden)
    answer_job(garden, job.id, "put off", job.when)
    assert answered(garden, job, "done") == 2
    assert answered(garden, job, "refused") == "done"
    undo_job(garden, job.id, job.when)
    assert answered(garden, job, "refused") == 2


def test_r2_one_answer_sent_twice_at_once_is_one(garden: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job, identity = first_job(garden), new_id()
    all_see_the_page_first(monkeypatch, 2)
    with ThreadPoolExecutor(2) as pool:
        told = list(pool.map(lambda _: answered(garden, job, "done", identity), range(2)))
    assert sorted(map(str, told)) == ["0", "2"]
    facts = {entry.id: entry.fact for entry in record_of(garden).entries}
    assert sum(isinstance(fact, Answered | Sowed) for fact in facts.values()) == 2


def test_r2_one_answer_sent_to_two_copies_is_one_when_they_are_brought_together(
    garden: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    other = tmp_path_factory.mktemp("copy") / garden.name
    other.write_bytes(garden.read_bytes())
    save_plan(other, saved_plan(garden))
    job, identity = first_job(garden), new_id()
    for copy in (garden, other):
        assert answered(copy, job, "done", identity) == 2
    told = [entry for entry in record_of(other).entries if isinstance(entry.fact, Answered | Sowed)]
    assert len(told) == 2
    assert Book(book_path(garden)).add(told) == 0


def test_r2_one_undoing_sent_twice_at_once_is_one(garden: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job, identity = first_job(garden), new_id()
    answer_job(garden, job.id, "done", job.when)
    before = len(Book(book_path(garden)).entries())
    all_see_the_page_first(monkeypatch, 2)
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(lambda _: undo_job(garden, job.id, job.when, identity=identity), range(2)))
    assert not record_of(garden).sowings
    assert len(Book(book_path(garden)).entries()) == before + 2


def test_what_is_put_off_past_its_last_day_may_wait_till_then(garden: Path) -> None:
    """As books from before have it: it is late after the day it was put off to, not too late."""
    rocket = next(sowing for sowing in invented.PLAN.sowings if sowing.crop == "rocket")
    job = next(job for job in today(garden, rocket.sow).jobs if job.planned == rocket.id)
    last = job.can_wait_until
    assert last is not None
    for until, waits in ((last - timedelta(days=1), last), (last + timedelta(days=9),) * 2):
        write(garden, [(rocket.sow, Answered(job.id, "put off", day_number(until)), "")])
        (then,) = [one for one in today(garden, until).jobs if one.id == job.id]
        assert (then.when, then.can_wait_until, then.late) == (until, waits, False)


def test_what_is_late_and_can_still_be_done_is_ahead(garden: Path) -> None:
    """In the calendar on the day it is asked, as the page and the printed week have it among the late."""
    rocket = next(sowing for sowing in invented.PLAN.sowings if sowing.crop == "rocket")
    sow(garden, Sowed("early-carrot", "direct", "open", 1.0), rocket.sow)
    day = rocket.sow + timedelta(days=8)
    page = today(garden, day)
    (late,) = [job for job in page.jobs if job.planned == rocket.id]
    assert late.late
    ahead, *_ = jobs_ahead(garden, day, 30)
    (same,) = [job for job in ahead if job.id == late.id]
    assert (same.on, same.when) == (day, rocket.sow)
    after = rocket.sow + timedelta(days=20)
    assert rocket.id in {job.planned for job in today(garden, after).missed}
    assert rocket.id not in {job.planned for job in jobs_ahead(garden, after, 30)[0]}


def test_what_was_lost_whole_is_cleared(garden: Path) -> None:
    sowing = sow(garden, Sowed("kohlrabi", "direct", "open", 1.0))
    write(garden, [(date(2027, 5, 20), Lost(sowing, "eaten", 1.0, "slugs"), "")])
    assert kinds(today(garden, date(2027, 5, 21)), sowing) == {"clear"}


@pytest.mark.parametrize("end", ["cleared", "lost"])
def test_a_day_is_answered_for_as_it_was_whatever_ended_later(garden: Path, end: str) -> None:
    sowing = sow(garden, Sowed("spinach", "direct", "open", 1.0), date(2027, 4, 5))
    day, june = date(2027, 5, 1), date(2027, 6, 20)
    before = kinds(today(garden, day), sowing)
    assert before
    write(garden, [(june, Cleared(sowing) if end == "cleared" else Lost(sowing, "eaten", 1.0, "slugs"), "")])
    assert kinds(today(garden, day), sowing) == before
    assert kinds(today(garden, june), sowing) == (set() if end == "cleared" else {"clear"})
    assert [one.id for one in standing_sowings(record_of(garden), day_number(day), None)] == [sowing]
    assert not standing_sowings(record_of(garden), day_number(june), None)


def test_what_was_answered_in_another_week_is_taken_back_by_the_log(garden: Path) -> None:
    job = first_job(garden)
    answer_job(garden, job.tag, "done", job.when)
    with pytest.raises(BadRequest, match="was answered on 6 Feb 2027, which is not this week") as told:
        undo_job(garden, job.tag, job.when + timedelta(days=6))
    (problem,) = told.value.problems
    which = problem.mend.removeprefix("Take the answer back with: evenpick log --undo ")
    assert len(undo(garden, which, job.when + timedelta(days=6))) == 2
    assert not record_of(garden).sowings
    assert first_job(garden) == job
    with pytest.raises(BadRequest, match="no job 'zzzz' was answered"):
        undo_job(garden, "zzzz", job.when)


def test_undoing_what_a_job_wrote_opens_the_job(garden: Path) -> None:
    job = first_job(garden)
    answer_job(garden, job.id, "done", job.when)
    (sowing,) = record_of(garden).sowings
    undo(garden, sowing, job.when)
    assert first_job(garden) == job


def test_a_weight_goes_with_a_picking(garden: Path) -> None:
    """It was left out without a word."""
    job = first_job(garden)
    with pytest.raises(BadRequest, match="takes no weight"):
        answer_job(garden, job.id, "done", job.when, kg=5.0)
    assert first_job(garden) == job


def test_no_picking_can_wait_to_a_day_that_has_been(garden: Path) -> None:
    """From the middle of its last days to the latest it was said to stand until a day of last week."""
    sow(garden, Sowed("radish", "direct", "open", 1.0, ground="bed 3"), date(2027, 4, 3))
    days = [date(2027, 5, 10) + timedelta(days=n) for n in range(0, 40, 2)]
    due = [(day, job) for day in days for job in today(garden, day).jobs
           if job.kind == "pick" and job.crop == "radish"]
    assert all(job.can_wait_until is not None and job.can_wait_until >= day for day, job in due)
    assert {"over by now" in job.why for _, job in due} == {False, True}


def test_an_unknown_job_is_told_with_those_there_are(garden: Path) -> None:
    with pytest.raises(BadRequest, match="there is no job 'zzzz'"):
        answer_job(garden, "zzzz", "done", date(2027, 2, 6))
    tag = today(garden, date(2027, 2, 6)).jobs[0].tag
    with pytest.raises(BadRequest, match="no later day"):
        answer_job(garden, tag, "put off", date(2027, 2, 6), date(2027, 2, 1))


def test_a_job_that_was_answered_already_is_told_as_answered(garden: Path) -> None:
    """Done twice it was said to be no job at all."""
    tag = today(garden, date(2027, 2, 6)).jobs[0].tag
    answer_job(garden, tag, "done", date(2027, 2, 6))
    with pytest.raises(BadRequest, match=f"the job '{tag}' was answered on 6 Feb 2027 already: done") as told:
        answer_job(garden, tag, "done", date(2027, 2, 6))
    assert f"evenpick today --undo {tag}" in str(told.value)


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


def test_a_weight_that_its_ground_cannot_give_is_refused_and_the_job_stays(garden: Path) -> None:
    sowing = sow(garden, Sowed("radish", "direct", "open", 0.15, ground="bed 3"))
    job, day = next(
        (job, day) for day in (SOWN + timedelta(days=n) for n in range(20, 120, 4))
        for job in today(garden, day).jobs if (job.kind, job.sowing) == ("pick", sowing))
    with pytest.raises(BadRequest, match=r"more than 0\.15 m² can give"):
        answer_job(garden, job.id, "done", day, kg=5000.0)
    assert job.id in {each.id for each in today(garden, day).jobs}
    assert answer_job(garden, job.id, "done", day, kg=0.6)


def test_what_is_answered_on_an_older_page_is_of_the_day_it_is_answered(garden: Path) -> None:
    """A watering is a job of its day; on the next day's page there is none of that name."""
    carrots = sow(garden, Sowed("early-carrot", "direct", "open", 1.2), date(2027, 6, 1))
    days = [date(2027, 5, 20) + timedelta(days=n) for n in range(20)]
    write(garden, [(day, Reading(tmin=12.0, tmax=26.0, rain=0.0), "") for day in days])
    opened, pressed = date(2027, 6, 6), date(2027, 6, 7)
    (due,) = [job for job in today(garden, opened).jobs if job.kind == "water"]
    with pytest.raises(BadRequest, match="there is no job"):
        answer_job(garden, due.id, "done", pressed)
    answer_job(garden, due.id, "done", pressed, shown=opened)
    (made,) = [entry for entry in record_of(garden).entries if isinstance(entry.fact, Watered)]
    assert (made.fact, made.day) == (Watered(carrots), day_number(pressed))


@pytest.mark.parametrize("which", ["the sowing", "the answer", "the last line"])
def test_r10_a_job_done_and_what_it_wrote_are_undone_together(garden: Path, which: str) -> None:
    """Either alone would lose it: done, and asked for no more, or sown with its job still open."""
    job = first_job(garden)
    sowed, answer = answer_job(garden, job.id, "done", job.when)
    named = {"the sowing": sowed.id, "the answer": answer.id, "the last line": ""}[which]
    gone = undo(garden, named, job.when)
    assert {each.id for each in gone} == {sowed.id, answer.id}
    record = record_of(garden)
    assert not record.sowings
    assert not record.answers
    assert job.id in {each.id for each in today(garden, job.when).jobs}


def test_an_answer_that_wrote_nothing_is_undone_alone(garden: Path) -> None:
    job = first_job(garden)
    (answer,) = answer_job(garden, job.id, "put off", job.when)
    other = sow(garden, Sowed("radish", "direct", "open", 1.0))
    assert [each.id for each in undo(garden, answer.id, job.when)] == [answer.id]
    assert other in record_of(garden).sowings


def test_r9_in_a_garden_whose_diary_is_empty_a_job_not_done_is_late_on_monday(garden: Path) -> None:
    job = first_job(garden)
    assert not record_of(garden).sowings
    monday = job.when + timedelta(days=7 - job.when.weekday())
    (late,) = [each for each in today(garden, monday).jobs if each.id == job.id]
    assert (late.late, late.when) == (True, job.when)
    assert job.can_wait_until is not None
    after = job.can_wait_until + timedelta(days=1)
    assert job.id in {each.id for each in today(garden, after).missed}
    answer_job(garden, job.id, "done", monday)
    assert job.id not in {each.id for each in (*today(garden, monday).jobs, *today(garden, monday).missed)}


@pytest.mark.parametrize(("way", "told"), [("direct", "dig for a seed and sow again"),
                                           ("planted", "dig one up to see, and plant again")])
def test_cloves_and_tubers_are_no_seed_to_be_dug_for(garden: Path, way: str, told: str) -> None:
    crop = "early-potato" if way == "planted" else "early-carrot"
    sowing = sow(garden, Sowed(crop, way, "open", 1.2, ground="bed 3"))  # type: ignore[arg-type]
    said = {job.why for week in range(10) for job in today(garden, SOWN + timedelta(weeks=week)).jobs
            if job.sowing == sowing and job.kind == "look"}
    assert said
    assert all(told in why for why in said)


def test_what_nobody_wishes_for_any_more_is_cleared(garden: Path) -> None:
    """Its ground is wanted, and the plan has it free from then."""
    sowing = sow(garden, Sowed("chard", "direct", "open", 1.2, ground="bed 3"))

    def cleared() -> date:
        answers = (today(garden, SOWN + timedelta(weeks=week)) for week in range(0, 70, 2))
        jobs = (job for answer in answers for job in (*answer.jobs, *answer.coming))
        return next(job.when for job in jobs if job.sowing == sowing and job.kind == "clear")

    wish = '[[wish]]\nitem = "chard"\neach_week = "250 g"\n'
    garden.write_text(TEXT + wish)
    natural = cleared()
    garden.write_text(f'{TEXT}{wish}from = "06-01"\nuntil = "08-31"\n')
    assert cleared() == date(2027, 9, 1) < natural


def test_of_what_was_sown_in_part_the_rest_is_asked_for_as_long_as_it_can_wait(garden: Path) -> None:
    """Half a row sown on the first dry evening took the whole off the list."""
    planned = min((one for one in invented.PLAN.sowings if one.row_m), key=lambda one: one.sow)
    half = Sowed(planned.crop, planned.way, planned.cover, planned.area_m2 / 2, planned=planned.id)
    sow(garden, half, planned.sow)

    def asked(day: date) -> list[Job]:
        answer = today(garden, day)
        return [job for job in (*answer.jobs, *answer.missed) if job.planned == planned.id]

    next_day = planned.sow + timedelta(days=1)
    (job,) = asked(next_day)
    assert job.area_m2 == pytest.approx(planned.area_m2 / 2)
    assert job.row_m == pytest.approx((planned.row_m or 0) / 2, abs=0.25)
    assert job.seeds == pytest.approx((planned.seeds or 0) / 2, abs=1)
    assert asked(planned.sow + timedelta(days=21)) == []
    answer_job(garden, job.id, "done", next_day)
    sown = [each.fact.area for each in record_of(garden).sowings.values()]
    assert sown == pytest.approx([planned.area_m2 / 2] * 2)
    assert asked(next_day) == []


def test_of_what_was_sown_all_but_a_little_no_rest_is_asked_for(garden: Path) -> None:
    planned = min((one for one in invented.PLAN.sowings if one.row_m), key=lambda one: one.sow)
    sow(garden, Sowed(planned.crop, planned.way, planned.cover, 0.85 * planned.area_m2, planned=planned.id),
        planned.sow)
    assert not [job for job in today(garden, planned.sow).jobs if job.planned == planned.id]
