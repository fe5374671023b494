"""Why a sow day is good or bad, told from one and the same sowing."""

from __future__ import annotations

from datetime import date

import pytest

from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.outcome import FATE_WORDS
from evenpick.service.why import HAZARDS, values, why

DUBLIN = Site("Dublin", 53.4, -6.2)


@pytest.mark.parametrize(("crop", "sow"), [("leek", date(2027, 3, 25)), ("courgette", date(2027, 4, 10))])
def test_hazards_are_the_fates_of_the_sowing_that_is_told(crop: str, sow: date) -> None:
    answer = why(DUBLIN, WeatherChoice(), crop, sow)
    told, struck = dict(answer.outlook.fates), dict(answer.hazards)
    assert any(told[FATE_WORDS[fate]] > 0 for fate in HAZARDS)
    assert all(struck[words] == told[FATE_WORDS[fate]] for fate, words in HAZARDS.items())


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
