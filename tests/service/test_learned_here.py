"""What the diary taught moves what is told of a sowing (learning.md, 4)."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenpick.crops.catalogue import load_catalogue
from evenpick.report.outlook import outlook_page
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.learned_here import learned_here
from evenpick.service.lessons import lessons
from evenpick.service.log_file import commit_lines, read_lines
from evenpick.service.outlook import outlook
from evenpick.service.where import garden_site

TEXT = """
[site]
place = "Dublin, IE"
[[ground]]
name = "bed"
cover = "open"
area = "20 m²"
[[wish]]
item = "turnips"
crops = ["turnip"]
each_week = "1 kg"
"""
LINES = """date,line
2025-04-12,sowed 5 m turnips
2025-07-12,picked 3 kg turnips
2025-07-20,cleared the turnips
"""
SOW = date(2027, 4, 10)


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def taught(garden: Path) -> None:
    file = garden.with_name("lines.csv")
    file.write_text(LINES, encoding="utf-8")
    commit_lines(garden, read_lines(garden, file, date(2026, 11, 1)).entries)


def test_the_outlook_moves_as_the_lesson_says(garden: Path) -> None:
    """The lesson said 13 days later, and the outlook stayed where it was."""
    before = outlook(*garden_site(garden), "turnip", SOW, as_here=learned_here(garden))
    taught(garden)
    after = outlook(*garden_site(garden), "turnip", SOW, as_here=learned_here(garden))
    (lesson,) = lessons(garden, date(2026, 11, 1)).timing
    assert before.first_picking is not None
    assert after.first_picking is not None
    later = after.first_picking.likely - before.first_picking.likely
    assert later == pytest.approx(lesson.days_later, abs=5)
    assert later > 5
    assert (before.own_time, after.own_time > 1.1) == (1.0, True)
    page = render(outlook_page(after, words_for("british", "metric", load_catalogue())))
    assert "more warmth is asked than in the book" in " ".join(page.split())


def test_another_crop_is_moved_by_what_they_share_alone(garden: Path) -> None:
    taught(garden)
    kale = outlook(*garden_site(garden), "kale", SOW, as_here=learned_here(garden))
    turnip = outlook(*garden_site(garden), "turnip", SOW, as_here=learned_here(garden))
    assert 1.0 < kale.own_time < turnip.own_time
