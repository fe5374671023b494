"""Areas as a grower sows them: half metres of row, whole plants, quarter square metres (days.md)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.least import step
from evenpick.plan.request import Request
from evenpick.plan.task import Option


def steps_of(options: Sequence[Option]) -> Floats:
    """The steps in which each candidate's area goes, m²."""
    return np.array([step(option.batch.crop) for option in options])


def rounded(request: Request, options: Sequence[Option], areas: Floats) -> Floats:
    """Areas in whole steps, none below the least worth sowing, no ground filled beyond its limit."""
    steps = steps_of(options)
    least = request.candidates.least
    # half a step below the least is not sown at all
    sown = areas >= least - steps / 2
    whole = np.where(sown, np.maximum(np.round(areas / steps), np.ceil(least / steps - 1e-9)) * steps, 0.0)
    gained = whole - areas
    for number in np.argsort(-gained):
        if gained[number] <= 0:
            break
        if _overfull(request, whole, int(number)):
            fewer = whole[number] - steps[number]
            whole[number] = fewer if fewer >= least[number] - 1e-9 else 0.0
    return np.asarray(whole)


def _overfull(request: Request, areas: Floats, number: int) -> bool:
    """Whether a candidate stands in a week of ground that holds more than there is."""
    ground = request.grounds
    mine = ground.candidate == number
    over = ground.used(areas) - ground.limit > 1e-6 * np.maximum(ground.limit, 1.0)
    return bool(over[ground.row[mine], ground.week[mine]].any())
