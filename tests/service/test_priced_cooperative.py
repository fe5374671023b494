"""A cooperative's shares and takings, of all farms together. Invented farms, real weather of Dublin Airport;
held against one weather year, as in test_priced_plan.py."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from test_cooperative import COOPERATIVE, DAY, LETTUCE, WISHES, farms

from evenpick.plan.horizon import YEAR_WEEKS
from evenpick.service.cooperative import plan_cooperative, save_cooperative
from evenpick.service.cooperative_answer import CooperativeAnswer
from evenpick.service.cooperative_files import cooperative_of
from evenpick.service.kept_together import kept_cooperative
from evenpick.service.week_shares import shares_on

PRICES = {"radish": 40.0, "lettuce": 60.0}
PROMISED = COOPERATIVE.replace("years = 3", "years = 1").replace(
    "shares = 8", 'shares = 8\nweight = "240 g"\nworth = 12')


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = farms(tmp_path_factory.mktemp("coop"))
    wishes = WISHES + 'price = "40 per kg"\n' + LETTUCE + 'price = "60 per kg"\n'
    file.write_text(PROMISED + wishes + '[words]\nmoney = "kr"\n', encoding="utf-8")
    save_cooperative(file, plan_cooperative(file, DAY, stop=lambda: True))
    return file


@pytest.fixture(scope="module")
def answer(kept: Path) -> CooperativeAnswer:
    return kept_cooperative(kept)


def test_takings_are_of_what_all_farms_pick(answer: CooperativeAnswer) -> None:
    kg = {item.item: sum(week.wanted - week.bare for at, week in enumerate(item.weeks[:YEAR_WEEKS])
                         if at >= item.lead) for item in answer.pickings}
    (boxes,) = answer.takings
    assert boxes.outlet == "boxes"
    assert boxes.likely == pytest.approx(sum(PRICES[item] * of for item, of in kg.items()))
    assert boxes.likely > 0
    assert answer.money == "kr"
    for farm in answer.farms:  # told once, of all
        assert (farm.plan.takings, farm.plan.short_shares, farm.plan.money) == ((), (), "")


def test_shares_are_looked_at_once_for_all_farms(answer: CooperativeAnswer) -> None:
    """250 g are wished for in June and July, worth 4 + 9 = 13; 100 g of radish in May; 150 g of lettuce in
    August."""
    light, poor = answer.short_shares
    assert (light.outlet, light.what, poor.what) == ("boxes", "weight", "worth")
    one_alone = {date(2027, 5, day) for day in (3, 10, 17)} | {date(2027, 8, day) for day in (2, 9, 16, 23)}
    for short in (light, poor):
        assert one_alone <= set(short.weeks)
        assert all(date(2027, 4, 26) <= week <= date(2027, 8, 30) for week in short.weeks)


def test_the_share_of_a_week_is_packed_of_what_all_farms_pick(kept: Path, answer: CooperativeAnswer) -> None:
    likely = {item.item: next(min(week.likely, week.wanted) for week in item.weeks
                              if week.week == date(2027, 7, 5)) for item in answer.pickings}
    (share,) = shares_on(answer.pickings, cooperative_of(kept).own, date(2027, 7, 9))
    assert share.kg == pytest.approx(sum(likely.values()) / 8)
    assert share.worth == pytest.approx(sum(PRICES[item] * kg for item, kg in likely.items()) / 8)
    assert (share.least_kg, share.least_worth, share.money) == (pytest.approx(0.24), 12.0, "kr")
