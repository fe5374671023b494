"""A garden's round of water: the same advice as today's jobs, what the diary saw, litres on all of it."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest
from evenpick.garden.diary import CameUp, Entry, Lost, PlantedOut, Reading, Sowed, Watered, new_id
from evenpick.report.terminal import render
from evenpick.report.words import Words
from evenpick.service.book import keep, lately
from evenpick.service.log import commit, understand
from evenpick.service.setups import garden_of
from evenpick.service.today import today, under_way_foreseen
from evenpick.service.water_answer import ON_THE_DRILL, WateringAnswer, WaterRow
from evenpick.service.watering import water_sown, watering

GARDEN = """\
[site]
name = "Testham"
at = "51.758, -1.578"
height = "82 m"
weather = "brize-norton"
[[ground]]
name = "bed"
cover = "open"
area = "60 m²"
[[outlet]]
name = "kitchen"
kind = "kitchen"
[[wish]]
item = "beetroot"
outlet = "kitchen"
each_week = "1 kg"
"""
ON = date(2027, 5, 12)


def number(month: int, day: int) -> int:
    return day_number(date(2027, month, day))


@pytest.fixture(scope="module")
def garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """INVENTED: carrots not up, beetroot up, leeks on the bench, courgettes planted out, rocket lost."""
    path = tmp_path_factory.mktemp("watering") / "garden.toml"
    path.write_text(GARDEN, encoding="utf-8")
    ids = [f"{1_800_000_000_000 + n:012x}{n:020x}" for n in range(5)]
    keep(path, [
        Entry(ids[0], number(5, 3), Sowed("early-carrot", "direct", "open", 6.0, ground="bed")),
        Entry(ids[1], number(4, 10), Sowed("beetroot", "direct", "open", 3.0)),
        Entry(ids[2], number(4, 1), Sowed("leek", "raised", "open", 9.0)),
        Entry(ids[3], number(4, 10), Sowed("courgette", "raised", "open", 8.0)),
        Entry(ids[4], number(5, 1), Sowed("rocket", "direct", "open", 2.0)),
        Entry(new_id(), number(4, 24), CameUp(ids[1])), Entry(new_id(), number(5, 8), PlantedOut(ids[3])),
        Entry(new_id(), number(5, 2), Lost(ids[1], "eaten", 0.5)),
        Entry(new_id(), number(5, 9), Lost(ids[4], "eaten", 1.0)),
    ])
    return path


@pytest.fixture(scope="module")
def answer(garden: Path) -> WateringAnswer:
    return watering(garden, ON)


def row(answer: WateringAnswer, crop: str) -> WaterRow:
    return next(one for one in answer.rows if one.crop == crop)


def test_what_stands_in_the_ground_is_in_it_and_nothing_else(answer: WateringAnswer) -> None:
    assert {one.crop for one in answer.rows} == {"early-carrot", "beetroot", "courgette"}
    assert [name for _, name in answer.bench] == ["Leek"]
    assert answer.cautions


def test_a_drill_is_told_as_todays_jobs_tell_it(garden: Path, answer: WateringAnswer) -> None:
    record = lately(garden, day_number(ON))
    expected = under_way_foreseen(garden, garden_of(garden), None, record, ON)
    carrot = row(answer, "early-carrot")
    assert carrot.sowing is not None
    assert carrot.today.phase == "seedbed"
    assert carrot.today.share == pytest.approx(expected[carrot.sowing].thirst)
    assert carrot.today.per_metre == pytest.approx(expected[carrot.sowing].litres)
    job = [one for one in today(garden, ON).jobs if one.kind == "water"]
    assert bool(job) == (carrot.today.advice == "water")


@pytest.mark.parametrize("ago", [0, 1, 3, 4, 5, 6, 7, 8])
def test_a_drill_in_a_tunnel_is_told_as_todays_jobs_tell_it(tmp_path: Path, ago: int) -> None:
    """Where no rain falls, and so nothing is known but that the bed was soaked before it was sown."""
    own = tmp_path / "garden.toml"
    tunnel = '[[ground]]\nname = "tunnel"\ncover = "tunnel"\narea = "8 m²"\n[[outlet]]'
    own.write_text(GARDEN.replace("[[outlet]]", tunnel), encoding="utf-8")
    sowing, sown = new_id(), day_number(ON) - ago
    keep(own, [Entry(sowing, sown, Sowed("radish", "direct", "tunnel", 2.0, ground="tunnel"))])
    expected = under_way_foreseen(own, garden_of(own), None, lately(own, day_number(ON)), ON)[sowing]
    told = row(watering(own, ON), "radish").today
    drill = told.phase in ON_THE_DRILL
    assert expected.thirst == pytest.approx(told.share)
    assert expected.litres == pytest.approx(told.per_metre if drill else 0.0)
    jobs = [one for one in today(own, ON).jobs if one.kind == "water"]
    assert [one.why.startswith(told.why) for one in jobs] == [True] * (drill and told.advice == "water")
    if ago == 0:
        assert told.why == "moist already: sow, cover"


def test_what_the_diary_saw_goes_before_what_is_reckoned(garden: Path, answer: WateringAnswer) -> None:
    beetroot, courgette = row(answer, "beetroot"), row(answer, "courgette")
    assert beetroot.sowing is not None
    assert water_sown(garden, beetroot.sowing, ON).up == (date(2027, 4, 24),) * 3
    assert beetroot.today.phase == "rooting"
    assert courgette.sowing is not None
    assert water_sown(garden, courgette.sowing, ON).up == (date(2027, 5, 8),) * 3


def test_litres_are_for_what_is_left_of_it(answer: WateringAnswer) -> None:
    """Metres of drill on 6 m² are by the catalogue's row; half of the beetroot is lost."""
    from evenpick.crops.catalogue import load_catalogue

    carrot, beetroot = row(answer, "early-carrot"), row(answer, "beetroot")
    metres = 6.0 / load_catalogue().crop("early-carrot").spacing.row
    assert carrot.litres == pytest.approx(carrot.today.per_metre * metres)
    assert beetroot.area_m2 == pytest.approx(1.5)
    assert beetroot.litres == pytest.approx(beetroot.today.per_m2 * 1.5)


def test_the_round_and_the_one_sowing_are_one_course(garden: Path, answer: WateringAnswer) -> None:
    for one in answer.rows:
        assert one.sowing is not None
        alone = water_sown(garden, one.sowing, ON)
        assert alone.days[0] == one.today
        assert alone.next_due == one.next_due


def test_rain_of_ones_own_and_a_watering_are_taken_in(garden: Path, tmp_path: Path) -> None:
    own = tmp_path / "garden.toml"
    own.write_text(GARDEN, encoding="utf-8")
    sowing = new_id()
    keep(own, [Entry(sowing, number(5, 3), Sowed("early-carrot", "direct", "open", 6.0, ground="bed"))])
    dry = Entry(new_id(), number(5, 12), Reading(rain=0.0))
    keep(own, [Entry(new_id(), number(5, 10), Reading(rain=0.0)),
               Entry(new_id(), number(5, 11), Reading(rain=0.0)), dry])
    drier = row(watering(own, ON), "early-carrot")
    assert drier.today.recorded
    assert drier.today.advice == "water"
    assert drier.watered is None
    keep(own, [Entry(new_id(), number(5, 12), Watered(ground="bed"))])
    assert row(watering(own, ON), "early-carrot").watered == ON
    keep(own, [Entry(new_id(), number(5, 13), Reading(rain=20.0))])
    wet = row(watering(own, date(2027, 5, 13)), "early-carrot")
    assert wet.today.advice == "leave"
    assert wet.today.why == "the day's rain does it"


def test_what_stands_nowhere_is_refused(garden: Path, answer: WateringAnswer) -> None:
    for sowing in (answer.bench[0][0], "0" * 32):
        with pytest.raises(BadRequest, match="stands in the ground"):
            water_sown(garden, sowing, ON)


def test_in_a_heat_wave_a_standing_crop_is_told_a_day(tmp_path: Path) -> None:
    """No rain from 18 June to 19 July 2018: beetroot wants water twice in the fortnight in every year's
    reckoning, which differ in how fast it grows and so in the days."""
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN.replace("height =", 'soil = "sandy loam"\nheight ='), encoding="utf-8")
    keep(path, [Entry(new_id(), day_number(date(2018, 5, 20)), Sowed("beetroot", "direct", "open", 0.9))])
    told = row(watering(path, date(2018, 6, 26)), "beetroot")
    assert told.next_due is not None
    due = row(watering(path, told.next_due), "beetroot")
    assert due.today.advice == "water"
    assert due.litres > 15.0
    assert row(watering(path, told.next_due + timedelta(1)), "beetroot").today.advice == "leave"


def test_beds_that_are_up_are_told_beside_todays_jobs_as_the_round_tells_them(
    garden: Path, tmp_path: Path
) -> None:
    """In the weeks of a summer: the same beds on the same days with the same litres, half of the beetroot
    lost, until the diary has them watered on that day."""
    own = tmp_path / "garden.toml"
    own.write_text(GARDEN, encoding="utf-8")
    keep(own, lately(garden, day_number(ON)).entries)
    days = [date(2027, 6, 1) + timedelta(days=n) for n in range(0, 42, 3)]
    told = {}
    for on in days:
        due = {one.sowing: one.litres for one in watering(own, on).rows
               if one.today.advice == "water" and one.today.phase not in ON_THE_DRILL}
        told[on] = {bed.sowing: bed.litres for bed in today(own, on).thirsty}
        assert told[on] == pytest.approx(due)
    assert row(watering(own, days[0]), "beetroot").sowing in {bed for beds in told.values() for bed in beds}
    first = next(on for on in days if told[on])
    assert not [job for job in today(own, first).jobs if job.kind == "water" and job.sowing in told[first]]
    sowing = next(iter(told[first]))
    keep(own, [Entry(new_id(), day_number(first), Watered(sowing))])
    assert sowing not in {bed.sowing for bed in today(own, first).thirsty}


@pytest.mark.parametrize(("line", "reached"), [
    ("watered everything", {"garden", "north tunnel", None}), ("watered", {"garden", "north tunnel", None}),
    ("watered the tunnel", {"north tunnel"}), ("watered the garden", {"garden", None}),
    ("watered the south tunnel", set()),
])
def test_what_a_line_says_was_watered_is_asked_for_no_more(
    tmp_path: Path, line: str, reached: set[str | None]
) -> None:
    """'Watered everything', and a ground of several beds, left every drill and bed to be watered that day."""
    own = tmp_path / "garden.toml"
    beds = ('name = "garden"\ncover = "open"\narea = "60 m²"\n[[ground]]\nname = "tunnel"\ncover = "tunnel"\n'
            'area = "2 x 12 m x 5 m"\nbeds = ["north tunnel", "south tunnel"]\n[[outlet]]')
    start, _, rest = GARDEN.partition('name = "bed"')
    own.write_text(start + beds + rest.partition("[[outlet]]")[2], encoding="utf-8")
    sown = {place: new_id() for place in ("garden", "north tunnel", None)}
    on = date(2027, 7, 7)
    keep(own, [Entry(identity, day_number(on) - 4, Sowed("radish", "direct", cover, 2.0, ground=place))
               for place, identity in sown.items()
               for cover in ["tunnel" if place == "north tunnel" else "open"]])
    dry = {job.sowing for job in today(own, on).jobs if job.kind == "water"}
    assert sown["north tunnel"] in dry
    commit(own, understand(own, line, on))
    left = {job.sowing for job in today(own, on).jobs if job.kind == "water"}
    assert left == dry - {sown[place] for place in reached}


def test_much_is_told_in_cans(garden: Path, answer: WateringAnswer) -> None:
    """140 litres are no measure of anything that a grower carries: cans of 10 litres, or of two gallons."""
    from dataclasses import replace

    from evenpick.report.watering import in_all, watering_page

    one = answer.rows[0]
    words = {units: Words("british", units, {}, {}) for units in ("metric", "imperial")}
    assert in_all(replace(one, litres=140.0), words["metric"]) == "about 140 l, 14 cans"
    assert in_all(replace(one, litres=140.0), words["imperial"]) == "about 31 gal, 15 cans"
    assert in_all(replace(one, litres=9.0), words["metric"]) == "about 9.0 l"
    assert in_all(replace(one, litres=0.0), words["metric"]) == ""
    dry = replace(one, today=replace(one.today, advice="water"), watered=None, litres=140.0)
    both = " ".join(render(watering_page(replace(answer, rows=(dry, dry)), words["metric"])).split())
    alone = " ".join(render(watering_page(replace(answer, rows=(dry,)), words["metric"])).split())
    assert "Not water enough for all?" in both
    assert "Not water enough" not in alone
