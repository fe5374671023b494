"""What a hurried grower writes: losses counted, acts misspelt, thermometers that stand elsewhere."""

from __future__ import annotations

from datetime import date

import pytest
from diary_garden import fact_of, read

from evenpick.garden.diary import Cleared, Fact, Lost, Noted, Picked, Reading, Sowed
from evenpick.garden.diary_asking import Asked, Understood


@pytest.mark.parametrize(("line", "crop", "share"), [
    ("slugs ate 5 cos lettuces", "cos-lettuce", 5 * 0.09 / 2.0),
    ("slugs took 3 tomato plants", "tomato", 3 * 0.45 * 0.75 / 2.0),
    ("pigeons stripped 1 m of the turnips", "turnip", 0.275 / 2.0),
    ("flea beetle took 0.5 m² of the radish", "radish", 0.25),
    ("slugs took 3 of 10 courgettes", "courgette", 0.3),
    ("12 of the 30 cos lettuces eaten by slugs", "cos-lettuce", 0.4),
    ("mice ate 2 m² of the peas", "pea", 1.0),
])
def test_what_is_counted_lost_is_so_much_of_what_stood(line: str, crop: str, share: float) -> None:
    """A share was asked for, which nobody who counted has at hand. 2 m² of each stand."""
    fact = fact_of(line)
    assert isinstance(fact, Lost)
    assert fact.sowing == crop
    assert fact.share == pytest.approx(share)


def test_tomatoes_lost_may_be_fruit_and_are_asked_about() -> None:
    outcome = read("blight took 3 tomatoes")
    assert isinstance(outcome, Asked)
    assert outcome.question.choices[0].label == "so many plants, 51% of what stood"
    fact = fact_of("blight took 3 tomatoes", {"1:share": outcome.question.choices[0].value})
    assert isinstance(fact, Lost)
    assert fact.share == pytest.approx(0.506)


def test_more_than_stood_is_asked_about() -> None:
    assert isinstance(read("slugs ate 90 cos lettuces"), Asked)


@pytest.mark.parametrize("line", [
    "radish sown 8 May all lost to frost", "frost got all the radish sown 8 May",
])
def test_what_became_of_a_sowing_told_by_its_day(line: str) -> None:
    """'Lost' and 'frost' could not be read, and a second sowing was offered."""
    fact = fact_of(line)
    assert isinstance(fact, Lost)
    assert (fact.sowing, fact.cause, fact.share) == ("radish", "frosted", 1.0)


@pytest.mark.parametrize(("line", "kind"), [
    ("pickt 500 g raddish", Picked), ("picd 2 bunchs radish", Picked), ("harvestd 1 kg peas", Picked),
    ("ripped out the turnips", Cleared), ("tore out the turnips", Cleared), ("cleard the turnips", Cleared),
    ("sowwed 3 m radish bed 2", Sowed), ("sowed 3 m radish 10 mm deep in bed 2", Sowed),
    ("picked some cos lettuce leaves", Picked),
])
def test_misspelt_acts_are_read(line: str, kind: type[Fact]) -> None:
    assert isinstance(fact_of(line), kind)


def test_short_for_yesterday() -> None:
    outcome = read("sown 3m turnips yest bed 2")
    assert isinstance(outcome, Understood)
    assert outcome.facts[0].day == date(2027, 6, 11)


@pytest.mark.parametrize(("line", "reading"), [
    ("36 in the shade", Reading(tmax=36.0)), ("hot, 29", Reading(tmax=29.0)), ("12mm", Reading(rain=12.0)),
    ("7.5 mm overnight", Reading(rain=7.5)), ("half inch rain last night", Reading(rain=12.7)),
    ("-3 outside last night", Reading(tmin=-3.0)),
])
def test_a_thermometer_and_a_gauge_in_short(line: str, reading: Reading) -> None:
    assert fact_of(line) == reading


@pytest.mark.parametrize("line", ["-2 on the grass", "-2 on the lawn last nite"])
def test_the_grass_is_colder_than_the_air_and_asked_about(line: str) -> None:
    outcome = read(line)
    assert isinstance(outcome, Asked)
    assert "colder than the air" in outcome.question.text
    assert fact_of(line, {"1:grass": "1 °C"}) == Reading(tmin=1.0)
    assert fact_of(line, {"1:grass": "as cold"}) == Reading(tmin=-2.0)


@pytest.mark.parametrize("line", ["min 4 in the greenhouse", "31C in the tunnel", "max 38 in the polytunnel"])
def test_a_reading_under_cover_is_none_of_the_open(line: str) -> None:
    """It was offered to be kept as the weather outdoors."""
    outcome = read(line)
    assert isinstance(outcome, Asked)
    assert [choice.value for choice in outcome.question.choices] == ["words"]
    assert isinstance(fact_of(line, {"1:inside": "words"}), Noted)


def test_what_is_none_of_the_acts_may_be_kept_as_words() -> None:
    assert isinstance(fact_of("side shooted the tomatoes", {"1:verb": "words"}), Noted)


@pytest.mark.parametrize("line", [
    "sowed radish 10 mm deep", "thinned carrots, 20 mm apart", "picked 2 kg toms, hot",
    "picked 2 kg peas, 30 mm long",
    "lowest 2 in the tunnel, -3 outside",
])
def test_what_is_no_weather_of_the_open_is_not_read_as_such(line: str) -> None:
    outcome = read(line)
    assert not isinstance(outcome, Understood) or not any(
        isinstance(each.fact, Reading) for each in outcome.facts)


@pytest.mark.parametrize(("line", "days"), [
    ("Tues 8 June sowed 3 m turnips in bed 2", [date(2027, 6, 8)]),
    ("Sat 5/6 sowed 3 m turnips in bed 2", [date(2027, 6, 5)]),
])
def test_a_weekday_before_a_date_is_read_with_it(line: str, days: list[date]) -> None:
    """'tues' could not be read; and a Saturday tells 5 June from 6 May."""
    outcome = read(line)
    assert isinstance(outcome, Understood), outcome
    assert [each.day for each in outcome.facts] == days


def test_a_weekday_that_is_not_that_of_its_date_is_asked_about() -> None:
    outcome = read("Tues 9 June sowed 3 m turnips in bed 2")
    assert isinstance(outcome, Asked)
    assert outcome.question.text == "Which day is 'tues 9 june'?"


@pytest.mark.parametrize(("line", "kg"), [
    ("class 3 picked 500 g of peas", 0.5), ("the children picked 1 kg 200 g of peas", 1.2),
    ("year 5b picked 2 kg of peas", 2.0),
])
def test_who_picked_is_no_amount(line: str, kg: float) -> None:
    fact = fact_of(line)
    assert isinstance(fact, Picked)
    assert fact.kg == pytest.approx(kg)
    assert fact.pieces is None


def test_what_is_resown_is_the_crop_that_was_lost() -> None:
    outcome = read("slugs took half the turnips, resowed 2 m")
    assert isinstance(outcome, Understood), outcome
    lost, sown = (each.fact for each in outcome.facts)
    assert isinstance(lost, Lost)
    assert isinstance(sown, Sowed)
    assert (lost.share, sown.crop, sown.area) == (0.5, "turnip", pytest.approx(0.55))


def test_mildewed_is_lost_to_disease() -> None:
    fact = fact_of("half the peas mildewed")
    assert isinstance(fact, Lost)
    assert (fact.cause, fact.share) == ("diseased", 0.5)
