"""A plan made by a local Dask cluster of two workers is the one made here, to the last bit
(docs/design/cooperative.md, 7). Invented tasks."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from garden_task import GARDEN, HORIZON, groups, made, settings
from sowing_cases import household

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.errors import BadRequest
from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.windows import workable_ground
from evenpick.plan import cluster as module
from evenpick.plan.cluster import Cluster, cluster
from evenpick.plan.effort import Effort, News
from evenpick.plan.make import make_plan
from evenpick.plan.options import batches

pytestmark = pytest.mark.enable_socket  # the workers are on this machine


@pytest.fixture(scope="module")
def hands() -> Iterator[Cluster]:
    from distributed import LocalCluster

    with (
        LocalCluster(n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address=None) as local,
        cluster(local.scheduler_address) as found,
    ):
        yield found


def test_every_worker_has_a_seat(hands: Cluster) -> None:
    assert len(hands.seats(3)) == 2


def test_the_plan_is_the_same_to_the_last_bit(hands: Cluster) -> None:
    request = household(items=4, years=5, weeks=40, every=3, open_m2=12.0)
    effort = Effort(turns=1, kicks=1, branch_rounds=2)
    here, there = make_plan(request, effort), make_plan(request, effort, hands)
    assert here.areas.tobytes() == there.areas.tobytes()
    assert (here.value, here.bound, here.rounds) == (there.value, there.bound, there.rounds)
    assert here.areas.sum() > 0


def test_a_stop_hands_over_the_best_so_far(hands: Cluster) -> None:
    request, told = household(items=4, years=5, weeks=40, every=3, open_m2=12.0), list[News]()
    plan = make_plan(request, Effort(stop=lambda: len(told) >= 3, progress=told.append), hands)
    assert [news.stage for news in told] == ["sounding", "descent", "descent"]  # a first plan, its descent
    assert 0 <= plan.bound <= plan.value < plan.nothing


def test_crops_grow_the_same(hands: Cluster) -> None:
    crops = [load_catalogue().crop(key) for key in ("radish", "pea")]
    dry = workable_ground(settings())
    there = batches(crops, GARDEN, settings(), dry, HORIZON, groups(), DEFAULT_SEED, hands=hands)
    for key in ("radish", "pea"):
        for own, other in zip(made()[key], there[key], strict=True):
            assert (own.crop, own.way, own.cover) == (other.crop, other.way, other.cover)
            for name in ("days", "stand", "harvest", "from_week", "to_week"):
                assert np.array_equal(getattr(own, name), getattr(other, name))
            for name in ("sowing", "year", "ripe", "last", "share"):
                assert np.array_equal(getattr(own.ripening, name), getattr(other.ripening, name))


def test_calls_together_come_back_in_order(hands: Cluster) -> None:
    def call(number: int) -> list[int]:
        return hands.map(pow, 2, [number, number + 1])

    found = hands.together([lambda n=n: call(n) for n in range(3)])  # type: ignore[misc]
    assert found == [[1, 2], [2, 4], [4, 8]]


def test_where_nothing_answers_it_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE", 1)
    with pytest.raises(BadRequest, match="no scheduler answers"), cluster("tcp://127.0.0.1:9"):
        pass
    with pytest.raises(BadRequest, match="no scheduler answers"), cluster("nowhere at all"):
        pass
