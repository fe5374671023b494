"""Salads that stand the winter for its end (outlook.md, O9): what is sown in August and September is cut
until April, in the hungry gap."""

from __future__ import annotations

import numpy as np
import pytest
from real_places import at, grown, offered

from evenpick.base.trade import CoverName
from evenpick.outlook.season import OVERWINTERING
from evenpick.outlook.windows import Calendar

SALADS = ("leaf-lettuce", "mizuna", "rocket", "coriander")


def overwintering(place: str, crop: str, cover: CoverName) -> list[Calendar]:
    return [made for made in grown(place, crop, cover) if made.outcome.purpose.name == OVERWINTERING]


DIES = pytest.mark.xfail(strict=True, reason="half of the made winters at Edinburgh kill it by January")
"""it bears -6 °C, and the drop drawn for Edinburgh's nights is a tenth more than Leuchars reports"""


@pytest.mark.parametrize(("crop", "cover"), [
    pytest.param(crop, cover, marks=[DIES] if cover == "open" and crop in ("leaf-lettuce", "rocket") else [])
    for cover in ("open", "tunnel") for crop in SALADS
])  # fmt: skip
def test_august_is_the_time_at_edinburgh(crop: str, cover: CoverName) -> None:
    """rbgewinter: sown in August they are grown before growth stalls, and survive an average winter in the
    open; they give more in a tunnel."""
    day = at("edinburgh", 8, 25)
    for made in overwintering("edinburgh", crop, cover):
        assert any(window.opens <= day <= window.closes for window in made.windows), made.outcome.way.name
        assert made.score.success[day] > 0.6


@pytest.mark.parametrize("crop", SALADS)
def test_a_tunnel_gives_more(crop: str) -> None:
    """rbgewinter, the same."""
    day = at("edinburgh", 8, 25)
    open_air, tunnel = (overwintering("edinburgh", crop, cover) for cover in ("open", "tunnel"))
    for outside, inside in zip(open_air, tunnel, strict=True):
        assert inside.outcome.share[:, day].mean() >= outside.outcome.share[:, day].mean()


@pytest.mark.parametrize("crop", SALADS)
def test_it_is_cut_until_spring(crop: str) -> None:
    """In the middle of the years what is sown in a tunnel on 10 September at Norwich is still cut in March
    (common practice, no source)."""
    made = overwintering("norwich", crop, "tunnel")[0]
    day = at("norwich", 9, 10)
    last = np.median(made.outcome.last[:, day])
    assert last > at("norwich", 12, 31) + 60


@pytest.mark.parametrize("crop", ["leaf-lettuce", "cos-lettuce"])
def test_where_winters_are_mild_lettuce_is_raised_all_the_year(crop: str) -> None:
    """Auckland (common practice, no source): no month is without, for the one purpose or the other."""
    assert all(offered("auckland", crop, month, 15, "raised") for month in range(1, 13))


def test_where_there_is_no_winter_nothing_overwinters() -> None:
    for crop in SALADS:
        assert not any(made.windows for made in overwintering("singapore", crop, "open"))

