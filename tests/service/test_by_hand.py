"""Weeks away are not taken as watered, and a pot holds what a pot holds."""

from __future__ import annotations

import itertools
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.garden.diary import Entry, Sowed
from evenpick.service.book import keep
from evenpick.service.today import today
from evenpick.service.water_answer import WateringAnswer, WaterRow
from evenpick.service.watering import water_sown, watering

GARDEN = """\
[site]
name = "Testham"
at = "51.758, -1.578"
height = "82 m"
weather = "brize-norton"
[[ground]]
name = "bed"
cover = "open"
area = "60 m²"
[[outlet]]
name = "kitchen"
kind = "kitchen"
[[wish]]
item = "tomatoes"
outlet = "kitchen"
each_week = "1 kg"
"""
POTS = GARDEN.replace('name = "bed"', 'name = "pots"').replace('"60 m²"', '"6 x 0.0707 m²"')
AWAY = GARDEN + "[[away]]\nfrom = 2018-07-03\nuntil = 2018-07-16\n"
OUT = date(2018, 5, 20)
TOMATO = "0" * 31 + "1"
LEAVING, BACK = date(2018, 7, 2), date(2018, 7, 17)
"""Brize Norton had no rain from 18 June to 19 July 2018"""


def garden(folder: Path, text: str, ground: str, plants: int = 1) -> Path:
    """INVENTED: bought tomatoes set out in May."""
    path = folder / "garden.toml"
    path.write_text(text, encoding="utf-8")
    keep(path, [Entry(TOMATO, day_number(OUT), Sowed("tomato", "raised", "open", 0.3375 * plants, bought=True,
                                                     ground=ground))])
    return path


def tomato(answer: WateringAnswer) -> WaterRow:
    return next(one for one in answer.rows if one.sowing == TOMATO)


@pytest.fixture(scope="module")
def there(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return garden(tmp_path_factory.mktemp("there"), GARDEN, "bed", 10)


@pytest.fixture(scope="module")
def gone(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return garden(tmp_path_factory.mktemp("gone"), AWAY, "bed", 10)


@pytest.fixture(scope="module")
def potted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return garden(tmp_path_factory.mktemp("potted"), POTS, "pots 2")


def test_after_weeks_away_the_ground_is_as_dry_as_nobody_left_it(there: Path, gone: Path) -> None:
    """On the return a bed that lost five mm a day for a fortnight was told to have enough in it, for it was
    taken to have been watered meanwhile."""
    back, usual = tomato(watering(gone, BACK)).today, tomato(watering(there, BACK)).today
    assert back.advice == "water"
    assert back.gone is not None
    assert back.easy is not None
    assert usual.gone is not None
    assert back.gone > back.easy
    assert back.gone > usual.gone + 10.0
    assert any(bed.sowing == TOMATO for bed in today(gone, BACK).thirsty)


def test_before_they_go_what_would_run_out_is_filled(there: Path, gone: Path) -> None:
    eve = tomato(watering(gone, LEAVING)).today
    assert eve.advice == "water"
    assert "nobody is there for the 14 days after" in eve.why
    assert any("14 days" in bed.why for bed in today(gone, LEAVING).thirsty)
    assert tomato(watering(gone, LEAVING - timedelta(days=1))).today.why != eve.why
    days = {one.when: one for one in water_sown(gone, TOMATO, LEAVING - timedelta(days=3)).days}
    assert days[LEAVING].gone is not None
    assert days[LEAVING + timedelta(days=1)].gone is not None
    assert days[LEAVING + timedelta(days=1)].gone < 10.0  # a day's draw on full ground


def test_somebody_who_waters_meanwhile_is_believed(there: Path, tmp_path: Path) -> None:
    helped = garden(tmp_path, AWAY + "watered = true\n", "bed", 10)
    assert tomato(watering(helped, BACK)).today == tomato(watering(there, BACK)).today
    assert "Somebody waters meanwhile." in today(helped, LEAVING).notes[0]


def test_what_stands_is_said_to_be_seen_to_before(gone: Path) -> None:
    assert "are told to be watered" in today(gone, LEAVING).notes[0]


def test_a_pot_wants_a_little_every_day_or_two(potted: Path, there: Path) -> None:
    """By hand (FAO-56): grown, a tomato's 0.34 m² draw 1.15 times 4 to 6 mm, 1.5 to 2.3 l a day; the pot of
    15 l gives 3.7 of them, two fifths easily. As open ground it was told eleven litres, once a week."""
    days = water_sown(potted, TOMATO, date(2018, 7, 5)).days
    due = [one for one in days if one.advice == "water"]
    assert len(due) >= 6
    assert all(one.per_plant is not None and 1.0 < one.per_plant < 3.8 for one in due)
    apart = [(later.when - one.when).days for one, later in itertools.pairwise(due)]
    assert max(apart) <= 2
    bed = [one for one in water_sown(there, TOMATO, date(2018, 7, 5)).days if one.advice == "water"]
    assert len(bed) < len(due) / 2


def test_a_pot_is_told_by_the_pot(potted: Path) -> None:
    row = next(tomato(answer) for answer in (watering(potted, date(2018, 7, 5) + timedelta(days=ahead))
                                             for ahead in range(3)) if tomato(answer).today.advice == "water")
    assert row.pots == 1
    assert row.litres == pytest.approx(row.today.per_plant)
    assert "pot" in row.today.why


def test_what_stands_in_a_bed_is_in_no_pot(there: Path) -> None:
    assert tomato(watering(there, BACK)).pots == 0
