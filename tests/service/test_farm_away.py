"""Nobody picks on a farm on which nobody is, though all that buy of the farms want on. Invented farms, real
weather of Dublin Airport."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
from test_cooperative import COOPERATIVE, DAY, HILL, LETTUCE, VALLEY, WISHES

from evenpick.plan.given import Given
from evenpick.plan.horizon import WEEKS
from evenpick.plan.limits import picked_when_there
from evenpick.service.box import box
from evenpick.service.cooperative import plan_cooperative, save_cooperative
from evenpick.service.cooperative_answer import CooperativeAnswer

AWAY = "[[away]]\nfrom = 2027-07-03\nuntil = 2027-07-25\n"
GONE = [date(2027, 7, 5), date(2027, 7, 12), date(2027, 7, 19)]
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


def test_what_is_still_good_is_picked_when_somebody_comes() -> None:
    gone = np.zeros(WEEKS, dtype=bool)
    gone[[10, 11, WEEKS - 1]] = True
    ripe = np.array([9, 10, 10, 11, 12, WEEKS - 1])
    last = np.array([10, 11, 12, 20, 12, WEEKS + 3])
    entries = Given(np.zeros(6, np.int64), np.arange(6), ripe, last, np.arange(6.0))
    found = picked_when_there(entries, gone)
    assert found.kg.tolist() == [0.0, 2.0, 3.0, 4.0]
    assert found.ripe.tolist() == [9, 12, 12, 12]
    assert found.last.tolist() == [10, 12, 20, 12]
