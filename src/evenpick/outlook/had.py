"""On which days of a year a crop is to be had, sown in its good time."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Bools, Ints
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.ripening import ripening
from evenpick.outlook.setting import Setting
from evenpick.outlook.windows import MARGIN, YEAR, Calendar, fold

EVERY = 7  # days between the sow days looked at: a grower sows once a week at most
ENOUGH = 0.03  # of a full harvest in a week: less is not worth walking out for (memory)
WEEK = 7


def to_be_had(made: Calendar, here: Setting) -> Bools:
    """Whether any sowing made in a window gives something to eat, fresh or from store; (years, YEAR), day 0
    the first of the year that is scored."""
    sown = {fold(day) for window in made.windows for day in range(window.opens, window.closes + 1, EVERY)}
    outcome = _of(made.outcome, np.array(sorted(sown), dtype=np.int64))
    ripe = ripening(outcome, here, here.days // WEEK)
    enough = ripe.share >= ENOUGH
    first, last = ripe.ripe[enough] * WEEK - MARGIN, ripe.last[enough] * WEEK + WEEK - 1 - MARGIN
    return _on_a_ring(here.years, ripe.year[enough], first, np.minimum(last, first + YEAR - 1))


def _of(outcome: Outcome, sow: Ints) -> Outcome:
    """The outcome of some of its sow days."""
    by_year = {name: getattr(outcome, name)[:, sow] for name in
               ("up", "place", "first", "last", "fate", "share", "quality", "emerged")}
    return replace(outcome, sow=outcome.sow[sow], **by_year)


def _on_a_ring(years: int, year: Ints, first: Ints, last: Ints) -> Bools:
    """Days of the year covered by any of the spans `first` to `last` of each year."""
    change = np.zeros((years, 2 * YEAR + 1), dtype=np.int64)
    begun = first % YEAR
    np.add.at(change, (year, begun), 1)
    np.add.at(change, (year, begun + (last - first) + 1), -1)
    covered = change.cumsum(axis=1) > 0
    return np.asarray(covered[:, :YEAR] | covered[:, YEAR : 2 * YEAR])
