"""Days on which nobody is there, as the jobs tell them. Invented garden and diary, real weather of Dublin
Airport."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.climate.point import parse_point
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Sowed
from evenpick.garden.garden import WeatherChoice
from evenpick.garden.limits import Away
from evenpick.plan.limits import ROOTED
from evenpick.report.pickings import pickings_page
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.away import when_there
from evenpick.service.book import write
from evenpick.service.left_dry import dry_spans
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan
from evenpick.service.today import today
from evenpick.service.windows import year_weather

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
[[wish]]
item = "carrots"
each_week = "250 g"
"""
SOWN = date(2027, 4, 10)


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    write(path, [(SOWN, Sowed("early-carrot", "direct", "open", 1.2, ground="bed 3"), "")])
    return path


def test_no_job_waits_until_a_day_on_which_nobody_is_there(garden: Path) -> None:
    """A school was told on 24 July that a sowing can wait to 6 August, and is shut from the 1st."""
    asked, thin = next((day, job) for day in (SOWN + timedelta(weeks=week) for week in range(12))
                       for job in today(garden, day).jobs if job.kind == "thin")
    assert thin.can_wait_until is not None
    leave = thin.can_wait_until - timedelta(days=3)

    def waits(first: date, last: date, hours: str = "") -> date | None:
        span = f"[[away]]\nfrom = {first}\nuntil = {last}\n{hours}"
        garden.write_text(f'{TEXT}\n[hours]\nweek = "6 h"\n{span}', encoding="utf-8")
        return next(job.can_wait_until for job in today(garden, asked).jobs if job.id == thin.id)

    assert waits(leave, leave + timedelta(days=20)) == leave - timedelta(days=1)
    assert waits(leave, leave + timedelta(days=1)) == thin.can_wait_until  # home again by then
    assert waits(leave, leave + timedelta(days=20), 'hours = "50 %"') == thin.can_wait_until


@pytest.mark.parametrize(("day", "told"), [(-15, False), (-14, True), (0, True), (30, True), (31, False)])
def test_it_is_told_from_a_fortnight_before_to_the_last_day(garden: Path, day: int, told: bool) -> None:
    garden.write_text(f"{TEXT}\n[[away]]\nfrom = 2027-08-01\nuntil = 2027-08-31\n", encoding="utf-8")
    notes = today(garden, date(2027, 8, 1) + timedelta(days=day)).notes
    assert any("Nobody is there from 1 Aug to 31 Aug" in note for note in notes) == told


TUNNEL = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2027-03-01
years = 6
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "20 m2"
[[wish]]
item = "tomatoes"
crops = ["tomato"]
each_week = "2 kg"
from = "07-20"
until = "10-15"
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
each_week = "500 g"
"""
LEAVE, BACK = date(2027, 8, 1), date(2027, 8, 31)


def planned(folder: Path, away: str = "") -> PlanAnswer:
    path = folder / "plan.toml"
    path.write_text(f"{TUNNEL}\n[[away]]\nfrom = {LEAVE}\nuntil = {BACK}\n{away}", encoding="utf-8")
    return make_plan(path, seconds=4.0)


def set_out_before_leaving(plan: PlanAnswer) -> list[date]:
    began = [sowing.plant_out or sowing.sow for sowing in plan.sowings]
    return [day for day in began if LEAVE - timedelta(days=ROOTED) < day < LEAVE]


def test_nothing_is_set_out_just_before_weeks_without_water(tmp_path: Path) -> None:
    """Tomatoes were to be set out on 18 July before an August away. What has rooted is told with what mends
    it; where somebody waters, neither."""
    dry, watered = planned(tmp_path), planned(tmp_path, "watered = true\n")
    assert not set_out_before_leaving(dry)
    assert set_out_before_leaving(watered)
    (note,) = [note for note in dry.notes if "Nobody is there to water from 1 Aug to 31 Aug 2027" in note]
    assert "Tomato" in note
    assert "watered = true" in note
    assert not any("Nobody is there to water" in note for note in watered.notes)


def test_a_week_away_is_told_as_such(tmp_path: Path) -> None:
    """The first of them read 'nothing is ripe', between weeks in which tomatoes are picked."""
    plan = planned(tmp_path, "watered = true\n")
    words = words_for("british", "metric", load_catalogue())
    said = render(pickings_page(plan, words, date(2027, 7, 26), 7))
    weeks = {part.split("\n")[0]: part for part in said.split("WEEK OF ")[1:]}
    gone = [part for part in weeks.values() if "Away: nobody is there to pick" in part]
    assert [part.split(" 2027")[0] for part in gone] == ["2 AUG", "9 AUG", "16 AUG", "23 AUG"]
    assert "nothing is ripe" not in said


@pytest.mark.parametrize(("at", "month", "open_dry"), [("53.4, -6.2", 1, False), ("37.4, -5.98", 7, True)])
def test_rain_waters_the_open_ground_where_it_rains(at: str, month: int, open_dry: bool) -> None:
    """A January at Dublin and a July at Seville, by their packaged normals; a tunnel has no rain."""
    weather = year_weather(parse_point(at), WeatherChoice(), 2027, 0)
    first = day_number(date(2027, month, 1))
    (span,) = dry_spans((Away(first, first + 29),), weather)
    assert ("open" in span.covers) == open_dry
    assert ("cloche" in span.covers) == open_dry  # rain comes in there too (covers.md, 6)
    assert "tunnel" in span.covers
    short, watered = Away(first, first + 5), Away(first, first + 29, watered=True)
    assert not dry_spans((short, watered, Away(first, first + 29, 0.5)), weather)


@pytest.mark.parametrize(("kind", "asked", "wait", "when", "waits"), [
    ("clear", 1, None, 21, None), ("clear", 12, None, 21, None), ("plant out", 1, None, 21, None),
    ("thin", 1, 25, 21, 25), ("thin", 1, 15, 9, 9), ("thin", 11, 15, 21, 21), ("cover", 12, 12, 12, 12),
])
def test_no_job_stands_on_a_day_on_which_nobody_is_there(
    kind: str, asked: int, wait: int | None, when: int, waits: int | None
) -> None:
    """'Clear' stood in the middle of the weeks away, from the 10th to the 20th: days of July."""
    day = date(2027, 7, 1)
    job = replace(invented.CLEAR, kind=kind, when=day + timedelta(days=11),  # type: ignore[arg-type]
                  can_wait_until=None if wait is None else day + timedelta(days=wait - 1))
    spans = ((date(2027, 7, 10), date(2027, 7, 15)), (date(2027, 7, 16), date(2027, 7, 20)))
    (moved,) = when_there([job], spans, date(2027, 7, asked))
    assert (moved.when.day, moved.can_wait_until and moved.can_wait_until.day) == (when, waits)
