"""Windows, quantiles, leverage, the interval between sowings (docs/design/outlook.md, O7 to O12)."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from evenpick.base.arrays import Bools, Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date, day_number
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.over_years import quantiles
from evenpick.outlook.score import leverage
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import (
    BRIDGED,
    FLAT,
    MARGIN,
    SEASON,
    SHORTEST,
    YEAR,
    Calendar,
    Window,
    fold,
    runs,
    sample_days,
    workable_ground,
)
from evenpick.service.month import coming_year, interval
from evenpick.service.windows import calendars, year_weather
from evenpick.soil.workable import TOO_WET, bare, snow_and_water, surface_wetness, workable


def year(*spans: tuple[int, int]) -> Bools:
    """Worthwhile days of a year with its margins; spans in days of the year, closes included."""
    worth = np.zeros(YEAR + 2 * MARGIN, dtype=bool)
    for first, last in spans:
        worth[MARGIN + first : MARGIN + last + 1] = True
    return worth


def found(worth: Bools, nearly: Bools | None = None, raised: bool = False) -> list[tuple[int, int]]:
    told = runs(worth, worth if nearly is None else nearly, raised)
    return [(window.opens - MARGIN, window.closes - MARGIN) for window in told]


def test_plain_runs() -> None:
    assert found(year()) == []
    assert found(year((40, 60), (100, 200))) == [(40, 60), (100, 200)]
    assert found(year((0, YEAR - 1))) == [(0, YEAR - 1)]


def test_short_runs_are_noise_and_short_breaks_are_bridged() -> None:
    assert found(year((40, 40 + SHORTEST - 2))) == []
    assert found(year((40, 40 + SHORTEST - 1))) == [(40, 40 + SHORTEST - 1)]
    assert found(year((40, 60), (60 + BRIDGED, 80))) == [(40, 80)]
    assert found(year((40, 60), (61 + BRIDGED, 80))) == [(40, 60), (61 + BRIDGED, 80)]


def test_days_nearly_worth_it_part_no_window_and_widen_none() -> None:
    good = year((40, 60), (61 + FLAT, 200))
    assert found(good, year((61, 60 + FLAT))) == [(40, 200)]
    assert found(good, year((30, 60 + FLAT), (201, 230))) == [(40, 200)]
    assert found(good, year((61, 59 + FLAT))) == [(40, 60), (61 + FLAT, 200)]
    assert found(year(), year((0, YEAR - 1))) == []
    assert found(year((10, 50), (345, 355)), year((356, YEAR - 1), (0, 9))) == [(345, YEAR + 50)]


def test_more_than_a_few_weeks_of_days_nearly_worth_it_part_two_windows() -> None:
    """Raised a month sooner and ready on the same day: nobody sows the one for the other."""
    good = year((40, 68), (70 + FLAT, 200))
    assert found(good, year((0, YEAR - 1))) == [(40, 68), (70 + FLAT, 200)]


def test_a_few_weeks_after_which_waiting_costs_nothing_are_no_window() -> None:
    """Lettuce raised at the end of November is picked with that of January."""
    good, later = year((40, 60), (62 + FLAT, 200)), (62 + FLAT, 200)
    assert found(good, year((0, YEAR - 1))) == [later]
    assert found(good, year((61, 61 + FLAT - 1))) == [(40, 60), later]  # more against a day of the break
    assert found(year((345, 360), (40, 200)), year((0, YEAR - 1))) == [(40, 200)]  # over the New Year
    assert found(year((40, 60), (100, 110)), year((0, YEAR - 1))) == [(40, 60)]  # the longer one stays
    assert found(year((40, 60)), year((0, YEAR - 1))) == [(40, 60)]


def test_a_bench_is_not_filled_for_a_few_weeks_before_a_season() -> None:
    """Lettuce raised before Christmas at Norwich is picked with that of February: whether the break is of 27
    days or 29 is no matter. Aubergines of March at Denver, before few days in April, stay."""
    for gap in (FLAT - 5, FLAT + 5):
        season = (61 + gap, 61 + gap + SEASON)
        good, flat = year((40, 60), season), year((0, YEAR - 1))
        assert found(good, flat, raised=True) == [season]
        few = (61 + gap, 61 + gap + 12)
        assert found(year((40, 60), few), flat, raised=True)[0][0] == 40
    in_place = year((40, 60), (61 + FLAT, 200))
    assert found(in_place, year((61, 60 + FLAT))) == [(40, 200)]  # it takes no room on a bench


def test_one_run_over_the_new_year() -> None:
    assert found(year((300, YEAR - 1), (0, 50))) == [(300, YEAR + 50)]


def test_a_break_at_the_new_year_is_bridged() -> None:
    """300 to 364 and from day 3: a day at the end and three at the start are no close."""
    assert found(year((300, YEAR - 2), (3, 50))) == [(300, YEAR + 50)]


def test_a_break_of_a_few_days_in_a_year_of_days() -> None:
    """One gap too long to bridge is the one place where the window closes."""
    assert found(year((0, 99), (120, YEAR - 1))) == [(120, YEAR + 99)]


@pytest.mark.parametrize(("lat", "lon"), [(37.8, -122.3), (-37.8, 145.0)])
def test_new_year_is_a_day_like_others(lat: float, lon: float) -> None:
    """Oakland and Melbourne: a day scores as it does a year on, for its neighbours lie on both sides of it.

    What is left are other weather years and other weather (0.02 on average); a seam is 0.06 and more."""
    leaf = ("leaf-lettuce", "kale", "chard", "rocket", "endive", "pak-choi", "mizuna")
    crops = [crop for crop in load_catalogue().crops if crop.key in leaf]
    weather = year_weather(Site("there", lat, lon, None), WeatherChoice(), 2027, DEFAULT_SEED)
    made = calendars(crops, ("open", "tunnel"), weather, DEFAULT_SEED)
    seam = [np.abs(one.score.score[: 2 * MARGIN] - one.score.score[YEAR:]).mean() for one in made]
    assert np.mean(seam) < 0.03
    ends = [(window.closes - MARGIN) % YEAR for one in made for window in one.windows
            if window.closes - window.opens < YEAR - 1]
    at_the_seam = sum(end in (YEAR - 2, YEAR - 1, 0) for end in ends)
    assert at_the_seam <= 1  # one may close there as on any other day; a seam would close most of them
    assert len(ends) > 8


def test_a_year_of_short_breaks_is_a_whole_year() -> None:
    worth = year((0, YEAR - 1))
    worth[MARGIN + 50 :: 40] = False
    assert found(worth) == [(0, YEAR - 1)]


def test_margins_do_not_count() -> None:
    worth = year()
    worth[:MARGIN] = worth[MARGIN + YEAR :] = True
    assert found(worth) == []


def cut(edges: set[int]) -> Bools:
    """Days of the year by turns out of and in a window, changing at each edge."""
    inside = np.isin(np.arange(YEAR), list(edges)).cumsum() % 2 > 0
    return np.pad(inside, MARGIN)


def turned(inside: Bools, by: int) -> Bools:
    """Days of the year so many days later."""
    return np.pad(np.roll(inside[MARGIN : MARGIN + YEAR], by), MARGIN)


CUTS = st.sets(st.integers(0, YEAR - 1), max_size=30).map(cut)


@given(CUTS, CUTS, st.integers(0, YEAR - 1))
def test_turning_the_year_turns_the_windows(worth: Bools, nearly: Bools, by: int) -> None:
    """Circular: where the year is cut makes no difference; a whole year is told from its first day."""
    here, there = found(worth, nearly), found(turned(worth, by), turned(nearly, by))
    if here == [(0, YEAR - 1)]:
        assert there == here
    else:
        moved = sorted(((a + by) % YEAR, b - a) for a, b in here)
        assert moved == sorted((a % YEAR, b - a) for a, b in there)


def test_sample_days_are_edges_and_the_1st_and_15th() -> None:
    start = day_number(date(2027, 1, 1)) - MARGIN
    window = Window(day_number(date(2027, 12, 10)) - start, day_number(date(2028, 1, 20)) - start)
    told = [day_date(start + day) for day in sample_days(window, start)]
    assert [(d.month, d.day) for d in told[:2]] == [(12, 10), (12, 15)]
    assert all(MARGIN <= day < MARGIN + YEAR for day in sample_days(window, start))
    assert sample_days(Window(100, 100), start) == [100]


def test_fold() -> None:
    assert [fold(day) for day in (MARGIN - 1, MARGIN, MARGIN + YEAR - 1, MARGIN + YEAR)] == [
        MARGIN + YEAR - 1, MARGIN, MARGIN + YEAR - 1, MARGIN,
    ]  # fmt: skip


@given(arrays(np.float64, (37, 5), elements=st.integers(20, 300).map(float)))
def test_quantiles_are_numpys_on_whole_data(days: Floats) -> None:
    for p, got in quantiles(days).items():
        np.testing.assert_allclose(got, np.quantile(days, p / 100, axis=0), rtol=1e-12)


def test_quantiles_over_the_years_that_count() -> None:
    """Missing years are left out; under one in five there is no answer."""
    days = np.full((10, 3), np.nan)
    days[:4, 0] = [40, 10, 30, 20]
    days[3, 1] = 50
    got = quantiles(days)
    assert got[50][0] == 25
    assert got[10][0] == pytest.approx(np.quantile([10, 20, 30, 40], 0.1))
    assert np.isnan([got[p][i] for p in (10, 50, 90) for i in (1, 2)]).all()


def test_leverage_of_a_straight_line_is_its_slope() -> None:
    assert leverage(100 + 0.5 * np.arange(60)) == pytest.approx(np.full(60, 0.5))


def test_snow_melts_by_degree_days_and_no_water_is_lost() -> None:
    """20 mm at -5 °C, then +2 °C: 5.48 mm a day (neh630ch11), gone on the fourth day."""
    rain = np.array([[20.0, 0.0, 0.0, 0.0, 0.0, 0.0]])
    lying, reaching = snow_and_water(rain, np.array([[-5.0, 2.0, 2.0, 2.0, 2.0, 2.0]]))
    assert reaching[0] == pytest.approx([0.0, 5.48, 5.48, 5.48, 3.56, 0.0])
    assert lying[0] == pytest.approx([20.0, 14.52, 9.04, 3.56, 0.0, 0.0])


def test_ground_long_under_snow_is_not_sown() -> None:
    deep = np.full((1, 30), 40.0)
    deep[0, 20:] = 0.0
    free = bare(deep)[0]
    assert not free[:15].any()
    assert free[15:].all()


def test_workable_ground() -> None:
    """5 mm of rain a day and none to the air: wet within the first days; ten dry days later workable again.

    Wetness by hand (growth H7): 5, 0.85·5 + 5 = 9.25, …; without rain 0.85 of it a day, less 2 mm."""
    rain = np.array([[5.0, 5.0] + [0.0] * 12])
    et0 = np.array([[0.0, 0.0] + [2.0] * 12])
    wet = surface_wetness(rain, et0)[0]
    assert wet[:4] == pytest.approx([5.0, 9.25, 0.85 * 9.25 - 2, 0.85 * (0.85 * 9.25 - 2) - 2])
    assert wet.min() == 0.0
    soaked = np.full((1, 40), 20.0)
    soaked[0, 20:] = 0.0
    dry = workable(soaked, np.full((1, 40), 3.0))[0]
    first = int(np.argmax(surface_wetness(soaked, np.full((1, 40), 3.0))[0] < TOO_WET))
    assert dry.tolist() == [day >= first - 5 for day in range(40)]


BRIZE = Site("Brize Norton", 51.758, -1.578)
WEATHER = year_weather(BRIZE, WeatherChoice(packaged="brize_norton"), 2027, DEFAULT_SEED)


def made(key: str, cover: str = "open") -> Calendar:
    crop = load_catalogue().crop(key)
    return calendars([crop], (cover,), WEATHER, DEFAULT_SEED)[0]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("month", "day", "low", "high"),
    [(3, 15, 16, 18), (4, 15, 12, 12), (5, 15, 9, 9), (6, 15, 7, 7), (8, 10, 0, 5)],
)
def test_a_weeks_picking_of_lettuce(month: int, day: int, low: float, high: float) -> None:
    """Growth H5, 51° N, reached with a wanted interval of seven days: cos lettuce, sown in the open.

    Within a day and a half. H5's figures came from a prototype of the same equations: this holds the
    program to its design, not to the world.
    """
    between = 7.0 / made("cos-lettuce").score.leverage[day_number(date(2027, month, day)) - WEATHER.start]
    assert low - 1.5 <= between <= high + 1.5


def test_interval_is_the_wanted_picking_over_the_leverage() -> None:
    """O12: a lettuce stands a week and a half at most, so fourteen days are wanted of a sowing."""
    lettuce, day = made("cos-lettuce"), day_number(date(2027, 6, 15)) - WEATHER.start
    assert interval(lettuce, day) == round(14.0 / lettuce.score.leverage[day])


@pytest.mark.parametrize("key", ["sprouting-broccoli", "garlic", "onion", "swede", "main-potato"])
def test_no_interval_for_what_is_sown_once(key: str) -> None:
    """Growth H5: what waits for cold or long days, or stands or is stored for the winter."""
    one = made(key)
    assert {interval(one, day) for day in range(MARGIN, MARGIN + YEAR, 30)} == {None}


def test_what_lies_inside_agrees_with_the_windows_days() -> None:
    """Also past the year's end: garlic goes in from autumn into the new year or not, day by day."""
    for key in ("garlic", "radish", "lambs-lettuce"):
        one, days = made(key), np.arange(MARGIN, MARGIN + YEAR)
        told = {fold(day) for w in one.windows for day in range(w.opens, w.closes + 1)}
        assert set(days[one.inside(days)].tolist()) == told


def test_workable_ground_of_settings_has_the_axis_shape() -> None:
    assert workable_ground(Settings(WEATHER)).shape == WEATHER.rain.shape


def test_a_month_asked_for_is_the_one_to_come() -> None:
    assert coming_year(11, date(2026, 11, 26)) == 2026
    assert coming_year(12, date(2026, 11, 26)) == 2026
    assert coming_year(3, date(2026, 11, 26)) == 2027
