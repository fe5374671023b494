"""What was learned, put into the crops that the outlook and the plan grow (learning.md, 4)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import exp, sqrt

from evenpick.base.trade import CoverName
from evenpick.crops.crop import Crop
from evenpick.learn.shrinking import Belief, Shrunk

LEAST_SD = 0.05
"""of ln(thermal time): however many the records, no sowing is known better (memory)"""


@dataclass(frozen=True, slots=True)
class Learned:
    timing: Shrunk
    yields: Shrunk

    def crop(self, crop: Crop, cover: CoverName, variety: str = "") -> Crop:
        """The crop as it grows here. Without a record in the garden it is the catalogue's own."""
        if not self.timing.counts and not self.yields.counts:
            return crop
        time = self.timing.belief(crop.key, variety, cover)
        weight = self.yields.belief(crop.key, variety, cover)
        produce = replace(
            crop.produce, kg_per_m2=crop.produce.kg_per_m2 * exp(weight.mean),
            sd_ln=spread(weight, crop.produce.sd_ln) if self.yields.counts else crop.produce.sd_ln,
        )
        return replace(
            crop, thermal_time=crop.thermal_time * exp(time.mean), produce=produce,
            thermal_time_sd=max(LEAST_SD, spread(time, crop.thermal_time_sd)) if self.timing.counts
            else crop.thermal_time_sd,
        )


def spread(belief: Belief, before: float) -> float:
    """The standard deviation believed in; never over the catalogue's: no record makes it worse known."""
    return min(before, belief.sd * sqrt(belief.freedom / (belief.freedom - 2)))
