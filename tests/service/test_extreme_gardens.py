"""Plans at the edges of what is asked (docs/design/days.md, season.md 9). Gardens are invented, their weather
made of packaged normals."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan

LYON = """
[site]
place = "Lyon, FR"
[plan]
from = 2026-11-28
years = 6
"""
BEDS = """
[[ground]]
name = "beds"
cover = "open"
area = "60 m2"
[[wish]]
item = "carrots"
crops = ["early-carrot", "main-carrot"]
each_week = "1 kg"
"""


def planned(folder: Path, text: str, seconds: float = 4.0) -> PlanAnswer:
    path = folder / "garden.toml"
    path.write_text(LYON + text, encoding="utf-8")
    return make_plan(path, seconds=seconds)


def test_a_week_in_which_nobody_is_there_costs_that_week_and_not_the_year(tmp_path: Path) -> None:
    """What stands through it is tended before and after; with no hours in it every sowing that stood through
    it was forbidden, and a plan of sixty hours a week made two."""
    away = "[[away]]\nfrom = 2027-08-02\nuntil = 2027-08-08\n"
    plain, without = (planned(tmp_path, BEDS + '[hours]\nweek = "60 h"\n' + more) for more in ("", away))
    assert without.plan.bare < plain.plan.bare + 0.1
    assert without.hours is not None
    assert min(without.hours.there[: len(without.hours.used)]) == 0.0


WINDOWSILL = """
[[ground]]
name = "pots"
cover = "open"
area = "3 x 0.0314 m2"
[[wish]]
item = "radish"
crops = ["radish"]
each_week = "1 portion"
from = "04-20"
until = "10-15"
[[wish]]
item = "tomatoes"
crops = ["tomato"]
each_week = "1 kg"
from = "08-01"
until = "09-30"
"""


def test_three_pots_on_a_windowsill_are_sown(tmp_path: Path) -> None:
    """Where no pot has room for half a metre of row, a pot is sown; there was "no ground large enough"."""
    answer = planned(tmp_path, WINDOWSILL)
    radish = [sowing for sowing in answer.sowings if sowing.crop == "radish"]
    assert len(radish) >= 2
    for sowing in radish:
        pots = sowing.area_m2 / 0.0314
        assert pots == pytest.approx(round(pots), abs=1e-6)
        assert len(sowing.beds) == round(pots)
        assert sowing.row_m is None
    assert {one.item for one in answer.given_up if "no ground is large enough" in one.because} == {"tomatoes"}


def test_a_wish_for_a_thousand_boxes_leaves_no_ground_bare(tmp_path: Path) -> None:
    """A sowing must bring more where much is eaten, but no more than an even share of the ground can give."""
    few = BEDS.replace("60 m2", "40 m2").replace('"1 kg"', '"1000 kg"')
    answer = planned(tmp_path, few)
    (open_ground,) = answer.ground
    assert max(open_ground.used) > 0.9 * open_ground.area_m2
    (because,) = (one.because for one in answer.given_up if one.item == "carrots")
    assert because.startswith("not enough open ground (full ")
    (bound,) = (said for said in answer.cannot if "No plan can meet more than about " in said)
    assert "about 1 % of the portions" in bound  # nought in a hundred is what nobody can meet less of


@pytest.mark.parametrize("lowest", [5, 10])
def test_tomatoes_are_raised_on_a_cool_bench_too_only_later(tmp_path: Path, lowest: int) -> None:
    text = f"""
[bench]
modules = 400
lowest = "{lowest} °C"
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "30 m2"
[[wish]]
item = "tomatoes"
crops = ["tomato"]
each_week = "5 kg"
from = "07-12"
until = "10-15"
"""
    answer = planned(tmp_path, text)
    assert answer.sowings
    assert answer.plan.bare < 0.7
    assert not any("tomatoes" in said for said in answer.cannot)


def test_where_nothing_wanted_can_be_had_all_of_it_is_bare(tmp_path: Path) -> None:
    """Cucumbers of the open in March: nothing is counted against a plan, and nothing is there."""
    text = BEDS.replace('"carrots"', '"cucumbers"').replace('["early-carrot", "main-carrot"]', '["cucumber"]')
    answer = planned(tmp_path, text.rstrip() + '\nfrom = "03-01"\nuntil = "03-31"\n')
    assert not answer.sowings
    assert (answer.plan.bare, answer.interval_rule.bare) == pytest.approx((1.0, 1.0))
    assert answer.cannot


def test_what_is_stored_over_the_new_year_is_told_from_the_first_week_it_can_be_there(tmp_path: Path) -> None:
    """Onions wanted from August to March, asked in November: the winter that is too soon, and from August on
    figures; a season that runs on past the counted weeks read as too soon throughout."""
    text = BEDS.replace('"carrots"', '"onions"').replace('["early-carrot", "main-carrot"]', '["onion-sets"]')
    answer = planned(tmp_path, text.rstrip() + '\nfrom = "08-01"\nuntil = "03-31"\n')
    (onions,) = answer.pickings
    wanted = [at for at, week in enumerate(onions.weeks) if week.wanted > 0 and at >= 30]
    assert 30 < onions.lead <= wanted[0] + 3


def test_what_is_not_sown_at_all_says_what_a_sowing_must_bring(tmp_path: Path) -> None:
    """Of sweetcorn at a cob a week none was sown, and the plan spoke of gaps too small for another sowing."""
    corn = BEDS.replace("carrots", "sweetcorn").replace('"early-carrot", "main-carrot"', '"sweetcorn"')
    answer = planned(tmp_path, "worth_a_sowing = 60\n" + corn.replace('"1 kg"', '"1 portion"'))
    assert not answer.sowings
    (because,) = (one.because for one in answer.given_up)
    assert because.startswith("nothing of it is sown, ")
    assert because.endswith("let less be worth a sowing")
