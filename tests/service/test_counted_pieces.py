"""Heads of an item of several crops (docs/design/season.md, 24): 14 kg of lettuces, wished for as a head in
each of 24 boxes, are 22 heads where they are cos."""

from __future__ import annotations

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from evenpick.crops.catalogue import load_catalogue
from evenpick.plan.request import Supply
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem
from evenpick.service.pieces import piece_of, with_pieces

MONDAY = date(2027, 2, 1)
COS, CRISP = (load_catalogue().crop(key) for key in ("cos-lettuce", "crisp-lettuce"))
CROPS = {"cos-lettuce": COS, "crisp-lettuce": CRISP}
WANTED: Any = [SimpleNamespace(crops=("cos-lettuce", "crisp-lettuce"), name="lettuce")]


def task(*kg: tuple[int, int, int, float]) -> Any:
    """Entries (candidate, ripe, last, kg per m²) of two candidates, cos and crisp."""
    candidate, ripe, last, each = (np.array(column) for column in zip(*kg, strict=True))
    supply = Supply(candidate, np.zeros_like(candidate), ripe, last, each.astype(float))
    options = [SimpleNamespace(batch=SimpleNamespace(crop=crop)) for crop in (COS, CRISP)]
    request = SimpleNamespace(supply=supply, candidates=SimpleNamespace(item=np.array([0, 0])))
    return SimpleNamespace(request=request, options=options)


def items() -> tuple[ItemPickings, ...]:
    mondays = (MONDAY + timedelta(weeks=at) for at in range(4))
    weeks = tuple(WeekOfItem(monday, 14.0, 10.0, 14.0, 18.0, 0.0, 0.0) for monday in mondays)
    return (ItemPickings("lettuce", *piece_of([COS, CRISP]), weeks, 0),)


def test_a_head_weighs_what_the_crops_that_are_there_weigh() -> None:
    work = task((0, 0, 1, 2.0), (1, 1, 2, 6.0))
    (told,) = with_pieces(items(), work, np.array([3.0, 1.0]), [], WANTED, CROPS)
    cos, crisp = COS.produce.piece_kg, CRISP.produce.piece_kg
    both = 12.0 / (6.0 / cos + 6.0 / crisp)
    assert [week.piece_kg for week in told.weeks] == [
        pytest.approx(cos), pytest.approx(both), pytest.approx(crisp), None]
    assert told.piece_kg == pytest.approx((cos + crisp) / 2)


def test_what_is_not_all_counted_alike_is_weighed() -> None:
    assert piece_of([load_catalogue().crop(key) for key in ("early-carrot", "main-carrot")]) == ("kg", 1.0)
    assert piece_of([COS]) == ("head", COS.produce.piece_kg)


def test_heads_of_a_type_weigh_their_own() -> None:
    """Small heads of cos among full ones, in an item of cos alone."""
    wanted: Any = [SimpleNamespace(crops=("cos-lettuce",), name="lettuce")]
    small = COS.told_as("Cos lettuce, small heads")
    work = task((0, 0, 0, 2.0), (1, 1, 1, 6.0))
    work.options[1].batch.crop = small
    (told,) = with_pieces(items(), work, np.array([3.0, 1.0]), [], wanted, CROPS)
    assert [week.piece_kg for week in told.weeks[:2]] == [
        pytest.approx(COS.produce.piece_kg), pytest.approx(small.produce.piece_kg)]
    assert small.produce.piece_kg < COS.produce.piece_kg


def test_an_item_whose_pieces_are_alike_is_left_as_it_is() -> None:
    wanted: Any = [SimpleNamespace(crops=("crisp-lettuce",), name="lettuce")]
    same = items()
    assert with_pieces(same, task((1, 0, 1, 2.0)), np.array([0.0, 1.0]), [], wanted, CROPS) == same
