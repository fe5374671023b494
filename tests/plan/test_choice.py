"""One succession for every item on the shared ground (planner.md, 9a)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from sowing_cases import small

from evenpick.base.arrays import Floats
from evenpick.plan.choice import LEAST_SHARE, NEAR, THINNER, Choice
from evenpick.plan.kept import Exact

Sowings = tuple[bytes, ...]


def _sowings(task: Exact, x: Floats) -> Sowings:
    return tuple((x[part.members] > 0).tobytes() for part in task.parts)


def _fitting(task: Exact, choice: Choice) -> dict[Sowings, float]:
    """The least cost of every set of sowings, of all combinations of the successions found that fit."""
    least: dict[Sowings, float] = {}
    for places in np.ndindex(*(len(own) for own in choice.found)):
        x = np.zeros(len(task.request.candidates))
        for part, own, n in zip(task.parts, choice.found, places, strict=True):
            x[part.members] = list(own.values())[n].areas
        if task.fits(x):
            key = _sowings(task, x)
            least[key] = min(least.get(key, np.inf), task.cost(x))
    return least


@pytest.mark.parametrize("seed", range(6))
def test_choices_come_in_their_order_and_none_twice(seed: int) -> None:
    """Every choice fits, costs no more than the best combination of successions not chosen yet, and all
    sowings that fit are met once, against all combinations of the successions found."""
    task = Exact.of(small(7_700 + seed, items=2, candidates=4, years=3, weeks=5))
    c, choice = task.request.candidates, Choice(task)
    for share in (0.3, 0.7, 1.0):
        choice.add(c.least + share * (c.most - c.least))
        choice.add(np.where(np.arange(len(c)) % 2, c.most, 0.0) * share)
    left, met = _fitting(task, choice), set()
    while (chosen := choice.best(1e6)) is not None:
        assert task.fits(chosen)
        assert task.cost(chosen) <= min(left.values(), default=np.inf) * (1.0 + NEAR) + 1e-6
        key = _sowings(task, chosen)
        assert key not in met
        met.add(key)
        left.pop(key, None)
        choice.tried(chosen)
    assert not left


def test_areas_of_the_same_sowings_are_mixed_where_one_form_alone_does_not_fit() -> None:
    """On ground for areas half-way between two forms, a choice costs no more than the mean of both, because
    losses are convex in areas; in some tasks that is less than either form that fits."""
    gained = 0
    for seed in range(7_800, 7_840):
        request = small(seed, items=1, candidates=3, years=3, weeks=5)
        c = request.candidates
        thin, more = c.least, np.minimum(c.least / THINNER, c.most)
        room = request.grounds.used(0.5 * (thin + more))
        task = Exact.of(replace(request, grounds=replace(request.grounds, limit=room)))
        choice = Choice(task)
        choice.add(more)
        chosen = choice.best(1e6)
        assert chosen is not None
        assert task.fits(chosen)
        mean = 0.5 * (task.cost(thin) + task.cost(more)) * (1.0 + NEAR)
        assert task.cost(chosen) <= mean
        gained += mean < min(task.cost(thin), task.cost(np.zeros(len(c))))
    assert gained >= 3


@pytest.mark.parametrize("seed", range(4))
def test_what_the_mixture_makes_and_a_plan_does_not(seed: int) -> None:
    """Held against the mixture's own shares: all of other sowings that it makes enough of, the most first."""
    task = Exact.of(small(7_900 + seed, items=3, candidates=5, years=3, weeks=6))
    c, choice = task.request.candidates, Choice(task)
    for share in (0.2, 0.6, 1.0):
        choice.add(c.least + share * (c.most - c.least))
        choice.add(np.where(np.arange(len(c)) % 2, c.most, 0.0) * share)
    nothing = np.zeros(len(c))
    columns = choice._columns()
    shares = choice._model(columns).solve().x
    assert shares is not None
    made: dict[tuple[int, bytes], float] = {}
    for (_, succession), part in zip(columns, shares, strict=True):
        made[succession.sowings] = made.get(succession.sowings, 0.0) + float(part)
    wanted = {key for key, part in made.items() if part > LEAST_SHARE and any(key[1])}
    found = choice.unmade(nothing)
    assert {key for key, _ in found} == wanted
    assert [made[key] for key, _ in found] == sorted((made[key] for key in wanted), reverse=True)
    for (item, sowings), areas in found:
        assert (areas > 0).tobytes() == sowings
        x = nothing.copy()
        x[task.parts[item].members] = areas
        assert (item, sowings) not in {key for key, _ in choice.unmade(x)}
