"""By when a planned sowing is to be made, and what closes its window (docs/design/days.md, 5)."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from evenpick.plan.horizon import SOWING_WEEKS
from evenpick.service import sowings
from evenpick.service.sowings import FAR_OFF, _closing, _last_able

DAYS = 7 * SOWING_WEEKS


class Fixed:
    """A batch with a window that opens and closes on the same days of every year."""

    def __init__(self, closes: int | None) -> None:
        self.outcome, self.score = None, self
        day = np.arange(DAYS) % 364
        self.able = np.ones(DAYS, dtype=bool) if closes is None else (day > 300) | (day <= closes)
        self.against = tuple("" if able else "frosted" for able in self.able)


@pytest.mark.parametrize(("closes", "day", "latest", "closing"), [
    (None, DAYS - 3, DAYS - 3 + FAR_OFF.days, ""),  # open all the year
    (100, DAYS - 3, 364 + 100, "frosted"),  # 16 days after the plan's last day for sowing
    (DAYS - 1 - 364, DAYS - 3, DAYS - 1, "frosted"),  # on that very day
    (40, 380, 364 + 40, "frosted"),  # well before it
])
def test_a_window_does_not_close_where_the_plans_reach_ends(
    monkeypatch: pytest.MonkeyPatch, closes: int | None, day: int, latest: int, closing: str
) -> None:
    batch: Any = Fixed(closes)
    monkeypatch.setattr(sowings, "considered", lambda outcome, score: score.able)
    assert _last_able(batch, day) == latest
    assert _closing(batch, latest) == closing
