"""Water spinach, the leaf of wet heat (avrdckangkong), and gai lan, a kale that bears some of it."""

from __future__ import annotations

import pytest
from real_places import grown, offered


def any_window(place: str, crop: str, cover: str = "open") -> bool:
    return any(made.windows for made in grown(place, crop, cover))  # type: ignore[arg-type]


def test_water_spinach_is_sown_in_the_heat() -> None:
    assert all(offered("singapore", "water-spinach", month, 15) for month in range(1, 13))
    assert offered("delhi", "water-spinach", 6, 15)
    assert not offered("delhi", "water-spinach", 11, 15)
    assert offered("houston", "water-spinach", 6, 1)
    assert not offered("houston", "water-spinach", 11, 1)


@pytest.mark.parametrize("place", ["dublin", "edinburgh", "san francisco", "nairobi", "tromso", "reykjavik"])
def test_no_water_spinach_in_the_open_where_summers_are_cool(place: str) -> None:
    """Below 23 °C it is too slow to pay (fpikangkong); the usual means are 20 and less there."""
    assert not any_window(place, "water-spinach")


def test_gai_lan_is_sown_from_spring_to_late_summer_where_summers_are_mild() -> None:
    assert offered("dublin", "gai-lan", 7, 1)
    assert offered("boston", "gai-lan", 8, 1)
    assert not offered("dublin", "gai-lan", 11, 1)


def test_gai_lan_is_of_the_cool_months_where_summers_are_hot() -> None:
    """The chief leaf of Thailand's winter (greennetgailan)."""
    for place in ("phoenix", "delhi", "chiang mai", "houston"):
        assert offered(place, "gai-lan", 10, 15), place
    for place in ("phoenix", "delhi", "lahore"):
        assert not offered(place, "gai-lan", 6, 1), place
