"""Days on which nobody is there, as the jobs tell them. Invented garden and diary, real weather of Dublin
Airport."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.garden.diary import Sowed
from evenpick.service.book import write
from evenpick.service.today import today

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
