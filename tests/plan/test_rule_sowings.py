"""The rule that the plan is held against, our own: its interval, its equal areas, its ground."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from garden_task import whole

from evenpick.plan.interval_rule import _chosen, _equal, fitted, rules


@pytest.mark.parametrize("interval", [14, 35])
def test_the_rule_keeps_its_interval_in_the_season(interval: int) -> None:
    made_task = whole()
    by_crop: dict[tuple[int, str], list[int]] = {}
    for number in _chosen(made_task.options, interval):
        option = made_task.options[number]
        by_crop.setdefault((option.item, option.batch.crop.key), []).append(option.day)
        assert option.batch.score.worth[option.day]
    assert {key for _, key in by_crop} >= {"radish", "cos-lettuce", "pea", "courgette", "tomato"}
    for days in by_crop.values():
        assert (np.diff(days) >= interval).all()


def test_the_rule_sows_equal_areas_that_come_to_what_is_wanted() -> None:
    made_task = whole()
    request, chosen = made_task.request, _chosen(made_task.options, 14)
    areas = _equal(request, chosen, 1.0)
    given = np.bincount(request.supply.candidate, request.supply.kg, areas.size) / request.years
    least, exact = request.candidates.least, 0
    for item in range(len(request.items)):
        mine = chosen[request.candidates.item[chosen] == item]
        usual = areas[mine][areas[mine] > least[mine]]
        assert np.unique(usual).size <= 1
        assert (areas[mine] >= least[mine]).all()
        if usual.size == mine.size:
            assert (areas * given)[mine].sum() == pytest.approx(request.wanted[item].sum())
            exact += 1
    assert exact >= 3


def test_the_rule_sows_under_cover_what_is_out_of_season_in_the_open() -> None:
    made_task = whole()
    covers = {made_task.options[number].batch.cover for number in _chosen(made_task.options, 14)}
    assert covers > {"open"}
    for number in _chosen(made_task.options, 14):
        option = made_task.options[number]
        outside = [o for o in made_task.options if o.item == option.item and o.day == option.day
                   and o.batch.crop.key == option.batch.crop.key and o.batch.cover == "open"
                   and o.batch.score.worth[o.day]]
        assert option.batch.cover == "open" or not outside


def test_every_rule_fits_the_ground() -> None:
    request = whole().request
    ground = request.grounds
    settings_seen = set()
    for rule in rules(whole()):
        load = np.zeros_like(ground.limit)
        np.add.at(load, (ground.row, ground.week), ground.coefficient * rule.areas[ground.candidate])
        assert (load <= ground.limit * (1 + 1e-9)).all()
        assert (rule.areas >= 0).all()
        settings_seen.add((rule.interval, rule.scale))
    assert len(settings_seen) == 12


def test_fitting_keeps_what_has_room_and_leaves_out_what_is_too_little() -> None:
    request = whole().request
    least = request.candidates.least
    wide = replace(request, grounds=replace(request.grounds, limit=np.full_like(request.grounds.limit, 1e9)))
    assert fitted(wide, least * 1.5).tolist() == (least * 1.5).tolist()
    assert not fitted(wide, least * 0.5).any()
    made_areas = fitted(request, least * 1.5)
    assert (made_areas <= least * 1.5).all()
    assert made_areas.any()
    assert not made_areas[made_areas < least].any()
