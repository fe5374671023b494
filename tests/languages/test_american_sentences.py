"""Crops within sentences and words that end them, told to an American; what a table shows by itself is
`test_told`'s."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from types import SimpleNamespace

import numpy as np
import pytest

from evenpick.base.language import language, using
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary_names import day_words
from evenpick.plan.rows import SEED
from evenpick.service.binding import _called
from evenpick.service.fitted import smaller
from evenpick.service.less_lost import _names, _sowings
from evenpick.service.sowings import _because


@pytest.fixture(autouse=True)
def american() -> Iterator[None]:
    with using(language("en_US")):
        yield


def test_crops_in_sentences_go_by_their_american_names() -> None:
    assert load_catalogue().crop("courgette").told == "Zucchini"
    assert _sowings(["early-carrot", "early-carrot"]) == "Bunching carrot (2 sowings)"
    assert _names(["courgette"]) == "Zucchini"
    assert _called(f"{SEED}courgette")[0] == "seed of Zucchini"


def test_so_do_the_types_of_a_crop() -> None:
    onion = next(one for one in load_catalogue().crop("onion").by_type() if one.name != "Onion")
    assert onion.told == "Onion, overwintering"
    with using(language("en_GB")):
        assert load_catalogue().crop("early-carrot").told == "Early carrot"


def test_crops_that_beds_have_no_room_for() -> None:
    courgette = SimpleNamespace(batch=SimpleNamespace(crop=load_catalogue().crop("courgette")))
    work = SimpleNamespace(options=[courgette])
    assert smaller(work, np.array([2.0]), np.array([1.0])) == "Zucchini (1 sowing)"


def test_what_closes_a_window_is_told() -> None:
    said = _because("potatoes", date(2027, 3, 6), None, 1.0, date(2027, 3, 26), "spoilt by heat")
    assert said == "potatoes; sow by Mar 26, then spoiled by heat"


def test_days_of_the_diary_are_ordered_as_elsewhere() -> None:
    assert day_words(date(2027, 1, 16)) == "January 16"
