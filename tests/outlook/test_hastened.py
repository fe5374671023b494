"""Calendars of many crops: faster and in less memory, and the same (docs/design/outlook.md, O2)."""

from __future__ import annotations

import pytest

from evenpick.climate.site import Site
from evenpick.crops import clock
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.setting import KEPT, Settings
from evenpick.outlook.windows import Calendar
from evenpick.service import windows
from evenpick.service.windows import calendars, calendars_in, chosen_crops, year_weather

WEATHER = year_weather(Site("Galway", 53.27, -9.05), WeatherChoice(), 2027, 1)
# raised in modules, waiting for cold, making bulbs, fruiting again and again, cut, lifted at any size
KEYS = ("radish", "leek", "garlic", "tomato", "sprouting-broccoli", "main-potato", "chard")
COVERS = ("open", "tunnel")


def told(made: Calendar) -> tuple[object, ...]:
    out, scored = made.outcome, made.score
    arrays = (out.up, out.place, out.first, out.last, out.fate, out.share, out.quality, out.emerged,
              scored.score, scored.success, scored.leverage)
    return made.windows, scored.against, *(each.tobytes() for each in arrays)


def test_calendars_are_the_same_to_the_bit_with_loops_and_without(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clock, "_loops", None)
    crops = chosen_crops(KEYS)
    without = [told(made) for made in calendars(crops, COVERS, WEATHER, 1)]
    clock.hasten()
    assert [told(made) for made in calendars(crops, COVERS, WEATHER, 1)] == without


def test_many_crops_load_the_loops_and_few_do_not(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clock, "_loops", None)
    calendars(chosen_crops(KEYS[:1]), ("open",), WEATHER, 1)
    assert clock._loops is None
    monkeypatch.setattr(windows, "MANY", 1)
    calendars(chosen_crops(KEYS[:1]), ("open",), WEATHER, 1)
    assert clock._loops is not None


def test_a_setting_keeps_the_sums_of_few_crops_and_finds_the_same_in_them() -> None:
    crops, settings = chosen_crops(KEYS), Settings(WEATHER)
    first = [told(made) for made in calendars_in(settings, crops, COVERS, 1)]
    assert max(len(settings.cover(name)._sums) for name in COVERS) == KEPT
    assert [told(made) for made in calendars_in(settings, crops, COVERS, 1)] == first


def test_purposes_sown_alike_begin_in_the_same_arrays() -> None:
    """They are a third of what calendars of all crops keep."""
    fresh, leaf = (made.outcome for made in calendars(chosen_crops(("chard",)), ("open",), WEATHER, 1)[:2])
    assert fresh.purpose.thermal_share != leaf.purpose.thermal_share
    assert fresh.up is leaf.up
    assert fresh.place is leaf.place
    assert fresh.emerged is leaf.emerged
    assert (fresh.first != leaf.first).any()


def test_what_is_one_and_the_same_is_kept_once() -> None:
    """A good part of what calendars of all crops keep: the day it is full grown is that of the first picking,
    where it is not picked at any size; sets all come up; most causes of loss never strike."""
    (radish,) = calendars(chosen_crops(("radish",)), ("tunnel",), WEATHER, 1)
    assert radish.outcome.grown is radish.outcome.first
    spared = [share for share in radish.score.losses.values() if not share.any()]
    assert len(spared) > 2
    assert all(share is spared[0] for share in spared)
    potato = calendars(chosen_crops(("main-potato",)), ("open",), WEATHER, 1)[0].outcome
    assert potato.way.name == "planted"
    assert potato.emerged.strides == (0, 0)
    assert (potato.emerged == 1.0).all()
    assert (potato.grown != potato.first).any()
