"""What is in the way of an item (docs/design/season.md, 16)."""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from evenpick.base.days import day_number
from evenpick.crops.kinds import KINDS
from evenpick.garden.limits import Away
from evenpick.plan.counts import CROWDED, UNBOUGHT
from evenpick.plan.farms import row_of
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.rows import SEED
from evenpick.report.page import Page
from evenpick.report.plan import held_back
from evenpick.report.terminal import render
from evenpick.report.words import Words
from evenpick.service.binding import _called, _Farm, _of_row, _season, when_full
from evenpick.service.given_up import _given_up
from evenpick.service.plan_limits import hour_more
from evenpick.service.variety import NOTHING, _weeks

SHORT = slice(10, 20)
BRITISH = Words("british", "metric", {}, {})


@pytest.mark.parametrize(("never", "in_bad_years", "because"), [
    (True, True, "nothing that can be sown is ripe in those weeks"),
    (False, True, "in about 1 year of 10 nothing that can be sown is ripe when it is wanted"),
])
def test_weeks_that_nothing_can_serve_are_told_before_what_is_full(
    never: bool, in_bad_years: bool, because: str
) -> None:
    """Ten weeks go without in the second of two years: 5 of the year's 52 kg in the mean."""
    work: Any = SimpleNamespace(request=SimpleNamespace(wanted=np.ones((1, WEEKS))))
    unmet, reach, ripe = np.zeros((WEEKS, 2)), np.ones(WEEKS, dtype=bool), np.ones((2, WEEKS), dtype=bool)
    unmet[SHORT, 1], reach[SHORT], ripe[1, SHORT] = 1.0, not never, not in_bad_years
    nothing: Any = None
    found = _given_up(work, nothing, np.zeros(0), 0, "leeks", unmet, reach, ripe, Horizon(0, 0))
    assert found is not None
    assert (found.item, found.because) == ("leeks", because)
    assert found.missing == pytest.approx(10 / 2 / 52)


@pytest.mark.parametrize(("weeks", "bad", "because"), [
    (52, 7, "in most years nothing that can be sown is ripe when it is wanted"),
    (40, 7, "in most years nothing that can be sown is ripe in the weeks of 29 Dec to 28 Sep"),
    (40, 3, "in about 2 years of 10 nothing that can be sown is ripe when it is wanted"),
    (20, 7, "in most years nothing that can be sown is ripe in the weeks of 29 Dec to 11 May"),
])
def test_what_most_years_lack_is_not_told_of_bad_ones(weeks: int, bad: int, because: str) -> None:
    """So many weeks of 52 with nothing ripe, in so many years of ten."""
    work: Any = SimpleNamespace(request=SimpleNamespace(wanted=np.ones((1, WEEKS))))
    unmet, ripe = np.zeros((WEEKS, 10)), np.ones((10, WEEKS), dtype=bool)
    unmet[:weeks, :bad], ripe[:bad, :weeks] = 1.0, False
    nothing: Any = None
    found = _given_up(work, nothing, np.zeros(0), 0, "leeks", unmet, np.ones(WEEKS, dtype=bool), ripe,
                      Horizon(0, 0))
    assert found is not None
    assert found.because == because


@pytest.mark.parametrize(("cut", "because"), [
    (6.0, "the beds are too small or too full for what their area would bear"),
    (4.0, "in about 1 year of 10 nothing that can be sown is ripe when it is wanted"),
])
def test_what_was_cut_for_the_beds_is_not_blamed_on_anything_else(cut: float, because: str) -> None:
    """Ten kg are missing over two years; the beds had no room for so many of them."""
    work: Any = SimpleNamespace(request=SimpleNamespace(wanted=np.ones((1, WEEKS))))
    unmet, ripe = np.zeros((WEEKS, 2)), np.ones((2, WEEKS), dtype=bool)
    unmet[SHORT, 1], ripe[1, SHORT] = 1.0, False
    nothing: Any = None
    found = _given_up(work, nothing, np.zeros(0), 0, "leeks", unmet, np.ones(WEEKS, dtype=bool), ripe,
                      Horizon(0, 0), cut)
    assert found is not None
    assert found.because == because


@pytest.mark.parametrize(("key", "told"), [
    ("early-potato", ("tubers of Early potato", "10 tubers", 10.0)),
    ("garlic", ("cloves of Garlic", "10 cloves", 10.0)),
    ("onion-sets", ("Onion sets", "10 sets", 10.0)), ("radish", ("seed of Radish", "100 seeds", 100.0)),
])
def test_what_is_planted_is_not_called_seed(key: str, told: tuple[str, str, float]) -> None:
    """Early potatoes were short of 'seed of Early potato (100 seeds)'."""
    assert _called(f"{SEED}{key}") == told


@pytest.mark.parametrize(("lat", "monday", "told"), [
    (51.5, date(2026, 12, 7), "winter 2027"), (-43.5, date(2026, 12, 7), "summer 2027"),
    (-43.5, date(2027, 4, 5), "autumn 2027"), (23.5, date(2027, 4, 5), "spring 2027"),
    (-1.3, date(2026, 11, 30), "September to November 2026"),
    (-1.3, date(2026, 12, 7), "December 2026 to February 2027"),
    (-0.2, date(2027, 2, 22), "December 2026 to February 2027"),
    (19.4, date(2027, 4, 5), "March to May 2027"),
])
def test_the_tropics_have_months_and_no_winter(lat: float, monday: date, told: str) -> None:
    assert _season(monday, lat) == told


BEGIN = Horizon(day_number(date(2026, 8, 3)), 0)


def grounds(**used: np.ndarray) -> Any:
    """A task whose rows have a limit of 100 in every week, with so much of each taken; (weeks,) each."""
    taken, limit = np.stack(list(used.values())), np.full((len(used), WEEKS), 100.0)
    grounds = SimpleNamespace(names=tuple(used), limit=limit, used=lambda areas: taken)
    return SimpleNamespace(request=SimpleNamespace(grounds=grounds))


def full_in(*weeks: int) -> np.ndarray:
    taken = np.full(WEEKS, 41.0)
    taken[list(weeks)] = 100.0
    return taken


@pytest.mark.parametrize(("weeks", "told"), [
    (range(9, 19), "open ground (full in the weeks of 5 Oct to 7 Dec)"),
    ((0, 9), "open ground (full in the weeks of 3 Aug and 5 Oct)"),
    ((0, 2, 4, 6), "open ground (full in 4 weeks)"), (range(52), "open ground (full all year)"),
    ((), "open ground"), ((60,), "open ground"),
])
def test_what_is_not_enough_says_when_it_is_full(weeks: tuple[int, ...], told: str) -> None:
    """'Not enough open ground' stood beside 'used on average 412 of 700 m²'."""
    assert when_full(grounds(open=full_in(*weeks)), np.zeros(0), "open", BEGIN) == told


@pytest.mark.parametrize(("less", "told"), [
    ((), ""),
    ((0, 5), " In 1 of these weeks too little is wished for: wish for more kinds in it, or ask less."),
    (range(52), " Too little is wished for then: wish for more kinds, or ask less."),
])
def test_variety_that_the_wishes_cannot_reach_is_told(less: tuple[int, ...], told: str) -> None:
    """Twelve different items were asked of three that were wished for, and never a word of it."""
    short, fewer = np.zeros((2, WEEKS), dtype=bool)
    short[:2], fewer[list(less)] = True, True
    (said,) = _weeks("Boxes: few in", short, fewer, BEGIN)
    assert said == f"Boxes: few in 2 weeks of the first year (3 Aug to 10 Aug).{told}"


def test_every_kind_has_its_words_for_none() -> None:
    assert set(NOTHING) == set(KINDS)
    assert NOTHING["onions"] == "no onions or leeks"


def test_a_limit_of_sowings_and_one_of_packets_are_told_apart() -> None:
    task = grounds(**{CROWDED: np.zeros(WEEKS), UNBOUGHT: np.zeros(WEEKS)})
    said = [when_full(task, np.zeros(0), name, BEGIN) for name in (CROWDED, UNBOUGHT)]
    assert said == ["sowings that may be made in a week", "crops that seed may be bought for"]


def test_a_limit_of_how_many_names_its_farm() -> None:
    """Of three farms one buys seed for four crops: which of them, nobody was told."""
    names = [row_of(CROWDED, "coast"), row_of(UNBOUGHT, "inland")]
    task = grounds(**dict.fromkeys(names, np.zeros(WEEKS)))
    assert [when_full(task, np.zeros(0), name, BEGIN) for name in names] == [
        "sowings that may be made in a week on coast", "crops that seed may be bought for on inland"]


@pytest.mark.parametrize(("weeks", "named"), [
    ((20,), "the week of 21 Dec"), ((20, 22), "the weeks of 21 Dec and 4 Jan"), (range(18, 30), ""),
])
def test_the_weeks_that_bind_are_named_where_they_are_few(weeks: tuple[int, ...], named: str) -> None:
    """An hour more a week all summer was told to bring 484 portions, while one week of it was full."""
    price = np.zeros((1, WEEKS))
    price[0, list(weeks)] = 1.0
    found: Any = SimpleNamespace(price=price, used=full_in(*weeks)[None, :],
                                 brought=lambda row, more, least=0.0: float(price[row] @ more))
    farm = _Farm(["winter"] * 18 + ["summer 2027"] * (YEAR_WEEKS - 18), np.full(WEEKS, 60.0))
    (told,) = _of_row(grounds(hours=full_in(*weeks)), found, 0, "hours", farm, BEGIN)
    assert told.portions == pytest.approx(60.0 * len(weeks))
    page = " ".join(render(Page("", tuple(held_back([told], [], BRITISH)))).split())
    assert ("the week" in page.split("would bring")[1].split("With the")[0]) == bool(named)
    for word in named.split():
        assert word in page


@pytest.mark.parametrize(("weeks", "when"), [
    ((20,), "summer 2027"), (range(10, 30), "spring 2027 and summer 2027"), (range(52), "the first year"),
])
def test_ground_is_there_all_year_and_short_in_the_seasons_named(weeks: Any, when: str) -> None:
    """A square metre was told once for each season, and of weeks with the same crops in them only for that of
    the first; nobody has a tunnel for a summer."""
    price = np.zeros((1, WEEKS))
    price[0, list(weeks)] = 0.5
    found: Any = SimpleNamespace(price=price, used=full_in(*weeks)[None, :],
                                 brought=lambda row, more, least=0.0: float(price[row] @ more))
    farm = _Farm(["spring 2027"] * 15 + ["summer 2027"] * 20 + ["autumn 2027"] * (YEAR_WEEKS - 35), None)
    (told,) = _of_row(grounds(tunnel=full_in(*weeks)), found, 0, "tunnel", farm, BEGIN)
    assert (told.season, told.portions) == (when, pytest.approx(0.5 * len(weeks)))
    assert bool(told.weeks) == (len(weeks) == 1)


def test_days_away_take_of_an_hour_more_as_of_the_others() -> None:
    """An hour a week more is no hour in a week of which two days are left."""
    garden: Any = SimpleNamespace(limits=SimpleNamespace(
        hours=3.0, by_day=None, away=[Away(BEGIN.start + 1, BEGIN.start + 5)]))
    more = hour_more(garden, BEGIN)
    assert more is not None
    assert (more[0], more[1]) == (pytest.approx(60 * 2 / 7), pytest.approx(60.0))
