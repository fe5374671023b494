"""The plan before as areas of the new plan's candidates."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.days import day_number
from evenpick.plan.horizon import Horizon
from evenpick.plan.task import Task
from evenpick.service.standing import UnderWay


def areas_before(work: Task, season: UnderWay, horizon: Horizon) -> Floats:
    """m² per candidate: what the plan before would still sow on that very day; nought for what it would not,
    and without a plan before.

    What was made of it stands or is lost, and what is fixed stands: neither is sown a second time.
    """
    gone, before = season.decided.names, season.before
    planned = {
        (s.item, s.crop, s.way, s.cover, day_number(s.sow)): s.area_m2
        for s in (() if before is None else before.sowings) if not s.fixed and s.id not in gone
    }
    items = work.request.items
    return np.array([
        planned.get((items[o.item].name, o.batch.crop.key, o.batch.way.name, o.batch.cover,
                     horizon.start + o.day), 0.0)
        for o in work.options
    ], dtype=np.float64)
