"""Where there is no winter nothing is told as for the winter. Real places, an invented garden."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from evenpick.climate.places import find_place
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.winter import use_here
from evenpick.garden.begin import Answers, first_garden
from evenpick.garden.garden import WeatherChoice
from evenpick.report.outlook import outlook_page, why_page
from evenpick.report.terminal import render
from evenpick.report.windows import windows_page
from evenpick.report.words import words_for
from evenpick.service.outlook import outlook
from evenpick.service.saving import saving
from evenpick.service.why import why
from evenpick.service.windows import windows

WORDS = words_for("british", "metric", load_catalogue())
WINTER = re.compile(r"winter use|overwintering|winter salad|over winter")
CROPS = ("kale", "brussels-sprout", "leek", "swede", "leaf-lettuce")
TEXT = """
[site]
at = "-1.28, 36.82"
[[ground]]
name = "bed 3"
cover = "open"
area = "30 m2"
[[wish]]
item = "rocket"
each_week = "250 g"
"""


def squeezed(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize(("place", "winter"), [
    ("Nairobi", False), ("Bangalore", False), ("Norwich, GB", True),
])
def test_windows_and_why_speak_of_a_winter_where_there_is_one(place: str, winter: bool) -> None:
    site = find_place(place)
    found = windows(site, WeatherChoice(), CROPS, ["open"])
    assert bool(WINTER.search(" ".join(row.use for row in found.windows))) == winter
    assert ("full grown" in squeezed(render(windows_page(found, WORDS)))) != winter
    told = why(site, WeatherChoice(), "kale", date(2027, 6, 15))
    assert told.outlook.purpose in ("winter use", "fresh")
    if not winter:
        page = squeezed(render(why_page(told, WORDS))).partition("WHAT IT IS RECKONED FROM")[0]
        assert not WINTER.search(page)


def test_what_is_grown_alike_is_told_once_where_there_is_no_winter() -> None:
    rows = windows(find_place("Nairobi"), WeatherChoice(), ["kale"], ["open"]).windows
    assert [row.use for row in rows if row.way == "direct" and row.purpose != "baby leaf"] == ["fresh"]


def test_a_purpose_that_is_asked_for_is_told_as_not_of_here() -> None:
    answer = outlook(Site("Nairobi", -1.28, 36.82, 1684.0), WeatherChoice(), "leaf-lettuce",
                     date(2027, 6, 15), purpose="overwintering")
    assert "there is no winter here" in squeezed(render(outlook_page(answer, WORDS)))
    assert use_here("overwintering", 52.0) == "overwintering"


def test_onions_of_the_tropics_are_told_as_kinds_for_short_days() -> None:
    """They are set out for the rains as for the cool months; "overwintering" was said of those of June."""
    pune = Site("Pune", 18.52, 73.86, 560.0)
    told = squeezed(render(why_page(why(pune, WeatherChoice(), "onion", date(2027, 6, 20)), WORDS)))
    assert "kinds for short days" in told
    assert "winter" not in told.partition("WHAT IT IS RECKONED FROM")[0]
    rows = windows(pune, WeatherChoice(), ["onion"], ["open"]).windows
    assert {row.use for row in rows} == {"kinds for short days"}


def test_a_first_garden_wishes_for_no_winter_salad_in_the_tropics() -> None:
    made = {where: first_garden(Answers(where, 40.0, people=2), load_catalogue()).text
            for where in ("-1.28, 36.82", "52.6, 1.3")}
    assert 'item = "salad leaves"' in made["-1.28, 36.82"]
    assert "winter salad" not in made["-1.28, 36.82"]
    assert 'item = "winter salad"' in made["52.6, 1.3"]


def test_flowering_is_not_promised_where_there_is_no_cold(garden: Path) -> None:
    """Biennials want months of cold before they flower (common practice, no source)."""
    for lat, winter in (("-1.28, 36.82", False), ("52.6, 1.3", True)):
        garden.write_text(TEXT.replace("-1.28, 36.82", lat), encoding="utf-8")
        steps = " ".join(saving(garden, "leek").steps)
        assert ("its ground is held over winter" in steps) == winter
        assert ("may never, except high up" in steps) != winter
        assert ("from spring" in steps) == winter
