"""Of which sowing something is, where nobody knows, or where it is of all of them."""

from __future__ import annotations

import pytest
from diary_garden import fact_of, read, usual_names

from evenpick.garden.diary import Picked
from evenpick.garden.diary_asking import Asked, Understood
from evenpick.service.log_words import fact_words


@pytest.mark.parametrize("said", [
    ", I don't know which", ", dont know which sowing", " (not sure which row)", " can't remember which ones",
    ", I do not know which one it was", " from either row", ", dunno which",
])
def test_a_line_may_say_that_nobody_knows_which(said: str) -> None:
    """A row of a notebook that may be of two sowings could be given no answer: it told what was not so."""
    assert fact_of(f"picked 1 kg carrots{said}") == Picked("early-carrot", kg=1.0)


def test_the_answer_that_is_offered_can_be_written() -> None:
    asked = read("picked 1 kg carrots")
    assert isinstance(asked, Asked)
    (label,) = [choice.label for choice in asked.question.choices if choice.value == "not said"]
    assert fact_of(f"picked 1 kg carrots, {label}") == Picked("early-carrot", kg=1.0)


def test_it_is_read_back_as_not_told() -> None:
    assert fact_words(Picked("early-carrot", kg=1.0), usual_names()).endswith("of which sowing is not told")
    assert fact_words(Picked("celery", kg=1.0), usual_names()).endswith("from no sowing in the diary")


@pytest.mark.parametrize("line", [
    "slugs took half the carrots, don't know which", "cleared the carrots, not sure which",
])
def test_what_must_be_of_a_sowing_is_still_asked(line: str) -> None:
    asked = read(line)
    assert isinstance(asked, Asked)
    assert asked.question.about == "sowing"


@pytest.mark.parametrize("line", [
    "weeded the carrots, all of them", "weeded both rows of carrots", "weeded carrots, both sowings",
    "watered all the sowings of carrots",
])
def test_all_sowings_may_be_told(line: str) -> None:
    outcome = read(line)
    assert isinstance(outcome, Understood), outcome
    assert [getattr(each.fact, "sowing", None) for each in outcome.facts] == ["carrot-a", "carrot-b"]
