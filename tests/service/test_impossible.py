"""Gardens that can't work are told what is impossible and what would mend it (docs/design/season.md, 17).
Invented gardens, real weather."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.days import day_number
from evenpick.crops.catalogue import load_catalogue
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.mend import mended
from evenpick.report.plan import plan_page
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.impossible import most_met
from evenpick.service.measures import measure, summary
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan
from evenpick.service.week_words import told_weeks

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "plan"))
import garden_task

SITE = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2027-01-04
years = 4
"""


COOL = SITE.replace("53.4, -6.2", "64.1, -21.9").replace('weather = "dublin-airport"', "")
CUCUMBERS = """
[[ground]]
name = "beds"
cover = "open"
area = "20 m2"
[[wish]]
item = "cucumbers"
crops = ["cucumber"]
each_week = "2 fruits"
from = "03-01"
until = "09-30"
"""


NO_GROUND = ("courgettes: there is no ground large enough for the least of it. A plant in a pot of its own "
             "wants 20 l at the least.")


def planned(folder: Path, text: str, site: str = SITE) -> PlanAnswer:
    path = folder / "garden.toml"
    path.write_text(site + text, encoding="utf-8")
    return make_plan(path, seconds=1)


def test_cucumbers_without_a_tunnel_are_told_what_would_mend_it(tmp_path: Path) -> None:
    plan = planned(tmp_path, CUCUMBERS)
    mend = next(line for line in plan.cannot if "could be had in" in line)
    assert mend.startswith("cucumbers: with a ")
    assert "tunnel" in mend


def test_what_no_sooner_sowing_would_mend_is_not_called_too_soon(tmp_path: Path) -> None:
    """Without cover no cucumber is ripe from March to June of this year, nor of the next,
    whenever it is sown: none that stood now in the open would be."""
    plan = planned(tmp_path, CUCUMBERS)
    assert "cucumbers: nothing can be had in the weeks of 1 Mar to 5 Jul." in plan.cannot
    assert not any("Too soon" in line for line in plan.cannot)


def test_what_is_wanted_only_when_it_is_not_ripe_is_told_when_it_is(tmp_path: Path) -> None:
    text = CUCUMBERS.replace('until = "09-30"', 'until = "03-31"').replace("open", "tunnel")
    (said,) = [each for each in planned(tmp_path, text).cannot if each.startswith("cucumbers: nothing")]
    assert re.search(r"1 Mar to 29 Mar\. It is not wanted when it is ripe here: the weeks of \d+ J", said)



def test_cucumbers_where_summers_are_too_cool_for_them_in_the_open(tmp_path: Path) -> None:
    plan = planned(tmp_path, CUCUMBERS, COOL)
    assert any("none of its crops succeeds in half of the years" in line for line in plan.cannot)
    assert any("could be had in" in line and "tunnel" in line for line in plan.cannot)


def test_two_hundred_boxes_from_forty_square_metres(tmp_path: Path) -> None:
    plan = planned(tmp_path, """
[[ground]]
name = "beds"
cover = "open"
area = "40 m2"
[[outlet]]
name = "boxes"
kind = "boxes"
shares = 200
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
each_week = "150 g"
from = "05-01"
until = "10-15"
[[wish]]
item = "kale"
each_week = "200 g"
from = "11-01"
until = "03-31"
""")
    line = next(line for line in plan.cannot if "m² all year round" in line)
    assert "there are 40 m²" in line
    assert "of 200 shares for boxes" in line
    assert [each.item for each in plan.given_up]
    assert any("open ground" in each.because for each in plan.given_up)


CROWDED = """
[[ground]]
name = "beds"
cover = "open"
area = "10 m2"
[[outlet]]
name = "boxes"
kind = "boxes"
shares = 20
[[wish]]
item = "radish"
each_week = "100 g"
from = "05-01"
until = "09-30"
[[wish]]
item = "potatoes"
crops = ["main-potato"]
each_week = "1 kg"
[[wish]]
item = "leeks"
each_week = "300 g"
from = "10-01"
until = "03-31"
"""


def test_no_plan_is_above_the_bound_that_is_told(tmp_path: Path) -> None:
    """Quick radishes fill the ground before slow leeks do: all items alike could not have so much."""
    plan = planned(tmp_path, CROWDED)
    line = next(line for line in plan.cannot if "m² all year round" in line)
    told = re.search(r"No plan can meet more than about (\d+) % of the portions wanted", line)
    need, there = re.search(r"at least (\d+) m²", line), 10
    assert told is not None
    assert need is not None
    met = 1.0 - plan.plan.bare
    assert met > there / int(need[1])
    assert met <= int(told[1]) / 100
    assert "With all items in equal part it is enough for about" in line


@pytest.mark.parametrize("scale", [0.02, 0.1, 0.3, 1.0])
def test_what_is_met_of_crowded_ground_lies_below_the_bound(scale: float) -> None:
    """On the years planned on, whatever ground there is; and little ground can't meet all."""
    work = garden_task.whole()
    grounds = replace(work.request.grounds, limit=work.request.grounds.limit * scale)
    small = replace(work, request=replace(work.request, grounds=grounds))
    areas = mended(small.request, np.zeros(len(small.options))).areas
    found = measure(small, areas, small.request.supply, small.request.years, small.given)
    met = 1.0 - summary(small, found).bare
    bound = most_met(small, 48.0 * scale, range(len(small.request.items)))
    assert 0.0 < met <= bound
    assert (bound < 0.5) == (scale <= 0.1)


def test_a_garden_that_works_is_told_nothing_of_the_kind(tmp_path: Path) -> None:
    plan = planned(tmp_path, """
[[ground]]
name = "beds"
cover = "open"
area = "40 m2"
[[wish]]
item = "radish"
each_week = "100 g"
from = "05-15"
until = "09-15"
""")
    assert not any("all year round" in line for line in plan.cannot)


@pytest.mark.parametrize("hours", ["20 min"])
def test_picking_that_no_hours_suffice_for(tmp_path: Path, hours: str) -> None:
    plan = planned(tmp_path, f"""
[hours]
week = "{hours}"
[[ground]]
name = "beds"
cover = "open"
area = "400 m2"
[[wish]]
item = "peas"
crops = ["pea"]
each_week = "20 kg"
from = "06-15"
until = "07-31"
""")
    assert any("Picking what is wanted would alone take" in line for line in plan.cannot)


def test_a_week_alone_is_told_as_one_and_weeks_together_from_first_to_last() -> None:
    weeks = np.isin(np.arange(WEEKS), [2, 4, 5, 6])
    horizon = Horizon(day_number(date(2027, 1, 4)), weekday=0)
    assert told_weeks(weeks, horizon) == "the weeks of 18 Jan and 1 Feb to 15 Feb"


WISHES = """
[[wish]]
item = "radish"
each_week = "250 g"
from = "05-01"
until = "09-30"
[[wish]]
item = "courgettes"
crops = ["courgette"]
each_week = "1 kg"
from = "07-01"
until = "09-30"
"""


def ground(area: str) -> str:
    return f'[[ground]]\nname = "beds"\ncover = "open"\narea = "{area}"\n'


def test_ground_too_small_for_a_plant_is_told_as_such(tmp_path: Path) -> None:
    """Not that a tunnel would mend it, nor that nothing is ripe in those weeks. Radish is sown there."""
    plan = planned(tmp_path, ground("0.05 m2") + WISHES)
    assert {sowing.crop for sowing in plan.sowings} == {"radish"}
    assert NO_GROUND in plan.cannot
    assert not any("courgettes" in said and "tunnel" in said for said in plan.cannot)
    because = {each.item: each.because for each in plan.given_up}
    assert because["courgettes"] == "no ground is large enough for the least of it" != because["radish"]


def test_ground_at_rest_is_no_ground(tmp_path: Path) -> None:
    rest = '[[rest]]\nground = "beds"\nfrom = 2026-12-01\nuntil = 2029-12-31\nfor = "clover"\n'
    plan = planned(tmp_path, ground("3 m2") + WISHES + rest)
    assert "All the ground is at rest in the first year, so nothing can be sown." in plan.cannot
    assert not any("there are 3 m²" in said for said in plan.cannot)
    part = planned(tmp_path, ground("3 m2") + WISHES + rest.replace("for", 'area = "2.5 m2"\nfor'))
    assert any("there are 0.5 m² in the mean, what is at rest left out" in said for said in part.cannot)


def test_where_nothing_is_wanted_nothing_is_missing(tmp_path: Path) -> None:
    away = "[[away]]\nfrom = 2026-12-01\nuntil = 2029-12-31\n"
    plan = planned(tmp_path, ground("12 m2") + WISHES + away)
    assert (plan.plan.bare, plan.interval_rule.bare, plan.plan.bare_weeks) == (0.0, 0.0, 0.0)
    said = render(plan_page(plan, (), words_for("british", "metric", load_catalogue())))
    assert "Nothing is wanted in any week of it" in said
    assert "not there" not in said

FROM_29_FEBRUARY = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2028-02-29
years = 4
[[ground]]
name = "beds"
cover = "open"
area = "20 m2"
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "8 m2"
"""
GARLIC = """
[[wish]]
item = "garlic"
each_week = "2 bulbs"
[[away]]
from = 2028-02-20
until = 2028-03-05
"""
OUT_OF_SEASON = """
[[wish]]
item = "tomatoes"
each_week = "1 kg"
from = "01-15"
until = "04-15"
[[wish]]
item = "broad beans"
each_week = "300 g"
from = "11-01"
until = "11-30"
"""


def test_a_bench_is_not_told_to_mend_what_is_never_raised(tmp_path: Path) -> None:
    """Nobody is there on the last days on which garlic could be planted; it is not raised on any bench."""
    plan = planned(tmp_path, GARLIC, FROM_29_FEBRUARY)
    assert any("garlic" in said for said in plan.cannot)
    assert not any("bench" in said for said in plan.cannot)


def test_what_no_sowing_of_any_year_gives_is_not_too_soon(tmp_path: Path) -> None:
    """Tomatoes in February, broad beans in November: the summer before them lies all ahead, and none is to
    be had from it, whatever is sown a season sooner."""
    plan = planned(tmp_path, OUT_OF_SEASON, FROM_29_FEBRUARY)
    assert not any("Too soon" in said for said in plan.cannot)
    assert any(said.startswith("tomatoes: nothing can be had in ") for said in plan.cannot)
    assert any(said.startswith("broad beans: nothing can be had in ") for said in plan.cannot)


def test_what_comes_anyway_before_them_makes_no_weeks_less_too_soon(tmp_path: Path) -> None:
    """Kale in March: none stands now, and some will be there in the next March."""
    plan = planned(tmp_path, ground("20 m2") + """
[[wish]]
item = "kale"
each_week = "300 g"
from = "11-15"
until = "03-31"
[[anyway]]
item = "perennial kale"
each_week = "200 g"
from = "01-01"
until = "02-28"
serves = "kale"
""")
    assert "Too soon for anything sown from now: kale (to 29 Mar)." in plan.cannot
    assert not any("kale: nothing can be had" in said for said in plan.cannot)


def test_beds_too_small_for_a_plant_leave_the_ground_to_what_fits(tmp_path: Path) -> None:
    """Beds of eight inches by twelve: no courgette fits into any of them, however many there are."""
    plan = planned(tmp_path, ground("40 x 0.3 m x 0.2 m") + WISHES)
    assert {sowing.item for sowing in plan.sowings} == {"radish"}
    assert NO_GROUND in plan.cannot
    because = {each.item: each.because for each in plan.given_up}
    assert because["courgettes"] == "no ground is large enough for the least of it"
    assert not any("Too soon" in said and "courgettes" in said for said in plan.cannot)


def test_one_thing_that_is_short_is_not_told_as_several(tmp_path: Path) -> None:
    """A thirtieth of six square metres holds no radish worth sowing."""
    plan = planned(tmp_path, ground("6 x 1 m x 1 m") + WISHES + "[rotation]\nyears = { brassicas = 30 }\n")
    (radish,) = (each for each in plan.given_up if each.item == "radish")
    assert radish.because == "not enough part of open ground for brassicas"


def test_a_grower_without_any_bench_raises_nothing_and_is_told_what_one_would_do(tmp_path: Path) -> None:
    plan = planned(tmp_path, ground("20 m2") + """
[bench]
modules = 0
lowest = "16 °C"
[[wish]]
item = "celeriac"
each_week = "2 roots"
from = "10-15"
until = "02-15"
[[wish]]
item = "radish"
each_week = "250 g"
from = "05-01"
until = "09-30"
""")
    assert {sowing.way for sowing in plan.sowings} == {"direct"}
    because = {each.item: each.because for each in plan.given_up}
    assert "raising bench" in because["celeriac"]


RAISED = """
[bench]
modules = 200
lowest = "5 °C"
[[ground]]
name = "house"
cover = "tunnel"
area = "20 m2"
[[away]]
from = 2027-04-12
until = 2027-05-02
{watered}
[[wish]]
item = "tomatoes"
crops = ["tomato"]
each_week = "20 portions"
from = "08-01"
until = "09-30"
"""


def test_what_days_away_alone_keep_from_being_sown_is_not_called_too_soon(tmp_path: Path) -> None:
    """Tomatoes are sown from March on and stand in modules until late in May: nobody waters them in April."""
    plan = planned(tmp_path, RAISED.format(watered=""))
    assert not any("Too soon" in line for line in plan.cannot)
    assert any(line.startswith("Days away leave nothing to be had of: tomatoes (") for line in plan.cannot)
    assert not plan.sowings


def test_where_somebody_waters_on_days_away_plants_are_raised_through_them(tmp_path: Path) -> None:
    plan = planned(tmp_path, RAISED.format(watered="watered = true"))
    assert not any("Days away" in line for line in plan.cannot)
    away = date(2027, 4, 12)
    assert any(each.sow < away and each.way == "raised" for each in plan.sowings)
