"""Prices, the money's sign and what a share should come to: read, refused, and how a price makes a portion
matter (docs/design/season.md, 20). lb, oz: NIST SP 811 (2008), appendix B.8 (memory of the table)."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from small_garden import SMALL

from evenpick.base.errors import BadGarden, Problem
from evenpick.crops.catalogue import Catalogue
from evenpick.garden.cooperative import understand_cooperative
from evenpick.garden.garden import Garden
from evenpick.garden.prices import price

Read = Callable[[str], Garden]
Faults = Callable[[str], tuple[Problem, ...]]
LEEKS = 'each_week = "2 portions"'
LETTUCE = 'each_week = "1 head"'
BOXES = "shares = 10"


def priced(leeks: str, lettuce: str, *more: tuple[str, str]) -> str:
    text = SMALL.replace(LEEKS, f"{LEEKS}\n{leeks}").replace(LETTUCE, f"{LETTUCE}\n{lettuce}")
    for right, wrong in more:
        assert text.count(right) == 1
        text = text.replace(right, wrong)
    return text


@pytest.mark.parametrize(("text", "per_kg"), [
    ("3.50 per kg", 3.5), ("3.50/kg", 3.5), ("3.50per kg", 3.5), ("4 a kilo", 4.0), ("1.20 for 500 g", 2.4),
    (".5 per 100 g", 5.0), ("2 a lb", 2 / 4.535924e-1), ("1 an oz", 1 / 2.834952e-2),
    ("3 For 2 kg", 1.5),
])
def test_a_price_by_weight(text: str, per_kg: float, catalogue: Catalogue) -> None:
    assert price(text, [catalogue.crop("chard")]) == pytest.approx(per_kg, rel=1e-6)


def test_a_price_by_piece_or_portion_is_of_the_crops_own(catalogue: Catalogue) -> None:
    chard, cos, crisp = (catalogue.crop(name) for name in ("chard", "cos-lettuce", "crisp-lettuce"))
    assert price("2.20 a bunch", [chard]) == pytest.approx(2.2 / chard.produce.piece_kg)
    assert price("5 for 2 bunches", [chard]) == pytest.approx(2.5 / chard.produce.piece_kg)
    assert price("0.60 / portion", [chard]) == pytest.approx(0.6 / chard.produce.portion_kg)
    both = (cos.produce.piece_kg + crisp.produce.piece_kg) / 2
    assert price("1.20 a head", [cos, crisp]) == pytest.approx(1.2 / both)


@pytest.mark.parametrize(("text", "what", "mend"), [
    ("€3.50 per kg", "more than a figure", '[words]'), ("3.50 € per kg", "more than a figure", '[words]'),
    ("3.50 per kg €", "more than a figure", '[words]'), ("$2 a bunch", "more than a figure", '[words]'),
    ("3.50 kr per kg", "more than a figure", '[words]'), ("kr 3.50 per kg", "more than a figure", '[words]'),
    ("3,50 per kg", "can't be read", "point"), ("0 per kg", "nought or less", "3.50 per kg"),
    ("-2 per kg", "nought or less", "3.50 per kg"), ("2 for 0 kg", "nought or less", "3.50 per kg"),
    ("2 for -1 kg", "nought or less", "3.50 per kg"), ("9999999999 per kg", "more than anyone", "3.50"),
    ("3.50", "what fetches how much", "3.50 per kg"), ("per kg", "what fetches how much", "3.50 per kg"),
    ("3.50 per", "what fetches how much", "3.50 per kg"), ("dear", "what fetches how much", "3.50 per kg"),
    ("2 a head", "Chard is not counted by 'head'", "2.20 a bunch"),
    ("lots per kg", "can't be read", "3.50 per kg"), ("3 per kg per week", "kg per week", "3.50 per kg"),
    ("3 per 500", "does not say of what", "3.50 per kg"),
])
def test_what_is_no_price_is_refused_with_a_remedy(
    text: str, what: str, mend: str, catalogue: Catalogue
) -> None:
    with pytest.raises(BadGarden) as caught:
        price(text, [catalogue.crop("chard")])
    (problem,) = caught.value.problems
    assert what in problem.what
    assert mend in problem.mend


def test_a_price_stands_with_its_wish_and_a_slip_on_its_line(read: Read, faults: Faults) -> None:
    garden = read(priced('price = "2.80 per kg"', ""))
    assert [wish.price for wish in garden.wishes] == [2.8, None]
    for wrong in ('"£2 per kg"', '"cheap"', "3.5"):
        (problem,) = faults(priced(f"price = {wrong}", ""))
        assert (problem.line, problem.field) == (28, "wish 1, price")
        assert problem.mend


def test_a_slip_in_a_price_is_told_where_the_crop_is_misspelt_too(faults: Faults) -> None:
    text = priced('price = "0 per bunch"', "", ('item = "leeks"', 'item = "leaks"'))
    assert [problem.field for problem in faults(text)] == ["wish 1, item", "wish 1, price"]


def test_a_portion_matters_as_it_is_paid(read: Read) -> None:
    """Portions fetch 0.60 and 1.80, in the mean 1.20: half as much and one and a half times; times matters.
    What has no price matters as before, and is no part of the mean."""
    kale = '[[seed]]\ncrop = "carrot"', (
        '[[wish]]\nitem = "kale"\noutlet = "house"\neach_week = "1 kg"\nmatters = 0.7\n'
        '[[seed]]\ncrop = "carrot"')
    garden = read(priced('price = "0.60 / portion"', 'price = "1.80 / portion"\nmatters = 2', kale))
    assert [wish.weight for wish in garden.wishes] == pytest.approx([0.5, 3.0, 0.7])
    assert [wish.weight for wish in read(SMALL).wishes] == [1.0, 1.0]


def test_the_money_has_a_sign_or_a_code(read: Read, faults: Faults) -> None:
    assert read(SMALL).money == ""
    for sign in ("€", "kr", "CHF", "R$"):
        assert read(f'{SMALL}\n[words]\nmoney = "{sign}"\n').money == sign
    for wrong in ('""', '"12"', '"so much money"', '"a b"', "1"):
        (problem,) = faults(f"{SMALL}\n[words]\nmoney = {wrong}\n")
        assert problem.field == "words, money"
        assert problem.mend


def test_what_a_share_should_come_to(read: Read, faults: Faults) -> None:
    promised = f'{BOXES}\nweight = "4 kg"\nworth = 12.5'
    garden = read(priced("", 'price = "1.20 a head"', (BOXES, promised)))
    boxes, house = garden.outlet("boxes"), garden.outlet("house")
    assert (boxes.weight, boxes.worth) == (4.0, 12.5)
    assert (house.weight, house.worth) == (None, None)
    for field, wrong in (("weight", '"0 kg"'), ("weight", "4"), ("weight", '"2 m"'), ("worth", '"12"'),
                         ("worth", "0"), ("worth", "-3")):
        (problem,) = faults(priced("", 'price = "1 a head"', (BOXES, f"{BOXES}\n{field} = {wrong}")))
        assert (problem.line, problem.field) == (23, f"outlet 2, {field}")


def test_a_worth_needs_a_price_of_every_weekly_wish(read: Read, faults: Faults) -> None:
    worth = (BOXES, f"{BOXES}\nworth = 12.5")
    (problem,) = faults(priced("", "", worth))
    assert (problem.line, problem.field) == (23, "outlet 2, worth")
    assert "'lettuce'" in problem.what
    assert "leeks" not in problem.what  # the house's
    (slip,) = faults(priced("", 'price = "cheap"', worth))  # which is told once
    assert slip.field == "wish 2, price"
    kept = SMALL.replace(LETTUCE, 'keep = "5 kg"\nfrom = "05-01"\nuntil = "09-30"').replace(*worth)
    assert read(kept).outlet("boxes").worth == 12.5


def test_a_cooperatives_file_has_them_too(catalogue: Catalogue, tmp_path: Path) -> None:
    (tmp_path / "hill.toml").write_text("", encoding="utf-8")
    text = """
[words]
money = "kr"
[[farm]]
name = "hill"
garden = "hill.toml"
[[outlet]]
name = "boxes"
kind = "boxes"
worth = 80
weight = "9 lb"
[[wish]]
item = "leeks"
each_week = "1 kg"
price = "30 per kg"
"""
    own = understand_cooperative(text, "coop.toml", tmp_path, catalogue)
    assert own.money == "kr"
    assert (own.outlets[0].worth, own.outlets[0].weight) == (80.0, pytest.approx(9 * 4.535924e-1, rel=1e-6))
    assert own.wishes[0].price == 30.0
