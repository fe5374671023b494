"""A plan brought to what its beds hold: nothing is counted on that has no room (docs/design/beds.md, 9)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from math import floor

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.language import tell, tell_n
from evenpick.plan.amounts import steps_of
from evenpick.plan.in_steps import FEW, bettered
from evenpick.plan.layout import CRUMB
from evenpick.plan.least import step
from evenpick.plan.task import Task
from evenpick.service.brought import names_of
from evenpick.service.garden_task import GardenTask, Taken, taken
from evenpick.service.ground import laid, laid_as_kept, with_beds
from evenpick.service.ground_answer import GroundAnswer, lying
from evenpick.service.lain import NOWHERE, Lain, since
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.solving import Solved

TRIES = 3
"""times that a plan is made smaller by what its layout had no room for; the first to whole steps"""
FILLS = 4
"""times that others are tried on what that leaves free"""


def fitted(part: GardenTask, found: Solved, answer_of: Callable[[Solved, Taken], PlanAnswer]) -> PlanAnswer:
    """The plan with its beds; sowings for which these have no room made smaller or left out, and told."""
    first, fit = found.areas, _fit(part, found, lain_before(part))
    if not np.array_equal(fit.found.areas, first) and len(first) <= FEW:
        fit = _filled(part, fit, first)
    plan = answer_of(fit.found, fit.use)
    names = smaller(found.work, first, fit.found.areas)
    if not names:
        return with_beds(plan, fit.beds)
    said = tell("The beds are too small or too full for some of what their area would bear, so it is left "
                "out or made smaller: {names}. Larger beds, or fewer crops, would mend it.",
                names=names)
    return with_beds(replace(plan, cannot=(said, *plan.cannot)), fit.beds)


@dataclass(frozen=True, slots=True)
class _Fit:
    """Areas that the beds have room for, what they come to, and where they lie."""

    found: Solved
    use: Taken
    beds: GroundAnswer
    lain: Lain


def _fit(part: GardenTask, found: Solved, lain: Lain) -> _Fit:
    for left in range(TRIES, -1, -1):
        use, beds = lie(part, found, lain)
        areas = less(part, found, use, beds, whole=left == TRIES)
        lain = as_laid(lain, beds)
        if not left or np.array_equal(areas, found.areas):
            break
        found = found.with_areas(areas)
    return _Fit(found, use, beds, lain)


def _filled(part: GardenTask, fit: _Fit, first: Floats) -> _Fit:
    """The ground that was left free used by other sowings, made larger or added where there is room for them
    in the beds as they lie and that pays."""
    exact, settled = fit.found.exact, fit.found.settled
    steps, most = steps_of(fit.found.work.options), fit.found.work.request.candidates.most
    limits = part.garden.limits
    if limits.sowings_a_week is not None or limits.buying.packets:
        most = np.where(fit.found.areas > 0, most, 0.0)  # one more might be one too many
    most = np.where(fit.found.areas < first, fit.found.areas, most)
    for _ in range(FILLS):
        now = fit.found
        wanted = bettered(exact, now.areas, steps, most, settled=settled)
        if np.array_equal(wanted, now.areas):
            break
        other = _fit(part, now.with_areas(wanted), fit.lain)
        refused = other.found.areas < wanted
        if now.cost(other.found.areas) < now.cost(now.areas):
            fit = other
        elif not (refused & (wanted > now.areas)).any():
            refused = wanted > now.areas  # it was another that gave way
        most = np.where(refused, np.minimum(most, fit.found.areas), most)
    return fit


def lain_before(part: GardenTask) -> Lain:
    """Where the plan before, and what was made of it, lies by now."""
    before, record = part.season.before, part.season.record
    if before is None:
        return NOWHERE
    return since(lying(laid_as_kept(part.garden, before, record)), before, record)


def lie(part: GardenTask, found: Solved, lain: Lain) -> tuple[Taken, GroundAnswer]:
    """What the areas come to, and where it lies."""
    use = taken(part, found.work, found.areas)
    return use, laid(part.garden, use, part.season.record, lain)


def as_laid(lain: Lain, beds: GroundAnswer) -> Lain:
    """All where it was just laid: what is made smaller lies there still, and nothing else is without room by
    a layout that came out another."""
    return replace(lain, now=lying(beds), kept=True)


def smaller(work: Task, before: Floats, after: Floats) -> str:
    """Crops, with how many sowings of each are smaller after than before; '' where none is."""
    names = Counter(work.options[at].batch.crop.told for at in np.flatnonzero(after < before))
    return ", ".join(tell_n("{name} ({n} sowing)", "{name} ({n} sowings)", n, name=name)
                     for name, n in names.items())


def less(part: GardenTask, found: Solved, use: Taken, beds: GroundAnswer, whole: bool) -> Floats:
    """The areas less what found no room; in `whole` steps of each crop, of which beds need not hold a whole
    number: a step less may leave a bed to fill that is too short for what is left, and so on."""
    areas, lacking = found.areas.copy(), {each.sowing: each.area_m2 for each in beds.no_room}
    for number, name in names_of(part, found.work, areas, use.sowings).items():
        each = step(found.work.options[number].batch.crop)
        if lacking.get(name, 0.0) > CRUMB * each:
            steps = (areas[number] - lacking[name]) / each
            areas[number] = (floor(steps + CRUMB / 10) if whole or steps < CRUMB else steps) * each
    return areas
