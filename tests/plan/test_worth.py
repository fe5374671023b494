"""Prices of rows are what a little more of them brings (docs/design/season.md, 15)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from sowing_cases import household

from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.mend import mended
from evenpick.plan.request import Request
from evenpick.plan.worth import MORE, Worth


def crowded() -> tuple[Request, np.ndarray]:
    """Every portion for one, as prices are told (service/binding)."""
    request = household(items=6, years=6, seed=3, every=3, open_m2=12.0, tunnel_m2=3.0)
    request = replace(request, scarce_worth=0.0)
    return request, mended(request, np.zeros(len(request.candidates))).areas


@pytest.mark.parametrize("row", [0, 1])
def test_a_price_is_the_difference_that_a_little_more_makes(row: int) -> None:
    """0.05 m² more of a row in all weeks, the sowings kept: what is saved lies within a tenth of the sum of
    prices, or both are next to nothing."""
    request, areas = crowded()
    found = Worth(request, areas)
    limit = request.grounds.limit.copy()
    limit[row] += 0.05
    wider = replace(request, grounds=replace(request.grounds, limit=limit))
    before, after = (Exact.of(each) for each in (request, wider))
    costs = [task.cost(best_areas(task, areas, 1e-6, 200)) for task in (before, after)]
    saved = costs[0] - costs[1]
    assert found.price[row].sum() > 0.1
    assert saved == pytest.approx(0.05 * found.price[row].sum(), rel=0.1, abs=2e-3)


def test_what_is_not_full_has_no_price() -> None:
    request, areas = crowded()
    found = Worth(request, areas)
    assert (found.price >= 0).all()
    assert found.price.sum() > 0
    roomy = replace(request, grounds=replace(request.grounds, limit=request.grounds.limit * 50))
    assert Worth(roomy, areas).price.sum() == 0


def test_nothing_sown_has_no_price() -> None:
    request, areas = crowded()
    assert Worth(request, 0.0 * areas).price.sum() == 0


def test_ground_that_one_sowing_fills_has_a_price() -> None:
    """No sowing is offered larger than its ground; that it can't be is for want of ground, and more of this
    would bring something. In the most crowded gardens nothing was told to hold the plan back."""
    request, areas = crowded()
    ground, c = request.grounds, request.candidates
    made = np.flatnonzero(areas > 0)
    row = int(ground.row[ground.candidate == made[0]][0])
    limit = np.where(np.arange(len(ground.limit))[:, None] == row, areas[made[0]], ground.limit)
    full = replace(request, grounds=replace(ground, limit=limit),
                   candidates=replace(c, most=np.maximum(c.least, np.minimum(c.most, areas[made[0]]))))
    alone = np.where(np.arange(len(areas)) == made[0], areas, 0.0)
    assert Worth(full, alone).price[row].sum() > 0


def saved_anew(request: Request, areas: np.ndarray, row: int, more: np.ndarray) -> float:
    """What the same sowings cost less, their trouble apart, where all is settled from the beginning on the
    wider ground."""
    c, ground = request.candidates, request.grounds
    limit = ground.limit.copy()
    limit[row] += more
    roomy = replace(request, candidates=replace(c, most=c.most + MORE))
    wider = replace(roomy, grounds=replace(ground, limit=limit))
    tasks = Exact.of(roomy), Exact.of(wider)
    settled = [best_areas(task, areas, 1e-6, 200) for task in tasks]
    costs = [task.losses(x).sum() + c.cost @ x for task, x in zip(tasks, settled, strict=True)]
    return float(costs[0] - costs[1])


@pytest.mark.parametrize("row", [0, 1])
@pytest.mark.parametrize("unit", [0.5, 2.0])
def test_a_whole_unit_brings_what_settling_anew_with_it_brings(row: int, unit: float) -> None:
    request, areas = crowded()
    more = np.full(request.weeks, unit)
    found = Worth(request, areas)
    saved = saved_anew(request, areas, row, more)
    assert saved > 0.05
    assert found.brought(row, more) == pytest.approx(saved, rel=0.06, abs=0.02)


def test_a_unit_is_told_for_what_it_brings_and_not_for_its_first_crumb() -> None:
    """Of a week of which days away left 51 minutes: 'one more hour would bring 120 portions', and 688 in
    another garden. By its price alone what there is next to nothing of brings many times what it does."""
    request, areas = crowded()
    ground, c = request.grounds, request.candidates
    taken, least = ground.used(areas), ground.used(np.where(areas > 0, c.least, 0.0))
    row, week = np.unravel_index(int(np.argmax(taken)), taken.shape)
    limit = np.maximum(ground.limit, taken)
    limit[row, week] = 1.05 * least[row, week]
    scarce = replace(request, grounds=replace(ground, limit=limit))
    more = np.where(np.arange(request.weeks) == week, 50.0, 0.0)
    found = Worth(scarce, areas)
    saved = saved_anew(scarce, areas, int(row), more)
    assert found.price[row] @ more > 2 * saved > 1.0
    assert found.brought(int(row), more) == pytest.approx(saved, rel=0.06, abs=0.02)


def test_more_of_what_is_not_full_brings_nothing_and_the_first_answer_stays() -> None:
    """Asked in any order: the ground is as it was after each question."""
    request, areas = crowded()
    found, more = Worth(request, areas), np.full(request.weeks, 1.0)
    first = [found.brought(row, more) for row in (0, 1)]
    assert [found.brought(row, more) for row in (1, 0)] == pytest.approx(first[::-1], rel=0.05, abs=0.02)
    assert found.brought(0, np.zeros(request.weeks)) == 0.0
