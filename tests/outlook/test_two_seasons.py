"""Where heat parts the warm season in two, spring's sowings are not held against those of the rains (O7).

Of the spring melons and gourds of Punjab and Egypt: memory, no calendar was looked at.
"""

from __future__ import annotations

import numpy as np
import pytest
from real_places import grown, offered

from evenpick.outlook.reach import quickest_in_reach


def test_only_sowings_in_reach_catch_up() -> None:
    """Day 0 takes 3 days and is caught up by that of day 3, not by day 4's; days come round after 10."""
    days = np.array([3.0, 3.0, 3.0, 2.0, 1.0, 1.0, 3.0, 3.0, 3.0, np.nan])
    least = quickest_in_reach(np.where(np.isnan(days), np.inf, days), days, 10)
    assert least.tolist() == [2.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, np.inf]


@pytest.mark.parametrize(
    ("place", "key", "month", "day"),
    [("lahore", "watermelon", 3, 25), ("delhi", "watermelon", 3, 10), ("lahore", "melon", 3, 8),
     ("cairo", "courgette", 3, 1)],
)  # fmt: skip
def test_cucurbits_are_sown_in_place_in_spring(place: str, key: str, month: int, day: int) -> None:
    """The quickest of the year, of the rains, come when these are long picked."""
    assert offered(place, key, month, day, "direct")


def test_one_season_has_one_best_time() -> None:
    """What sulks in April is caught up by later sowings, as before; nothing is sown towards a cool winter."""
    assert not offered("dublin", "dwarf-bean", 4, 15)
    assert not offered("chicago", "courgette", 4, 15, "direct")
    for key in ("courgette", "tomato", "pepper"):
        for place in ("san francisco", "auckland", "chicago"):
            assert all(len(made.windows) <= 1 for made in grown(place, key)), (place, key)
