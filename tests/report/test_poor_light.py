"""Winter's nitrate is told of what is picked in winter, there: not on the sheet in a box of June."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import invented
import pytest
from test_paper import BOXES

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.winter import cautions_on, in_poor_light
from evenpick.report.page import Items, Page
from evenpick.report.sheets import box_page, week_page
from evenpick.report.words import words_for
from evenpick.service.box import box
from evenpick.service.planning import save_plan
from evenpick.service.store_plan import garden_digest

WORDS = words_for("british", "metric", load_catalogue())
SALAD = (("cos-lettuce", "Cos lettuce"), ("runner-bean", "Runner bean"))
TEXT = """
[site]
at = "{at}"
weather = "dublin-airport"
[[ground]]
name = "bed 3"
cover = "open"
area = "30 m2"
[[wish]]
item = "rocket"
each_week = "250 g"
"""


def cautions(page: Page) -> str:
    return " ".join(line for block in page.blocks if isinstance(block, Items) for line in block.entries)


@pytest.mark.parametrize(("lat", "day", "dim"), [
    (51.5, date(2027, 6, 7), False), (51.5, date(2027, 1, 4), True), (51.5, date(2027, 9, 27), True),
    (-37.8, date(2027, 6, 7), True), (-37.8, date(2027, 1, 4), False), (-37.8, date(2027, 10, 1), False),
    (-1.3, date(2027, 6, 7), False), (13.0, date(2027, 1, 4), False),
])
def test_light_is_poor_in_winter_outside_the_tropics(lat: float, day: date, dim: bool) -> None:
    assert in_poor_light(lat, day, day + timedelta(days=6)) == dim


def test_a_span_that_reaches_into_winter_is_dim_whatever_its_ends() -> None:
    assert in_poor_light(51.5, date(2026, 9, 1), date(2027, 5, 1))
    assert not in_poor_light(51.5, date(2027, 4, 1), date(2027, 9, 30))


@pytest.mark.parametrize(("dim", "told"), [(True, True), (False, False)])
def test_the_box_sheet_tells_the_cautions_that_hold(dim: bool, told: bool) -> None:
    said = cautions(box_page(replace(BOXES, crops=SALAD, dim=dim), WORDS))
    assert ("nitrate" in said) == told
    assert "raw" in said


@pytest.mark.parametrize(("at", "day", "dim"), [
    ("53.4, -6.2", date(2027, 6, 10), False), ("53.4, -6.2", date(2027, 12, 10), True),
    ("-37.8, 145", date(2027, 6, 10), True),
])
def test_the_box_knows_the_light_of_its_garden(tmp_path: Path, at: str, day: date, dim: bool) -> None:
    garden, text = tmp_path / "garden.toml", TEXT.replace("{at}", at)
    garden.write_text(text, encoding="utf-8")
    save_plan(garden, replace(invented.PLAN, made_from=replace(
        invented.PLAN.made_from, garden=garden_digest(text))))
    assert box(garden, day).dim == dim


def test_the_weeks_sheet_tells_it_in_its_season_only() -> None:
    pick = replace(invented.TODAY.jobs[0], kind="pick", crop="cos-lettuce", name="Cos lettuce")
    for day, told in ((date(2027, 6, 7), False), (date(2027, 1, 4), True)):
        page = week_page(replace(invented.TODAY, jobs=(pick,), day=day), WORDS)
        assert ("nitrate" in cautions(page)) == told, day


def test_every_crop_keeps_its_other_cautions_in_every_season() -> None:
    for crop in load_catalogue().crops:
        summer = cautions_on(crop, 51.5, date(2027, 6, 1), date(2027, 7, 1))
        assert set(crop.cautions) - set(summer) == set(crop.in_poor_light)
        assert cautions_on(crop, 51.5, date(2027, 1, 1), date(2027, 1, 9)) == crop.cautions
    assert load_catalogue().crop("spinach").in_poor_light
