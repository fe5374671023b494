"""Trees that go on where they stopped, and which items get nodes (planner.md, 10)."""

from __future__ import annotations

import numpy as np
import pytest
from sowing_cases import household, small

from evenpick.plan.kept import Exact
from evenpick.plan.nodes import CLOSED, FIRST, LEAST, MOST, Nodes
from evenpick.plan.parts import part_of
from evenpick.plan.price import Own
from evenpick.plan.whole import own_tree

FREE = 1e-4


def dealt(gap: list[float], size: list[int], sown: list[int]) -> Nodes:
    halves = [[i for i in range(len(gap)) if i % 2 == half] for half in range(2)]
    return Nodes(halves, np.array(size), np.array(gap), np.array(sown), 1000.0)


def test_a_tree_goes_on_where_it_stopped() -> None:
    """In pieces as in one go; the bound only rises, and never above the best."""
    request = household(items=2, years=5, seed=3, every=4)
    part, free = part_of(request, 1), np.zeros(len(request.candidates))
    start = np.zeros(part.size)
    whole = own_tree(Own(request, part), free, start, FREE, 0.01).run(61)
    pieces = own_tree(Own(request, part), free, start, FREE, 0.01)
    found = [pieces.run(nodes) for nodes in (1, 20, 40)]
    assert [w.bound for w in found] == sorted(w.bound for w in found)
    assert (found[-1].bound, found[-1].value) == (whole.bound, whole.value)
    assert all(w.bound <= w.value for w in found)
    assert found[0].bound < found[-1].bound


@pytest.mark.parametrize("seed", range(8))
def test_an_items_tree_ends_at_its_best(seed: int) -> None:
    """A bound within the slack of the value, and no set of sowings found by hand below it."""
    request = small(7_600 + seed, items=1, candidates=5, years=3, weeks=5)
    part, task = part_of(request, 0), Exact.of(request)
    free = np.zeros(len(request.candidates))
    found = own_tree(Own(request, part), free, np.zeros(part.size), FREE, 0.0).run(2000)
    assert found.value - found.bound <= 2 * FREE * part.losses.all_lost[0] + 1e-9
    assert found.value == pytest.approx(task.cost(found.x))
    c = request.candidates
    for made in np.ndindex(*(2,) * 5):
        for share in (0.0, 0.4, 1.0):
            x = np.array(made) * (c.least + share * (c.most - c.least))
            assert task.cost(x) >= found.bound - 1e-9


def test_nodes_go_where_they_close_most() -> None:
    nodes = dealt([30.0, 5.0, 5.0, 1000 * CLOSED / 2], [300, 40, 40, 40], [14, 1, 2, 1])
    first = nodes.deal()
    assert first[3] == 0  # nothing left worth closing
    assert first[2] == MOST
    for item in range(3):
        nodes.learn(item, int(first[item]), [30.0, 5.0, 2.0][item])
    second = nodes.deal()
    assert second[2] == MOST  # closed much
    nodes.learn(2, MOST, 0.0)
    assert nodes.deal()[2] == 0  # closed


def test_what_closes_nothing_gets_less() -> None:
    nodes = dealt([5.0, 5.0], [40, 40], [1, 1])
    nodes.deal()
    before = nodes.rate[0]
    nodes.learn(0, 10, 5.0)
    assert nodes.rate[0] == before / 2


def test_first_nodes_are_enough_to_tell() -> None:
    """Few nodes at the start close little, so an item that is not too large has more at first."""
    nodes = dealt([9.0, 0.0, 9.0, 0.0, 9.0, 0.0], [90, 1, 90, 1, 90, 1], [1, 0, 2, 0, 6, 0])
    first = nodes.deal()
    assert first.tolist()[0::4] == [MOST, 0]
    assert FIRST <= first[2] < MOST
    for item in (0, 2):
        nodes.learn(item, int(first[item]), 9.0)  # all in vain
    second = nodes.deal()
    assert second[4] >= FIRST > second[[0, 2]].min()
    assert all(many == 0 or many >= LEAST for many in second)
