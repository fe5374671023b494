"""A cooperative's plan brought to what the beds of each farm hold (docs/design/beds.md, 9)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.language import tell
from evenpick.plan.farms import of_farms
from evenpick.service.fitted import TRIES, less, lie, smaller
from evenpick.service.garden_task import GardenTask
from evenpick.service.solving import Solved


def fitted_farms(parts: Sequence[GardenTask], found: Solved) -> tuple[Solved, tuple[str, ...]]:
    """The plan with what finds no room in a farm's beds smaller or left out, and a line on it for each farm;
    what another farm could sow in its place is not looked for."""
    first = found.areas
    for left in range(TRIES, 0, -1):
        own = of_farms([part.work for part in parts], found.areas)
        areas = np.concatenate([_with_room(part, found, mine, left == TRIES)
                                for part, mine in zip(parts, own, strict=True)])
        if np.array_equal(areas, found.areas):
            break
        found = found.with_areas(areas)
    return found, tuple(_smaller(parts, first, found.areas))


def _with_room(part: GardenTask, found: Solved, areas: Floats, whole: bool) -> Floats:
    """A farm's areas less what its beds lack room for."""
    found = replace(found, work=part.work, areas=areas)
    return less(part, found, *lie(part, found), whole)


def _smaller(parts: Sequence[GardenTask], first: Floats, areas: Floats) -> Iterator[str]:
    works = [part.work for part in parts]
    for part, before, after in zip(parts, of_farms(works, first), of_farms(works, areas), strict=True):
        names = smaller(part.work, before, after)
        if names:
            yield tell("The beds of {farm} are too small or too full for some of what their area would bear, "
                       "so it is left out or made smaller: {names}. Larger beds there, or fewer crops, would "
                       "mend it.", farm=part.garden.farm or part.garden.site.name, names=names)
