"""Malabar spinach: the leaf of hot wet months (cornellbasella, echobasella)."""

from __future__ import annotations

from real_places import grown, offered


def test_it_is_sown_in_the_warmth() -> None:
    assert offered("singapore", "malabar-spinach", 5, 15)
    assert offered("houston", "malabar-spinach", 5, 15)
    assert not offered("houston", "malabar-spinach", 10, 15)
    assert offered("delhi", "malabar-spinach", 6, 15)
    assert not offered("delhi", "malabar-spinach", 12, 1)


def test_cool_summers_have_none_in_the_open() -> None:
    for place in ("dublin", "edinburgh", "cork"):
        assert not any(made.windows for made in grown(place, "malabar-spinach"))
