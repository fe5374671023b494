"""A grower's own readings against the station (docs/design/weather.md, O1 to O6)."""

from __future__ import annotations

import gzip
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenpick.base.arrays import Floats
from evenpick.base.chance import stream
from evenpick.base.days import day_number, months
from evenpick.climate.own_readings import FEWEST, PRIOR, SAME_DAY, Reading, Shift, note, own_shift

SHARED = Path(__file__).parents[2] / ".." / ".." / "shared" / "weather" / "daily"
"""daily records that are tested where they lie; two of them are not ours to copy"""
LOW = PRIOR["minimum"]


def against(readings: list[Reading], expected: float, same_day: bool = True) -> Shift:
    usual = np.full(len(readings), expected)
    return own_shift(readings, usual, usual, np.full(len(readings), same_day))


def test_no_reading_and_too_few_move_nothing() -> None:
    none = own_shift([], np.array([]), np.array([]), np.array([], dtype=bool))
    few = against([Reading(40 * d, tmin=2.0) for d in range(FEWEST - 1)], 5.0)
    assert (none.tmin.shift, none.tmax.shift, few.tmin.shift) == (0.0, 0.0, 0.0)
    assert few.tmin.readings == FEWEST - 1
    assert "moves nothing yet: 6 readings count, 7 are wanted" in note(few)


def test_a_year_of_readings_by_hand() -> None:
    """Readings 40 days apart hardly share an error, and round the year no swing: normal prior and errors
    (gelman2013, section 2.5), −2 × 1.2² / (1.2² + 1.5²/9)."""
    found = against([Reading(40 * d, tmin=3.0) for d in range(9)], 5.0).tmin
    assert found.shift == pytest.approx(-2.0 * LOW.year**2 / (LOW.year**2 + SAME_DAY.sd**2 / 9), abs=0.03)
    assert found.month_shift == pytest.approx([found.shift] * 12, abs=0.05)


def test_days_far_apart_count_more_than_days_running() -> None:
    apart, running = (
        against([Reading(step * d, tmin=4.0) for d in range(9)], 5.0).tmin for step in (40, 1)
    )
    assert apart.shift < running.shift < 0.0
    assert apart.sd < running.sd


def test_the_normal_of_the_season_says_less_than_the_station_of_the_day() -> None:
    days = [Reading(d, tmax=22.0) for d in range(30)]
    assert 0 < against(days, 20.0, same_day=False).tmax.shift < against(days, 20.0).tmax.shift


def test_frosts_noted_when_they_strike_make_no_frost_hollow() -> None:
    """O4: ten cold nights of a winter, noted because they were cold, say nothing beside normals."""
    nights = [Reading(11 * d, tmin=-4.0) for d in range(10)]
    assert against(nights, 2.0, same_day=False).tmin.readings == 0
    assert against(nights, -3.0).tmin.shift < 0


def test_the_season_that_was_read_is_moved_most_surely() -> None:
    summer = [Reading(day_number(date(2026, 6, 1)) + d, tmin=9.0) for d in range(90)]
    found = against(summer, 11.0).tmin
    assert found.month_shift[6] < found.month_shift[0] < 0
    assert found.month_sd[6] < found.month_sd[0]


def test_a_true_shift_is_found_from_a_season_of_readings() -> None:
    """Errors drawn from the scatter assumed: within three sd of −1.5 °C, and surer the more there are."""
    noise, random, day = 0.0, stream(5, "own readings"), np.arange(200)
    errors = []
    for _ in day:
        fresh = float(random.normal(0, SAME_DAY.sd * (1 - SAME_DAY.kept**2) ** 0.5))
        noise = SAME_DAY.kept * noise + fresh
        errors.append(noise)
    readings = [Reading(int(d), tmin=6.0 - 1.5 + e) for d, e in zip(day, errors, strict=True)]
    few, many = (against(readings[:n], 6.0).tmin for n in (10, 200))
    assert abs(many.shift + 1.5) < 3 * many.sd
    assert many.sd < few.sd


def test_a_slip_of_the_unit_is_left_out_and_told() -> None:
    shift = against([Reading(20_000 + d, tmax=68.0 if d == 3 else 21.0) for d in range(10)], 20.0)
    assert shift.tmax.readings == 9
    assert "a maximum of 68 °C on 2024-10-07 is 48 °C from" in shift.left_out[0]


READ = st.tuples(st.integers(0, 400), st.floats(-10, 10))


@given(st.lists(READ, min_size=FEWEST, max_size=30, unique_by=lambda read: read[0]))
def test_the_shift_never_goes_beyond_what_was_read(read: list[tuple[int, float]]) -> None:
    shift = against([Reading(d, tmin=value) for d, value in read], 0.0)
    assert abs(shift.tmin.shift) <= max(abs(value) for _, value in read) + 0.5


def of_record(name: str) -> dict[int, tuple[float, float]]:
    path = SHARED / f"{name}.csv.gz"
    if not path.exists():
        pytest.skip("the daily records are not beside this copy")
    with gzip.open(path, "rt") as lines:
        rows = [line.split(",") for line in lines][1:]
    return {day_number(date.fromisoformat(row[0])): (float(row[1]), float(row[2]))
            for row in rows if row[1] and row[2]}


PAIRS = [("uk_heathrow", "uk_brize_norton"), ("nl_de_bilt", "be_brussels")]


@pytest.mark.parametrize(("station", "own"), PAIRS)
def test_a_real_neighbour_corrected_by_its_days(station: str, own: str) -> None:
    """Two real stations (84 and 155 km apart; origins and licences in SERIES.csv beside them): the months'
    minima are off by less the more days were read; all figures in authorities/own_thermometer.md."""
    a, b = of_record(station), of_record(own)
    days = sorted(a.keys() & b.keys())
    both = np.array([(*a[day], *b[day]) for day in days])
    month = months(days[0], days[-1] - days[0] + 1)[np.array(days) - days[0]]
    truth = np.array([(both[month == one, 2] - both[month == one, 0]).mean() for one in range(1, 13)])

    def error(n: int) -> float:
        off: list[Floats] = []
        for first in range(0, len(days) - n, 397):
            at = range(first, first + n)
            readings = [Reading(days[i], both[i, 2], both[i, 3]) for i in at]
            found = own_shift(readings, both[at, 0], both[at, 1], np.ones(n, dtype=bool))
            off.append(np.abs(np.array(found.tmin.month_shift) - truth))
        return float(np.mean(off))

    before = float(np.abs(truth).mean())
    few, month_long, season = error(10), error(30), error(100)
    assert before > few > month_long > season
    assert few < 0.65 * before
    assert season < 0.45 * before
