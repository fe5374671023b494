"""Seeds that were sown for fewer plants: 'sowed 16 cabbages' of a job that says 12 plants, 16 seeds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest
from diary_garden import TODAY, names

from evenpick.base.days import day_number
from evenpick.crops.crop_words import crop_words
from evenpick.garden.diary import Sowed
from evenpick.garden.diary_asking import Asked, Outcome, Understood
from evenpick.garden.diary_line import read_line
from evenpick.garden.diary_names import PlannedName
from evenpick.service.log_words import fact_words

CABBAGE = crop_words()["summer-cabbage"]
ROOM = CABBAGE.in_row * CABBAGE.row
PLANNED = PlannedName("c", "summer-cabbage", "raised", "open", day_number(TODAY), day_number(TODAY) + 40,
                      12 * ROOM, plants=12, seeds=16)
NAMES = replace(names(), planned=lambda: (PLANNED,))


def read(line: str, answers: Mapping[str, str] | None = None) -> Outcome:
    return read_line(line, TODAY, NAMES, answers)


def sowed(line: str, answers: Mapping[str, str] | None = None) -> Sowed:
    outcome = read(line, answers)
    assert isinstance(outcome, Understood), outcome
    (dated,) = outcome.facts
    assert isinstance(dated.fact, Sowed)
    return dated.fact


@pytest.mark.parametrize(("line", "plants", "seeds"), [
    ("sowed 16 summer cabbages", 12, 16),  # what the job says
    ("sowed 16 summer cabbage seeds", 12, 16),
    ("sowed 8 summer cabbage seeds", 6, 8),
    ("sowed 12 summer cabbages", 12, None),
    ("sowed 6 summer cabbages", 6, None),
    ("sowed 16 summer cabbage plants in modules", 16, None),
])
def test_the_seeds_of_a_job_are_no_plants(line: str, plants: int, seeds: int | None) -> None:
    fact = sowed(line)
    assert fact.area == pytest.approx(plants * ROOM)
    assert (fact.seeds, fact.planned) == (seeds, "c")


def test_what_was_sown_is_read_back_as_the_job_has_it() -> None:
    words = fact_words(sowed("sowed 16 summer cabbages"), NAMES)
    assert "12 plants" in words
    assert "16 seeds" in words
    assert words.endswith("as planned")


def test_more_than_the_plants_that_were_planned_is_asked_about() -> None:
    asked = read("sowed 24 summer cabbages")
    assert isinstance(asked, Asked)
    assert [choice.value for choice in asked.question.choices] == ["seeds", "plants"]
    assert "18 plants" in asked.question.choices[0].label
    key = asked.question.key
    assert sowed("sowed 24 summer cabbages", {key: "seeds"}).area == pytest.approx(18 * ROOM)
    assert sowed("sowed 24 summer cabbages", {key: "plants"}).area == pytest.approx(24 * ROOM)


def test_of_seeds_that_no_plan_knows_the_plants_are_asked_for() -> None:
    """It asked 'How much was it?' of a line that had told how many seeds."""
    asked = read("sowed 12 tomato seeds")
    assert isinstance(asked, Asked)
    assert "12 seeds" in asked.question.text
    fact = sowed("sowed 12 tomato seeds", {asked.question.key: "10 plants"})
    assert fact.seeds == 12
    assert fact.area == pytest.approx(10 * crop_words()["tomato"].in_row * crop_words()["tomato"].row)
