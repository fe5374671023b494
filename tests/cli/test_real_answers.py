"""A few questions all the way through: the packaged weather and crops, the real services."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_outlook_beside_that_of_a_warmer_climate(run: Run) -> None:
    """A degree or two warmer radish of May is up no later; each column is of the same purpose."""
    asked = ("outlook", "--crop", "radish", "--sow", "2027-05-01", "--at", "39.9,-75.2", "--record",
             "philadelphia", "--shift")
    code, out, _ = run(*asked)
    assert code == 0
    page = " ".join(out.split())
    assert "IN A WARMER CLIMATE what now +1 °C +2 °C" in page
    assert "first picking" in page.split("IN A WARMER CLIMATE")[1]
    code, out, _ = run(*asked, "--json")
    told = json.loads(out)
    assert [one["degrees"] for one in told["shifts"][:2]] == [1.0, 2.0]
    assert told["shifts"][2]["trend"]
    for one in told["shifts"]:
        assert sum(one["fates"].values()) == pytest.approx(1.0)
        assert one["emergence"]["p50"] <= told["emergence"]["p50"]
    assert told["shifts"][1]["first_picking"] != told["first_picking"]


def test_outlook_asks_for_one_warmth(run: Run) -> None:
    code, _, said = run("outlook", "--crop", "radish", "--sow", "2027-05-01", "--at", "51,0", "--shift",
                        "--warmer", "1")
    assert code == 2
    assert "exclude each other" in " ".join(said.split())


def test_outlook_is_whole(run: Run) -> None:
    code, out, _ = run("outlook", "--crop", "lettuce", "--sow", "2027-05-01", "--at", "53.43,-6.24",
                       "--record", "dublin_airport", "--json")
    answer = json.loads(out)
    assert code == 0
    assert sum(answer["fates"].values()) == pytest.approx(1.0, abs=1e-4)
    assert 0 < answer["emergence"]["p50"] < answer["first_picking"]["p10"]
    assert answer["first_picking"]["p10"] <= answer["first_picking"]["p50"] <= answer["first_picking"]["p90"]


def test_polar_night_has_nothing_to_sow(run: Run) -> None:
    code, out, _ = run("month", "january", "--at", "78.2,15.6", "--year", "2027")
    assert code == 0
    assert "Nothing can be sown here in January" in out
    assert "Next is " in " ".join(out.split())


def test_a_far_station_is_cautioned(run: Run) -> None:
    _, out, _ = run("windows", "--at", "-40,-120", "--crop", "radish")
    assert "CAUTION: the weather was measured far away" in " ".join(out.split())


def test_a_month_sheet_fits_a_page_or_two(run: Run) -> None:
    _, out, _ = run("month", "4", "--at", "51.5,-1.1", "--year", "2027")
    lines = out.splitlines()
    assert len(lines) <= 176  # 73 crops: in short first, then two pages of A4 and a few lines over
    assert max(map(len, lines)) <= 80
    assert "Never eat these beans raw" in " ".join(out.split())
