"""How lessons of wants are put."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.report.lessons import lessons_page
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.lessons import LessonsAnswer
from evenpick.service.want_lessons import WantLesson

GLUT = WantLesson("radish", date(2026, 5, 1), 3.0, 1.4, 1, 0.6, 4.0, 1.4 / 3.0)


def told(want: WantLesson) -> str:
    answer = LessonsAnswer(Site("Dublin", 53.3, -6.2, 10.0), (), (), (want,), (), (), 0)
    page = lessons_page(answer, words_for("british", "metric", load_catalogue()), False)
    return " ".join(render(page).split())


def test_what_would_have_done_is_sown_in_goes_where_there_is_enough_to_part() -> None:
    """Half a metre was to be sown in two or three goes."""
    assert "2 m would have done: sow that, in two or three goes." in told(GLUT)
    small = told(replace(GLUT, would_do=0.1))
    assert "4 m were sown, 0.5 m would have done." in small
    assert "goes" not in small
