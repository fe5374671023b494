"""Celery raised in a hot summer for autumn and winter (docs/design/outlook.md, O3)."""

from __future__ import annotations

from real_places import at, grown, offered


def test_celery_is_raised_in_early_summer_by_the_mediterranean() -> None:
    """What is sown in late winter is cut in summer, in summer in winter (faidatecelery)."""
    assert all(offered("palermo", "celery", month, 10) for month in (6, 7))


def test_its_seedlings_grow_on_in_the_heat() -> None:
    """They stand over 30 °C and are raised in summer (celeryseedlings): no four months on the bench."""
    (made,) = grown("palermo", "celery")
    sow = at("palermo", 7, 1)
    assert (made.outcome.place[:, sow] - sow).mean() < 85


def test_it_is_not_planted_into_the_height_of_summer() -> None:
    assert not any(offered("palermo", "celery", month, 15) for month in (3, 4))
