"""A cooperative's plan brought to what the beds of each farm hold (docs/design/beds.md, 9)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.language import tell
from evenpick.plan.farms import of_farms
from evenpick.service.fitted import TRIES, as_laid, lain_before, less, lie, smaller
from evenpick.service.garden_task import GardenTask, Taken
from evenpick.service.ground_answer import GroundAnswer
from evenpick.service.solving import Solved


@dataclass(frozen=True, slots=True)
class Fitted:
    """A plan of which all has room."""

    found: Solved
    lying: tuple[tuple[Taken, GroundAnswer], ...]
    """what each farm's areas come to, and where it lies"""
    said: tuple[str, ...]
    """a line for each farm on whose beds something had no room"""


def fitted_farms(parts: Sequence[GardenTask], found: Solved) -> Fitted:
    """The plan with what finds no room in a farm's beds smaller or left out; what another farm could sow in
    its place is not looked for."""
    works = [part.work for part in parts]
    own = first = of_farms(works, found.areas)
    lain = [lain_before(part) for part in parts]
    lying = [lie(part, _of(part, found, areas), each)
             for part, areas, each in zip(parts, own, lain, strict=True)]
    for left in range(TRIES, 0, -1):
        then = [less(part, _of(part, found, areas), *each, left == TRIES)
                for part, areas, each in zip(parts, own, lying, strict=True)]
        same = [np.array_equal(before, after) for before, after in zip(own, then, strict=True)]
        if all(same):
            break
        lain = [as_laid(before, beds) for before, (_, beds) in zip(lain, lying, strict=True)]
        lying = [each if alike else lie(part, _of(part, found, areas), before)
                 for part, areas, each, alike, before in zip(parts, then, lying, same, lain, strict=True)]
        own, found = then, found.with_areas(np.concatenate(then))
    return Fitted(found, tuple(lying), tuple(_smaller(parts, first, own)))


def _of(part: GardenTask, found: Solved, areas: Floats) -> Solved:
    """A farm's part of the plan."""
    return replace(found, work=part.work, areas=areas)


def _smaller(
    parts: Sequence[GardenTask], first: Sequence[Floats], own: Sequence[Floats]
) -> Iterator[str]:
    for part, before, after in zip(parts, first, own, strict=True):
        names = smaller(part.work, before, after)
        if names:
            yield tell("The beds of {farm} are too small or too full for some of what their area would bear, "
                       "so it is left out or made smaller: {names}. Larger beds there, or fewer crops, would "
                       "mend it.", farm=part.garden.farm or part.garden.site.name, names=names)
