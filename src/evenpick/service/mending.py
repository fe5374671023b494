"""The plan before as areas of the new plan's candidates."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.days import day_number
from evenpick.plan.horizon import Horizon
from evenpick.plan.task import Task
from evenpick.service.answers import PlanAnswer


def areas_before(work: Task, before: PlanAnswer, horizon: Horizon) -> Floats:
    """m² per candidate: what the plan before would sow on that very day; nought for what it would not."""
    planned = {
        (s.item, s.crop, s.way, s.cover, day_number(s.sow)): s.area_m2 for s in before.sowings if not s.fixed
    }
    items = work.request.items
    return np.array([
        planned.get((items[o.item].name, o.batch.crop.key, o.batch.way.name, o.batch.cover,
                     horizon.start + o.day), 0.0)
        for o in work.options
    ], dtype=np.float64)
