"""From wishes, ground and weather to the planner's request (docs/design/days.md, outlook.md O14)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from garden_task import BEGIN, GARDEN, HORIZON, all_batches, groups, made, settings, wanted, whole, wish

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number, monday
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WORTH_A_SOWING, Wish
from evenpick.outlook.windows import workable_ground
from evenpick.plan.effort import Effort
from evenpick.plan.given import nothing_given
from evenpick.plan.horizon import COUNTED_WEEKS, SOWING_WEEKS, WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.least import least_area, least_areas, step
from evenpick.plan.make import make_plan
from evenpick.plan.options import batches
from evenpick.plan.request import Candidates, Supply
from evenpick.plan.task import ROOM, Task, reachable, task
from evenpick.plan.wanted import wanted_items
from evenpick.plan.weekly import share_there

LARGE = 200.0  # m², on which every usual least is less than a twentieth of the ground

# What is wanted (days.md, 6 and 7)


def one_item(*wishes: Wish, begin: int = BEGIN, stored: frozenset[str] = frozenset()) -> Floats:
    (item,) = wanted_items(wishes, Horizon(begin, 5), stored)
    return item.kg


def test_all_the_year_is_counted_to_week_70() -> None:
    kg = one_item(wish("radish", "radish", kg=2.0))
    assert (kg[:COUNTED_WEEKS] == 2.0).all()
    assert (kg[COUNTED_WEEKS:] == 0.0).all()
    assert kg.shape == (WEEKS,)


def test_what_is_stored_is_counted_to_the_end() -> None:
    assert (one_item(wish("potato", "main-potato"), stored=frozenset({"main-potato"})) == 1.0).all()
    mixed = one_item(wish("roots", "main-potato", "radish"), stored=frozenset({"main-potato"}))
    assert mixed[-1] == 0.0


def test_part_weeks_count_by_their_days() -> None:
    """1 July 2027 is a Thursday, 31 July a Saturday: four days of the first week, six of the last."""
    kg = one_item(wish("pea", "pea", kg=7.0, opens=(7, 1), closes=(7, 31)))
    first = (monday(day_number(date(2027, 7, 1))) - HORIZON.start) // 7
    assert kg[first - 1 : first + 6].tolist() == [0, 4, 7, 7, 7, 6, 0]


@pytest.mark.parametrize("begin", [BEGIN, day_number(date(2027, 12, 29)), day_number(date(2028, 2, 29))])
def test_a_season_over_the_new_year(begin: int) -> None:
    """Every week's share is the number of its days from 1 December to 28 February."""
    kg = one_item(wish("leek", "leek", kg=7.0, opens=(12, 1), closes=(2, 28)), begin=begin)
    days = monday(begin) + np.arange(COUNTED_WEEKS * 7)
    dates = [date(1970, 1, 1).fromordinal(719163 + int(day)) for day in days]
    inside = np.array([d.month in (12, 1) or (d.month == 2 and d.day <= 28) for d in dates])
    assert kg[:COUNTED_WEEKS] == pytest.approx(inside.reshape(-1, 7).sum(axis=1))
    assert kg.max() == 7


def test_outlets_add_up_and_the_weight_is_by_amount() -> None:
    (item,) = wanted_items(
        [wish("salad", "cos-lettuce", kg=1.0, weight=1.0),
         wish("salad", "cos-lettuce", "rocket", kg=3.0, weight=2.0, outlet="stall")], HORIZON, set(),
    )  # fmt: skip
    assert item.crops == ("cos-lettuce", "rocket")
    assert item.kg[0] == 4.0
    assert item.weight == pytest.approx(1.75)


# Days (days.md, 4 and 5)


def test_sow_days_are_the_growers_weekday_and_none_is_past() -> None:
    days = HORIZON.sow_days()
    assert {(HORIZON.start + day) % 7 for day in days} == {(monday(BEGIN) + 5) % 7}
    assert HORIZON.start + days[0] >= BEGIN > HORIZON.start + days[0] - 7
    assert days[-1] < SOWING_WEEKS * 7
    late = Horizon(BEGIN, weekday=1)
    assert late.start + late.sow_days()[0] == BEGIN + 6


def test_a_first_week_whose_day_is_past_is_sown_on_another_of_the_growers_days() -> None:
    """Sown on Tuesdays and Thursdays: of a plan of Wednesday the first is Thursday, then every Tuesday."""
    tuesday = monday(BEGIN) + 1
    begins = (tuesday - 1, tuesday, tuesday + 1, tuesday + 2, tuesday + 3)
    for begin, first in zip(begins, (1, 1, 3, 3, 8), strict=True):
        days = Horizon(begin, 1, (1, 3)).sow_days()
        assert days[0] == first
        assert (days[1:] % 7 == 1).all()


# Supply (outlook.md, O14)


def test_all_that_is_grown_is_supplied() -> None:
    """Σ kg = yield × share × quality × stand × harvest, where it lives and the horizon holds it all."""
    checked = 0
    for batch in all_batches():
        out, part = batch.outcome, batch.ripening
        shape = out.first.shape
        given = np.bincount(part.year * shape[1] + part.sowing, part.share, out.first.size).reshape(shape)
        wanted_share = (out.share * out.quality).astype(np.float64)
        whole_in = (out.last.astype(int) <= (WEEKS - 4) * 7) & (wanted_share > 0.1)
        np.testing.assert_allclose(given[whole_in], wanted_share[whole_in], atol=2e-6)
        assert (given[out.share == 0] == 0).all()
        checked += int(whole_in.sum())
    assert checked > 10_000


def test_supply_is_the_yield_times_every_factor() -> None:
    made_task = whole()
    supply = made_task.request.supply
    n, years = len(made_task.options), made_task.request.years
    kg = np.bincount(supply.candidate * years + supply.year, supply.kg, n * years).reshape(n, years)
    members = np.arange(0, settings().weather.years, 2)
    for number in range(0, n, 17):
        batch, i = made_task.options[number].batch, made_task.options[number].index
        out = batch.outcome
        factor = (batch.stand[:, i] * batch.harvest[:, 0])[members] * batch.crop.produce.kg_per_m2
        grown = (out.share * out.quality)[members, i].astype(np.float64) * factor
        # what ripens after the item's last counted week, or once it is cleared, is left out on purpose
        option = made_task.options[number]
        end = min(np.flatnonzero(wanted()[option.item].kg)[-1], option.gives_to)
        lived = (out.share[members, i] > 0.1) & (out.last[members, i] <= (min(WEEKS, end) - 4) * 7)
        np.testing.assert_allclose(kg[number, lived], grown[lived], atol=1e-5, rtol=1e-5)


def test_seen_and_unseen_years_are_supplied_alike_but_apart() -> None:
    seen, unseen = whole().request.supply, whole().unseen
    assert 0 <= unseen.candidate.min() <= unseen.candidate.max() < len(whole().options)
    assert not np.array_equal(seen.kg[:50], unseen.kg[:50])
    assert unseen.year.max() < whole().unseen_years


def test_nothing_is_ripe_before_its_first_picking_or_past_its_time_before_it_is_ripe() -> None:
    for batch in all_batches():
        part = batch.ripening
        first = batch.outcome.first[part.year, part.sowing].astype(int)
        assert (part.ripe >= first // 7).all()
        assert (part.last >= part.ripe).all()
        assert (part.share > 0).all()


def test_stand_and_harvest_are_about_a_good_one() -> None:
    """Factors on the yield of a good stand and of a usual year: means about 1, never below nought (E4)."""
    for batch in all_batches():
        assert 0.5 < batch.stand.mean() <= 1.1
        assert batch.stand.min() >= 0
        assert batch.harvest.mean() == pytest.approx(1.0, abs=0.25)


# Ground (days.md, 8)


def test_ground_weeks_are_half_open_and_never_empty() -> None:
    for batch in all_batches():
        assert (batch.from_week >= 0).all()
        assert (batch.to_week > batch.from_week).all()
        assert (batch.to_week <= WEEKS).all()
        if batch.way.name != "raised":
            assert (batch.from_week == batch.days // 7).all()


def test_ground_is_held_until_four_years_in_five_have_cleared_it() -> None:
    for batch in all_batches():
        out = batch.outcome
        if batch.crop.harvest.profile == "stored":
            continue
        busy = np.where(out.share > 0, out.last.astype(int), out.place.astype(int))
        for i in range(batch.days.size):
            if batch.to_week[i] < WEEKS:
                assert (busy[:, i] <= batch.to_week[i] * 7).mean() >= 0.8


def test_every_candidate_takes_its_ground_once_a_week() -> None:
    made_task, ground = whole(), whole().request.grounds
    kept = {name: number for number, name in enumerate(ground.names)}
    for number in range(0, len(made_task.options), 23):
        option = made_task.options[number]
        batch, i = option.batch, option.index
        assert batch.from_week[i] == option.held.start
        assert option.held.stop == min(batch.to_week[i], option.wanted_to)
        row = kept["tunnel" if batch.cover == "tunnel" else "open"]
        here = (ground.candidate == number) & (ground.row == row)
        assert sorted(ground.week[here].tolist()) == list(option.held)
        assert (ground.coefficient[here] == 1.0).all()
        rows = set(ground.row[ground.candidate == number].tolist())
        assert (kept["fleece"] in rows) == (batch.cover == "fleece")
        assert (kept["bench"] in rows) == (batch.way.name == "raised")


# Least and most (days.md, 6 and 10)


def test_least_areas() -> None:
    """A short row 2 m long, three stations, half a square metre broadcast; from the crop's own spacing."""
    for crop in load_catalogue().crops:
        space = crop.spacing
        wanted_area = {"row": 2.0 * space.row, "station": 3 * space.in_row * space.row, "broadcast": 0.5}
        assert least_area(crop, LARGE) == pytest.approx(wanted_area[space.layout])


@pytest.mark.parametrize(("crop", "useful", "least", "most"), [
    ("parsley", 4.4, 4.0, 4.4),  # a whole short row can be used: as ever
    ("parsley", 2.8, 2.0, 2.8),  # half of it, in whole half metres
    ("parsley", 0.4, 1.0, 1.0),  # half a metre may always be made
    ("cucumber", 0.6, 1.0, 1.0),  # a plant
    ("cucumber", 2.7, 2.0, 2.7),
])
def test_where_less_than_a_short_row_is_wanted(crop: str, useful: float, least: float, most: float) -> None:
    """In half metres of row, four of them the usual least, and plants, three of them; days.md, 10."""
    one = load_catalogue().crop(crop)
    of_use = np.array([useful * step(one)])
    got = least_areas([one], of_use, of_use, np.ones(1), LARGE)
    assert np.concatenate(got) == pytest.approx([least * step(one), most * step(one)])


@pytest.mark.parametrize(("crop", "ground", "rows"), [
    ("radish", LARGE, 4), ("radish", 6.0, 4), ("radish", 4.0, 3), ("radish", 1.0, 1), ("radish", 0.1, 1),
    ("cucumber", LARGE, 3), ("cucumber", 1.0, 1),
])
def test_on_little_ground_rows_are_short(crop: str, ground: float, rows: int) -> None:
    """A twentieth of all ground, in half metres of row or plants, where that is less than the usual least."""
    one = load_catalogue().crop(crop)
    assert least_area(one, ground) == pytest.approx(rows * step(one))
    much = np.full(1, LARGE)
    least, _ = least_areas([one], much, much, np.ones(1), ground)
    assert least[0] == least_area(one, ground)


def test_a_small_sowing_is_left_out_where_its_weeks_want_little() -> None:
    """The second's weeks lie at the season's end and have a fifth of the usual wish: it keeps the usual
    least."""
    parsley = load_catalogue().crop("parsley")
    useful, wanted_share = np.full(3, 0.3), np.array([1.0, 0.2, 0.5])
    least, most = least_areas([parsley] * 3, useful, useful, wanted_share, LARGE)
    assert (most >= least).tolist() == [True, False, True]


def test_what_gives_nothing_is_left_out() -> None:
    parsley = load_catalogue().crop("parsley")
    nothing = np.zeros(1)
    least, most = least_areas([parsley], nothing, nothing, np.ones(1), LARGE)
    assert most[0] < least[0]


def test_one_who_wants_half_a_bunch_of_radish_a_week_sows_a_metre() -> None:
    """A year's picking of a sowing lasts some two weeks; all years' together lie over seven, and by those the
    least was three times as much, most of which went over."""
    catalogue, item = load_catalogue(), wish("radish", "radish", kg=0.08)
    grown = batches([catalogue.crop("radish")], GARDEN, settings(), workable_ground(settings()), HORIZON,
                    groups(), DEFAULT_SEED)
    got = task(GARDEN, wanted_items([item], HORIZON, set()), grown, *groups(), DEFAULT_SEED).request
    half_a_metre = step(catalogue.crop("radish"))
    assert (got.candidates.least <= 2 * half_a_metre + 1e-9).mean() >= 0.4
    assert (got.candidates.most > half_a_metre).mean() > 0.9
    plan = make_plan(got, Effort(branch_rounds=2, seconds=20.0))
    assert (plan.areas > 0).sum() >= 4
    assert plan.value < 0.8 * plan.nothing


@pytest.mark.parametrize(("a_week", "bother"), [(0.2, 0.5), (1.0, 0.5), (1.5, 0.75), (2.0, 1.0), (6.0, 1.0)])
def test_what_is_wanted_seldom_must_bring_less(a_week: float, bother: float) -> None:
    """Portions of a week, and what a sowing must bring of what the garden says; half at least."""
    radish = load_catalogue().crop("radish")
    item = wish("radish", "radish", kg=a_week * radish.produce.portion_kg)
    grown = batches([radish], GARDEN, settings(), workable_ground(settings()), HORIZON, groups(),
                    DEFAULT_SEED)
    got = task(GARDEN, wanted_items([item], HORIZON, set()), grown, *groups(), DEFAULT_SEED).request
    assert got.candidates.trouble == pytest.approx(np.full(len(got.candidates), bother * WORTH_A_SOWING))


def test_two_who_want_little_parsley_can_have_it() -> None:
    """Two portions of 4 g a week: a short row of 0.6 m² gives more than its weeks could use."""
    catalogue, item = load_catalogue(), wish("parsley", "parsley", kg=0.008)
    grown = batches([catalogue.crop("parsley")], GARDEN, settings(), workable_ground(settings()), HORIZON,
                    groups(), DEFAULT_SEED)
    got = task(GARDEN, wanted_items([item], HORIZON, set()), grown, *groups(), DEFAULT_SEED).request
    assert 0 < got.candidates.least.min() < least_area(catalogue.crop("parsley"), LARGE)
    assert got.wanted.sum() > 40 * 0.008
    plan = make_plan(got, Effort(branch_rounds=2, seconds=20.0))
    assert plan.value < 0.6 * plan.nothing


def test_most_is_room_for_what_its_weeks_want_and_the_ground() -> None:
    request, supply = whole().request, whole().request.supply
    kg = np.stack([item.kg for item in wanted()])
    assert (request.candidates.most >= request.candidates.least).all()
    for number in range(0, len(request.candidates), 29):
        mine = supply.candidate == number
        first, last = supply.ripe[mine].min(), min(supply.last[mine].max(), WEEKS - 1)
        served = kg[request.candidates.item[number], first : last + 1].sum()
        mean_kg = supply.kg[mine].sum() / request.years
        limit = {"tunnel": 8.0, "fleece": 10.0}.get(whole().options[number].batch.cover, 40.0)
        assert request.candidates.most[number] == pytest.approx(min(ROOM * served / mean_kg, limit))


def test_what_is_sown_in_the_second_year_is_counted_no_longer_than_the_rest() -> None:
    """Stores are counted to the horizon's end for what the first year sows; an onion of the second spring has
    no rivals past the counted weeks and would have any ground that is bare."""
    catalogue, item = load_catalogue(), wish("onions", "onion")
    grown = batches([catalogue.crop("onion")], GARDEN, settings(), workable_ground(settings()), HORIZON,
                    groups(), DEFAULT_SEED)
    got = task(GARDEN, wanted_items([item], HORIZON, {"onion"}), grown, *groups(), DEFAULT_SEED)
    sown = np.concatenate([batch.days for batch in grown["onion"]])
    assert (sown >= YEAR_WEEKS * 7).any()
    supply, day = got.request.supply, got.request.candidates.day
    late = day[supply.candidate] >= YEAR_WEEKS * 7
    assert (supply.ripe[late] < COUNTED_WEEKS).all()
    assert (supply.last[~late] >= COUNTED_WEEKS).any()
    assert got.request.wanted[0, COUNTED_WEEKS:].sum() > 0


def test_reachable() -> None:
    """Wishes before the first week that any sowing can serve are struck out, and past the counted weeks those
    that nothing is good for any more; the rest stand."""
    kg = np.ones((2, WEEKS))
    nought = np.zeros(3)
    days = np.zeros(3, dtype=np.int64)
    candidates = Candidates(np.array([0, 0, 1]), ("a", "b", "c"), days, nought, nought, nought, nought)
    supply = Supply(
        np.array([0, 1, 1]), np.zeros(3, dtype=np.int64), np.array([12, 9, 30]), np.full(3, 40), np.ones(3)
    )
    got = reachable(kg, candidates, supply, nothing_given())
    assert got[0].tolist() == [0.0] * 9 + [1.0] * (COUNTED_WEEKS - 9) + [0.0] * (WEEKS - COUNTED_WEEKS)
    assert got[1].sum() == 0
    stored = Supply(supply.candidate, supply.year, supply.ripe, np.array([90, 40, 40]), supply.kg)
    got = reachable(kg, candidates, stored, nothing_given())
    assert got[0].tolist() == [0.0] * 9 + [1.0] * (91 - 9) + [0.0] * (WEEKS - 91)


# Used by many: the load of the ground, and how often something is there


def test_what_areas_take_of_the_ground_is_the_sum_of_its_entries() -> None:
    ground = whole().request.grounds
    areas = np.linspace(0.0, 2.0, len(whole().options))
    by_hand = np.zeros_like(ground.limit)
    for row, j, week, each in zip(
        ground.row, ground.candidate, ground.week, ground.coefficient, strict=True
    ):
        by_hand[row, week] += each * areas[j]
    assert ground.used(areas) == pytest.approx(by_hand)


def test_the_share_of_years_counts_a_year_once_however_much_is_there() -> None:
    """Group 0: year 0 good in weeks 1 and 2, twice over; year 1 in week 2. Group 1: year 1 past the end."""
    group, year = np.array([0, 0, 0, 1]), np.array([0, 0, 1, 1])
    ripe, last = np.array([1, 1, 2, 3]), np.array([2, 2, 2, 9])
    share = share_there(group, 2, year, 2, ripe, last, 4)
    assert share.tolist() == [[0.0, 0.5, 1.0, 0.0], [0.0, 0.0, 0.0, 0.5]]


# What a sowing must bring (garden-toml.md)


def test_the_bother_of_a_sowing_is_what_the_grower_says() -> None:
    usual, keen = whole().request.candidates.trouble, bothered(1.0).request.candidates.trouble
    assert keen == pytest.approx(usual / WORTH_A_SOWING)


def test_who_likes_it_less_sows_less_often() -> None:
    """The same garden and the same effort, of every fourth year; plans are proven within a few per cent, and
    that can't undo it."""
    plans = [make_plan(bothered(worth, 4).request, Effort(branch_rounds=0)).areas for worth in (0.5, 8.0)]
    often, seldom = ((areas > 0).sum() for areas in plans)
    assert seldom < 0.8 * often


def bothered(worth: float, every: int = 1) -> Task:
    """The garden's task of `every` so many of its years."""
    garden = replace(GARDEN, plan=replace(GARDEN.plan, worth_a_sowing=worth))
    return task(garden, wanted(), made(), *(years[::every] for years in groups()), DEFAULT_SEED)


@pytest.mark.parametrize(("key", "covered"), [("beetroot", True), ("leek", False), ("kale", False)])
def test_what_mostly_stands_into_winter_earns_no_cover(key: str, covered: bool) -> None:
    """Beetroot had none either since some of it is stored, and was "too soon for anything sown from now"
    until midsummer."""
    crop = load_catalogue().crop(key)
    grown = batches([crop], GARDEN, settings(), workable_ground(settings()), HORIZON, groups(), DEFAULT_SEED)
    assert ({batch.cover for batch in grown[key]} != {"open"}) is covered
