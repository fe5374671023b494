"""Stages, bolting, cold and bulbs worked by hand in weather that never changes (O3; growth D3, D5, D6)."""

from __future__ import annotations

import numpy as np
import pytest
from steady import DAYS, crop, setting

from evenpick.base.arrays import Ints
from evenpick.crops.crop import Way
from evenpick.crops.signals import Bulbing, Cold, ColdHeading, LongDay
from evenpick.outlook.setting import Setting
from evenpick.outlook.stages import UNSEEN, Seen, bolts, ripe, start

DIRECT, RAISED = Way("direct"), Way("raised", bench=5.0, nursery=100.0)
SOW = np.array([[20]])
UP, PLACE = 24, 25  # 5 days × (13 − 3) = 50 °C d


def one(day: Ints) -> int:
    return int(day[0, 0])


def test_up_and_ripe() -> None:
    """300 °C d at ten a day: thirty days from the day after it came up."""
    here = setting()
    begun = start(crop(), DIRECT, here, None, SOW)
    assert (one(begun.up), one(begun.place)) == (UP, PLACE)
    assert one(ripe(crop(), here, begun, np.array([[300.0]]))) == PLACE + 29


def test_raised() -> None:
    """100 °C d in the nursery, ten days; the shock costs 25: (300 − 75)/10 = 22.5, so 23 days more."""
    here = setting()
    begun = start(crop(), RAISED, here, here, SOW)
    assert one(begun.place) == PLACE + 9
    assert one(ripe(crop(), here, begun, np.array([[300.0]]))) == PLACE + 9 + 22


def test_raised_waits_ten_days_for_warmth() -> None:
    cold, bench = setting(2.0), setting()
    begun = start(crop(), RAISED, cold, bench, SOW)
    assert one(begun.place) == PLACE + 9 + 10
    assert not begun.warm[0, 0]


def test_what_was_seen_goes_before_what_is_reckoned() -> None:
    """Up six days late: picked six days late; planted out on a day of its own though it was cold."""
    here = setting()
    late = start(crop(), DIRECT, here, None, SOW, Seen(np.array([UP + 6]), np.array([UNSEEN])))
    assert one(ripe(crop(), here, late, np.array([[300.0]]))) == PLACE + 6 + 29
    out = start(crop(), RAISED, setting(2.0), here, SOW, Seen(np.array([UNSEEN]), np.array([PLACE + 4])))
    assert one(out.place) == PLACE + 4
    assert out.warm[0, 0]


@pytest.mark.parametrize(("hours", "days"), [(16.0, 10), (18.0, 10), (14.0, 20), (8.0, 100)])
def test_long_day_bolting(hours: float, days: int) -> None:
    """100 °C d at ten a day, weighted 1 from 16 h, a half at 14 h, a tenth below 12.4 h."""
    here, rule = setting(hours=hours), LongDay(low=12.0, high=16.0, floor=0.1, total=100.0)
    lettuce = crop(bolting=(rule,))
    assert one(bolts(lettuce, here, None, start(lettuce, DIRECT, here, None, SOW))) == PLACE + days - 1


def test_long_days_on_the_bench_count() -> None:
    """Eleven days there, from coming up to planting out, of the twenty that 200 °C d take."""
    here, rule = setting(hours=16.0), LongDay(low=12.0, high=16.0, floor=0.1, total=200.0)
    lettuce = crop(bolting=(rule,))
    begun = start(lettuce, RAISED, here, here, SOW)
    assert one(begun.place) - UP == 10
    assert one(bolts(lettuce, here, here, begun)) == one(begun.place) + 9


def test_cold_bolting() -> None:
    """At 11 °C: 50 °C d of youth at eight a day end on the 7th day; 20 cold days at a half each end on the
    40th from that one; 30 °C d more on the 4th from there."""
    here, rule = setting(11.0), Cold(below=10.0, days=20.0, juvenile=50.0, then=30.0)
    beet = crop(bolting=(rule,))
    begun = start(beet, DIRECT, here, None, SOW)
    assert one(bolts(beet, here, None, begun)) == one(begun.place) + 6 + 39 + 3


@pytest.mark.parametrize("rules", [(), (Cold(below=10.0, days=20.0, juvenile=50.0, then=30.0),)])
def test_no_cold_no_bolting(rules: tuple[Cold, ...]) -> None:
    here, beet = setting(13.0), crop(bolting=rules)
    assert one(bolts(beet, here, None, start(beet, DIRECT, here, None, SOW))) == DAYS


def test_the_first_rule_counts() -> None:
    soon, late = (LongDay(low=10.0, high=12.0, floor=0.1, total=total) for total in (100.0, 400.0))
    here, both = setting(hours=12.0), crop(bolting=(late, soon))
    assert one(bolts(both, here, None, start(both, DIRECT, here, None, SOW))) == PLACE + 9


def test_heading_after_cold() -> None:
    """At 11 °C: 80 °C d of youth, ten days; 15 cold days at a half; 300 °C d at eight a day, 38 days."""
    here = setting(11.0)
    broccoli = crop(cold_heading=ColdHeading(below=10.0, days=15.0, juvenile=80.0))
    begun = start(broccoli, DIRECT, here, None, SOW)
    assert one(ripe(broccoli, here, begun, np.array([[300.0]]))) == one(begun.place) + 9 + 29 + 37


def test_bulbs_wait_for_leaf_and_for_the_longest_days() -> None:
    """Leaf: 0.3 × 1000 at ten a day, thirty days. Days within an hour of the longest begin on day 100."""
    here = setting()
    onion = crop(bulbing=Bulbing(offset=1.0, leaf=1000.0))
    begun = start(onion, DIRECT, here, None, SOW)
    assert one(ripe(onion, here, begun, np.array([[300.0]]))) == PLACE + 29 + 29
    hours = np.full(DAYS, 12.0)
    hours[100:200] = 15.5
    hours[150] = 16.0
    later = Setting(here.air, hours)
    assert one(ripe(onion, later, start(onion, DIRECT, later, None, SOW), np.array([[300.0]]))) == 100 + 29
