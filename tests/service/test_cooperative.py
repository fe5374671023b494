"""A cooperative's plan (docs/design/cooperative.md). Invented farms; real weather of Dublin Airport, and
invented records where it is said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.days import day_number
from evenpick.base.errors import BadGarden, BadRequest
from evenpick.climate.site import Site
from evenpick.garden.diary import Lost, Sowed
from evenpick.garden.garden import Garden, WeatherChoice
from evenpick.plan.horizon import Horizon
from evenpick.service import farm_tasks
from evenpick.service.after_loss import after_loss
from evenpick.service.book import write
from evenpick.service.box import box
from evenpick.service.cooperative import (
    ground_by_farm,
    plan_cooperative,
    save_cooperative,
    today_by_farm,
)
from evenpick.service.cooperative_answer import CooperativeAnswer
from evenpick.service.cooperative_files import cooperative_of
from evenpick.service.cooperative_now import cooperative_now
from evenpick.service.growing import grown_crops
from evenpick.service.kept_together import kept_cooperative
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan
from evenpick.service.setups import is_cooperative
from evenpick.service.shared_weather import shared_weather
from evenpick.service.store_plan import save_plan, saved_plan

COOPERATIVE = """
[cooperative]
name = "Two Rivers"
[plan]
from = 2027-02-01
years = 3
[[farm]]
name = "valley"
garden = "valley/garden.toml"
[[farm]]
name = "hill"
garden = "hill.toml"
[[outlet]]
name = "boxes"
kind = "boxes"
shares = 8
"""
WISHES = """
[[wish]]
item = "radish"
each_week = "100 g"
from = "05-01"
until = "07-31"
"""
LETTUCE = """
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce", "cos-lettuce"]
each_week = "150 g"
from = "06-01"
until = "08-31"
"""
ONLY_HILL = """
[[wish]]
item = "beetroot"
each_week = "100 g"
from = "07-15"
until = "09-30"
farms = ["hill"]
"""
VALLEY = """
never = ["cos-lettuce"]
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "beds"
cover = "open"
area = "8 m2"
"""
HILL = """
[site]
at = "53.1, -6.4"
height = "250 m"
[plan]
sowing_day = "tuesday"
[[ground]]
name = "terrace"
cover = "open"
area = "12 m2"
[hours]
week = "3 h"
"""
DAY = date(2027, 2, 1)


def farms(folder: Path) -> Path:
    (folder / "valley").mkdir()
    valley = folder / "valley" / "garden.toml"
    valley.write_text(f'cooperative = "../coop.toml"\n{VALLEY}', encoding="utf-8")
    (folder / "hill.toml").write_text(f'cooperative = "coop.toml"\n{HILL}', encoding="utf-8")
    (folder / "coop.toml").write_text(COOPERATIVE + WISHES + LETTUCE + ONLY_HILL, encoding="utf-8")
    return folder / "coop.toml"


@pytest.fixture
def coop(tmp_path: Path) -> Path:
    return farms(tmp_path)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = farms(tmp_path_factory.mktemp("coop"))
    save_cooperative(file, plan_cooperative(file, DAY))
    return file


@pytest.fixture(scope="module")
def answer(kept: Path) -> CooperativeAnswer:
    return kept_cooperative(kept)


def test_a_byte_order_mark_is_passed_over(coop: Path) -> None:
    expected = cooperative_of(coop)
    for file in (coop, coop.parent / "hill.toml"):
        file.write_text("\ufeff" + file.read_text(encoding="utf-8"), encoding="utf-8")
    assert cooperative_of(coop) == expected
    coop.write_text("\ufeff[[farm]]\n", encoding="utf-8")
    assert is_cooperative(coop)


def test_every_farm_has_its_part_and_only_what_it_may_grow(answer: CooperativeAnswer) -> None:
    valley, hill = (farm.plan for farm in answer.farms)
    assert valley.sowings
    assert hill.sowings
    assert not {"cos-lettuce", "beetroot"} & {sowing.crop for sowing in valley.sowings}
    assert "beetroot" in {sowing.crop for sowing in hill.sowings}
    assert {sowing.sow.weekday() for sowing in valley.sowings} == {5}
    assert {sowing.sow.weekday() for sowing in hill.sowings} == {1}


def test_ground_and_hours_are_each_farms_own(answer: CooperativeAnswer) -> None:
    for farm, area in zip(answer.farms, (8.0, 12.0), strict=True):
        (ground,) = farm.plan.ground
        assert ground.area_m2 == pytest.approx(area)
        assert max(ground.used) <= area + 1e-6
    assert answer.farms[0].plan.hours is None
    hours = answer.farms[1].plan.hours
    assert hours is not None
    assert all(used <= there + 1e-6 for used, there in zip(hours.used, hours.there, strict=True))


def test_farms_parts_of_the_wants_are_the_wants(answer: CooperativeAnswer) -> None:
    for number, item in enumerate(answer.pickings):
        for at, week in enumerate(item.weeks):
            parts = [farm.plan.pickings[number].weeks[at] for farm in answer.farms]
            assert sum(part.wanted for part in parts) == pytest.approx(week.wanted)
            assert sum(part.bare for part in parts) == pytest.approx(week.bare)
    boxes = next(item for item in answer.pickings if item.item == "radish")
    assert max(week.wanted for week in boxes.weeks) == pytest.approx(0.8)


def test_a_farm_is_not_short_of_what_others_are_to_bring(answer: CooperativeAnswer) -> None:
    """A hundredth of a want, by the mean of its years, stood on a farm's page as bare."""
    brought = 0
    for number, item in enumerate(answer.pickings):
        for at in range(len(item.weeks)):
            parts = [farm.plan.pickings[number].weeks[at] for farm in answer.farms]
            if any(part.likely > 0 for part in parts):
                nothing = [part.wanted for part in parts if part.likely == 0]
                assert not any(nothing), (item.item, item.weeks[at].week)
                brought += len(nothing)
    assert brought


def test_no_part_of_a_want_falls_to_a_farm_that_may_not_grow_it(coop: Path) -> None:
    """In weeks in which nobody picks any kale too, before it can be ripe: all of it is the hill's."""
    kale = ONLY_HILL.replace("beetroot", "kale").replace("07-15", "02-01").replace("09-30", "03-31")
    coop.write_text(COOPERATIVE + WISHES + kale, encoding="utf-8")
    answer = plan_cooperative(coop, DAY, stop=lambda: True)
    (valley,), (hill,) = ([item for item in farm.plan.pickings if item.item == "kale"]
                          for farm in answer.farms)
    (whole,) = (item for item in answer.pickings if item.item == "kale")
    assert any(week.wanted > 0 and week.high == 0 for week in whole.weeks)
    assert {week.wanted for week in valley.weeks} == {0.0}
    assert [week.wanted for week in hill.weeks] == pytest.approx([week.wanted for week in whole.weeks])


def test_a_farms_day_warns_of_what_is_bare_on_all(kept: Path, answer: CooperativeAnswer) -> None:
    """What the other farm brings is not bare, though this one has none of it in its first weeks."""
    warned = 0
    for day in (DAY + timedelta(weeks=each) for each in range(8, 28, 2)):
        for farm in today_by_farm(cooperative_of(kept), day):
            assert farm.answer is not None
            for name, week in farm.answer.bare_ahead:
                (item,) = (one for one in answer.pickings if one.item == name)
                (of,) = (one for one in item.weeks if one.week == week)
                assert of.bare > 0.5 * of.wanted, (farm.name, name, week)
                warned += 1
    assert warned


def test_the_plan_is_proven_and_better_than_the_interval_rule(answer: CooperativeAnswer) -> None:
    assert answer.gap is not None
    assert answer.gap < 0.2
    assert answer.plan.bare + answer.plan.spare < answer.interval_rule.bare + answer.interval_rule.spare


def test_each_farm_finds_its_part_in_its_own_book(kept: Path, answer: CooperativeAnswer) -> None:
    for farm in answer.farms:
        found = saved_plan(kept.parent / farm.file)
        assert found is not None
        assert {each.item for each in found.others} == {"radish", "lettuce", "beetroot"}
        assert replace(found, others=(), together="") == farm.plan
    days = today_by_farm(cooperative_of(kept), DAY)
    assert [farm.name for farm in days if farm.answer is not None] == ["valley", "hill"]
    beds = {bed.name for farm in ground_by_farm(kept) if farm.answer is not None for bed in farm.answer.beds}
    assert beds == {"beds", "terrace"}


def test_the_box_is_one_share_of_what_all_farms_pick(kept: Path, answer: CooperativeAnswer) -> None:
    """Eight boxes; each item's likely pickings of the week, as far as they are wanted."""
    week = date(2027, 6, 28)
    found = box(kept, week)
    likely = {
        item.item: min(each.likely, each.wanted) / 8
        for item in answer.pickings for each in item.weeks if each.week == week
    }
    assert {one.item: one.kg for one in found.items} == pytest.approx(
        {item: kg for item, kg in likely.items() if kg >= 0.02}
    )
    assert len(found.items) >= 2


def test_a_farm_does_not_tell_customers_that_their_box_is_empty(kept: Path) -> None:
    with pytest.raises(BadRequest, match="packs its boxes together"):
        box(kept.parent / "hill.toml", date(2027, 6, 28))


def test_a_plan_is_kept_until_one_of_the_files_changes(coop: Path, answer: CooperativeAnswer) -> None:
    with pytest.raises(BadRequest, match="no plan for this cooperative"):
        kept_cooperative(coop)
    save_cooperative(coop, answer)
    assert kept_cooperative(coop) == answer
    hill = coop.parent / "hill.toml"
    hill.write_text(hill.read_text(encoding="utf-8").replace("12 m2", "14 m2"), encoding="utf-8")
    with pytest.raises(BadRequest, match="no plan for this cooperative"):
        kept_cooperative(coop)


def test_a_word_to_stop_hands_over_the_best_joint_plan_so_far(coop: Path, answer: CooperativeAnswer) -> None:
    """It is first asked when there is a plan, and what is proven of it is less than of the whole search's."""
    told: list[str] = []
    asked_at: list[str] = []

    def stop() -> bool:
        asked_at.append(told[-1])
        return True

    stopped = plan_cooperative(coop, DAY, lambda stage, share: told.append(stage), stop=stop)
    assert asked_at[0] == "sounding"  # the stage last told of: the first descent ends with a plan
    assert [stage.partition(":")[0] for stage in told[-2:]] == ["descent", "measuring on unseen years"]
    assert all(farm.plan.sowings for farm in stopped.farms)
    assert stopped.gap is not None
    assert answer.gap is not None
    assert answer.gap < stopped.gap < 1.0
    save_cooperative(coop, stopped)
    assert kept_cooperative(coop) == stopped


def one_farm(tmp_path: Path, area: str = "8 m2") -> tuple[Path, Path]:
    """A cooperative of one farm, and a garden just like it."""
    alone = COOPERATIVE.replace('[[farm]]\nname = "hill"\ngarden = "hill.toml"\n', "")
    (tmp_path / "valley").mkdir()
    file, farm, garden = tmp_path / "coop.toml", tmp_path / "valley" / "garden.toml", tmp_path / "garden.toml"
    file.write_text(alone + WISHES, encoding="utf-8")
    valley = VALLEY.replace("never", "# never").replace("8 m2", area)
    farm.write_text(f'cooperative = "../coop.toml"\n{valley}', encoding="utf-8")
    own = valley + "[plan]\nfrom = 2027-02-01\nyears = 3\n"
    outlet = '[[outlet]]\nname = "boxes"\nkind = "boxes"\nshares = 8\n'
    garden.write_text(own + outlet + WISHES, encoding="utf-8")
    return file, garden


def test_one_farm_is_planned_as_its_garden_is(tmp_path: Path) -> None:
    file, garden = one_farm(tmp_path)
    together, single = plan_cooperative(file, DAY), make_plan(garden, DAY)
    assert together.gap == pytest.approx(single.gap)
    assert together.plan == single.plan
    assert [(s.id, s.area_m2) for s in together.farms[0].plan.sowings] == [
        (s.id, s.area_m2) for s in single.sowings
    ]


def test_one_farm_is_mended_as_its_garden_is(tmp_path: Path) -> None:
    """What one more of each thing would bring was told of a garden alone."""
    file, garden = one_farm(tmp_path, "1 m2")
    farm = tmp_path / "valley" / "garden.toml"
    save_cooperative(file, plan_cooperative(file, DAY, stop=lambda: True))  # the proof is not asked for
    save_plan(garden, make_plan(garden, DAY, stop=lambda: True))
    later = date(2027, 4, 5)
    for each in (farm, garden):
        write(each, [(date(2027, 4, 3), Sowed("radish", "direct", "open", 0.25, ground="beds"), "")])
    together, single = plan_cooperative(file, later, mend=True), make_plan(garden, later, mend=True)
    assert [(s.name, s.cover, s.sow, s.area_m2) for s in together.farms[0].plan.sowings] == [
        (s.name, s.cover, s.sow, s.area_m2) for s in single.sowings
    ]
    assert together.gap is None
    assert together.holding == single.holding
    assert single.holding


def test_days_that_a_farms_plan_had_stay_in_it_as_it_is_mended(
    coop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A day that is nearly as good as the best was lost to a mended joint plan, and with it its sowing."""
    save_cooperative(coop, plan_cooperative(coop, DAY, stop=lambda: True))
    asked = list[int]()

    def grown(*given: object, planned: Mapping[object, object], **more: object) -> object:
        asked.append(len(planned))
        return grown_crops(*given, planned=planned, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(farm_tasks, "grown_crops", grown)
    plan_cooperative(coop, DAY, mend=True)
    plan_cooperative(coop, DAY, stop=lambda: True)
    before = [{(s.crop, s.name, s.way, s.cover) for s in farm.plan.sowings}
              for farm in kept_cooperative(coop).farms]
    assert asked == [*map(len, before), 0, 0]


def test_a_sowing_on_one_farm_is_reckoned_with_on_all(kept: Path) -> None:
    """What the valley has sown stands there, and is not sown again elsewhere for the same weeks."""
    valley = kept.parent / "valley" / "garden.toml"
    write(valley, [(date(2027, 5, 8), Sowed("radish", "direct", "open", 4.0, ground="beds"), "")])
    mended = plan_cooperative(kept, date(2027, 5, 10), mend=True)
    assert [s.crop for s in mended.farms[0].plan.standing] == ["radish"]
    assert mended.farms[1].plan.standing == ()
    assert mended.gap is None
    soon = [s for farm in mended.farms for s in farm.plan.sowings
            if s.crop == "radish" and s.sow < date(2027, 5, 20)]
    assert sum(sowing.area_m2 for sowing in soon) < 4.0


# What is refused


def told(file: Path) -> list[tuple[str, int | None, str]]:
    with pytest.raises(BadGarden) as refused:
        cooperative_of(file)
    return [(Path(p.file or "").name, p.line, p.what) for p in refused.value.problems]


def test_every_fault_of_every_file_is_told_where_it_stands(coop: Path) -> None:
    hill, valley = coop.parent / "hill.toml", coop.parent / "valley" / "garden.toml"
    hill.write_text(hill.read_text(encoding="utf-8").replace('"open"', '"opn"') + WISHES, encoding="utf-8")
    valley.write_text(VALLEY, encoding="utf-8")
    found = told(coop)
    places = [(name, line) for name, line, _ in found]
    assert places == [("coop.toml", 7), ("hill.toml", 10), ("hill.toml", 15)]
    assert "does not say that it is a farm" in found[0][2]
    assert "'opn'" in found[1][2]
    assert "[[wish]] is shared" in found[2][2]


RHUBARB = """
[[anyway]]
item = "rhubarb"
each_week = "1 kg"
[[anyway]]
item = "self-sown lettuce"
serves = "LETTUCE"
each_week = "100 g"
[[anyway]]
item = "walking onions"
serves = "lettuse"
each_week = "100 g"
"""


def test_a_farm_that_names_a_file_that_is_not_there_is_told_that_alone(coop: Path) -> None:
    """It was told as well that nothing is wished for, though wishes stand in the cooperative's file."""
    hill = coop.parent / "hill.toml"
    hill.write_text(hill.read_text(encoding="utf-8").replace("coop.toml", "other.toml"), encoding="utf-8")
    assert told(coop) == [("hill.toml", 1, "there is no file 'other.toml' here.")]


def test_the_cooperatives_own_file_is_no_farms(coop: Path) -> None:
    """It was told to name itself at its own top."""
    coop.write_text(coop.read_text(encoding="utf-8").replace('"hill.toml"', '"coop.toml"'), encoding="utf-8")
    assert [what for _, _, what in told(coop)] == ["the cooperative's own file is named as that of a farm."]


def test_what_comes_anyway_on_a_farm_serves_a_wish_of_the_cooperative(coop: Path) -> None:
    """Rhubarb for which nobody wishes may come; what is said to serve a wish must have one."""
    hill = coop.parent / "hill.toml"
    text = hill.read_text(encoding="utf-8")
    hill.write_text(text + RHUBARB.replace("lettuse", "radish"), encoding="utf-8")
    served = [each.serves for each in cooperative_of(coop).gardens[1].anyway]
    assert served == ["rhubarb", "LETTUCE", "radish"]
    hill.write_text(text + RHUBARB, encoding="utf-8")
    with pytest.raises(BadGarden) as refused:
        cooperative_of(coop)
    (fault,) = refused.value.problems
    line = (text + RHUBARB).splitlines().index('serves = "lettuse"') + 1
    assert (fault.file, fault.line, fault.field) == (str(hill), line, "anyway 3, serves")
    assert fault.what == "nobody wishes for 'lettuse' in the cooperative's file."
    assert "Did you mean 'lettuce'?" in fault.mend
    assert "'radish', 'lettuce', 'beetroot'" in fault.mend


def test_faults_of_the_cooperatives_own_file(coop: Path) -> None:
    text = COOPERATIVE.replace("hill.toml", "hil.toml").replace('name = "hill"', 'name = "valley"')
    coop.write_text(text + WISHES + ONLY_HILL.replace("beetroot", "radish"), encoding="utf-8")
    words = [what for _, _, what in told(coop)]
    for part in ("no file 'hil.toml'", "two farms have one name", "no [[farm]] is called 'hill'",
                 "'radish' is wished for twice"):
        assert any(part in what for what in words), part


def test_what_is_asked_of_one_garden_is_not_asked_of_a_cooperative(coop: Path) -> None:
    with pytest.raises(BadGarden, match="file of a cooperative") as refused:
        make_plan(coop, DAY)
    for farm in ("hill.toml", "valley/garden.toml"):
        assert str(coop.parent / farm) in refused.value.problems[0].mend
    with pytest.raises(BadRequest, match="keeps no diary"):
        write(coop, [(DAY, Sowed("radish", "direct", "open", 1.0), "")])
    with pytest.raises(BadRequest, match="planned together"):
        make_plan(coop.parent / "hill.toml", DAY)
    with pytest.raises(BadRequest, match="no loss"):
        after_loss(coop.parent / "hill.toml", "none", DAY)


# Weather in the same years (3)


def garden(name: str, lat: float, weather: WeatherChoice, height: float | None = None) -> Garden:
    return Garden(Site(name, lat, -6.2, height), (), (), (), weather=weather, farm=name)


def record(path: Path, first: int, last: int, warmer: float) -> Path:
    """An invented daily record: a warm half of the year, and spells that follow the calendar day; alike
    everywhere but for the level."""
    days = np.arange(day_number(date(first, 1, 1)), day_number(date(last, 12, 31)) + 1)
    season = 8.0 * np.sin(2 * np.pi * (days % 365.25 - 110) / 365.25)
    spell = 4.0 * np.sin(days / 7.1) + 2.0 * np.sin(days / 13.3)
    tmax, tmin = 12.0 + season + spell + warmer, 5.0 + season + spell + warmer
    lines = [f"{date(1970, 1, 1) + timedelta(days=int(d))},{low:.1f},{high:.1f},{2.0 * (d % 3 == 0):.1f}"
             for d, low, high in zip(days, tmin, tmax, strict=True)]
    path.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *lines]) + "\n", encoding="utf-8")
    return path


HORIZON = Horizon(day_number(DAY), 5)


def test_records_are_joined_by_their_calendar_years(tmp_path: Path) -> None:
    one = garden("a", 53.4, WeatherChoice(record=record(tmp_path / "a.csv", 1985, 2020, 0.0)))
    other = garden("b", 53.1, WeatherChoice(record=record(tmp_path / "b.csv", 1990, 2024, -2.0)))
    found = shared_weather([one, other], HORIZON, None, [{}, {}])
    (_, a), (_, b) = found.pairs
    assert a.labels == b.labels
    assert (a.labels[0], a.labels[-1]) == ("1990", "2018")
    assert a.tmin - b.tmin == pytest.approx(np.full(a.tmin.shape, 2.0), abs=0.11)
    assert "29 years that all of them have, 1990 to 2018" in found.notes[0]


def test_records_that_do_not_overlap_lend_their_months_alone(tmp_path: Path) -> None:
    """The shorter one's farm has the days of the longer, at its own level; that is told."""
    one = garden("a", 53.4, WeatherChoice(record=record(tmp_path / "a.csv", 1950, 1985, 0.0)))
    other = garden("b", 53.1, WeatherChoice(record=record(tmp_path / "b.csv", 1990, 2018, -2.0)))
    found = shared_weather([one, other], HORIZON, None, [{}, {}])
    (_, a), (_, b) = found.pairs
    assert a.labels == b.labels
    assert float((a.tmin - b.tmin).mean()) == pytest.approx(2.0, abs=0.3)
    assert np.corrcoef(a.tmin.ravel(), b.tmin.ravel())[0, 1] > 0.98
    assert "b has too few years in common with the others: the days of a" in found.notes[1]
    assert b.origin.source == "record of another farm, moved"


def test_a_farm_without_a_record_has_the_days_of_one_that_has(tmp_path: Path) -> None:
    """Dublin Airport's days against the same at a height of 250 m: colder, and alike from day to day."""
    found = shared_weather(
        [garden("valley", 53.4, WeatherChoice(packaged="dublin-airport"), 40.0),
         garden("hill", 52.9, WeatherChoice(), 250.0)], HORIZON, None, [{}, {}],
    )
    (_, valley), (_, hill) = found.pairs
    assert valley.labels == hill.labels
    assert float((valley.tmax - hill.tmax).mean()) > 0.5
    assert np.corrcoef(valley.tmax.ravel(), hill.tmax.ravel())[0, 1] > 0.98
    assert "hill has no daily record of enough years" in found.notes[1]


def test_without_any_record_made_years_share_their_chances() -> None:
    found = shared_weather(
        [garden("a", 46.0, WeatherChoice()), garden("b", 46.5, WeatherChoice())], HORIZON, None, [{}, {}]
    )
    (_, a), (_, b) = found.pairs
    assert a.labels == b.labels
    anomaly = [each.tmax - each.tmax.mean(axis=0) for each in (a, b)]
    assert np.corrcoef(anomaly[0].ravel(), anomaly[1].ravel())[0, 1] > 0.8
    assert "with the same chances" in found.notes[0]


def test_a_wish_that_every_grower_of_it_never_sows_is_a_fault(coop: Path) -> None:
    """It was told that no crop of it succeeds here."""
    hill = coop.parent / "hill.toml"
    hill.write_text('never = ["beetroot"]\n' + hill.read_text(encoding="utf-8"), encoding="utf-8")
    with pytest.raises(BadGarden) as raised:
        cooperative_of(coop)
    (problem,) = raised.value.problems
    said = "'beetroot' is wished for and stands under 'never' of every farm that may grow it: hill"
    assert said in problem.what
    assert problem.file == str(coop)
    assert problem.line is not None


def test_what_a_farm_lost_is_promised_no_more_by_all(coop: Path) -> None:
    """Its share comes off its own pickings, those of all farms, and the boxes, with a word on it."""
    answer = plan_cooperative(coop, DAY, stop=lambda: True)
    save_cooperative(coop, answer)
    farm = next(each for each in answer.farms
                if any(one.item == "radish" and one.sow < date(2027, 6, 1) for one in each.plan.sowings))
    sown = [one for one in farm.plan.sowings if one.item == "radish" and one.sow < date(2027, 6, 1)]
    file, day = coop.parent / farm.file, max(one.sow for one in sown) + timedelta(days=1)
    before = cooperative_now(coop, DAY)
    assert before.pickings == answer.pickings
    for one in sown:
        sowed = Sowed(one.crop, one.way, one.cover, one.area_m2, planned=one.id)
        (made,) = write(file, [(one.sow, sowed, "")])
        write(file, [(day, Lost(made.id, "eaten", 1.0, "slugs"), "")])
    after = cooperative_now(coop, day)
    assert radish(after) < radish(before)
    mine, was = (next(one for one in each.farms if one.name == farm.name) for each in (after, before))
    assert radish(mine.plan) < radish(was.plan)
    assert after.loss_note.startswith(f"{farm.name}: The plan is from before the loss of Radish")
    assert "evenpick plan" not in after.loss_note
    assert after.take_in == f"evenpick plan --garden {coop} --mend"
    other = next(one for one in after.farms if one.name != farm.name)
    assert radish(mine.plan) + radish(other.plan) == pytest.approx(radish(after))
    assert box(coop, day).note == f"{after.loss_note} Take it in with: {after.take_in}"


def radish(answer: CooperativeAnswer | PlanAnswer) -> float:
    return sum(week.likely for one in answer.pickings if one.item == "radish" for week in one.weeks)
