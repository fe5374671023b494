"""Saving seed (docs/design/seed.md, 6). Invented garden; what crosses is botany (memory) and the table."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenpick.base.errors import UnknownCrop
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.seed import seed_of
from evenpick.crops.seed_saving import saving_steps
from evenpick.garden.diary import SeedGot, Sowed
from evenpick.service.book import write
from evenpick.service.saving import saving

WISHES = ("kale", "calabrese", "courgette", "winter-squash", "dwarf-bean", "leaf-lettuce", "turnip",
          "beetroot", "chard")
TEXT = '[site]\nat = "53.4, -6.2"\n[[ground]]\nname = "bed"\ncover = "open"\narea = "30 m2"\n' + "".join(
    f'[[wish]]\nitem = "{crop}"\neach_week = "250 g"\n' for crop in WISHES)


def test_beans_and_lettuce_come_true(garden: Path) -> None:
    assert saving(garden, "dwarf-bean").true == "yes"
    assert saving(garden, "leaf-lettuce").true == "yes"


@pytest.mark.parametrize(("crop", "with_"), [
    ("kale", "Calabrese"), ("beetroot", "Chard"), ("courgette", "Winter squash"),
])
def test_crops_of_one_species_cross(garden: Path, crop: str, with_: str) -> None:
    answer = saving(garden, crop)
    assert answer.true == "no"
    assert with_ in {one.name for one in answer.crosses}


def test_seed_of_tomatoes_is_ripe_a_week_after_they_are_fit_to_eat(garden: Path) -> None:
    steps = saving(garden, "tomato").steps
    assert "seed is ripe about 1 week after it is fit to eat; choose dry days" in steps


def test_turnip_does_not_cross_with_kale(garden: Path) -> None:
    assert {one.name for one in saving(garden, "turnip").crosses} == {"wild turnip"}


def test_an_f1_does_not_come_true(garden: Path) -> None:
    write(garden, [(date(2027, 2, 1), SeedGot("dwarf-bean", "X", 2027, f1=True), "")])
    answer = saving(garden, "sweetcorn")
    assert answer.true == "mostly"
    write(garden, [(date(2027, 2, 1), SeedGot("sweetcorn", "Y", 2027, f1=True), "")])
    assert saving(garden, "sweetcorn").true == "no"


def test_two_varieties_that_stand_would_cross(garden: Path) -> None:
    for variety in ("Red", "White"):
        write(garden, [(date(2027, 3, 1), Sowed("radish", "direct", "open", 1.0, variety=variety), "")])
    assert "Radish: Red, White" in {one.name for one in saving(garden, "radish").crosses}


def test_bitter_cucurbits_and_raw_beans_are_warned_of(garden: Path) -> None:
    assert any("bitter" in said for said in saving(garden, "courgette").cautions)
    assert any("raw" in said.lower() for said in saving(garden, "runner-bean").cautions)


def test_every_crop_says_how_and_what_must_be_left_to_flower(garden: Path) -> None:
    for crop in load_catalogue().crops:
        clone = seed_of(crop.key).cycle == "clone"
        assert (saving_steps(crop.key) is None) == (clone or crop.key == "onion-sets")
        assert saving(garden, crop.key).steps
    with pytest.raises(UnknownCrop):
        saving(garden, "coconut")


def test_a_sweet_potato_is_no_potato(garden: Path) -> None:
    """Its roots do not turn green: it was to be warned of by the end of its name."""
    cautions = saving(garden, "sweet-potato").cautions
    assert not any("green" in said for said in cautions)
    assert any("slips" in said for said in cautions)
    assert any("green" in said for said in saving(garden, "main-potato").cautions)


@pytest.mark.parametrize("crop", ["yardlong-bean", "southern-pea", "lima-bean", "edamame"])
def test_their_seed_is_a_raw_bean(garden: Path, crop: str) -> None:
    assert any("raw beans" in said for said in saving(garden, crop).cautions)


def test_collards_cross_with_kale_and_bees_cross_butter_beans(garden: Path) -> None:
    """One species; kinds of limas cross too (organolima)."""
    write(garden, [(date(2027, 3, 1), Sowed("kale", "direct", "open", 1.0), ""),
                   (date(2027, 3, 1), Sowed("lima-bean", "direct", "open", 1.0, variety="Red"), ""),
                   (date(2027, 3, 1), Sowed("lima-bean", "direct", "open", 1.0, variety="White"), "")])
    assert "Kale" in {one.name for one in saving(garden, "collards").crosses}
    assert {one.name for one in saving(garden, "lima-bean").crosses} == {"Butter bean: Red, White"}


@pytest.mark.parametrize("crop", ["melon", "watermelon"])
def test_melons_cross_with_no_other_crop(garden: Path, crop: str) -> None:
    """One species each: cucumbers and squashes do not cross with them (seedlibrary)."""
    assert not {one.name for one in saving(garden, crop).crosses} & {"Cucumber", "Courgette", "Melon"}
