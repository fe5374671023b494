"""The month sheet at one glance: each crop once, what ends first."""

from __future__ import annotations

import re

import invented
from invented import AMERICAN, BRITISH

from evenpick.report.month import month_page
from evenpick.report.month_in_short import FEW
from evenpick.report.terminal import render
from evenpick.service.outlook_answer import MonthAnswer, MonthRow

ROWS = (
    invented.month_row("Onion", to_day=17, closes=(6, 17)),
    invented.month_row("Onion sets", way="planted", closes=(7, 8)),
    invented.month_row("Leek", closes=(6, 20), to_day=20),
    invented.month_row("Leek", way="raised", bench=5.0, closes=(7, 30)),
    invented.month_row("Courgette", from_day=10, closes=(7, 30)),
    invented.month_row("Dill", from_day=3, closes=(8, 1)),
    invented.month_row("Radish", closes=(9, 1)), invented.month_row("Radish, baby leaf", crop="radish"),
    invented.month_row("Garlic", closes=(1, 5)), invented.month_row("Rocket", closes=None),
    invented.month_row("Celery", way="raised", bench=16.0, closes=(8, 1)),
    invented.month_row("Melon", covers=("tunnel",), closes=(8, 1)),
    invented.month_row("Beetroot", closes=(8, 1)), invented.month_row("Pea", closes=(8, 1)),
)


def sheet(rows: tuple[MonthRow, ...] = ROWS) -> str:
    answer = MonthAnswer(invented.SITE, invented.FAR, 2027, 6, rows, (), ())
    return " ".join(render(month_page(answer, BRITISH)).split())


def test_what_ends_and_what_begins_is_told_before_what_goes_on() -> None:
    text = sheet()
    assert "Do not put off; the good time ends for: Onion (17 Jun), Onion sets (8 Jul)." in text
    assert "The good time begins for: Dill (3), Courgette (10)." in text
    assert "All month, outside: Beetroot, Garlic, Leek, Pea, Radish, Rocket." in text
    assert "All month, raised in warmth: Celery." in text
    assert "All month, under cover: Melon." in text
    assert text.index("IN SHORT") < text.index("HOW TO READ THE TABLES") < text.index("IN THE OPEN")


def test_each_crop_is_named_once() -> None:
    glance = sheet().partition("IN SHORT")[2].partition("HOW TO READ")[0]
    for row in ROWS:
        name = row.name.partition(",")[0]
        assert len(re.findall(rf"\b{name}(?! sets)\b", glance)) == 1, name


def test_a_short_sheet_is_its_own_glance() -> None:
    assert "IN SHORT" not in sheet(ROWS[:FEW])


def test_american_names() -> None:
    answer = MonthAnswer(invented.SITE, invented.FAR, 2027, 6, ROWS, (), ())
    glance = render(month_page(answer, AMERICAN)).partition("IN SHORT")[2].partition("IN THE OPEN")[0]
    assert "Arugula" in glance


def test_a_window_that_closes_on_a_leap_years_day_in_a_year_without_one() -> None:
    """The days of a leap year come round again in the next, which has no 29 February."""
    rows = (invented.month_row("Garlic", closes=(2, 29)), *ROWS[1:])
    answer = MonthAnswer(invented.SITE, invented.FAR, 2028, 12, rows, (), ())
    assert "IN SHORT" in render(month_page(answer, BRITISH))
