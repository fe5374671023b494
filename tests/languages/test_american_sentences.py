"""Crops within sentences and words that end them, told to an American; what a table shows by itself is
`test_told`'s."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from evenpick.base.errors import UnknownCrop
from evenpick.base.language import language, using
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary_names import day_words
from evenpick.plan.rows import SEED
from evenpick.service import after_loss
from evenpick.service.binding import _called
from evenpick.service.fitted import smaller
from evenpick.service.less_lost import _names, _sowings
from evenpick.service.loss_answer import Filling
from evenpick.service.loss_words import loss_words
from evenpick.service.outlook import asked
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


def test_what_fills_the_weeks_of_a_loss() -> None:
    """Some of its sentences told British names, and 'planted' in no language but the source's."""
    filling = Filling("courgette", "Courgette", "planted", "open", date(2027, 5, 20), 0.9, (), 2.0, True)
    bare = np.array([True, False])
    assert "Zucchini planted on May 20" in loss_words("zucchini", bare, (filling,), (), ())
    assert "stand in for it: Zucchini." in loss_words("beans", bare, (), (filling,), ())
    assert "in those weeks: Zucchini." in loss_words("beans", bare, (), (), (filling,))
    swede = replace(filling, crop="swede", name="Swede", way="direct")
    assert "Rutabaga sown on May 20" in loss_words("rutabaga", bare, (swede,), (), ())


def test_a_way_that_a_crop_is_not_grown_in() -> None:
    with pytest.raises(UnknownCrop, match="way of starting Rutabaga"):
        asked("swede", "open", "planted", None)


def test_no_sentence_of_a_service_is_given_a_british_name() -> None:
    """A crop's `name` is for tables, which tell it by the reader's own words; sentences are given `told`."""
    folder = Path(inspect.getfile(after_loss)).parent
    slips = [(path.name, node.lineno) for path in sorted(folder.glob("*.py"))
             for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
             if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
             and node.func.id in ("tell", "tell_n") for given in node.keywords if _is_crops_name(given.value)]
    assert not slips


def _is_crops_name(given: ast.expr) -> bool:
    """`crop.name`, `batch.crop.name`, `load_catalogue().crop(key).name`."""
    if not isinstance(given, ast.Attribute) or given.attr != "name":
        return False
    whose = given.value
    return ((isinstance(whose, ast.Name) and whose.id in ("crop", "found", "job", "filling", "best"))
            or (isinstance(whose, ast.Attribute) and whose.attr == "crop")
            or (isinstance(whose, ast.Call) and isinstance(whose.func, ast.Attribute)
                and whose.func.attr == "crop"))


def test_days_of_the_diary_are_ordered_as_elsewhere() -> None:
    assert day_words(date(2027, 1, 16)) == "January 16"
