"""What nobody wants any more is cleared, and its ground is free (docs/design/days.md, 8)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from garden_task import GARDEN, groups, made, wanted

from evenpick.base.chance import DEFAULT_SEED
from evenpick.plan.horizon import WEEKS
from evenpick.plan.season_end import not_past_its_use, wanted_to
from evenpick.plan.standing import Grown, Hold, Standing
from evenpick.plan.task import Task, task
from evenpick.plan.wanted import WantedItem

COURGETTE = next(item for item in wanted() if item.name == "courgette")
LAST = int(np.flatnonzero(COURGETTE.kg[:52])[-1])  # of September


def until(last: int) -> WantedItem:
    kg = COURGETTE.kg.copy()
    kg[last + 1 : 52] = 0.0
    return replace(COURGETTE, kg=kg)


def of_item(item: WantedItem) -> Task:
    return task(GARDEN, (item,), made(), *groups(), DEFAULT_SEED)


def test_ground_is_free_from_the_week_after_the_last_that_is_wanted() -> None:
    """Kale at Hobart that stands to February held its ground past its wish, to 10 November: none was sown."""
    early = LAST - 6
    first_year = [option for option in of_item(until(early)).options if option.day < 140]
    assert first_year
    assert max(option.held.stop for option in first_year) == early + 1
    assert max(o.held.stop for o in of_item(COURGETTE).options if o.day < 140) == LAST + 1


def test_nothing_is_reckoned_to_be_picked_after_it_was_cleared() -> None:
    early = LAST - 6
    work = of_item(until(early))
    supply, days = work.request.supply, work.request.candidates.day
    assert supply.ripe[days[supply.candidate] < 140].max() == early


def test_what_goes_to_store_is_put_by_or_is_wanted_to_the_end_is_not_cut_short() -> None:
    for batch in made()["main-potato"]:
        item = next(item for item in wanted() if item.name == "potato")
        assert set(wanted_to(batch, item)) == {WEEKS}
    for batch in made()["courgette"]:
        kept = replace(COURGETTE, kept=np.full(WEEKS, LAST))
        assert set(wanted_to(batch, kept)) == {WEEKS}
        assert set(wanted_to(batch, replace(COURGETTE, kg=np.ones(WEEKS)))) == {WEEKS}
        assert set(wanted_to(batch, replace(COURGETTE, kg=np.zeros(WEEKS)))) == {WEEKS}


@pytest.mark.parametrize(("wished_to", "end", "left"), [(9, 10, 3), (4, 5, 1), (40, 20, 4), (0, 20, 4)])
def test_what_stands_is_cleared_when_no_more_is_wanted(wished_to: int, end: int, left: int) -> None:
    """Ripe in weeks 3 to 12, its ground held to week 20: what ripens past the wish is not picked."""
    kg = np.zeros(WEEKS)
    kg[:wished_to] = 1.0
    kg[wished_to : wished_to + 1] = 1.0 if wished_to else 0.0
    batch = made()["courgette"][0]
    standing = Standing("one", "courgette", "raised", "open", 0, 2.0, item="courgette")
    ripe = np.array([3, 6, 9, 12])
    one = Grown(standing, batch.crop, batch.outcome, 0, 0, np.zeros(4, np.int64), ripe, ripe + 1, np.ones(4),
                (Hold("open", 0, 20, 2.0),))
    found = not_past_its_use(one, (replace(COURGETTE, kg=kg),))
    assert [hold.end for hold in found.holds] == [end]
    assert found.kg.size == left
