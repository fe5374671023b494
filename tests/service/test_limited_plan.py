"""A plan under every limit at once (docs/design/season.md, 9 to 14). Invented garden, real weather."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from test_season import TEXT

from evenpick.base.days import day_date, day_number
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.labour import labour
from evenpick.garden.diary import SeedGot
from evenpick.plan.horizon import WEEKS
from evenpick.service.book import write
from evenpick.service.garden_task import counts_of
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_limits import labour_of
from evenpick.service.planning import make_plan, task_of
from evenpick.service.setups import garden_of
from evenpick.service.solving import Watch
from evenpick.service.standing import under_way

LIMITS = '''
[[wish]]
item = "beet"
crops = ["beetroot"]
keep = "3 kg"
matters = 3
from = "07-01"
until = "10-31"
[[outlet]]
name = "box"
kind = "boxes"
variety = 3
needs = ["leafy", "rooty", "fruit"]
[hours]
week = "40 min"
[[away]]
from = 2027-05-10
until = 2027-05-30
[[rest]]
ground = "beds"
area = "8 m2"
from = 2027-08-01
until = 2027-12-31
for = "green manure"
[rotation]
years = { brassicas = 6 }
[tin]
no_more = ["beetroot"]
[[seed]]
crop = "beetroot"
year = 2026
amount = "120 seeds"
[[anyway]]
item = "rhubarb"
each_week = "1 kg"
from = "04-15"
until = "06-30"
'''
AWAY = (date(2027, 5, 10), date(2027, 5, 30))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[PlanAnswer, list[str]]:
    """The plan, and what was told as it was made."""
    path, told = tmp_path_factory.mktemp("limits") / "garden.toml", list[str]()
    few = TEXT.replace("years = 4", "years = 4\nsowings_a_week = 1\nworth_a_sowing = 0.5")
    path.write_text(few + LIMITS, encoding="utf-8")
    return make_plan(path, seconds=60, progress=lambda stage, share: told.append(stage)), told


@pytest.fixture(scope="module")
def plan(made: tuple[PlanAnswer, list[str]]) -> PlanAnswer:
    return made[0]


def test_one_sowing_a_week_and_none_while_away(plan: PlanAnswer) -> None:
    assert plan.sowings
    assert max(Counter(sowing.sow for sowing in plan.sowings).values()) == 1
    for sowing in plan.sowings:
        for day in (sowing.sow, sowing.plant_out):
            assert day is None or not AWAY[0] <= day <= AWAY[1]
    radish = next(item for item in plan.pickings if item.item == "radish")
    assert all(week.wanted == 0 for week in radish.weeks if AWAY[0] <= week.week <= date(2027, 5, 24))


def test_hours_seed_rest_and_rotation_are_kept(plan: PlanAnswer) -> None:
    assert plan.hours is not None
    assert max(plan.hours.there) == pytest.approx(40 / 60)
    assert all(used <= there + 0.01 for used, there in zip(plan.hours.used, plan.hours.there, strict=True))
    beet = next(need for need in plan.seed if need.crop == "beetroot")
    assert beet.seeds is not None
    assert beet.seeds <= 122
    (beds,) = plan.ground
    first = (date(2027, 8, 2) - plan.begins).days // 7
    assert max(beds.used[first : first + 20]) <= 4.0 + 8.0 + 1e-6


def test_what_is_ripe_already_is_not_all_picked_in_the_first_week() -> None:
    """Of two years 8 kg that stay good for four weeks, 1 kg that does not, and 2 kg to ripen in the fourth:
    else a full bed of beet left no hour of the week in which it was planned anew."""
    beet = load_catalogue().crop("beetroot")
    one: Any = SimpleNamespace(
        crop=beet, standing=SimpleNamespace(way="direct", area=1.0, left=1.0), holds=(),
        ripe=np.array([0, 0, 3]), last=np.array([3, 0, 4]), kg=np.array([8.0, 1.0, 2.0]),
        outcome=SimpleNamespace(first=np.zeros((2, 1))),
    )
    pick = labour(beet, "direct").pick
    asked = [hold.amount / pick for hold in labour_of(one, np.ones(WEEKS))]
    assert asked == pytest.approx([1.5, 1.0, 1.0, 2.0])


def test_what_the_counts_take_off_the_proof_is_told(made: tuple[PlanAnswer, list[str]]) -> None:
    """One sowing a week is not in the planner's model: the last of the progress is what the answer says."""
    plan, told = made
    assert plan.gap is not None
    assert plan.uncounted is not None
    assert plan.uncounted < plan.gap
    last = [stage for stage in told if "proven within" in stage][-1]
    assert last == f"keeping to the counts: proven within {100 * plan.gap:.1f} % of the best"


def test_what_is_put_by_is_wanted_once(plan: PlanAnswer) -> None:
    kept = next(item for item in plan.pickings if item.item == "beet, to keep")
    wanted = [week for week in kept.weeks if week.wanted > 0]
    assert [week.wanted for week in wanted] == [3.0]
    assert date(2027, 10, 31) - wanted[0].week < timedelta(days=7)
    assert wanted[0].likely > 0


def test_missing_variety_is_told(plan: PlanAnswer) -> None:
    assert any(line.startswith("box: fewer than 3 different items") for line in plan.short_of)
    wished = "in 22 weeks of the first year (26 Apr to 3 May, 31 May to 11 Oct)"  # less three away
    none = "Too little is wished for then: wish for more kinds, or ask less."
    assert f"box: no fruit to be expected {wished}. {none}" in plan.short_of


def test_a_plan_made_anew_does_not_begin_its_year_of_packets_again(tmp_path: Path) -> None:
    """Two crops may be bought within a year. Both were, in March; in June two more were allowed."""
    path = tmp_path / "garden.toml"
    path.write_text(TEXT.replace("[[wish]]", "[tin]\npackets = 2\n[[wish]]", 1), encoding="utf-8")
    march, june = date(2027, 3, 1), date(2027, 6, 10)
    write(path, [(march, SeedGot(crop, year=2027, seeds=20), "") for crop in ("radish", "leaf-lettuce")])
    write(path, [(march, SeedGot("beetroot", year=2026, seeds=20, saved=True), "")])
    described, begin = garden_of(path), day_number(june)
    season = under_way(path, begin, described=described)
    part = task_of(described, "", begin, season, Watch(None))
    whole, left = counts_of(part)
    assert (whole.packets, left.packets) == (2, 0)
    assert day_date(part.horizon.start + left.until) == date(2028, 2, 28)  # 52 weeks after they came
    assert left.have == whole.have
