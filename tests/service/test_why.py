"""Why a sow day is good or bad, told from one and the same sowing."""

from __future__ import annotations

from datetime import date

import pytest

from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.outcome import FATE_WORDS
from evenpick.outlook.score import WORTH
from evenpick.outlook.windows import MARGIN, YEAR
from evenpick.report.outlook import EXPLAINED, outlook_page, why_page
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.outlook import outlook
from evenpick.service.why import HAZARDS, values, why
from evenpick.service.windows import calendars, chosen_crops, year_weather

DUBLIN = Site("Dublin", 53.4, -6.2)
BRIZE = Site("Brize Norton", 51.758, -1.578, 82.0)


@pytest.mark.parametrize(("crop", "sow"), [("leek", date(2027, 3, 25)), ("courgette", date(2027, 4, 10))])
def test_hazards_are_the_fates_of_the_sowing_that_is_told(crop: str, sow: date) -> None:
    answer = why(DUBLIN, WeatherChoice(), crop, sow)
    told, struck = dict(answer.outlook.fates), dict(answer.hazards)
    assert any(told[FATE_WORDS[fate]] > 0 for fate in HAZARDS)
    assert all(struck[words] == told[FATE_WORDS[fate]] for fate, words in HAZARDS.items())


@pytest.mark.parametrize(("crop", "sow", "way", "cover"), [
    ("onion", date(2027, 5, 20), "raised", "open"), ("tomato", date(2027, 5, 15), "raised", "tunnel"),
])  # fmt: skip
def test_a_harvest_cut_short_is_not_told_as_good(crop: str, sow: date, way: str, cover: str) -> None:
    """Onions of late May stay sets, tomatoes of mid May ripen a few: `windows` counts such years as lost."""
    told = outlook(DUBLIN, WeatherChoice(), crop, sow, cover, way)
    good = dict(told.fates)["good"]
    assert 0.2 < told.cut_short <= good
    said = " ".join(render(outlook_page(told, words_for("british", "metric", load_catalogue()))).split())
    assert f"good, but: cut short before much is picked {told.cut_short:.0%}".replace("%", " %") in said
    whole = f"good {good - told.cut_short:.0%}".replace("%", " %")
    assert (whole in said) == (good > told.cut_short)
    because = why(DUBLIN, WeatherChoice(), crop, sow, cover, way)
    assert dict(because.hazards)["cut short before much is picked"] == told.cut_short


def test_what_speaks_against_a_day_in_some_years_is_told_of_no_more_of_them() -> None:
    """Of parsnips of early July a part are not ready for winter use; the others are good."""
    answer = why(BRIZE, WeatherChoice(packaged="brize_norton"), "parsnip", date(2019, 7, 1), way="direct")
    assert answer.against == "out of season"
    late = dict(answer.hazards)["out of season"]
    good = dict(answer.outlook.fates)["good"] - answer.outlook.cut_short
    assert 0.1 < late < good - 0.2
    said = " ".join(render(why_page(answer, words_for("british", "metric", load_catalogue()))).split())
    assert f"good {good - late:.0%} good, but: out of season {late:.0%}".replace("%", " %") in said


@pytest.mark.parametrize(("crop", "sow", "purpose"), [
    ("onion", date(2027, 3, 20), "storing"), ("onion", date(2026, 8, 25), "overwintering"),
    ("broad-bean", date(2027, 4, 1), "fresh"), ("broad-bean", date(2026, 11, 1), "overwintering"),
    ("spinach", date(2027, 4, 1), "fresh"), ("spinach", date(2026, 9, 25), "overwintering"),
])  # fmt: skip
def test_a_day_is_told_as_what_it_is_best_for(crop: str, sow: date, purpose: str) -> None:
    """Onions are sown in spring to store and in late August to stand the winter (mason2022); broad beans
    in November too (winterbeans)."""
    answer = why(DUBLIN, WeatherChoice(), crop, sow, way="direct")
    assert answer.outlook.purpose == purpose
    assert answer.good_time
    assert answer.windows[0].purpose == purpose
    assert len({row.purpose for row in answer.windows}) > 1  # the others' windows stand after its own


def test_the_outlook_is_of_what_the_day_is_best_for_unless_it_is_named() -> None:
    sow = date(2026, 8, 25)
    told = [outlook(DUBLIN, WeatherChoice(), "onion", sow, way="direct", purpose=asked).purpose
            for asked in (None, "storing")]  # fmt: skip
    assert told == ["overwintering", "storing"]
    assert outlook(DUBLIN, WeatherChoice(), "leaf-lettuce", date(2027, 5, 1)).purpose == "fresh"


def test_a_day_that_is_good_for_nothing_is_told_as_the_first_of_its_purposes() -> None:
    answer = why(DUBLIN, WeatherChoice(), "tomato", date(2026, 10, 1))
    assert (answer.outlook.purpose, answer.good_time) == ("fresh", False)


def test_what_waiting_moves_is_told_where_it_is_asked() -> None:
    """Bulbs ripen by the length of days, whenever they were planted (H5); salad does not."""
    assert why(DUBLIN, WeatherChoice(), "onion-sets", date(2027, 10, 1)).leverage is None
    assert 0 < (why(DUBLIN, WeatherChoice(), "radish", date(2027, 6, 10)).leverage or 0.0) < 2


def test_autumns_onions_are_told_by_the_values_of_their_own_kinds() -> None:
    spring, autumn = ({name for name, *_ in why(DUBLIN, WeatherChoice(), "onion", sow).values}
                      for sow in (date(2027, 3, 20), date(2026, 8, 25)))  # fmt: skip
    assert "bulbs in days of" in autumn - spring


def test_what_makes_bulbs_is_told_of_bulbs_alone() -> None:
    catalogue = load_catalogue()
    told = {key: {words: (figure, source) for words, figure, source in values(catalogue.crop(key))}
            for key in ("garlic", "onion", "early-carrot")}  # fmt: skip
    assert told["garlic"]["is to have had cold below"] == ("14 °C", "tasmaniangarlic")
    assert told["garlic"]["such cold is to last"] == ("56 days", "tasmaniangarlic")
    assert told["onion"]["runs to seed with more leaf at midwinter than"] == ("1030 °C d", "brewster2008")
    assert "is to have had cold below" not in told["onion"]  # it asks for none
    assert not any("bulb" in words for words in told["early-carrot"])
    assert told["garlic"]["emerges above"] == ("0 °C soil", "hsiao2019")  # nought is a figure


@pytest.mark.parametrize(("site", "crop", "sow", "against"), [
    (Site("Adelaide", -34.93, 138.6, 56.0), "radish", date(2027, 6, 15), "days too short"),
    (DUBLIN, "spinach", date(2026, 11, 28), "days too short"),
    (DUBLIN, "onion-sets", date(2027, 5, 12), "cut short before much is picked"),
])
def test_why_says_why_years_that_come_good_are_not_recommended(
    site: Site, crop: str, sow: date, against: str
) -> None:
    """Radish at Adelaide in June: score 0.00, "good 100 %", and nothing struck."""
    answer = why(site, WeatherChoice(), crop, sow)
    assert (answer.judgement, answer.against) == ("not", against)
    assert dict(answer.outlook.fates)["good"] > 0.8
    assert dict(answer.hazards)[against] > 0.3
    said = render(why_page(answer, words_for("british", "metric", load_catalogue())))
    assert f"good, but: {against}" in " ".join(said.split())
    assert " ".join(EXPLAINED[against].split()[:8]) in " ".join(said.split())


def test_no_day_is_told_off_without_a_reason() -> None:
    """Of every crop at three places on every fifth day: what speaks against a day is there as a loss, and
    what is possible has a score that would do."""
    for site in (DUBLIN, Site("Adelaide", -34.93, 138.6, 56.0), Site("Tromso", 69.65, 18.96)):
        weather = year_weather(site, WeatherChoice(), 2027, 0)
        for made in calendars(chosen_crops(None), ("open",), weather, 0):
            for day in range(MARGIN, MARGIN + YEAR, 5):
                judged, against = made.judged(day), made.score.against[day]
                if judged == "possible":
                    assert made.score.score[day] >= WORTH
                if judged == "not" and made.score.score[day] < WORTH and against:
                    assert made.score.losses[against][day] > 0.1


@pytest.mark.parametrize(("crop", "sow"), [
    ("courgette", date(2027, 5, 20)), ("courgette", date(2027, 6, 5)), ("tomato", date(2027, 5, 1)),
    ("leaf-lettuce", date(2027, 6, 15)), ("broad-bean", date(2027, 6, 1)), ("spinach", date(2027, 6, 20)),
])
def test_what_speaks_against_a_day_has_struck_in_some_year_and_is_counted(crop: str, sow: date) -> None:
    """Courgettes at Bozeman were told as 'spoilt by heat', of which no year was."""
    answer = why(Site("Bozeman", 45.68, -111.04, 1500.0), WeatherChoice(), crop, sow)
    struck = dict(answer.hazards)
    if answer.against in (*FATE_WORDS.values(), "heat takes part of it"):
        words = {FATE_WORDS[fate]: told for fate, told in HAZARDS.items()}.get(answer.against, answer.against)
        assert struck[words] > 0
    if dict(answer.outlook.fates)["spoilt by heat"] == 0:
        assert answer.against != "spoilt by heat"


def test_heat_is_told_as_what_it_does() -> None:
    """Of courgettes at Bozeman it takes part in some years and spoils none."""
    answer = why(Site("Bozeman", 45.68, -111.04, 1500.0), WeatherChoice(), "courgette", date(2027, 5, 20))
    assert answer.against == "heat takes part of it"
    assert 0 < dict(answer.hazards)["heat takes part of it"] <= 1
    said = " ".join(render(why_page(answer, words_for("british", "metric", load_catalogue()))).split())
    assert "What speaks most against it: heat takes part of it." in said
    assert "spoilt by heat" not in said.split("WHAT IT IS RECKONED FROM")[0].split("ITS WINDOWS HERE")[0]
