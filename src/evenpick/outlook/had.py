"""On which days of a year a crop is to be had, sown in its good time."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Ints
from evenpick.outlook.ripening import ripening
from evenpick.outlook.setting import Setting
from evenpick.outlook.windows import MARGIN, YEAR, Calendar, fold

EVERY = 7  # days between the sow days looked at: a grower sows once a week at most
ENOUGH = 0.03  # of a full harvest in a week: less is not worth walking out for (memory)
WEEK = 7


def to_be_had(made: Calendar, here: Setting) -> Ints:
    """Spans of days on which sowings made in a window give something to eat, fresh or from store: weather
    year, first day and last, (3, spans). Day 0 is the first of the year that is scored; none passes its end.
    """
    sown = {fold(day) for window in made.windows for day in range(window.opens, window.closes + 1, EVERY)}
    ripe = ripening(made.outcome.at(np.array(sorted(sown), dtype=np.int64)), here, here.days // WEEK)
    enough = ripe.share >= ENOUGH
    first, last = ripe.ripe[enough] * WEEK - MARGIN, ripe.last[enough] * WEEK + WEEK - 1 - MARGIN
    return _round_the_year(ripe.year[enough], first, np.minimum(last, first + YEAR - 1))


def _round_the_year(year: Ints, first: Ints, last: Ints) -> Ints:
    """Spans that pass the year's end in two pieces, the second at its beginning."""
    begun = first % YEAR
    ends = begun + last - first
    over = ends >= YEAR
    return np.concatenate([
        np.stack([year, begun, np.minimum(ends, YEAR - 1)]),
        np.stack([year[over], np.zeros(over.sum(), dtype=np.int64), ends[over] - YEAR]),
    ], axis=1)  # fmt: skip
