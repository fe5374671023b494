"""Crops in the ground: grown from their own day, with what was seen of them (docs/design/season.md, 2, 3)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from garden_task import GARDEN, HORIZON, groups, made, settings, wanted

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.trade import CoverName
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import Anyway
from evenpick.plan.given import met_by
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.limits import REFUSED_DAYS, Refused, Season
from evenpick.plan.luck import STAND, best_emerged, stand_factors
from evenpick.plan.options import Batch
from evenpick.plan.standing import Grown, Standing, given_by, grown, serves
from evenpick.plan.task import Task, task
from evenpick.plan.wanted import given_anyway

LATER = Horizon(HORIZON.start + 7 * 20, HORIZON.weekday)  # 5 July: twenty weeks after the axis begins


def batch_of(crop: str, way: str = "direct", cover: str = "open") -> Batch:
    return next(b for b in made()[crop] if (b.way.name, b.cover) == (way, cover))


def standing(batch: Batch, index: int, **seen: object) -> Standing:
    sow = HORIZON.start + int(batch.days[index])
    plain = Standing("one", batch.crop.key, batch.way.name, batch.cover, sow, 2.0)
    return replace(plain, **seen)  # type: ignore[arg-type]


def grow_on(one: Standing, horizon: Horizon = HORIZON) -> Grown:
    crop = load_catalogue().crop(one.crop)
    alike = [b for b in made().get(one.crop, ()) if (b.way.name, b.cover) == (one.way, one.cover)]
    best = best_emerged(alike[0].outcome) if alike else None
    return grown(one, crop, settings(), horizon, groups(), DEFAULT_SEED, best)


def by_year(one: Grown) -> Floats:
    return np.asarray(np.bincount(one.year, one.kg, settings().weather.years))


@pytest.mark.parametrize(("crop", "way"), [("radish", "direct"), ("courgette", "raised"), ("pea", "direct")])
def test_a_fixed_sowing_gives_what_the_planned_one_would(crop: str, way: str) -> None:
    """The same entries, kilogram for kilogram, and the same weeks of ground as the candidate it was."""
    batch = batch_of(crop, way)
    i = batch.days.size // 2
    one = grow_on(standing(batch, i))
    part = batch.ripening
    mine = part.sowing == i
    good = (batch.stand[:, i] * batch.harvest[:, 0])[part.year]
    kg = part.share * good * batch.crop.produce.kg_per_m2 * 2.0
    keep = mine & (kg > 0)
    assert one.kg == pytest.approx(kg[keep])
    assert (one.ripe == part.ripe[keep]).all()
    assert (one.last == part.last[keep]).all()
    ground = next(hold for hold in one.holds if hold.row == "open")
    assert (ground.first, ground.end) == (batch.from_week[i], batch.to_week[i])
    assert {hold.row for hold in one.holds} == ({"open", "bench"} if way == "raised" else {"open"})


def test_what_was_seen_goes_before_what_is_reckoned() -> None:
    batch = batch_of("courgette", "raised")
    plain = grow_on(standing(batch, 0), LATER)
    sow = int(batch.days[0])
    out, first = HORIZON.start + sow + 50, HORIZON.start + sow + 95
    seen = grow_on(standing(batch, 0, planted_out=out, first_picked=first), LATER)
    assert (seen.outcome.place[:, 0] == sow + 50).all()
    assert (seen.outcome.first[:, 0] == sow + 95).all()
    assert np.ptp(plain.outcome.first[:, 0]) > 0
    assert {hold.row for hold in seen.holds} == {"open"}


def test_bought_plants_set_out_today_give_what_raised_ones_set_out_today_do() -> None:
    """Raised from seed sown at about the right time for their size; and far sooner than seed sown today."""
    today = LATER.begin
    plain = Standing("one", "courgette", "raised", "open", today, 2.0)
    bought = grow_on(replace(plain, planted_out=today, bought=True), LATER)
    raised = grow_on(replace(plain, sow=today - 30, planted_out=today), LATER)
    seed = grow_on(plain, LATER)
    first = [float(np.median(one.outcome.first[:, 0])) for one in (bought, raised, seed)]
    assert abs(first[0] - first[1]) <= 2
    assert first[2] > first[0] + 10
    assert {hold.row for hold in bought.holds} == {"open"}
    assert bought.kg.sum() > 0


def test_seen_up_late_is_picked_late() -> None:
    batch = batch_of("radish")
    i = int(np.searchsorted(batch.days, 100))
    usual = grow_on(standing(batch, i), LATER)
    up = HORIZON.start + int(batch.days[i]) + 21
    late = grow_on(standing(batch, i, up=up), LATER)
    assert (late.outcome.first >= usual.outcome.first).all()
    assert (late.outcome.first > usual.outcome.first).any()


def test_nothing_that_is_past_is_given_again() -> None:
    batch = batch_of("radish")
    i = int(np.searchsorted(batch.days, 84))
    up = HORIZON.start + int(batch.days[i]) + 12
    ahead, later = (grow_on(standing(batch, i, up=up), horizon) for horizon in (HORIZON, LATER))
    assert later.ripe.min() >= 0
    assert later.last.min() >= 0
    assert by_year(later).mean() < by_year(ahead).mean()


def test_a_sowing_long_over_gives_nothing_and_still_holds_its_ground_this_week() -> None:
    one = grow_on(standing(batch_of("radish"), 0), Horizon(HORIZON.start + 7 * 40, 5))
    assert one.kg.size == 0
    assert [(hold.row, hold.first, hold.end) for hold in one.holds] == [("open", 0, 1)]


@pytest.mark.parametrize("cover", ["fleece", "cloche"])
def test_a_cover_that_moves_about_is_taken_with_the_ground_it_stands_on(cover: CoverName) -> None:
    batch = batch_of("radish")
    one, bare = grow_on(replace(standing(batch, 5), cover=cover)), grow_on(standing(batch, 5))
    assert {hold.row for hold in one.holds} == {"open", cover}
    assert len({(hold.first, hold.end, hold.amount) for hold in one.holds}) == 1
    assert [hold.row for hold in bare.holds] == ["open"]


@pytest.mark.parametrize(("crop", "way"), [("radish", "direct"), ("courgette", "raised")])
def test_some_sowings_fail(crop: str, way: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each sowing loses in each group of years just what its way is said to lose: no sowing is the lucky one,
    and it is the same on many years as on few."""
    batch = batch_of(crop, way)
    best = best_emerged(batch.outcome)
    factor = stand_factors(batch.outcome, 0, groups(), DEFAULT_SEED, best)
    mean, size, chance = STAND[way]
    monkeypatch.setitem(STAND, way, (mean, size, 0.0))
    lost = 1 - factor / stand_factors(batch.outcome, 0, groups(), DEFAULT_SEED, best)
    for group in groups():
        assert lost[group].mean(axis=0) == pytest.approx(chance)
        assert ((lost[group] > 1e-9) & (lost[group] < 1 - 1e-9)).sum(axis=0).max() <= 1  # the rest is whole


def test_luck_is_that_of_a_date() -> None:
    """However late the axis begins; else a plan mended in April was held against other luck than in March."""
    batch = batch_of("radish")
    best, week = best_emerged(batch.outcome), 7
    sooner = stand_factors(batch.outcome, 100, groups(), DEFAULT_SEED, best)
    shifted = replace(batch.outcome, sow=batch.outcome.sow - week)
    assert np.array_equal(stand_factors(shifted, 100 + week, groups(), DEFAULT_SEED, best), sooner)
    assert not np.array_equal(stand_factors(shifted, 100, groups(), DEFAULT_SEED, best), sooner)


def test_a_loss_takes_its_share_of_harvest_and_ground() -> None:
    batch = batch_of("radish")
    whole, half = (grow_on(standing(batch, 5, left=left)) for left in (1.0, 0.5))
    assert by_year(half) == pytest.approx(by_year(whole) / 2)
    assert half.holds[0].amount == whole.holds[0].amount / 2


def test_what_was_picked_is_taken_off_the_first_of_it() -> None:
    """Three kilograms: every year has three less, or nothing; the later weeks keep what they had."""
    batch = batch_of("courgette", "raised")
    whole, picked = (grow_on(standing(batch, 2, picked_kg=kg)) for kg in (0.0, 3.0))
    assert by_year(picked) == pytest.approx(np.maximum(by_year(whole) - 3.0, 0.0))
    year = int(np.argmax(by_year(whole)))
    last = whole.ripe[whole.year == year].max()
    tail = [one.kg[(one.year == year) & (one.ripe == last)].sum() for one in (whole, picked)]
    assert tail[0] == tail[1]


def test_a_picking_not_weighed_is_what_was_ripe() -> None:
    batch = batch_of("radish")
    i = int(np.searchsorted(batch.days, 90))
    picked = grow_on(
        standing(batch, i, up=HORIZON.start + 100, first_picked=HORIZON.start + 125, picked_kg=None), LATER
    )
    assert (picked.ripe >= 0).all()
    weighed = grow_on(standing(batch, i, up=HORIZON.start + 100, first_picked=HORIZON.start + 125), LATER)
    assert by_year(picked).sum() < by_year(weighed).sum()


def test_it_serves_the_item_it_was_sown_for_or_the_one_that_wants_it() -> None:
    one = grow_on(standing(batch_of("radish"), 3))
    number = serves(one, wanted())
    assert number is not None
    assert wanted()[number].name == "radish"
    assert serves(grow_on(replace(one.standing, crop="beetroot")), wanted()) is None


def with_standing(*several: Grown, refused: tuple[Refused, ...] = ()) -> Task:
    holds = [hold for one in several for hold in one.holds]
    season = Season(given_by(several, wanted()), holds, refused)
    return task(GARDEN, wanted(), made(), *groups(), DEFAULT_SEED, season, HORIZON.start)


def test_the_task_sees_ground_taken_and_wants_met() -> None:
    one = grow_on(standing(batch_of("radish"), 3))
    work, plain = with_standing(one), with_standing()
    taken = plain.request.grounds.limit - work.request.grounds.limit
    held = range(one.holds[0].first, one.holds[0].end)
    assert taken[0].tolist() == [2.0 if week in held else 0.0 for week in range(WEEKS)]
    assert plain.request.met is None
    met = work.request.met
    assert met is not None
    number = serves(one, wanted())
    assert met[:, :, number].sum() == pytest.approx(met.sum())
    assert met.sum() > 0
    assert met[:, 1].sum() <= work.given.kg.sum() + 1e-9
    assert (met <= work.request.wanted.T[:, None, :, None] + 1e-9).all()


def test_wants_count_from_the_week_in_which_what_stands_is_ripe() -> None:
    """The weeks in which nothing sown from now can be ripe are met by what stands already."""
    batch = batch_of("radish")
    one = grow_on(standing(batch, 3))
    early = replace(one, ripe=np.zeros_like(one.ripe), last=np.zeros_like(one.last))
    number = serves(one, wanted())
    assert with_standing().request.wanted[number, 0] == 0
    assert with_standing(early).request.wanted[number, 0] > 0


def test_a_refused_sowing_is_not_offered_under_another_date() -> None:
    batch = batch_of("pea")
    sow = HORIZON.start + int(batch.days[4])
    no = Refused("pea", "direct", "open", sow)
    work = with_standing(refused=(no,))
    days = [HORIZON.start + option.day for option in work.options if option.batch is batch]
    assert days
    assert min(abs(day - sow) for day in days) > REFUSED_DAYS
    assert len(work.options) < len(with_standing().options)


def test_nothing_new_of_a_refused_crop_is_offered_in_another_way_or_cover() -> None:
    """But for what the plan had beside it, which nobody refused."""
    batch = batch_of("pea")
    sow, other = (HORIZON.start + int(batch.days[i]) for i in (4, 5))
    no = Refused("pea", "raised", "tunnel", sow, spared=frozenset({("direct", "open", other)}))
    work = with_standing(refused=(no,))
    days = {HORIZON.start + option.day for option in work.options if option.batch is batch}
    assert {day for day in days if abs(day - sow) <= REFUSED_DAYS} == {other}


def test_a_sowing_put_off_is_not_offered_before_its_day() -> None:
    batch = batch_of("pea")
    sow = HORIZON.start + int(batch.days[4])
    off = Refused("pea", "direct", "open", sow, until=sow + 12)
    work = with_standing(refused=(off,))
    days = [HORIZON.start + option.day for option in work.options if option.batch is batch]
    assert not [day for day in days if sow - REFUSED_DAYS <= day < sow + 12]
    assert sow + 14 in days
    kept = with_standing(refused=(replace(off, spared=frozenset({("direct", "open", sow + 7)})),))
    assert sow + 7 in [HORIZON.start + option.day for option in kept.options if option.batch is batch]


def test_what_comes_anyway_is_met_in_its_season() -> None:
    """1 kg a week from 1 to 30 June 2027, a Tuesday to a Wednesday: 6, 7, 7, 7 and 3 days."""
    rhubarb = Anyway("rhubarb", "Lettuce", 1.0, (6, 1), (6, 30))
    given = given_anyway([rhubarb], wanted(), HORIZON, 2)
    assert {wanted()[i].name for i in given.item} == {"lettuce"}
    first = given.kg[(given.year == 1) & (given.ripe < 52)]
    assert first * 7 == pytest.approx([6, 7, 7, 7, 3])
    assert (given.last == given.ripe).all()
    assert given_anyway([replace(rhubarb, serves="rhubarb")], wanted(), HORIZON, 2).kg.size == 0


def test_met_is_never_more_than_wanted_nor_than_there() -> None:
    given = given_anyway([Anyway("x", "radish", 5.0)], wanted(), HORIZON, 3)
    kg = np.stack([item.kg for item in wanted()])
    met = met_by(given, kg, (0.5, 1.0), 3)
    radish = [item.name for item in wanted()].index("radish")
    assert met[:, 1, radish, 2] == pytest.approx(np.minimum(kg[radish], 5.0))
    assert met[:, 0, radish, 2] == pytest.approx(0.5 * kg[radish])
