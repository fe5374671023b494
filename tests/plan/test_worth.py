"""Prices of rows are what a little more of them brings (docs/design/season.md, 15)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from sowing_cases import household

from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.mend import mended
from evenpick.plan.request import Request
from evenpick.plan.worth import worth


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
    found = worth(request, areas)
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
    found = worth(request, areas)
    assert (found.price >= 0).all()
    assert found.price.sum() > 0
    roomy = replace(request, grounds=replace(request.grounds, limit=request.grounds.limit * 50))
    assert worth(roomy, areas).price.sum() == 0


def test_nothing_sown_has_no_price() -> None:
    request, areas = crowded()
    assert worth(request, 0.0 * areas).price.sum() == 0


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
    assert worth(full, alone).price[row].sum() > 0
