"""Ground that nobody waters: today, water and why tell one truth (docs/design/water.md, 20 and 26)."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.climate.site import Site
from evenpick.garden.diary import CameUp, Entry, Reading, Sowed, new_id
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.report.terminal import render
from evenpick.report.water import water_page
from evenpick.report.watering import watering_page, watering_shape
from evenpick.report.words import Words
from evenpick.service.book import keep, lately
from evenpick.service.expectation import Expected
from evenpick.service.setups import garden_of
from evenpick.service.today import every_job, under_way_foreseen
from evenpick.service.today_answer import Job
from evenpick.service.water import water
from evenpick.service.water_answer import WaterRow
from evenpick.service.watering import water_sown, watering
from evenpick.service.why import why

GARDEN = """\
[site]
name = "Testham"
at = "51.758, -1.578"
height = "82 m"
weather = "brize-norton"
soil = "sandy loam"
watered = {watered}
[[ground]]
name = "bed"
cover = "open"
area = "60 m²"
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "20 m²"
[[outlet]]
name = "kitchen"
kind = "kitchen"
[[wish]]
item = "beetroot"
outlet = "kitchen"
each_week = "1 kg"
"""
SOWN, ON = date(2027, 6, 1), date(2027, 6, 24)
WET = 5
"""days from sowing on which 4 mm of rain fell each, before none did"""
CARROT, BEET, TUNNEL = (f"{1_800_000_000_000 + n:012x}{n:020x}" for n in range(3))
BRIZE, RECORD = Site("Brize Norton", 51.758, -1.578, 82.0), WeatherChoice(packaged="brize_norton")
WORDS = Words("british", "metric", {}, {})


def diary(path: Path, watered: bool, dry: bool = True) -> Path:
    """INVENTED: carrots sown before a drought and not seen up, beetroot that is, rocket in a tunnel."""
    path.mkdir()
    file = path / "garden.toml"
    file.write_text(GARDEN.format(watered=str(watered).lower()), encoding="utf-8")
    april = day_number(date(2027, 4, 10))
    entries = [
        Entry(CARROT, day_number(SOWN), Sowed("early-carrot", "direct", "open", 6.0, ground="bed")),
        Entry(BEET, april, Sowed("beetroot", "direct", "open", 3.0, ground="bed")),
        Entry(TUNNEL, day_number(SOWN), Sowed("rocket", "direct", "tunnel", 2.0, ground="tunnel")),
        Entry(new_id(), april + 14, CameUp(BEET)),
    ]
    for ahead in range((ON - date(2027, 5, 10)).days + 1):
        day = date(2027, 5, 10) + timedelta(days=ahead)
        wet = not dry or day < SOWN + timedelta(days=WET)
        entries.append(Entry(new_id(), day_number(day), Reading(13.0, 25.0, 4.0 if wet else 0.0)))
    keep(file, entries)
    return file


@pytest.fixture(scope="module")
def gardens(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("rain")
    return {"left": diary(folder / "left", watered=False), "watered": diary(folder / "watered", watered=True),
            "wet": diary(folder / "wet", watered=False, dry=False)}


def expected(file: Path) -> dict[str, Expected]:
    record = lately(file, day_number(ON))
    return dict(under_way_foreseen(file, garden_of(file), None, record, ON))


def jobs_of(file: Path, sowing: str) -> Sequence[Job]:
    return [job for job in every_job(file, ON).jobs if job.sowing == sowing]


def row(file: Path, crop: str) -> WaterRow:
    return next(one for one in watering(file, ON).rows if one.crop == crop)


def test_what_sprouted_before_the_drought_is_not_counted_on(gardens: dict[str, Path]) -> None:
    """The rain of this season was read and ignored: a drill in dust was told as up and to be thinned."""
    left, watered, wet = (expected(gardens[name])[CARROT] for name in ("left", "watered", "wet"))
    assert left.dried > 0.9
    assert left.success < 0.1
    assert left.first is None
    assert watered.dried == wet.dried == 0
    assert watered.success > 0.9
    assert wet.success > 0.8  # in a dry year it draws too little later on
    assert expected(gardens["left"])[BEET].success > 0.9  # it was seen up
    assert expected(gardens["left"])[TUNNEL].success == expected(gardens["watered"])[TUNNEL].success


def test_today_sends_to_look_and_to_no_work_on_a_dead_drill(gardens: dict[str, Path]) -> None:
    kinds = {job.kind for job in jobs_of(gardens["left"], CARROT)}
    assert kinds == {"look"}
    (look,) = jobs_of(gardens["left"], CARROT)
    assert look.when <= ON
    assert "not watered since" in look.why
    assert {"thin", "weed"} <= {job.kind for job in jobs_of(gardens["watered"], CARROT)}


def test_nobody_is_sent_to_water_what_he_cannot(gardens: dict[str, Path]) -> None:
    still = every_job(gardens["left"], ON)
    assert row(gardens["watered"], "beetroot").next_due is not None
    assert not {bed.crop for bed in still.thirsty} & {"beetroot", "early-carrot"}
    assert not [job for job in still.jobs if job.kind == "water" and job.sowing != TUNNEL]
    for crop in ("beetroot", "early-carrot"):
        one = row(gardens["left"], crop)
        assert one.today.advice == "leave"
        assert one.litres == 0
        assert one.next_due is None
    tunnel = row(gardens["left"], "rocket")
    assert tunnel.left is None
    assert tunnel.today == row(gardens["watered"], "rocket").today


def test_water_says_what_it_costs(gardens: dict[str, Path]) -> None:
    carrot, beet = (row(gardens["left"], crop).left for crop in ("early-carrot", "beetroot"))
    assert carrot is not None
    assert beet is not None
    assert carrot.lost > 0.9
    assert beet.lost == 0
    low, middle, high = beet.short
    assert 0 <= low <= middle <= high < 0.9
    assert middle > 0.02  # after a wet May its metre of ground holds for most of these three weeks
    wet = row(gardens["wet"], "beetroot").left
    assert wet is not None
    assert wet.short[1] < middle
    assert row(gardens["watered"], "beetroot").left is None
    shown = render(watering_page(watering(gardens["left"], ON), WORDS))
    assert "LEFT TO THE RAIN" in shown
    assert "% of the water it could use" in " ".join(shown.split())
    shape = watering_shape(watering(gardens["left"], ON), WORDS)
    assert {each["crop"]: each["left"] is None for each in shape["rows"]} == {
        "early-carrot": False, "beetroot": False, "rocket": True}


def test_one_sowing_tells_the_same_as_the_round(gardens: dict[str, Path]) -> None:
    one = water_sown(gardens["left"], CARROT, ON)
    assert one.left == row(gardens["left"], "early-carrot").left
    assert one.days[0] == row(gardens["left"], "early-carrot").today


def test_a_can_is_told_for_what_it_is_worth() -> None:
    """Kept moist until it is up nearly none is lost, for a few litres; watered once and then left, many."""
    found = water(BRIZE, RECORD, "early-carrot", date(2027, 6, 20), soil="sandy loam", watered=False)
    bare, once, moist, more = found.steps
    assert bare.lost > 0.4
    assert once.lost > 0.3
    assert moist.lost < 0.1
    assert more.lost < 0.1
    assert moist.per_metre < 8
    shown = " ".join(render(water_page(found, WORDS)).split())
    assert "Nobody waters here" in shown
    assert "a can along the drill" in shown
    assert all(day.advice == "leave" for day in found.days)
    told = water(BRIZE, RECORD, "early-carrot", date(2027, 6, 20), soil="sandy loam")
    assert told.left is None
    assert told.steps == found.steps


def test_a_day_that_the_rain_seldom_lets_live_is_not_called_worth_sowing() -> None:
    """'Worth sowing', over a table in which two thirds of the years dry out."""
    dry = why(BRIZE, RECORD, "early-carrot", date(2027, 6, 20), seedbed=Seedbed("sandy loam", watered=False))
    wet = why(BRIZE, RECORD, "early-carrot", date(2027, 6, 20), seedbed=Seedbed("sandy loam"))
    assert wet.judgement == "worth"
    assert dry.judgement != "worth"
    assert dry.against == "dried out in the drill"
    assert dict(dry.outlook.fates)["good"] < 0.5


def test_what_is_left_to_the_rain_is_not_told_as_watered_since(gardens: dict[str, Path]) -> None:
    """Beside 'no water is asked for it' stood 'both watered as told here since'."""
    left, watered = (" ".join(watering(gardens[name], ON).notes) for name in ("left", "watered"))
    assert "both watered as told" not in left
    assert "and left to the rain since" in left
    assert "both watered as told" in watered
