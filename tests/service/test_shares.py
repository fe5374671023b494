"""What shares come to and bring, by hand (docs/design/season.md, 14, 19 to 21). An INVENTED garden of two
outlets, two items and two seasons of one; a Measure made by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from evenpick.base.days import day_number
from evenpick.climate.site import Site
from evenpick.garden.garden import Garden, Outlet, Wish
from evenpick.garden.limits import NO_LIMITS, Away
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.measure import Measure
from evenpick.plan.wanted import WantedItem, wanted_items, while_there
from evenpick.service.picking_list import picking_list
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem
from evenpick.service.shares import had_by_wish, short_shares
from evenpick.service.shares_answer import ShortShare, WeekShare
from evenpick.service.takings import takings
from evenpick.service.variety import short_of
from evenpick.service.week_shares import shares_on, week_share

MONDAY = date(2027, 3, 1)
HORIZON = Horizon(day_number(MONDAY), 5)
YEARS = 4
BOXES = Outlet("boxes", "boxes", 10, weight=1.0)
STALL = Outlet("stall", "stall")
LEEKS = Wish("leeks", ("leek",), "boxes", 6.0, price=3.0)
LEEKS_AT_STALL = Wish("leeks", ("leek",), "stall", 3.0, price=4.0)
KALE = Wish("kale", ("kale",), "boxes", 6.0, (3, 1), (3, 21), price=2.0)  # three weeks
KALE_IN_MAY = Wish("kale", ("kale",), "boxes", 4.0, (5, 3), (5, 9), price=5.0)  # one week
GARDEN = Garden(Site("Testham", 51.5, -1.25), (), (BOXES, STALL),
                (LEEKS, LEEKS_AT_STALL, KALE, KALE_IN_MAY), money="€")
IN_MAY = 9
"""the week of 3 May: nine weeks after the first of March"""


def wanted(garden: Garden = GARDEN) -> tuple[WantedItem, ...]:
    return wanted_items(garden.wishes, HORIZON, set())


def found(garden: Garden, **weeks: dict[int, tuple[float, ...]]) -> Measure:
    """What is used of each item, kg: in the weeks named in each of four years, elsewhere all that is
    wanted."""
    items = wanted(garden)
    used = np.repeat(np.stack([item.kg for item in items])[:, :, None], YEARS, axis=2)
    for number, item in enumerate(items):
        for week, kg in weeks.get(item.name.replace(", ", "_").replace(" ", "_"), {}).items():
            used[number, week] = kg
    none = np.zeros_like(used)
    return Measure(np.zeros(YEARS), np.zeros(YEARS), np.zeros(YEARS, np.int64), used, none, none)


def monday(week: int) -> date:
    return MONDAY + timedelta(weeks=week)


def test_each_wish_gets_its_part_of_what_is_used() -> None:
    """6 kg of leeks of the 9 wanted: boxes 6/9 of it, the stall 3/9; all kale is the wish's of its season."""
    measure = found(GARDEN, leeks={1: (6.0, 0.0, 9.0, 3.0)},
                    kale={1: (3.0, 6.0, 0.0, 6.0), IN_MAY: (2.0,) * 4})
    had = had_by_wish(GARDEN.wishes, wanted(), measure, HORIZON)
    assert had.shape == (4, WEEKS, YEARS)
    assert had[0, 1] == pytest.approx([4.0, 0.0, 6.0, 2.0])
    assert had[1, 1] == pytest.approx([2.0, 0.0, 3.0, 1.0])
    assert had[2, 1] == pytest.approx([3.0, 6.0, 0.0, 6.0])
    assert had[3, 1].sum() == had[2, IN_MAY].sum() == 0.0
    assert had[3, IN_MAY] == pytest.approx([2.0] * 4)


def test_half_of_the_years_decide_whether_a_share_is_heavy_enough() -> None:
    """Ten boxes of 1 kg. Week 0: all that is wanted, 12 kg. Week 1: 4 + 6 = 10 in two years of four, enough.
    Week 2: 10 in one year, short. From week 3 leeks alone are wanted, 6 kg: short, and the wishes are.
    In May 6 + 4 = 10 is just enough."""
    measure = found(GARDEN, leeks={1: (6.0, 6.0, 0.0, 0.0), 2: (6.0, 0.0, 0.0, 0.0)})
    (short,) = short_shares(GARDEN, wanted(), measure, HORIZON)
    weeks = [2, *(week for week in range(3, 52) if week != IN_MAY)]
    # the kale of next March lies past the first year: the 52nd week is that of 21 February
    assert short == ShortShare("boxes", "weight", 1.0, tuple(map(monday, weeks)), len(weeks) - 1)


def test_what_nobody_wants_that_week_is_no_shortfall() -> None:
    """Boxes in March alone."""
    garden = replace(GARDEN, wishes=(KALE, LEEKS_AT_STALL), outlets=(replace(BOXES, weight=0.6), STALL))
    assert [*short_shares(garden, wanted(garden), found(garden), HORIZON)] == []
    (short,) = short_shares(garden, wanted(garden), found(garden, kale={1: (5.9,) * 4}), HORIZON)
    assert short.weeks == (monday(1),)
    assert short.wished_less == 0


def test_of_a_week_that_is_open_in_part_as_much_is_asked() -> None:
    """Kale from Saturday 1 May, two days of that week: 2/7 of 6 kg, for ten boxes of 0.6 kg 2/7 of it; and
    the grower is away from Monday 10 to Thursday 13 May."""
    kale = replace(KALE, opens=(5, 1), closes=(5, 31))
    away = replace(NO_LIMITS, away=(Away(day_number(date(2027, 5, 10)), day_number(date(2027, 5, 13))),))
    garden = replace(GARDEN, wishes=(kale,), outlets=(replace(BOXES, weight=0.6),), limits=away)
    items = while_there(wanted(garden), garden.wishes, away.away, HORIZON)
    assert items[0].kg[8:11] == pytest.approx([6 * 2 / 7, 6.0, 6 * 3 / 7])
    all_of_it = np.repeat(items[0].kg[None, :, None], YEARS, axis=2)
    measure = replace(found(garden), used=all_of_it)
    assert [*short_shares(garden, items, measure, HORIZON)] == []
    measure = replace(measure, used=all_of_it * 0.99)
    (short,) = short_shares(garden, items, measure, HORIZON)
    assert short.weeks == tuple(map(monday, range(8, 14)))


def test_worth_is_reckoned_at_each_wishs_price() -> None:
    """A box of the first week holds 0.6 kg of leeks at 3 and 0.6 kg of kale at 2: 3.00; of May 0.6 at 3 and
    0.4 at 5: 3.80. Of leeks alone 1.80."""
    garden = replace(GARDEN, outlets=(replace(BOXES, weight=None, worth=3.0), STALL))
    (short,) = short_shares(garden, wanted(garden), found(garden), HORIZON)
    assert (short.what, short.least) == ("worth", 3.0)
    assert {monday(0), monday(1), monday(2), monday(IN_MAY)}.isdisjoint(short.weeks)
    assert len(short.weeks) == short.wished_less == 52 - 4
    dearer = replace(garden, outlets=(replace(BOXES, weight=None, worth=3.01), STALL))
    (short,) = short_shares(dearer, wanted(dearer), found(dearer), HORIZON)
    assert monday(0) in short.weeks
    assert monday(IN_MAY) not in short.weeks


def test_what_is_put_by_is_in_no_weekly_share() -> None:
    kept = Wish("kale", ("kale",), "boxes", 50.0, (4, 1), (4, 30), keep=True, price=1.0)
    garden = replace(GARDEN, wishes=(*GARDEN.wishes, kept))
    (short,) = short_shares(garden, wanted(garden), found(garden), HORIZON)
    assert monday(8) in short.weeks  # that of 30 April, in which 50 kg are put by


def test_nothing_promised_is_not_looked_at() -> None:
    garden = replace(GARDEN, outlets=(replace(BOXES, weight=None), STALL))
    assert [*short_shares(garden, wanted(garden), found(garden), HORIZON)] == []


def test_takings_by_outlet_and_month() -> None:
    """Leeks for the boxes alone, 6 kg a week at 3: 18 a week, less in the first week. The first year is 52
    weeks from Monday 1 March 2027, to Sunday 27 February 2028. Week 4 begins on Monday 29 March: three of its
    days are March's, four April's."""
    garden = replace(GARDEN, wishes=(LEEKS,), outlets=(BOXES,))
    measure = found(garden, leeks={0: (0.0, 1.0, 2.0, 6.0)})
    (boxes,) = takings(garden, wanted(garden), measure, HORIZON)
    by_year = [51 * 18 + kg * 3 for kg in (0.0, 1.0, 2.0, 6.0)]
    assert (boxes.outlet, boxes.unpriced) == ("boxes", ())
    assert (boxes.low, boxes.likely, boxes.high) == pytest.approx(
        (by_year[0] + 0.3 * 3, by_year[1] + 0.5 * 3, by_year[2] + 0.7 * 12))  # linear between the four
    months = dict(boxes.months)
    assert next(iter(months)) == date(2027, 3, 1)
    assert [*months][-1] == date(2028, 2, 1)
    assert len(months) == 12
    assert months[date(2027, 3, 1)] == pytest.approx(4.5 + 3 * 18 + 18 * 3 / 7)
    assert months[date(2027, 4, 1)] == pytest.approx(18 * 30 / 7)
    assert months[date(2028, 2, 1)] == pytest.approx(18 * 27 / 7)


def test_takings_of_several_outlets_are_told_together_too() -> None:
    """Boxes 6 kg at 3 and stall 3 kg at 4 in each of 52 weeks; kale thrice 6 kg at 2, once 4 kg at 5."""
    boxes, stall, both = takings(GARDEN, wanted(), found(GARDEN), HORIZON)
    assert boxes.likely == pytest.approx(52 * 18 + 3 * 12 + 20)
    assert stall.likely == pytest.approx(52 * 12)
    assert (both.outlet, both.likely) == (None, pytest.approx(boxes.likely + stall.likely))


def test_what_has_no_price_brings_nothing_and_is_named() -> None:
    free = tuple(replace(wish, price=None) for wish in (KALE, KALE_IN_MAY))
    garden = replace(GARDEN, wishes=(LEEKS, replace(LEEKS_AT_STALL, price=None), *free))
    (boxes,) = takings(garden, wanted(garden), found(garden), HORIZON)
    assert (boxes.likely, boxes.unpriced) == (pytest.approx(52 * 18), ("kale",))
    none = replace(GARDEN, wishes=tuple(replace(wish, price=None) for wish in GARDEN.wishes))
    assert [*takings(none, wanted(none), found(none), HORIZON)] == []


def test_what_is_put_by_is_paid_when_it_is_had() -> None:
    kept = Wish("kale", ("kale",), "boxes", 50.0, (4, 1), (4, 30), keep=True, price=1.5)
    garden = replace(GARDEN, wishes=(kept,), outlets=(BOXES,))
    (boxes,) = takings(garden, wanted(garden), found(garden), HORIZON)
    assert boxes.likely == pytest.approx(75.0)
    assert dict(boxes.months)[date(2027, 4, 1)] == pytest.approx(75.0 * 5 / 7)  # the week of 26 April


def pickings(item: str, likely: float, wanted_kg: float) -> ItemPickings:
    return ItemPickings(item, "kg", 1.0, (WeekOfItem(MONDAY, wanted_kg, 0.0, likely, likely, 0.0, 0.0),), 0)


def test_one_share_of_a_week_beside_what_it_should_be() -> None:
    """4.5 of 9 kg of leeks: half for each outlet, 3 kg for ten boxes; kale 7 of 6 wanted: all 6. A box is
    0.3 + 0.6 kg, worth 0.9 + 1.2; the stall 1.5 kg, worth 6."""
    items = (pickings("leeks", 4.5, 9.0), pickings("kale", 7.0, 6.0))
    garden = replace(GARDEN, outlets=(replace(BOXES, worth=2.5), STALL))
    boxes, stall = shares_on(items, garden, date(2027, 3, 4))
    assert boxes == WeekShare("boxes", pytest.approx(0.9), 1.0, pytest.approx(2.1), 2.5, False, "€")
    assert stall == WeekShare("stall", pytest.approx(1.5), None, pytest.approx(6.0), None, False, "€")


def test_a_share_without_prices_has_a_weight_alone() -> None:
    wishes = (replace(LEEKS, price=None), replace(LEEKS_AT_STALL, price=None), KALE)
    garden = replace(GARDEN, wishes=wishes)
    items = (pickings("leeks", 9.0, 9.0), pickings("kale", 6.0, 6.0))
    (boxes,) = shares_on(items, garden, MONDAY)  # the stall promises nothing and has no price
    assert (boxes.worth, boxes.unpriced) == (pytest.approx(1.2), True)
    assert shares_on(items[:1], garden, MONDAY)[0].worth is None
    assert shares_on((), garden, MONDAY) == ()
    assert week_share(BOXES, (), "").kg == 0.0


def test_a_stall_with_nothing_to_sell_is_not_told_what_nothing_is_worth() -> None:
    """A box of nothing is told: somebody waits for it."""
    items = (pickings("leeks", 0.0, 9.0),)
    (boxes,) = shares_on(items, GARDEN, MONDAY)
    assert (boxes.outlet, boxes.kg, boxes.worth) == ("boxes", 0.0, 0.0)


def test_of_days_away_nothing_is_handed_out() -> None:
    """Of a week of 9 kg the plan wants 4.5, for half of its days nobody is there: 3 and 1.5."""
    (listed,) = picking_list((pickings("leeks", 9.0, 4.5),), (LEEKS, LEEKS_AT_STALL), MONDAY)
    assert [(share.wanted, share.likely) for share in listed.outlets] == [(3.0, 3.0), (1.5, 1.5)]
    assert listed.spare == 4.5


def test_what_is_put_by_is_not_handed_out_each_week() -> None:
    kept = Wish("leeks", ("leek",), "boxes", 50.0, (1, 1), (4, 30), keep=True)
    (listed,) = picking_list((pickings("leeks", 9.0, 9.0),), (LEEKS, LEEKS_AT_STALL, kept), MONDAY)
    assert [(share.outlet, share.wanted) for share in listed.outlets] == [("boxes", 6.0), ("stall", 3.0)]


# Variety of an outlet is of its own wishes (14)


def test_what_only_the_stall_wants_in_a_week_is_not_in_a_box() -> None:
    """Leeks in boxes for four weeks, at the stall all year; kale in boxes for all the time."""
    leeks = replace(LEEKS, opens=(3, 1), closes=(3, 28))
    kale = replace(KALE, opens=None, closes=None)
    garden = replace(GARDEN, wishes=(leeks, LEEKS_AT_STALL, kale),
                     outlets=(replace(BOXES, variety=2, needs=("onions",)), STALL))
    said = [*short_of(garden, wanted(garden), found(garden), HORIZON)]
    assert said[0].startswith("boxes: fewer than 2 different items are likely in 48 weeks")
    assert "Too little is wished for then" in said[0]
    assert said[1].startswith("boxes: no onions or leeks to be expected in 48 weeks")
    assert "Too little is wished for then" in said[1]
