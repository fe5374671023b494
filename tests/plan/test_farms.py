"""Tasks of several farms as one (docs/design/cooperative.md, 2). Invented tasks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from garden_task import GARDEN, HORIZON, groups, made, wanted, whole
from sowing_cases import household

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.garden.garden import Ground
from evenpick.plan.counts import CROWDED, UNBOUGHT, Counts, keep_to_counts
from evenpick.plan.effort import Effort
from evenpick.plan.farms import joined, of_farms, row_and_farm
from evenpick.plan.interval_rule import rules
from evenpick.plan.kept import Exact
from evenpick.plan.make import make_plan
from evenpick.plan.mend import mended
from evenpick.plan.request import Request
from evenpick.plan.task import Task, task

HALF = replace(GARDEN, grounds=(Ground("plot", "open", 20.0), Ground("tunnel", "tunnel", 4.0)), fleece=5.0)


def half() -> Task:
    return task(HALF, wanted()[:2], made(), *groups(), DEFAULT_SEED, None, HORIZON.start)


def test_one_farm_is_its_own_task() -> None:
    assert joined([whole()], ["all"]) is whole()


def test_two_farms_share_what_is_wanted_and_nothing_else() -> None:
    one, both = half(), joined([half(), half()], ["hill", "valley"])
    n = len(one.options)
    assert len(both.options) == 2 * n
    assert (both.request.wanted == one.request.wanted).all()
    assert [option.farm for option in both.options] == [0] * n + [1] * n
    areas = np.linspace(0.0, 1.0, 2 * n)
    used, ground = both.request.grounds.used(areas), both.request.grounds
    for farm, own in enumerate(of_farms([one, one], areas)):
        name = ("hill", "valley")[farm]
        rows = [number for number, row in enumerate(ground.names) if row_and_farm(row)[1] == name]
        assert [row_and_farm(ground.names[row])[0] for row in rows] == list(one.request.grounds.names)
        assert used[rows] == pytest.approx(one.request.grounds.used(own))
        assert (ground.limit[rows] == one.request.grounds.limit).all()


def test_losses_are_those_of_all_that_is_grown_together() -> None:
    """What two farms grow of the same sowings in the same years is what one grows on their areas together."""
    one, both = half(), joined([half(), half()], ["hill", "valley"])
    x = np.zeros(len(one.options))
    x[::40] = 1.0
    together = Exact.of(one.request).losses(2.0 * x)
    assert Exact.of(both.request).losses(np.concatenate([x, x])) == pytest.approx(together)


def test_each_farm_keeps_to_its_own_ground_and_counts() -> None:
    both = joined([half(), half()], ["hill", "valley"])
    more = replace(both.request, wanted=16.0 * both.request.wanted)  # more than one farm can grow
    areas = mended(more, np.zeros(len(both.options))).areas
    used, limit = both.request.grounds.used(areas), both.request.grounds.limit
    assert (used <= limit + 1e-6).all()
    assert all(own.sum() > 0 for own in of_farms([half(), half()], areas))
    _, kept = keep_to_counts(both, areas, [Counts(sowings_a_week=1, farm=1)])
    weeks = both.request.candidates.day // 7
    hill, valley = (np.array([option.farm == farm for option in both.options]) for farm in (0, 1))
    assert np.bincount(weeks[(kept > 0) & valley]).max() == 1
    assert np.bincount(weeks[(kept > 0) & hill]).max() > 1


def test_what_a_farms_counts_shut_is_shut_in_a_row_of_its_own() -> None:
    """So that what is in the way can be told of the farm whose limit it is."""
    both = joined([half(), half()], ["one", "other"])
    more = replace(both.request, wanted=16.0 * both.request.wanted)
    areas = mended(more, np.zeros(len(both.options))).areas
    kept, _ = keep_to_counts(both, areas, [
        Counts(sowings_a_week=1), Counts(packets=1, farm=1), Counts(sowings_a_week=1, farm=1)])
    ground = kept.request.grounds
    new = ground.names[len(both.request.grounds.names) :]
    assert set(new) == {f"{CROWDED} @ one", f"{CROWDED} @ other", f"{UNBOUGHT} @ other"}
    for name in new:
        shut = ground.candidate[ground.row == ground.names.index(name)]
        assert {("one", "other")[both.options[n].farm] for n in shut} == {row_and_farm(name)[1]}


def test_the_interval_rule_sows_on_every_farm() -> None:
    both = joined([half(), half()], ["hill", "valley"])
    rule = next(rules(both))
    assert all(own.sum() > 0 for own in of_farms([half(), half()], rule.areas))


def as_task(request: Request) -> Task:
    work = whole()
    some = work.options[: len(request.candidates)]
    return replace(work, request=request, options=some, unseen=request.supply)


def test_farms_together_do_no_worse_than_each_with_its_share() -> None:
    """Whatever two farms do for half of the wants each, they can do together."""
    alone = household(items=2, years=4, weeks=40, every=4, open_m2=8.0, tunnel_m2=2.0)
    share = replace(alone, wanted=0.5 * alone.wanted)
    apart = make_plan(share, Effort(seconds=5)).areas
    both = joined([as_task(alone), as_task(alone)], ["hill", "valley"]).request
    x: Floats = np.concatenate([apart, apart])
    found = make_plan(both, Effort(seconds=10))
    cost = Exact.of(both).cost(x)
    assert found.bound <= cost + 1e-6
    assert cost <= 2 * Exact.of(share).cost(apart) + 1e-6
