"""Expectations kept in the book: the same as reckoned anew, and reckoned anew when what they rest on changes.
Invented garden and diary, real weather of Dublin Airport."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from evenpick.base.days import day_number
from evenpick.garden.diary import Reading, Sowed
from evenpick.garden.record import Sowing
from evenpick.service import expected as reckoning
from evenpick.service.book import record_of, write
from evenpick.service.expectation import Expected
from evenpick.service.expected import expected
from evenpick.service.foreseen import foreseen
from evenpick.service.learning import as_kept
from evenpick.service.setups import garden_of

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "bed 3"
cover = "open"
area = "30 m2"
[[wish]]
item = "rocket"
each_week = "250 g"
"""
ON = date(2027, 5, 1)


@pytest.fixture
def garden(garden: Path) -> Path:
    write(garden, [(date(2027, 4, 10), Sowed("radish", "direct", "open", 1.0, ground="bed 3"), ""),
                 (date(2027, 4, 12), Sowed("early-carrot", "direct", "open", 1.2, ground="bed 3"), "")])
    return garden


@pytest.fixture
def grown(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Crops of the sowings grown, as they are."""
    crops: list[str] = []

    def counted(site: Any, choice: Any, sowings: Sequence[Sowing], *rest: Any, **named: Any) -> Any:
        crops.extend(sorted(sowing.fact.crop for sowing in sowings))
        return expected(site, choice, sowings, *rest, **named)

    monkeypatch.setattr(reckoning, "expected", counted)
    return crops


def known(
    garden: Path, readings: Mapping[int, Reading] | None = None, on: date = ON,
) -> Mapping[str, Expected]:
    sowings = list(record_of(garden).sowings.values())
    return foreseen(garden, garden_of(garden), sowings, readings or {}, on, ())


def test_kept_is_what_is_reckoned_and_grows_nothing(garden: Path, grown: list[str]) -> None:
    sowings = list(record_of(garden).sowings.values())
    here = garden_of(garden)
    anew = expected(here.site, here.weather, sowings, {}, ON, as_here=as_kept(()), soil=here.soil)
    assert known(garden) == anew
    assert grown == ["early-carrot", "radish"]
    assert known(garden) == anew
    assert grown == ["early-carrot", "radish"]


def test_only_what_a_line_is_about_is_grown_again(garden: Path, grown: list[str]) -> None:
    before = known(garden)
    write(garden, [(date(2027, 4, 20), Sowed("rocket", "direct", "open", 1.0, ground="bed 3"), "")])
    after = known(garden)
    assert grown == ["early-carrot", "radish", "rocket"]
    assert before.items() <= after.items()


def test_another_day_reading_or_garden_is_reckoned_anew(garden: Path, grown: list[str]) -> None:
    known(garden)
    known(garden, on=date(2027, 5, 2))
    assert len(grown) == 4
    known(garden, {day_number(ON): Reading(tmin=-3.0)}, on=date(2027, 5, 2))
    assert len(grown) == 6
    garden.write_text(TEXT.replace("dublin-airport", "brize-norton"), encoding="utf-8")
    known(garden, on=date(2027, 5, 2))
    assert len(grown) == 8
