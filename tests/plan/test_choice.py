"""One succession for every item on the shared ground (planner.md, 9a)."""

from __future__ import annotations

import numpy as np
import pytest
from sowing_cases import small

from evenpick.plan.choice import Choice
from evenpick.plan.kept import Exact


@pytest.mark.parametrize("seed", range(6))
def test_choices_come_in_their_order_and_none_twice(seed: int) -> None:
    """Every choice fits, none costs less than the one before it, and all that fit are met once, against all
    combinations of the successions found."""
    task = Exact.of(small(7_700 + seed, items=2, candidates=4, years=3, weeks=5))
    c, choice = task.request.candidates, Choice(task)
    for share in (0.3, 0.7, 1.0):
        choice.add(c.least + share * (c.most - c.least))
        choice.add(np.where(np.arange(len(c)) % 2, c.most, 0.0) * share)
    fitting = []
    for places in np.ndindex(*(len(own) for own in choice.found)):
        x = np.zeros(len(c))
        for part, own, n in zip(task.parts, choice.found, places, strict=True):
            x[part.members] = list(own.values())[n].areas
        if task.fits(x):
            fitting.append(task.cost(x))
    met = []
    while (chosen := choice.best(1e6)) is not None:
        assert task.fits(chosen)
        met.append(task.cost(chosen))
        choice.tried(chosen)
    assert met == pytest.approx(sorted(fitting), rel=2e-3)
