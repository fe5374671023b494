"""Logarithms of observed over expected, as effects shrunk towards nought (growth L1, L2; learning.md, 1).

y = site + crop + variety + cover + e, normal–inverse-gamma: effects are normal with known ratios of their
variance to the residual's, the residual variance is inverse-gamma. The posterior is closed form; a few steps
of weights from Student's t with 4 degrees of freedom keep a wrong record from ruling.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from evenpick.base.arrays import Floats

Effect = tuple[str, ...]
"""('site',), ('crop', key), ('variety', crop, name), ('cover', crop, cover)"""

ROBUST_STEPS = 4
ROBUST_FREEDOM = 4.0


@dataclass(frozen=True, slots=True)
class Spread:
    """Prior standard deviations of the effects and of a single record, in logarithms."""

    site: float
    crop: float
    variety: float
    cover: float
    residual: float
    shape: float = 4.0
    """a₀ of the inverse-gamma prior of the residual variance"""


TIMING = Spread(site=0.15, crop=0.18, variety=0.07, cover=0.07, residual=0.09)
"""growth L1; that of cover is memory"""
YIELD = Spread(site=0.25, crop=0.30, variety=0.15, cover=0.15, residual=0.40)
"""residual from growth L2, where it is called untried; the rest is memory"""


@dataclass(frozen=True, slots=True)
class Evidence:
    """One sowing's record: ln(observed / expected), and its sd from what is not known of its weather."""

    crop: str
    variety: str
    cover: str
    y: float
    sd: float = 0.0
    sowing: str = ""
    """id of the sowing"""
    days: float = 0.0
    """timing: from standing in its place to first picking"""


@dataclass(frozen=True, slots=True)
class Belief:
    """What is believed of a sowing to come: Student's t of the logarithm."""

    mean: float
    sd: float
    """scale of the t, the single sowing's own spread with it"""
    freedom: float
    records: int
    """of this crop"""


@dataclass(frozen=True, slots=True)
class Shrunk:
    """The posterior of all effects."""

    spread: Spread
    effects: dict[Effect, int]
    mean: Floats
    cover: Floats
    """posterior covariance over the residual variance; (effects, effects)"""
    shape: float
    scale: float
    """of the inverse-gamma: E[σ²] = scale / (shape − 1)"""
    counts: dict[str, int] = field(default_factory=dict)
    weights: Floats = field(default_factory=lambda: np.ones(0))
    """of the records as given, 1 and more for those that fit, near 0 for those that do not"""

    def belief(self, crop: str, variety: str = "", cover: str = "open") -> Belief:
        """Of the next sowing; effects not seen yet add their prior spread."""
        known, unseen = np.zeros(len(self.mean)), 0.0
        for effect, ratio in _effects(crop, variety, cover, self.spread):
            if effect in self.effects:
                known[self.effects[effect]] = 1.0
            else:
                unseen += ratio
        variance = float(known @ self.cover @ known) + unseen + 1.0
        return Belief(
            float(known @ self.mean), float(np.sqrt(self.scale / self.shape * variance)), 2 * self.shape,
            self.counts.get(crop, 0),
        )


def shrink(records: Sequence[Evidence], spread: Spread, robust: bool = True) -> Shrunk:
    """The posterior after some records; none at all gives the prior back."""
    effects = _numbered(records, spread)
    ratios = np.array([_ratio(effect, spread) for effect in effects])
    design = np.zeros((len(records), len(effects)))
    for row, record in enumerate(records):
        for effect, _ in _effects(record.crop, record.variety, record.cover, spread):
            design[row, effects[effect]] = 1.0
    y = np.array([record.y for record in records])
    own = 1.0 / (1.0 + np.array([record.sd**2 for record in records]) / spread.residual**2)
    weights = np.ones(len(records))
    found = _posterior(design, y, own * weights, ratios, spread)
    for _ in range(ROBUST_STEPS if robust and len(records) else 0):
        mean, cover, shape, scale = found
        left = (y - design @ mean) ** 2 + scale / shape * np.einsum("ij,jk,ik->i", design, cover, design)
        weights = (ROBUST_FREEDOM + 1) / (ROBUST_FREEDOM + own * left / (scale / shape))
        found = _posterior(design, y, own * weights, ratios, spread)
    counts: dict[str, int] = {}
    for record in records:
        counts[record.crop] = counts.get(record.crop, 0) + 1
    return Shrunk(spread, effects, *found, counts, weights)


def _posterior(
    design: Floats, y: Floats, weights: Floats, ratios: Floats, spread: Spread
) -> tuple[Floats, Floats, float, float]:
    """Mean, covariance over σ², and the inverse-gamma's shape and scale."""
    precision = np.diag(1.0 / ratios) + design.T @ (weights[:, None] * design)
    cover: Floats = np.asarray(np.linalg.inv(precision), dtype=np.float64)
    mean = cover @ (design.T @ (weights * y))
    misfit = float(weights @ y**2 - mean @ precision @ mean)
    shape = spread.shape + weights.size / 2
    return mean, cover, shape, spread.shape * spread.residual**2 + max(misfit, 0.0) / 2


def _effects(crop: str, variety: str, cover: str, spread: Spread) -> tuple[tuple[Effect, float], ...]:
    found: list[Effect] = [("site",), ("crop", crop)]
    if variety:
        found.append(("variety", crop, variety.casefold()))
    if cover != "open":
        found.append(("cover", crop, cover))
    return tuple((effect, _ratio(effect, spread)) for effect in found)


def _ratio(effect: Effect, spread: Spread) -> float:
    """Prior variance over that of the residual."""
    return float(getattr(spread, effect[0]) ** 2 / spread.residual**2)


def _numbered(records: Sequence[Evidence], spread: Spread) -> dict[Effect, int]:
    """Every effect that some record has, in the order met."""
    found = (
        effect for record in records
        for effect, _ in _effects(record.crop, record.variety, record.cover, spread)
    )
    return {effect: number for number, effect in enumerate(dict.fromkeys(found))}
