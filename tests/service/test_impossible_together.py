"""What a cooperative can't do is told with the farm on which something would mend it. Invented farms, real
weather of Dublin Airport."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path

from evenpick.crops.catalogue import load_catalogue
from evenpick.report.as_json import as_text
from evenpick.report.cooperative import cooperative_plan_page
from evenpick.report.cooperative_json import cooperative_plan_shape
from evenpick.report.terminal import render
from evenpick.report.words import words_for
from evenpick.service.cooperative import plan_cooperative
from evenpick.service.cooperative_answer import CooperativeAnswer

DAY = date(2027, 1, 4)
COOPERATIVE = """
[cooperative]
name = "Two Rivers"
[plan]
years = 4
[[farm]]
name = "shore"
garden = "shore.toml"
[[farm]]
name = "hill"
garden = "hill.toml"
[[outlet]]
name = "boxes"
kind = "boxes"
shares = SHARES
"""
FARM = """
cooperative = "coop.toml"
[site]
at = "53.4, -6.2"
height = "HEIGHT"
WEATHER
[[ground]]
name = "beds"
cover = "open"
area = "AREA"
"""
CUCUMBERS = """
[[wish]]
item = "cucumbers"
crops = ["cucumber"]
each_week = "300 g"
from = "03-01"
until = "09-30"
"""
LETTUCE = """
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
each_week = "150 g"
from = "05-01"
until = "10-15"
"""
KALE = """
[[wish]]
item = "kale"
each_week = "200 g"
from = "11-01"
until = "03-31"
"""
TUNNEL = """
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "10 m2"
"""


def coop(
    folder: Path, wishes: str, shares: int = 2, shore: str = "20 m2", hill: str = "20 m2",
    height: str = "70 m", also_shore: str = "", also_hill: str = "",
) -> Path:
    own = 'weather = "dublin-airport"'
    others = own if height == "70 m" else ""  # the shore's days moved to that height
    for name, area, high, weather, also in (("shore", shore, "70 m", own, also_shore),
                                            ("hill", hill, height, others, also_hill)):
        text = FARM.replace("AREA", area).replace("HEIGHT", high).replace("WEATHER", weather) + also
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    (folder / "coop.toml").write_text(COOPERATIVE.replace("SHARES", str(shares)) + wishes, encoding="utf-8")
    return folder / "coop.toml"


def planned(file: Path) -> CooperativeAnswer:
    return plan_cooperative(file, DAY, seconds=1)


def line(answer: CooperativeAnswer, part: str) -> str:
    (found,) = (each for each in answer.cannot if part in each)
    return found


def test_two_hundred_boxes_from_forty_square_metres(tmp_path: Path) -> None:
    answer = planned(coop(tmp_path, LETTUCE + KALE, 200, height="400 m"))
    told = line(answer, "all year round")
    assert "all farms together have 40 m²" in told
    assert "of 200 shares for boxes" in told
    assert re.search(r"No plan can meet more than about \d+ % of the portions wanted", told)
    assert "More ground would mend it, on shore most of all, or fewer wishes." in told
    met = 1.0 - answer.plan.bare
    assert met <= int(re.search(r"about (\d+) %", told)[1]) / 100  # type: ignore[index]


def test_farms_alike_are_as_good_a_place_for_more_ground(tmp_path: Path) -> None:
    told = line(planned(coop(tmp_path, LETTUCE, 200)), "all year round")
    assert "More ground on any farm would mend it, or fewer wishes." in told


def test_one_farms_ground_does_not_grow_what_another_alone_may(tmp_path: Path) -> None:
    """The shore has ground enough for all, and none of it helps with what the hill alone may grow."""
    wishes = LETTUCE + KALE + 'farms = ["hill"]\n'
    answer = planned(coop(tmp_path, wishes, 30, shore="400 m2", hill="4 m2"))
    told = line(answer, "all year round")
    assert told.startswith("kale, for hill alone to grow: what is wanted in the first year needs at least ")
    assert "there are 4 m²" in told
    assert "More ground there would mend it, other farms that grow it too, or fewer wishes." in told


def test_cucumbers_in_march_with_no_tunnel_on_any_farm(tmp_path: Path) -> None:
    """The farm high up would have them later than the one below, if both had a tunnel."""
    answer = planned(coop(tmp_path, CUCUMBERS, height="400 m"))
    told = line(answer, "could be had in")
    assert re.match(r"cucumbers: with a (tunnel|raising bench).* on shore something could be had in ", told)
    bare = line(answer, "nothing can be had in")
    assert bare.startswith("cucumbers: nothing can be had in the weeks of 1 Mar to ")


def test_farms_alike_are_both_named(tmp_path: Path) -> None:
    told = line(planned(coop(tmp_path, CUCUMBERS)), "could be had in")
    assert " on shore or hill something could be had in " in told


def test_a_tunnel_on_a_farm_that_may_not_use_it_is_no_tunnel(tmp_path: Path) -> None:
    """The shore has one, and does not want cucumbers: the hill would need its own."""
    answer = planned(coop(tmp_path, CUCUMBERS, also_shore=TUNNEL))
    assert not any("with a tunnel on shore" in each for each in answer.cannot)
    file = coop(tmp_path, CUCUMBERS, also_shore=TUNNEL)
    shore = file.with_name("shore.toml")
    shore.write_text('never = ["cucumber"]\n' + shore.read_text(encoding="utf-8"), encoding="utf-8")
    assert " on hill something could be had in " in line(planned(file), "could be had in")


def test_a_farm_that_the_wish_leaves_out_is_asked_first(tmp_path: Path) -> None:
    file = coop(tmp_path, CUCUMBERS + 'farms = ["hill"]\n', height="400 m", also_shore=TUNNEL)
    told = line(planned(file), "could be had in")
    assert told.startswith("cucumbers: with shore growing it too something could be had in ")


def test_what_succeeds_on_no_farm_is_told_so(tmp_path: Path) -> None:
    answer = planned(coop(tmp_path, CUCUMBERS + 'farms = ["hill"]\n', height="700 m"))
    assert line(answer, "succeeds in half").startswith(
        "cucumbers: none of its crops succeeds in half of the years on any farm that may grow it")


def test_ground_too_small_is_looked_for_where_it_may_grow(tmp_path: Path) -> None:
    wishes = CUCUMBERS.replace("03-01", "07-15") + 'farms = ["hill"]\n' + LETTUCE
    answer = planned(coop(tmp_path, wishes, hill="0.05 m2"))
    assert line(answer, "cucumbers: there is no ground large enough for the least of it. A plant in a pot")


def test_hours_that_do_not_suffice_name_the_farm(tmp_path: Path) -> None:
    peas = '[[wish]]\nitem = "peas"\ncrops = ["pea"]\neach_week = "20 kg"\nfrom = "06-15"\nuntil = "07-31"\n'
    hours = '[hours]\nweek = "20 min"\n'
    file = coop(tmp_path, peas, shore="400 m2", hill="400 m2", also_shore=hours, also_hill=hours)
    told = line(planned(file), "Picking what is wanted")
    assert "all farms together have 0.7 h. More hands would mend it, " in told


def test_it_stands_in_text_json_and_pages_alike(tmp_path: Path) -> None:
    answer = planned(coop(tmp_path, LETTUCE + KALE, 200, height="400 m"))
    told, words = line(answer, "all year round"), words_for("british", "metric", load_catalogue())
    jobs: dict[str, tuple[()]] = {farm.name: () for farm in answer.farms}
    page = " ".join(render(cooperative_plan_page(answer, jobs, words)).split())
    assert told in page
    assert told in json.loads(as_text(cooperative_plan_shape(answer, words)))["cannot"]


def test_a_cooperative_that_works_is_told_nothing_of_the_kind(tmp_path: Path) -> None:
    answer = planned(coop(tmp_path, LETTUCE))
    assert not any("all year round" in each or "could be had in" in each for each in answer.cannot)
