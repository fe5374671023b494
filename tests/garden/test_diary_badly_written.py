"""Lines as they are written in a hurry, over New Year in the south, of sowings told by their number."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from diary_garden import TODAY, fact_of, read, usual_names

from evenpick.base.days import day_number
from evenpick.garden.diary import CameUp, Cleared, Entry, Picked, Sowed
from evenpick.garden.diary_asking import Asked, Outcome, Refused, Understood
from evenpick.garden.diary_grounds import GroundName
from evenpick.garden.diary_line import read_line
from evenpick.garden.record import fold

SUMMER = date(2028, 1, 2)


@pytest.mark.parametrize(("told", "day"), [
    ("on boxing day", date(2027, 12, 26)), ("christmas eve", date(2027, 12, 24)),
    ("xmas day", date(2027, 12, 25)), ("new years eve", date(2027, 12, 31)), ("NYE", date(2027, 12, 31)),
    ("on New Year's Day", date(2028, 1, 1)), ("24-12-27", date(2027, 12, 24)),
    ("24-12-2027", date(2027, 12, 24)), ("24th of december last year", date(2027, 12, 24)),
    ("Dec 24 last year", date(2027, 12, 24)), ("29/12", date(2027, 12, 29)),
])
def test_days_about_new_year(told: str, day: date) -> None:
    outcome = read_line(f"picked 500 g beetroot {told}", SUMMER, replace(usual_names(), day_first=True))
    assert isinstance(outcome, Understood), outcome
    (dated,) = outcome.facts
    assert dated.day == day
    assert isinstance(dated.fact, Picked)
    assert dated.fact.kg == 0.5


@pytest.mark.parametrize(("line", "pieces"), [
    ("picked kohlrabi x 4", 4), ("picked kohlrabi x4", 4), ("picked 4x kohlrabi", 4),
    ("picked 4 x kohlrabi", 4),
])
def test_a_number_of_times_is_a_number(line: str, pieces: int) -> None:
    assert fact_of(line) == Picked("kohlrabi", "kohlrabi", pieces=pieces)


@pytest.mark.parametrize("line", [
    "picked 2-3 kg tomatoes", "picked 2 to 3 kg of tomatoes", "picked tomatoes, 2 or 3 kg",
])
def test_a_weight_from_one_to_another_is_asked_as_one(line: str) -> None:
    """It asked whether to leave the number 2 in the words."""
    asked = read(line)
    assert isinstance(asked, Asked)
    assert "From 2 kg to 3 kg is not one weight" in asked.question.text
    assert [choice.label for choice in asked.question.choices] == [
        "2 kg", "2.5 kg", "3 kg", "not weighed, not counted"]
    fact = fact_of(line, {asked.question.key: "2.5 kg"})
    assert isinstance(fact, Picked)
    assert fact.kg == pytest.approx(2.5)


def test_lengths_by_rows_stay_lengths() -> None:
    fact = fact_of("sowed 2 x 3 m radish in bed 2")
    assert isinstance(fact, Sowed)
    assert fact.area == pytest.approx(6 * 0.15)


@pytest.mark.parametrize("line", ["ate 3 courgettes", "we ate 3 courgettes", "I ate the first courgette"])
def test_what_people_ate_is_no_loss(line: str) -> None:
    """It asked how much of them was lost."""
    asked = read(line)
    assert isinstance(asked, Asked)
    assert asked.question.about == "verb"
    assert "picked" in [choice.value for choice in asked.question.choices]


def test_what_something_ate_still_is() -> None:
    for line in ("something ate half the kohlrabi", "pigeons ate half the kohlrabi"):
        outcome = read(line)
        assert not isinstance(outcome, Refused)
        assert not isinstance(outcome, Asked) or outcome.question.about != "verb"


def told_of_carrots(line: str, *more: Entry) -> Outcome:
    days = (date(2027, 3, 6), date(2027, 4, 10), date(2027, 5, 8), date(2027, 5, 29))
    sown = [Entry(f"c{at}", day_number(day), Sowed("early-carrot", "direct", "open", 1.0))
            for at, day in enumerate(days)]
    sowings = tuple(fold([*sown, *more]).sowings.values())
    return read_line(line, TODAY, replace(usual_names(), sowings=sowings))


@pytest.mark.parametrize(("line", "fact"), [
    ("second sowing of carrots up", CameUp("c1")), ("the 3rd sowing of carrots is up", CameUp("c2")),
    ("third sowing carrots germinated", CameUp("c2")), ("last sowing of carrots up", CameUp("c3")),
    ("cleared the first sowing of carrots", Cleared("c0")),
    ("picked 2 kg carrots from the second sowing", Picked("early-carrot", "c1", kg=2.0)),
])
def test_a_sowing_may_be_told_by_its_number(line: str, fact: object) -> None:
    """'Second sowing of carrots up' asked how much was sown, and 'third' was not read."""
    outcome = told_of_carrots(line)
    assert isinstance(outcome, Understood), outcome
    assert [each.fact for each in outcome.facts] == [fact]


def test_one_that_is_not_so_far_is_asked_about() -> None:
    """The first is up already, and there is no fifth."""
    up = [Entry(f"u{at}", day_number(TODAY), CameUp(f"c{at}")) for at in (0, 1, 2)]
    for line in ("first sowing of carrots up", "fifth sowing of carrots up"):
        outcome = told_of_carrots(line, *up)
        assert isinstance(outcome, Asked), line
        assert [choice.value for choice in outcome.question.choices] == ["c3", "all"]


def test_a_second_sowing_that_is_made_is_a_sowing() -> None:
    for line in ("second sowing of carrots, 4 m, bed 3", "3rd sowing of carrots 4 m bed 3"):
        fact = fact_of(line)
        assert isinstance(fact, Sowed)
        assert fact.area == pytest.approx(0.8)


@pytest.mark.parametrize("said", ["in the open", "outdoors", "in the open ground", "in open ground"])
def test_the_one_open_ground_goes_by_what_it_is(said: str) -> None:
    two = (GroundName("plot", "open", 60.0), GroundName("tunnel", "tunnel", 8.0))
    one = read_line(f"sowed 4 m beetroot {said}", TODAY, replace(usual_names(), grounds=two))
    assert isinstance(one, Understood), one
    fact = one.facts[0].fact
    assert isinstance(fact, Sowed)
    assert (fact.ground, fact.cover) == ("plot", "open")
    of_many = fact_of(f"sowed 4 m beetroot {said}")
    assert isinstance(of_many, Sowed)
    assert (of_many.ground, of_many.cover) == (None, "open")


def test_a_loss_that_was_none_is_told_how_to_take_back() -> None:
    for line in ("the kohlrabi weren't lost after all", "kohlrabi didn't die",
                 "kohlrabi not eaten after all"):
        refused = read(line)
        assert isinstance(refused, Refused)
        assert "undo" in refused.mend


@pytest.mark.parametrize(("line", "metres"), [
    ("sowed radish 6 ft 6 in bed 2", 1.9812), ("sowed 12'6\" radish in bed 2", 3.81),
    ("sowed 6 feet 6 inches radish bed 2", 1.9812), ("sowed 3 mtrs radish bed 2", 3.0),
])
def test_feet_and_inches_are_one_length(line: str, metres: float) -> None:
    fact = fact_of(line)
    assert isinstance(fact, Sowed)
    assert (fact.ground, fact.area) == ("bed 2", pytest.approx(metres * 0.15))


@pytest.mark.parametrize(("line", "picked"), [
    ("picked 800 gms kohlrabi", Picked("kohlrabi", "kohlrabi", kg=0.8)),
    ("picked 1 doz kohlrabi", Picked("kohlrabi", "kohlrabi", pieces=12)),
])
def test_short_words_of_weight_and_number(line: str, picked: Picked) -> None:
    assert fact_of(line) == picked


LIST = "kohlrabi 4; radish: 1 bunch; chard 2kg"


def test_of_a_list_it_is_asked_once_what_was_done() -> None:
    """Only the first was read, and the others offered to be left in words."""
    asked = read(LIST)
    assert isinstance(asked, Asked)
    assert (asked.question.about, "what stands after it" in asked.question.text) == ("verb", True)
    outcome = read(LIST, {asked.question.key: "picked"})
    assert isinstance(outcome, Understood), outcome
    assert [each.fact for each in outcome.facts] == [
        Picked("kohlrabi", "kohlrabi", pieces=4), Picked("radish", "radish", pieces=1),
        Picked("chard", "chard", kg=2.0)]
    words = read(LIST, {asked.question.key: "words"})
    assert isinstance(words, Understood)
    assert len(words.facts) == 1


def test_rain_of_a_night_by_the_short_name_of_its_day() -> None:
    outcome = read("9 mm rain fri night")
    assert isinstance(outcome, Understood), outcome
    assert outcome.facts[0].day == date(2027, 6, 11)


@pytest.mark.parametrize("line", [
    "picked beetroot, not weighed", "picked 3 chard, not weighed, not counted",
    "picked chard (didn't weigh it)", "picked half the chard, I forgot to weigh it",
    "picked chard unweighed",
])
def test_that_it_was_not_weighed_can_be_written(line: str) -> None:
    """It was the answer that is offered, and as a row of a file it told what was not so."""
    fact = fact_of(line)
    assert isinstance(fact, Picked)
    assert (fact.kg, fact.pieces) == (None, None)


def test_what_was_counted_stays_counted() -> None:
    assert fact_of("picked 3 kohlrabi, not weighed") == Picked("kohlrabi", "kohlrabi", pieces=3)
