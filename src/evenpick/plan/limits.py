"""What a plan must keep to beside the garden's own ground: what is taken, what is not to be offered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from evenpick.base.trade import CoverName, WayName
from evenpick.plan.given import Given, nothing_given
from evenpick.plan.options import Batch
from evenpick.plan.standing import Hold

REFUSED_DAYS = 10
"""sowings of the kind this near to a refused one are the same sowing under another date"""


@dataclass(frozen=True, slots=True)
class Refused:
    """A sowing the grower will not make; `sow` is a day number."""

    crop: str
    way: WayName
    cover: CoverName
    sow: int

    def covers(self, batch: Batch, sow: int) -> bool:
        kind = (batch.crop.key, batch.way.name, batch.cover)
        return kind == (self.crop, self.way, self.cover) and abs(sow - self.sow) <= REFUSED_DAYS


@dataclass(frozen=True, slots=True)
class Season:
    """What is there already and what was decided."""

    given: Given = field(default_factory=nothing_given)
    """years numbered as in the ensemble"""
    holds: Sequence[Hold] = ()
    refused: Sequence[Refused] = ()
