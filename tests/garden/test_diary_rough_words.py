"""Lines of the diary in rough words: what they tell is read, what they don't is asked with choices."""

from __future__ import annotations

from dataclasses import replace

import pytest
from diary_garden import TODAY, fact_of, names, read

from evenpick.garden.diary import CameUp, Fact, Lost, Picked, PlantedOut, Sowed, Watered
from evenpick.garden.diary_asking import Asked, Understood
from evenpick.garden.diary_grounds import GroundName
from evenpick.garden.diary_line import read_line

NAMES = names()


@pytest.mark.parametrize(("line", "crop", "area", "ground"), [
    ("put 2 m of garlic in bed 4", "garlic", 0.6, "bed 4"),
    ("put 60 cloves of garlic in", "garlic", 2.7, None),
    ("bunged in 3 m of radish in bed 2", "radish", 0.45, "bed 2"),
    ("stuck 2 m of beetroot in bed 2", "beetroot", 0.6, "bed 2"),
    ("broadcast 2 m² of coriander in bed 3", "coriander", 2.0, "bed 3"),
])
def test_rough_words_for_putting_in(line: str, crop: str, area: float, ground: str | None) -> None:
    fact = fact_of(line)
    assert isinstance(fact, Sowed)
    assert (fact.crop, fact.ground) == (crop, ground)
    assert fact.area == pytest.approx(area)


@pytest.mark.parametrize("line", [
    "put the onions in to dry", "popped in to water the tomatoes", "put the canes in for the runner beans",
    "put the fleece in", "stuck labels in bed 3",
])
def test_what_is_put_in_otherwise_is_no_planting(line: str) -> None:
    outcome = read(line)
    assert not (isinstance(outcome, Understood)
                and any(isinstance(each.fact, Sowed | PlantedOut) for each in outcome.facts))


def test_by_the_tunnel_is_not_in_it() -> None:
    """It was sown in the tunnel, under its cover."""
    fact = fact_of("sowed 3 m of beetroot by the tunnel")
    assert isinstance(fact, Sowed)
    assert (fact.ground, fact.cover) == (None, "open")
    within = fact_of("sowed 3 m of beetroot in the tunnel")
    assert isinstance(within, Sowed)
    assert within.ground == "tunnel"


@pytest.mark.parametrize(("line", "sowing", "cause", "by"), [
    ("hail shredded all the chard", "chard", "other", "hail"),
    ("deer browsed half the kale", "kale", "eaten", "deer"),
    ("the dog dug up all the onions", "onion-sets", "eaten", "dog"),
    ("frost nipped half the courgettes", "courgette", "frosted", "frost"),
    ("all the courgettes keeled over in the heat", "courgette", "scorched", "heat"),
    ("strimmed half the chard", "chard", "other", ""),
    ("somebody nicked all the courgettes", "courgette", "other", ""),
])
def test_rough_words_for_a_loss(line: str, sowing: str, cause: str, by: str) -> None:
    answers = {"1:words": "keep"} if "somebody" in line else None
    fact = fact_of(line, answers)
    assert isinstance(fact, Lost)
    assert (fact.sowing, fact.cause, fact.by) == (sowing, cause, by)


@pytest.mark.parametrize("line", [
    "picked half a bucket of broad beans", "gathered a hatful of broad beans",
    "picked enough broad beans for tea",
    "picked the rest of the broad beans", "picked broad beans for supper",
])
def test_a_vessel_or_a_meal_is_not_weighed(line: str) -> None:
    fact = fact_of(line)
    assert isinstance(fact, Picked)
    assert (fact.crop, fact.kg, fact.pieces) == ("broad-bean", None, None)


@pytest.mark.parametrize("line", [
    "watered the lot", "watered all the beds", "watered the whole garden", "watered everything",
])
def test_all_of_the_garden_is_watered(line: str) -> None:
    assert fact_of(line) == Watered()


def test_poking_through_is_coming_up() -> None:
    assert fact_of("parsnips just poking through") == CameUp("parsnip")


@pytest.mark.parametrize(("line", "answers", "fact"), [
    ("sold 6 kg of tomatoes", {"1:verb": "picked"}, Picked("tomato", "tomato", kg=6.0)),
    ("had the first courgettes for tea", {"1:verb": "picked"}, Picked("courgette", "courgette")),
    ("gave a third of the kale away", {"1:verb": "picked", "1:unit": "not weighed"}, Picked("kale", "kale")),
    ("peas are over", {"1:verb": "lost", "1:share": "1", "1:cause": "other"}, Lost("pea", "other", 1.0)),
    ("aphids on the broad beans", {"1:verb": "lost", "1:share": "0.25"},
     Lost("broad-bean", "eaten", 0.25, "aphids")),
])
def test_what_was_done_is_asked_with_something_to_choose(
    line: str, answers: dict[str, str], fact: Fact
) -> None:
    """It was asked without a choice: the line had to be typed anew."""
    asked = read(line)
    assert isinstance(asked, Asked)
    assert asked.question.about == "verb"
    assert answers["1:verb"] in [choice.value for choice in asked.question.choices]
    assert fact_of(line, answers) == fact


def test_another_crop_is_not_passed_over_once_it_is_chosen() -> None:
    outcome = read("sold 2 kg of peas with broad beans", {"1:verb": "picked"})
    assert isinstance(outcome, Asked)
    assert "'peas' could not be read" in outcome.question.text


def test_every_crop_that_stands_can_be_chosen() -> None:
    """The list ended at the twelfth by the alphabet: tomatoes could not be told."""
    asked = read("slugs had the lot")
    assert isinstance(asked, Asked)
    assert {choice.value for choice in asked.question.choices} >= {"tomato", "beetroot", "winter-squash"}
    assert fact_of("slugs had the lot", {"1:crop": "tomato"}) == Lost("tomato", "eaten", 1.0, "slugs")


def test_plants_that_were_bought_and_then_put_in() -> None:
    fact = fact_of("bought 6 tomato plants and put them in the tunnel")
    assert isinstance(fact, Sowed)
    assert (fact.crop, fact.bought, fact.ground) == ("tomato", True, "tunnel")


def test_in_american_words_too() -> None:
    outcome = read_line("hail shredded half the zucchini", TODAY, replace(NAMES, american=True))
    assert isinstance(outcome, Understood)
    assert outcome.facts[0].fact == Lost("courgette", "other", 0.5, "hail")


def test_a_pot_of_the_garden_is_its_ground() -> None:
    """'in pots 1' told plants to be raised in pots, which radish is not."""
    there = replace(NAMES, grounds=(*NAMES.grounds, GroundName("pots 1", "open", 0.03)))
    outcome = read_line("sowed 0.03 m2 of radish in pots 1", TODAY, there)
    assert isinstance(outcome, Understood)
    (fact,) = (dated.fact for dated in outcome.facts)
    assert fact == Sowed("radish", "direct", "open", 0.03, ground="pots 1")
