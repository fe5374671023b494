"""Nobody picks on a farm on which nobody is, though all that buy of the farms want on. Invented farms, real
weather of Dublin Airport."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from test_cooperative import COOPERATIVE, DAY, HILL, LETTUCE, VALLEY, WISHES

from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.ripening import keeps, lies
from evenpick.plan.given import Given
from evenpick.plan.horizon import WEEKS
from evenpick.plan.limits import picked_when_there
from evenpick.report.cooperative import cooperative_pickings_page
from evenpick.report.pickings import pickings_page
from evenpick.report.terminal import render
from evenpick.report.words import Words
from evenpick.service.box import box
from evenpick.service.cooperative import plan_cooperative, save_cooperative
from evenpick.service.cooperative_answer import CooperativeAnswer

AWAY = "[[away]]\nfrom = 2027-07-03\nuntil = 2027-07-25\n"
GONE = [date(2027, 7, 5), date(2027, 7, 12), date(2027, 7, 19)]
WORDS = Words("british", "metric", {}, {})
RHUBARB = '[[anyway]]\nitem = "self-sown lettuce"\nserves = "lettuce"\neach_week = "200 g"\n'


def planned(folder: Path, away: str) -> tuple[Path, CooperativeAnswer]:
    """The hill alone may grow what is wished for."""
    (folder / "valley").mkdir(parents=True)
    valley = f'cooperative = "../coop.toml"\n{VALLEY}'
    (folder / "valley" / "garden.toml").write_text(valley, encoding="utf-8")
    hill = f'cooperative = "coop.toml"\n{HILL}{RHUBARB}{away}'
    (folder / "hill.toml").write_text(hill, encoding="utf-8")
    only = 'farms = ["hill"]\n'
    (folder / "coop.toml").write_text(COOPERATIVE + WISHES + only + LETTUCE + only, encoding="utf-8")
    return folder / "coop.toml", plan_cooperative(folder / "coop.toml", DAY, stop=lambda: True)


def likely(answer: CooperativeAnswer, name: str, week: date) -> float:
    return next(each.likely for item in answer.pickings if item.item == name
                for each in item.weeks if each.week == week)


def test_what_ripens_while_nobody_is_there_is_not_promised(tmp_path: Path) -> None:
    """Heads that ripen in the weeks away are not in the boxes of those weeks, nor what comes anyway."""
    _, here = planned(tmp_path / "here", "")
    file, away = planned(tmp_path / "away", AWAY)
    last = GONE[-1]
    assert likely(here, "radish", last) > 0.5
    assert likely(away, "radish", last) == 0.0
    assert likely(here, "lettuce", last) > 2 * likely(away, "lettuce", last)
    assert all(each.wanted > 0 for item in away.pickings for each in item.weeks if each.week in GONE)
    save_cooperative(file, away)
    assert "radish" not in {one.item for one in box(file, last).items}


def test_pickings_tell_on_which_farm_nobody_is_there(tmp_path: Path) -> None:
    """The farm's own said that nothing is wanted in those weeks, above what is; the cooperative's nothing."""
    _, answer = planned(tmp_path, AWAY)
    pages = (cooperative_pickings_page(answer, WORDS, date(2027, 6, 28), 4),
             pickings_page(answer.farms[1].plan, WORDS, date(2027, 6, 28), 4))
    said = [[" ".join(week.split()) for week in render(page).split("WEEK OF ")[1:]] for page in pages]
    for weeks, where in zip(said, (" on hill", ""), strict=True):
        told = [f"Away: nobody is there to pick{where}. What is likely" in week for week in weeks]
        assert told == [False, True, True, True]
        assert not any("nothing is wanted" in week for week in weeks)


def had(ripe: int, last: int, kept: int, lying: int, away: tuple[int, ...]) -> list[tuple[int, int, float]]:
    """The parts in which one entry of 12 kg can be had: first week, last week, kg."""
    gone = np.zeros(WEEKS, dtype=bool)
    gone[list(away)] = True
    one, nought = np.array([ripe]), np.zeros(1, np.int64)
    found = picked_when_there(Given(nought, nought, one, np.array([last]), np.array([12.0])), gone,
                              np.array([kept]), np.array([lying]))
    return list(zip(found.ripe.tolist(), found.last.tolist(), found.kg.tolist(), strict=True))


def test_what_is_still_good_is_picked_when_somebody_comes() -> None:
    away = (10, 11, WEEKS - 1)
    assert had(10, 10, 0, 0, away) == []
    assert had(10, 12, 0, 0, away) == [(12, 12, 12.0)]
    assert had(11, 20, 1, 1, away) == [(12, 20, 12.0)]
    assert had(12, 12, 0, 0, away) == [(12, 12, 12.0)]
    assert had(WEEKS - 1, WEEKS + 3, 0, 0, away) == []
    assert had(10, 13, 2, 2, away) == []  # it stood to the week in which it ripened alone


def test_a_crop_keeps_as_the_outlook_has_it() -> None:
    """What is cut whole keeps as its store says, be it cut at once or as it stands; a bean does not."""
    for crop in load_catalogue().crops:
        stored = round(crop.harvest.store_weeks)
        picked = crop.harvest.profile in ("picking", "cut")
        assert keeps(crop) <= 2 if picked else keeps(crop) >= stored
        assert lies(crop) == (0 if crop.harvest.profile == "stored" else keeps(crop))


def test_what_was_ripe_before_leaving_is_had_as_long_as_it_keeps() -> None:
    """A lettuce ripe before its farm's people went was in the boxes of every week that they were away."""
    away = (10, 11, 12, 13)
    assert had(9, 12, 1, 1, away) == [(9, 10, 12.0)]  # a head: picked before leaving, good for a week
    assert had(9, 12, 0, 0, away) == [(9, 9, 12.0)]
    assert had(8, 30, 20, 0, away) == [(8, 30, 12.0)]  # onions lie in the store
    back = had(8, 17, 1, 1, away)  # it stands till they are back: parted by weeks, none in between
    assert [(first, last) for first, last, _ in back] == [(8, 10), (14, 17)]
    assert [kg for _, _, kg in back] == pytest.approx([12 * 3 / 7, 12 * 4 / 7])
    assert had(8, 9, 1, 1, away) == [(8, 9, 12.0)]
    assert sum(kg for _, _, kg in had(5, 40, 1, 1, (10, 11, 12, 20, 21, 22))) == pytest.approx(12.0)
