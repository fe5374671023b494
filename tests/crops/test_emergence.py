"""Emergence at constant soil temperature, through the program's own search, against harrington1954."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.arrays import Floats
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.clock import clock
from evenpick.crops.crop import Emergence
from evenpick.crops.emergence import emerged_share, emergence_rate

TABLE = Path(__file__).resolve().parents[1] / "data" / "emergence_harrington1954.csv"
# Turnip is left out: its row (1 to 5 days) is implausible beside its relatives' (growth E1).
CROPS = {
    "bean snap": "dwarf-bean", "beet": "beetroot", "cabbage": "summer-cabbage", "carrot": "main-carrot",
    "cauliflower": "cauliflower", "celery": "celery", "sweet corn": "sweetcorn", "cucumber": "cucumber",
    "eggplant": "aubergine", "lettuce": "crisp-lettuce", "onion": "onion", "parsley": "parsley",
    "parsnip": "parsnip", "pea": "pea", "pepper": "pepper", "radish": "radish", "spinach": "spinach",
    "tomato": "tomato", "muskmelon": "melon", "okra": "okra", "watermelon": "watermelon",
    "bean lima": "lima-bean",
}  # fmt: skip


def table() -> dict[str, dict[float, float]]:
    """Days to emergence by vegetable and soil temperature."""
    with TABLE.open(encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return {
            row.pop("vegetable"): {float(t): float(days) for t, days in row.items() if days} for row in rows
        }


PUBLISHED = table()


def modelled(temperature: float, emergence: Emergence) -> float:
    """Days at a constant temperature: the middle of the day on which it comes up."""
    steady = clock(emergence_rate(np.full((1, 400), temperature), emergence))
    return float(steady.reach(np.zeros((1, 1), dtype=np.int64), emergence.thermal_time)[0, 0]) + 0.5


def errors(vegetable: str, coldest: float = 5.0) -> Floats:
    """Modelled less published days, from `coldest` to the crop's optimum; E1 does not hold above it."""
    emergence = load_catalogue().crop(CROPS[vegetable]).emergence
    return np.array([
        modelled(t, emergence) - days
        for t, days in PUBLISHED[vegetable].items()
        if coldest <= t <= emergence.optimum
    ])  # fmt: skip


def rms(vegetable: str) -> float:
    return float(np.sqrt((errors(vegetable) ** 2).mean()))


def test_the_table_is_whole() -> None:
    """As the leaflet has it: 24 vegetables; three cells looked up by eye."""
    assert len(PUBLISHED) == 24
    assert (PUBLISHED["onion"][0.0], PUBLISHED["carrot"][5.0], PUBLISHED["pepper"][15.0]) == (136, 51, 25)


def test_median_error() -> None:
    """0.6 d (growth E1), half a day of it from counting whole days."""
    assert np.median([rms(vegetable) for vegetable in CROPS]) <= 0.65


@pytest.mark.parametrize("vegetable", sorted(set(CROPS) - {"cauliflower"}))
def test_error_of_each(vegetable: str) -> None:
    """No worse than the fit's own worst (growth E1): 2.0 d, onion and parsnip, slow in cold soil, 4.7 d.

    Okra's row falls from 13 days at 25 °C to 7 at 30, the lima bean's from 18 at 20 to 7 at 25, which no
    straight line does: 2.5 d and, in all, 2.1 d there."""
    assert rms(vegetable) <= {"onion": 4.7, "parsnip": 4.7, "bean lima": 2.1}.get(vegetable, 2.0)
    warm = errors(vegetable, coldest=10.0)
    assert np.abs(warm).max() <= {"okra": 2.5, "bean lima": 3.6}.get(vegetable, 1.6)


@pytest.mark.xfail(strict=True, reason="the catalogue gives it cabbage's values: 5.5 d short at 10 °C")
def test_cauliflower_at_ten_degrees() -> None:
    assert np.abs(errors("cauliflower", coldest=10.0)).max() <= 1.6


@pytest.mark.xfail(strict=True, reason="with the catalogue's bases it comes up months late or never at 0 °C")
@pytest.mark.parametrize("vegetable", ["lettuce", "onion", "parsnip", "spinach"])
def test_the_hardy_at_nought(vegetable: str) -> None:
    assert modelled(0.0, load_catalogue().crop(CROPS[vegetable]).emergence) == pytest.approx(
        PUBLISHED[vegetable][0.0], rel=0.1
    )


def test_emerged_share_by_hand() -> None:
    """exp(−k·days) times √((ceiling − soil)/5) within 5 °C of the ceiling, nothing above it (E2)."""
    emergence = Emergence(
        base=3.0, thermal_time=100.0, optimum=25.0, ceiling=30.0, loss_per_day=0.02, lies=None
    )
    got = emerged_share(np.array([0.0, 10.0, 10.0, 10.0]), np.array([10.0, 20.0, 28.75, 31.0]), emergence)
    assert got == pytest.approx([1.0, np.exp(-0.2), np.exp(-0.2) / 2, 0.0])
