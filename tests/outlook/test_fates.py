"""Fates and their order, the end of the harvest and its share, by hand (docs/design/outlook.md, O4 to O6)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from steady import Everywhere, crop, setting

from evenpick.climate.covers import UnderCover
from evenpick.crops.crop import Crop, Harvest, Purpose, Way
from evenpick.crops.signals import LongDay
from evenpick.outlook.grow import grow, parameter_draws
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.ripening import ripening
from evenpick.outlook.setting import Setting

SOW, PLACE = 20, 25
RIPE = PLACE + 29  # 300 °C d at ten a day
LIMITS = replace(
    crop().limits, kill_seedling=-5.0, kill_plant=-5.0, kill_edible=-5.0, heat_mean=30.0, set_tmax=None,
    soil_min=5.0,
)
BOLTS = LongDay(low=10.0, high=12.0, floor=0.1, total=195.0)  # on the twentieth day in its place


def life(plant: Crop, here: Setting | None = None, factor: float = 1.0) -> Outcome:
    place = Everywhere(here or setting())
    one = np.full((1, 1), factor)
    return grow(plant, Way("direct"), "open", place, np.array([SOW]), one, Purpose("fresh"))  # type: ignore[arg-type]


def plant(**changes: object) -> Crop:
    return crop(limits=LIMITS, harvest=Harvest("single", stand=90.0), **changes)


def with_frost(day: int) -> Setting:
    """One night below −5 °C, with a noon so warm that the day gives nearly its ten °C d."""
    plain = setting().air
    tmin, tmax = plain.tmin.copy(), plain.tmax.copy()
    tmin[0, day], tmax[0, day] = -6.0, 33.0
    frosty = UnderCover(tmin, tmax, plain.tmean, plain.radiation, plain.rain, plain.soil)
    return Setting(frosty, setting().hours)


def fate(outcome: Outcome) -> Fate:
    return Fate(int(outcome.fate[0, 0]))


def test_good() -> None:
    """Nine °C d a day above four: ninety are had on the tenth day; all of it can be picked."""
    out = life(plant())
    assert (fate(out), int(out.first[0, 0]), int(out.last[0, 0])) == (Fate.GOOD, RIPE, RIPE + 9)
    assert out.share[0, 0] == 1.0


def test_it_stands_two_days_however_warm() -> None:
    out = life(replace(plant(), harvest=Harvest("single", stand=1.0)))
    assert int(out.last[0, 0] - out.first[0, 0]) == 2
    assert out.share[0, 0] == 1.0


@pytest.mark.parametrize(
    ("frost", "wanted"),
    [
        (PLACE + 18, Fate.FROSTED), (PLACE + 19, Fate.FROSTED), (PLACE + 20, Fate.BOLTED),
        (PLACE - 1, Fate.BOLTED),
    ],
)  # fmt: skip
def test_the_first_to_strike_decides(frost: int, wanted: Fate) -> None:
    """A frost up to the day of bolting kills, a later one finds it bolted; none counts before it is up."""
    out = life(plant(bolting=(BOLTS,)), with_frost(frost))
    assert fate(out) == wanted
    assert out.share[0, 0] == 0
    assert out.last[0, 0] == out.first[0, 0]


def test_frost_on_the_part_eaten_ends_the_picking_and_no_more() -> None:
    """Three days after the first of ten: three of the seven days in which all can be picked."""
    out = life(plant(), with_frost(RIPE + 3))
    assert fate(out) == Fate.GOOD
    assert int(out.last[0, 0]) == RIPE + 3
    assert out.share[0, 0] == pytest.approx(3 / 7)


def test_a_seedling_is_tenderer_for_its_first_third() -> None:
    """0.3 of 300 °C d: nine days in its place; a frosty ninth day gives a little less, and falls short."""
    hardy = plant()
    hardy = replace(hardy, limits=replace(LIMITS, kill_plant=-20.0, kill_edible=-20.0))
    assert fate(life(hardy, with_frost(PLACE + 8))) == Fate.FROSTED
    assert fate(life(hardy, with_frost(PLACE + 9))) == Fate.GOOD


def test_too_cold_to_start_comes_before_all() -> None:
    bolting = plant(bolting=(BOLTS,))
    assert fate(life(replace(bolting, limits=replace(LIMITS, soil_min=13.5)))) == Fate.TOO_COLD


@pytest.mark.parametrize(("days", "wanted"), [(420, Fate.GOOD), (421, Fate.TOO_LATE), (2000, Fate.TOO_LATE)])
def test_too_late_after_420_days(days: int, wanted: Fate) -> None:
    """Picked so many days after sowing: five to come up, then ten °C d a day."""
    assert fate(life(replace(plant(), thermal_time=10.0 * (days - 4)))) == wanted


def test_heat_spoils_but_does_not_kill() -> None:
    """Mean 13 °C; half is lost half a degree over 11.6 (O6), so it is one scale too warm: 1/(1 + e) of the
    quality is left (H3)."""
    out = life(replace(plant(), limits=replace(LIMITS, heat_mean=11.6)))
    assert fate(out) == Fate.HEAT
    assert out.share[0, 0] == 1.0
    assert out.quality[0, 0] == pytest.approx(1 / (1 + np.e), abs=1e-6)


def test_growing_through_heat_spoils_what_ripens_in_the_cool() -> None:
    """Three weeks of 17 °C, and 13 for the rest, the last third of it among them: all along the mean is over
    the limit of 13 + 0.5, and quality is the worse of both (O6)."""
    slow = replace(plant(), thermal_time=2 * plant().thermal_time, limits=replace(LIMITS, heat_mean=13.0))
    plain, up = setting().air, int(life(slow).place[0, 0])
    tmean = plain.tmean.copy()
    tmean[0, up : up + 20] = 17.0
    out = life(slow, Setting(replace(plain, tmean=tmean), setting().hours))
    along = float(tmean[0, out.place[0, 0] : out.first[0, 0]].mean())
    assert along > 13.5
    assert fate(out) == Fate.HEAT
    assert float(out.quality[0, 0]) == pytest.approx(1 / (1 + np.exp((along - 13.5) / 0.9)), abs=1e-6)


@pytest.mark.parametrize(("weeks", "kept"), [(3, False), (2, True)])
def test_weeks_too_hot_to_start_are_too_hot_to_stand_through(weeks: int, kept: bool) -> None:
    """Three weeks of 19 °C, over 13 + 5, from when it is up, and cool again for half a year
    (O6)."""
    slow = replace(plant(), thermal_time=6 * plant().thermal_time, limits=replace(LIMITS, heat_mean=13.0))
    plain, up = setting().air, int(life(slow).place[0, 0])
    tmean = plain.tmean.copy()
    tmean[0, up : up + 7 * weeks] = 19.0
    out = life(slow, Setting(replace(plain, tmean=tmean), setting().hours))
    assert fate(out) == (Fate.GOOD if kept else Fate.HEAT)
    assert (float(out.quality[0, 0]) > 0.5) == kept


def hot_days(first: int, last: int) -> Setting:
    """Noons of 23 °C, in which no flower sets, after nights so cool that growth is that of other days."""
    plain = setting().air
    tmin, tmax = plain.tmin.copy(), plain.tmax.copy()
    tmin[0, first:last], tmax[0, first:last] = 3.0, 23.0
    return Setting(replace(plain, tmin=tmin, tmax=tmax), setting().hours)


@pytest.mark.parametrize(("kill", "kept"), [(1.0, 2 / 3), (-5.0, 0.0)])
def test_heat_costs_tender_pods_the_flowers_open_in_it(kill: float, kept: float) -> None:
    """Two months of picking; the flowers of the first third fail. What frost kills sets again (cornellheat),
    what bears frost is ended by heat (O6)."""
    limits = replace(LIMITS, kill_plant=kill, set_tmax=18.0, set_days=10.0)
    pods = replace(plant(), limits=limits, harvest=Harvest("picking", span=600.0))
    out = life(pods, hot_days(RIPE - 18, RIPE + 10))
    assert out.quality[0, 0] == pytest.approx(kept, abs=0.02)
    assert fate(out) == (Fate.GOOD if kept else Fate.HEAT)
    assert out.share[0, 0] == pytest.approx(1.0, abs=0.01)


def test_cuts() -> None:
    """Four cuts, 100 °C d apart, cut short by a frost in the 25th day: two regrowths, three cuts of four."""
    leaf = replace(plant(), harvest=Harvest("cut", cuts=4, regrowth=100.0))
    assert life(leaf).share[0, 0] == 1.0
    assert life(leaf, with_frost(RIPE + 24)).share[0, 0] == 0.75


def test_weeks_too_hot_to_start_end_the_cutting_of_leaf() -> None:
    """Three weeks of 19 °C from the tenth day of cutting. The first three with a mean over 13 + 5 begin three
    days before, (18 × 19 + 3 × 13) / 21 = 18.1: nothing is cut after them (O5)."""
    leaf = replace(plant(), harvest=Harvest("cut", cuts=9, regrowth=100.0),
                   limits=replace(LIMITS, heat_mean=13.0))
    plain = setting().air
    tmean = plain.tmean.copy()
    tmean[0, RIPE + 10 : RIPE + 31] = 19.0
    hot = life(leaf, Setting(replace(plain, tmean=tmean), setting().hours))
    assert int(hot.last[0, 0]) == RIPE + 28 < int(life(leaf).last[0, 0])


def test_picking_over_a_span() -> None:
    """Half the span of 200 °C d is picked: 3/4 − 2/8 = a half of the harvest (H1)."""
    pods = replace(plant(), harvest=Harvest("picking", span=200.0))
    assert life(pods, with_frost(RIPE + 10)).share[0, 0] == pytest.approx(0.5)


def test_parameter_draws_hold_the_whole_spread() -> None:
    """O13: lognormal, median 1, the wanted spread in few years; by the crop's name and the seed alone."""
    draws = np.log(parameter_draws(crop(), 30, 1))
    assert draws.shape == (30, 1)
    assert draws.mean() == pytest.approx(0, abs=1e-12)
    assert draws.std() == pytest.approx(crop().thermal_time_sd, rel=0.05)
    assert np.array_equal(np.exp(draws), parameter_draws(crop(), 30, 1))
    assert not np.array_equal(np.exp(draws), parameter_draws(crop(), 30, 2))
    assert not np.array_equal(np.exp(draws), parameter_draws(crop(key="another"), 30, 1))


def test_heat_takes_the_weeks_whose_flowers_failed() -> None:
    """The same pods: none in the weeks that were in flower in the heat, and the rest as without it, as far as
    three days of a picking tell how much of it there is."""
    limits = replace(LIMITS, kill_plant=1.0, set_tmax=18.0, set_days=10.0)
    pods = replace(plant(), limits=limits, harvest=Harvest("picking", span=600.0))
    by_week = {}
    for name, here in (("cool", setting()), ("hot", hot_days(RIPE - 18, RIPE + 10))):
        parts = ripening(life(pods, here), here, 20)
        by_week[name] = dict(zip(parts.ripe.tolist(), parts.share.tolist(), strict=True))
    late = [week for week in by_week["cool"] if week * 7 > RIPE + 30]
    assert min(by_week["hot"]) * 7 > RIPE + 10
    hot, cool = ([by_week[name][week] for week in late] for name in ("hot", "cool"))
    assert hot == pytest.approx(cool, rel=0.1)
