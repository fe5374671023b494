"""Plants that were bought: written, standing and expected as plants raised here are (record.md, R25).

INVENTED garden and diary, real weather of Dublin Airport.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadDiary
from evenpick.garden.diary import Entry, PlantedOut, SeedGot, Sowed
from evenpick.garden.diary_csv import read_csv, write_csv
from evenpick.garden.diary_json import entry_json, read_entry
from evenpick.garden.record import Sowing, fold
from evenpick.service.book import record_of, write
from evenpick.service.carried_out import carried_out
from evenpick.service.expectation import Expected
from evenpick.service.expected import expected
from evenpick.service.log import commit, latest, understand
from evenpick.service.packets import tin_now
from evenpick.service.setups import garden_of
from evenpick.service.standing import standing_sowings
from evenpick.service.today import today
from evenpick.service.undoing import undo
from evenpick.service.watering import water_sown, watering

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "bed A"
cover = "open"
area = "30 m2"
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
each_week = "2 kg"
"""
SET_OUT = date(2027, 5, 8)
OUT = day_number(SET_OUT)
LINE = "planted 24 bought lettuce in bed A"


def bought(garden: Path, line: str = LINE) -> Sowing:
    written = commit(garden, understand(garden, line, SET_OUT))
    assert len(written) == 1
    return record_of(garden).sowings[written[0].id]


def expect(garden: Path, *sowings: Sowing) -> list[Expected]:
    here = garden_of(garden)
    found = expected(here.site, here.weather, sowings, {}, SET_OUT, seedbed=here.seedbed)
    return [found[sowing.id] for sowing in sowings]


def test_a_line_writes_them_and_they_stand_from_that_day(garden: Path) -> None:
    one = bought(garden)
    assert (one.fact.crop, one.fact.bought, one.ground, one.cover) == ("leaf-lettuce", True, "bed A", "open")
    assert one.state(OUT) == "planted out"
    assert (one.planted_out, one.up, one.on_bench) == (OUT, None, False)
    (standing,) = standing_sowings(record_of(garden), OUT, None)
    assert (standing.planted_out, standing.bought, standing.area) == (OUT, True, one.area)
    assert "bought as plants" in latest(garden)[-1].words
    undo(garden, "", SET_OUT)
    assert not record_of(garden).sowings


@pytest.mark.parametrize("crop", ["leaf-lettuce", "calabrese", "leek"])
def test_they_are_picked_when_plants_raised_here_and_set_out_that_day_are(garden: Path, crop: str) -> None:
    """Their sowing is not known; a week either way of the raised ones' moves no picking by more than days."""
    one = fold([Entry("a" * 32, OUT, Sowed(crop, "raised", "open", 2.0, bought=True))]).sowings["a" * 32]
    raised = fold([
        Entry("b" * 32, OUT - 40, Sowed(crop, "raised", "open", 2.0)),
        Entry("c" * 32, OUT, PlantedOut("b" * 32)),
    ]).sowings["b" * 32]
    mine, theirs = expect(garden, one, raised)
    assert mine.first is not None
    assert theirs.first is not None
    assert mine.out == (SET_OUT,) * 3
    assert abs((mine.first[1] - theirs.first[1]).days) <= 4
    sown_now = replace(one, fact=replace(one.fact, bought=False), planted_out=None)
    (seed,) = expect(garden, sown_now)
    assert seed.first is not None
    assert seed.first[1] > mine.first[1] + timedelta(days=10)


def test_a_crop_that_is_only_sown_in_place_here_may_be_bought_too(garden: Path) -> None:
    one = bought(garden, "planted 20 beetroot plugs from the garden centre in bed A")
    (mine,) = expect(garden, one)
    sown = replace(one, fact=replace(one.fact, way="direct", bought=False), planted_out=None)
    (seed,) = expect(garden, sown)
    assert mine.first is not None
    assert seed.first is not None
    assert SET_OUT + timedelta(days=25) < mine.first[1] < seed.first[1] - timedelta(days=14)


def test_bought_plants_of_what_is_sown_in_place_stand_in_the_round_of_water(garden: Path) -> None:
    """It said that raised is no way of starting beetroot."""
    bought(garden, "planted 20 beetroot plugs from the garden centre in bed A")
    (row,) = watering(garden, SET_OUT + timedelta(days=20)).rows
    assert (row.crop, row.today.phase) == ("beetroot", "growing")
    assert water_sown(garden, row.sowing or "", SET_OUT + timedelta(days=20)).days


def test_nobody_is_asked_to_look_for_seedlings_or_to_plant_them_out(garden: Path) -> None:
    one = bought(garden)
    asked: set[str] = set()
    for week in range(12):
        answer = today(garden, SET_OUT + timedelta(weeks=week))
        asked |= {job.kind for job in (*answer.jobs, *answer.coming) if job.sowing == one.id}
    assert "pick" in asked
    assert not asked & {"look", "harden off", "plant out", "prick out"}


def test_no_seed_is_taken_from_the_tin(garden: Path) -> None:
    write(garden, [(SET_OUT - timedelta(days=60), SeedGot("leaf-lettuce", seeds=500.0, year=2027), "")])
    bought(garden)
    (packet,) = tin_now(garden_of(garden), record_of(garden))
    assert (packet.seeds, packet.reckoned) == (500.0, False)


def test_they_carry_out_the_sowing_that_was_to_be_planted_out_then() -> None:
    import sys

    sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
    import invented

    planned = replace(invented.PLAN.sowings[0], id="p", crop="leek", way="raised", cover="open",
                      sow=SET_OUT - timedelta(days=60), plant_out=SET_OUT)
    fact = Sowed("leek", "raised", "open", 2.0, bought=True)
    near, seed_time = (fold([Entry("a" * 32, day, fact)]).sowings.values() for day in (OUT + 3, OUT - 60))
    assert carried_out([planned], near) == {"p": "a" * 32}
    assert carried_out([planned], seed_time) == {}


def test_csv_and_json_take_them_and_seed_is_never_bought_plants() -> None:
    text = "day,kind,crop,way,cover,area,bought\n2027-05-08,sowed,leaf-lettuce,raised,open,1.5,true\n"
    (entry,) = read_csv(text, "diary.csv")
    assert isinstance(entry.fact, Sowed)
    assert entry.fact.bought
    assert read_entry(entry_json(entry)) == entry
    assert read_csv(write_csv([entry]), "again.csv") == (entry,)
    with pytest.raises(BadDiary, match="raised"):
        read_csv(text.replace("raised", "direct"), "diary.csv")


def test_where_none_is_under_way_the_line_is_told_how_to_say_it(garden: Path) -> None:
    answer = understand(garden, "planted out 12 cauliflowers in bed A", SET_OUT)
    assert answer.outcome == "refused"
    assert "bought" in answer.mend
    kept = understand(garden, "bought 12 cauliflower plants", SET_OUT)
    assert kept.outcome == "refused"


def test_the_day_is_the_planting(garden: Path) -> None:
    one = bought(garden)
    assert day_date(one.day) == SET_OUT
    assert one.state(OUT - 1) == "sown"
