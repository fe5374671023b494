"""What was learned, put into the crops that the outlook and the plan grow (learning.md, 4)."""

from __future__ import annotations

from collections.abc import Mapping
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
        time, weight = (known.belief(crop.key, variety, cover) for known in (self.timing, self.yields))
        time_sd, weight_sd = crop.thermal_time_sd, crop.produce.sd_ln
        if self.timing.counts:
            time_sd = max(LEAST_SD, spread(time, time_sd))
        if self.yields.counts:
            weight_sd = spread(weight, weight_sd)
        return as_grown(crop, exp(time.mean), time_sd, exp(weight.mean), weight_sd)


@dataclass(frozen=True, slots=True)
class Figures:
    """Crops as some figures have them, `AsHere`; it can be sent to another process."""

    known: Mapping[tuple[str, CoverName], tuple[float, float, float, float]]
    """of `as_grown`, by crop key and cover; the catalogue's crop where there are none"""

    def __call__(self, crop: Crop, cover: CoverName) -> Crop:
        found = self.known.get((crop.key, cover))
        return crop if found is None else as_grown(crop, *found)


def as_grown(crop: Crop, time: float, time_sd: float, produce: float, produce_sd: float) -> Crop:
    """A crop with its thermal time and its yield so many times the catalogue's, and their spreads."""
    if (time, time_sd, produce, produce_sd) == (1.0, crop.thermal_time_sd, 1.0, crop.produce.sd_ln):
        return crop
    weight = replace(crop.produce, kg_per_m2=crop.produce.kg_per_m2 * produce, sd_ln=produce_sd)
    return replace(crop, thermal_time=crop.thermal_time * time, thermal_time_sd=time_sd, produce=weight)


def spread(belief: Belief, before: float) -> float:
    """The standard deviation believed in; never over the catalogue's: no record makes it worse known."""
    return min(before, belief.sd * sqrt(belief.freedom / (belief.freedom - 2)))
