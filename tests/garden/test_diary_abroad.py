"""Lines of the diary as they are written in Georgia, Manitoba and Tasmania, in a garden as `begin`
leaves it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from diary_garden import names

from evenpick.base.days import day_number
from evenpick.garden.diary import Entry, Fact, Lost, Picked, PlantedOut, Reading, Sowed, Watered, new_id
from evenpick.garden.diary_amounts import INCH
from evenpick.garden.diary_asking import Asked, Outcome, Refused, Understood
from evenpick.garden.diary_grounds import GroundName
from evenpick.garden.diary_line import read_line
from evenpick.garden.record import fold
from evenpick.service.log_words import fact_words

TODAY = date(2027, 6, 12)
BEDS = tuple(GroundName(name, "open", 4.5) for name in ("garden", *(f"garden {n}" for n in range(1, 13))))
NAMES = replace(names(), grounds=BEDS, imperial=True, american=True, day_first=False)


def read(line: str, grounds: tuple[GroundName, ...] = BEDS) -> Outcome:
    return read_line(line, TODAY, replace(NAMES, grounds=grounds))


def fact_of(line: str) -> Fact:
    outcome = read(line)
    assert isinstance(outcome, Understood), outcome
    (dated,) = outcome.facts
    return dated.fact


@pytest.mark.parametrize("line", ["sowed 12 ft okra bed 6", "sowed 12 ft okra in garden 6"])
def test_where_one_ground_alone_has_numbered_beds_a_bed_goes_by_its_number(line: str) -> None:
    fact = fact_of(line)
    assert isinstance(fact, Sowed)
    assert fact.ground == "garden 6"


@pytest.mark.parametrize(("grounds", "line"), [
    (BEDS, "sowed 12 ft okra bed 13"),
    ((*BEDS, GroundName("tunnel 1", "tunnel", 9.0)), "sowed 12 ft okra bed 6"),
])
def test_a_bed_of_no_number_or_of_two_grounds_is_asked_about(
    grounds: tuple[GroundName, ...], line: str
) -> None:
    assert isinstance(read(line, grounds), Asked)


def test_a_bed_of_that_very_name_goes_before() -> None:
    outcome = read("sowed 12 ft okra bed 6", (*BEDS, GroundName("bed 6", "open", 4.5)))
    assert isinstance(outcome, Understood)
    assert getattr(outcome.facts[0].fact, "ground", None) == "bed 6"


@pytest.mark.parametrize("verb", ["set out", "planted out", "put out", "put in", "planted"])
def test_slips_and_sets_that_are_put_out_are_planted(verb: str) -> None:
    fact = fact_of(f"{verb} 10 sweet potato slips in garden 2")
    assert isinstance(fact, Sowed)
    assert (fact.crop, fact.way, fact.ground) == ("sweet-potato", "planted", "garden 2")


def test_sticks_put_in_for_peas_sow_nothing() -> None:
    outcome = read("put in sticks for the peas")
    assert not isinstance(outcome, Understood) or not isinstance(outcome.facts[0].fact, Sowed)


def test_plants_are_told_whole() -> None:
    told = fact_words(Sowed("okra", "direct", "open", 3.29), NAMES)
    assert "(8 plants)" in told


@pytest.mark.parametrize(("line", "cause", "by"), [
    ("hornworms ate half the tomatoes", "eaten", "hornworms"),
    ("lost all the zucchini to squash bugs", "eaten", "squash bugs"),
    ("squash vine borers killed all the zucchini", "eaten", "squash vine borers"),
    ("grasshoppers stripped all the kale", "eaten", "grasshoppers"),
    ("wallabies ate all the chard", "eaten", "wallabies"),
    ("lost half the tomatoes to blossom end rot", "diseased", "blossom end rot"),
    ("colorado potato beetles ate half the new potatoes", "eaten", "colorado potato beetles"),
    ("bugs ate half the kale", "eaten", "bugs"),
    ("lost half the turnips to root maggots", "eaten", "root maggots"),
])
def test_pests_of_three_lands(line: str, cause: str, by: str) -> None:
    fact = fact_of(line)
    assert isinstance(fact, Lost)
    assert (fact.cause, fact.by) == (cause, by)


def test_a_dozen_and_an_inch() -> None:
    fact = fact_of("picked 2 dozen ears of corn")
    assert isinstance(fact, Picked)
    assert fact.pieces == 24
    for line in ("an inch of rain", "got an inch of rain", "it rained an inch"):
        rain = fact_of(line)
        assert isinstance(rain, Reading), line
        assert rain.rain == pytest.approx(INCH)


def test_a_question_gives_an_example_in_the_gardens_own_degrees() -> None:
    outcome = read("frost last night")
    assert isinstance(outcome, Asked)
    assert outcome.question.free == "27 °F", outcome


def test_gallons_are_those_of_the_country() -> None:
    """A garden in Ohio was asked each time which gallons it had."""
    fact = fact_of("watered garden 3 with 10 gallons")
    assert isinstance(fact, Watered)
    assert fact.litres == pytest.approx(37.85411784)
    canadian = replace(NAMES, imperial=False)
    assert isinstance(read_line("watered garden 3 with 10 gallons", TODAY, canadian), Asked)


def test_an_amount_of_less_than_nothing_is_told_without_a_figure_of_other_units() -> None:
    """"-1.36078 is nought or less" was told of -3 lb."""
    refused = read("picked -3 lb beets")
    assert isinstance(refused, Refused)
    assert refused.why == "an amount is nought or less."


@pytest.mark.parametrize("line", ["put 12 tomatoes out in garden 2", "set 12 tomatoes out in garden 2"])
def test_plants_stand_between_put_and_out(line: str) -> None:
    day = day_number(date(2027, 4, 1))
    raised = Entry(new_id(), day, Sowed("tomato", "raised", "open", 2.0))
    outcome = read_line(line, TODAY, replace(NAMES, sowings=tuple(fold([raised]).sowings.values())))
    assert isinstance(outcome, Understood), outcome
    assert isinstance(outcome.facts[0].fact, PlantedOut)


def test_a_night_told_as_such_is_the_lowest() -> None:
    """'Was 2c the lowest or the highest?' was asked of a night."""
    assert fact_of("35 F overnight") == Reading(tmin=pytest.approx(5 / 3, abs=0.01))


def test_no_frost_is_no_question_how_cold_it_was() -> None:
    outcome = read("no frost today")
    assert isinstance(outcome, Refused)
    assert "lowest" in outcome.mend


def test_zukes_are_zucchini() -> None:
    fact = fact_of("sowed 4 zukes in bed 2")
    assert isinstance(fact, Sowed)
    assert fact.crop == "courgette"


def test_early_spuds_say_which_potato_they_are() -> None:
    both = replace(NAMES, grown=frozenset(("early-potato", "main-potato")))
    outcome = read_line("planted 10 early spuds in bed 2", TODAY, both)
    assert isinstance(outcome, Understood)
    assert isinstance(outcome.facts[0].fact, Sowed)
    assert outcome.facts[0].fact.crop == "early-potato"


def test_pests_of_warm_countries_are_known() -> None:
    """'What does 'took' tell: picked, bought, cleared?' was asked of a leafhopper."""
    outcome = read("jassids took a third of the okra")
    told = outcome.why if isinstance(outcome, Refused) else str(outcome)
    assert "no sowing of Okra is under way" in told
