"""Why a sow day is good or bad, told from one and the same sowing."""

from __future__ import annotations

from datetime import date

import pytest

from evenpick.climate.site import Site
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.outcome import FATE_WORDS
from evenpick.service.why import HAZARDS, why

DUBLIN = Site("Dublin", 53.4, -6.2)


@pytest.mark.parametrize(("crop", "sow"), [("leek", date(2027, 3, 25)), ("courgette", date(2027, 4, 10))])
def test_hazards_are_the_fates_of_the_sowing_that_is_told(crop: str, sow: date) -> None:
    answer = why(DUBLIN, WeatherChoice(), crop, sow)
    told, struck = dict(answer.outlook.fates), dict(answer.hazards)
    assert any(told[FATE_WORDS[fate]] > 0 for fate in HAZARDS)
    assert all(struck[words] == told[FATE_WORDS[fate]] for fate, words in HAZARDS.items())
