"""The drill's two stores: against equation 74 stepped finely, each other, and what has to hold anywhere."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenpick.base.arrays import Floats, Ints
from evenpick.soil import water_balance as wb
from evenpick.soil.seedbed import (
    KC_BARE,
    Watering,
    bed_of,
    days_moist,
    dried,
    dry_spell,
    drying,
    open_ground,
    routine,
    wetted,
)
from evenpick.soil.texture import soils

LOAM = soils()["loam"]
draws = st.integers(0, 10**6).map(np.random.default_rng)


def seasons(draw: np.random.Generator, years: int = 4, days: int = 90) -> tuple[Floats, Floats]:
    rain = np.where(draw.random((years, days)) < 0.3, draw.gamma(0.8, 8.0, (years, days)), 0.0)
    return rain, draw.uniform(0.5, 8.0, (years, days))


@pytest.mark.parametrize("texture", soils())
@pytest.mark.parametrize("et0", [1.0, 4.0, 9.0])
def test_a_whole_layer_dries_as_equations_71_and_74_have_it(texture: str, et0: float) -> None:
    """allen1998, stepped 5,000 times a day; seed at 5 cm has all of Ze 0.10 m as its layer."""
    soil = soils()[texture]
    bed = bed_of(soil, 0.05)
    tew = float(wb.total_evaporable(soil))
    assert (bed.upper, bed.lower) == (pytest.approx(tew), pytest.approx(0.0))
    upper, lower, de = np.array([tew]), np.array([0.0]), 0.0
    for _ in range(4):
        upper, lower = dried(bed, upper, lower, np.array([et0]))
        for _ in range(5000):
            de += float(wb.evaporation_reduction(de, tew, soil.readily_evaporable)) * KC_BARE * et0 / 5000
        assert tew - upper[0] == pytest.approx(de, abs=0.02)


@settings(max_examples=60)
@given(draws, st.sampled_from(sorted(soils())), st.floats(0.0, 0.12))
def test_stores_hold_no_less_than_nothing_and_no_more_than_they_can(
    draw: np.random.Generator, texture: str, depth: float
) -> None:
    bed = bed_of(soils()[texture], depth)
    rain, et0 = seasons(draw)
    upper, lower = open_ground(rain, et0, bed)
    for store, full in ((upper, bed.upper), (lower, bed.lower)):
        assert store.min() >= -1e-9
        assert store.max() <= full + 1e-9
    lost = upper[:, :-1] + lower[:, :-1] + rain - upper[:, 1:] - lower[:, 1:]
    assert lost.min() >= -1e-9
    kept = wetted(bed, upper[:, 3], lower[:, 3], rain[:, 3])
    after = dried(bed, *kept, et0[:, 3])
    evaporated = sum(kept) - sum(after)
    assert (evaporated <= KC_BARE * et0[:, 3] + 1e-9).all()


@settings(max_examples=30)
@given(draws, st.sampled_from(list(Watering)), st.sampled_from(["sand", "loam"]), st.floats(0.005, 0.05))
def test_all_sow_days_at_once_agree_with_one_after_the_other(
    draw: np.random.Generator, watering: Watering, texture: str, depth: float
) -> None:
    rain, et0 = seasons(draw)
    sow = np.arange(20, 70, 7)
    up: Ints = sow[None, :] + draw.integers(3, 30, (4, sow.size))
    found = drying(rain, et0, sow, up, soils()[texture], depth, watering)
    for at, day in enumerate(sow):
        drill = routine(rain, et0, np.full(4, day), up[:, at], bed_of(soils()[texture], depth), watering)
        assert (found[:, at] == dry_spell(drill.dry, np.full(4, day), up[:, at])).all()


def test_two_dry_evenings_make_a_spell_and_one_does_not() -> None:
    dry = np.array([[0, 1, 0, 1, 1, 0], [1, 1, 0, 1, 0, 1]], dtype=bool)
    first, last = np.array([0, 2]), np.array([6, 6])
    assert dry_spell(dry, first, last).tolist() == [True, False]
    assert dry_spell(dry, first, np.array([4, 6])).tolist() == [False, False]
    assert days_moist(dry, np.array([2, 2]), 14).tolist() == [1, 1]
    assert days_moist(np.zeros((1, 6), dtype=bool), np.array([1]), 3).tolist() == [3]


def test_shallow_seed_dries_sooner_and_sand_before_loam() -> None:
    """A week without rain after a soaking, ET0 3 mm: the first dry evening comes later for deeper seed."""
    et0, rain = np.full((1, 12), 3.0), np.zeros((1, 12))
    first = {}
    for texture in ("sand", "loam"):
        for depth in (0.013, 0.05):
            bed = bed_of(soils()[texture], depth)
            upper, _ = open_ground(rain, et0, bed)
            first[texture, depth] = int((upper[0, 1:] <= bed.dry).argmax())
    assert first["loam", 0.013] < first["loam", 0.05]
    assert first["sand", 0.013] <= first["loam", 0.013]
    assert first["sand", 0.05] < first["loam", 0.05]


def test_a_shower_on_dry_ground_wets_shallow_seed_for_a_day_not_a_week() -> None:
    bed = bed_of(LOAM, 0.013)
    rain, et0 = np.zeros((1, 40)), np.full((1, 40), 4.0)
    rain[0, 30] = 10.0
    upper, _ = open_ground(rain, et0, bed)
    dry = upper[0, 1:] <= bed.dry
    assert dry[10:30].all()
    assert not dry[30]
    assert dry[33:].all()


def test_watering_stops_when_it_is_up() -> None:
    rain, et0 = np.zeros((1, 30)), np.full((1, 30), 5.0)
    sow, up = np.array([10]), np.array([18])
    poured = {
        step: routine(rain, et0, sow, up, bed_of(LOAM, 0.013), step).watered[0] for step in Watering
    }
    assert poured[Watering.NONE].sum() == 0
    assert np.flatnonzero(poured[Watering.DRILL]).tolist() == [10]
    assert poured[Watering.MOIST][18:].sum() == 0
    assert np.flatnonzero(poured[Watering.ONE_MORE])[-1] == 18
    assert poured[Watering.ONE_MORE][10:18] == pytest.approx(poured[Watering.MOIST][10:18])


@pytest.mark.parametrize("texture", ["sand", "loam", "clay"])
def test_a_shower_on_dry_ground_goes_as_from_a_layer_of_its_own(texture: str) -> None:
    """The seed's layer full over a dry one loses in a day what it would alone, more than the whole layer's
    equation has it; its part of REW goes at the full rate."""
    bed = bed_of(soils()[texture], 0.01)
    upper, lower = dried(bed, np.array([bed.upper]), np.array([0.0]), np.array([5.0]))
    demand, readily = KC_BARE * 5.0, bed.readily * bed.upper / bed.full
    at_once = min(readily, demand)
    slow = bed.upper - readily
    lost = at_once + (bed.upper - at_once) * (1 - np.exp((at_once - demand) / slow))
    assert bed.upper - upper[0] == pytest.approx(min(lost, bed.upper))
    assert lower[0] == pytest.approx(0.0)
    water, rest = bed.upper, bed.full - bed.readily
    first = min(max(water - rest, 0.0), demand)
    whole = first + (water - first) * (1 - np.exp((first - demand) / rest))
    assert lost > whole + 0.2


def test_nothing_is_poured_where_the_days_rain_fills_the_ground() -> None:
    """At ET0 8 mm the seed's layer is dry by evening however wet it was: a can on 20 mm would drain away."""
    rain, et0, bed = np.full((1, 12), 20.0), np.full((1, 12), 8.0), bed_of(LOAM, 0.01)
    drill = routine(rain, et0, np.array([2]), np.array([9]), bed, Watering.ONE_MORE)
    assert drill.dry[0, 3:9].all()
    assert not drill.watered.any()
    bare = routine(0 * rain, et0, np.array([2]), np.array([9]), bed, Watering.ONE_MORE)
    assert (bare.watered[0, 3:9] > 1.0).all()
