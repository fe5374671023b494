"""What the planner is asked: candidate sowings, ground, what ripens, what is wanted (planner.md, 1)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.errors import BadRequest, Problem

SCARCE_SHARE, SCARCE_WORTH = 0.2, 2.0
"""who wishes for ten things on little ground would rather have some of each: the first portions of an item in
a year count so many times more on top (our choice; planner.md, 2a)"""


@dataclass(frozen=True, slots=True)
class Item:
    """Something that gets eaten or sold; `weight` is the worth of its kilogram beside the others'."""

    name: str
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Candidates:
    """Sowings that may be made, one per position; every array has shape (candidates,)."""

    item: Ints
    label: tuple[str, ...]
    day: Ints
    least: Floats
    """m², the least that is worth sowing"""
    most: Floats
    """m², as tight as the caller can make it"""
    trouble: Floats
    """kg-equivalents for making the sowing at all"""
    cost: Floats
    """kg-equivalents per m²"""

    def __len__(self) -> int:
        return len(self.label)


@dataclass(frozen=True, slots=True)
class Grounds:
    """What sowings share: `limit` has shape (rows, weeks), in m², places, or what the row counts.

    The other arrays are entries: candidate takes `coefficient` of the row per m² in that week.
    """

    names: tuple[str, ...]
    limit: Floats
    row: Ints
    candidate: Ints
    week: Ints
    coefficient: Floats

    def used(self, areas: Floats) -> Floats:
        """What areas (per candidate) take of each row in each week; (rows, weeks)."""
        cell = self.row * self.limit.shape[1] + self.week
        taken = np.bincount(cell, self.coefficient * areas[self.candidate], self.limit.size)
        return np.asarray(taken.astype(np.float64).reshape(self.limit.shape))


@dataclass(frozen=True, slots=True)
class Supply:
    """Entries: a square metre of the candidate gives `kg` in that year, ripe in week `ripe` and good
    to the end of week `last`. A `last` past the horizon is read as the horizon's last week."""

    candidate: Ints
    year: Ints
    ripe: Ints
    last: Ints
    kg: Floats

    def where(self, kept: Bools) -> Supply:
        """The entries of the candidates that are `kept`, (candidates,)."""
        on = np.flatnonzero(kept[self.candidate])
        return Supply(self.candidate[on], self.year[on], self.ripe[on], self.last[on], self.kg[on])


@dataclass(frozen=True, slots=True)
class Request:
    """One planning task. `wanted` is kg, shape (items, weeks). Raises BadRequest on faults.

    A wanted kilogram is worth values[k] up to levels[k] of the week's want; the first
    `scarce_share` of what can be had of an item in a year, all its weeks together, counts `scarce_worth`
    times more on top; `risk_share` λ and `risk_tail` weigh the worst years: (1−λ)·mean + λ·(mean of the worst
    `risk_tail` of years).
    """

    candidates: Candidates
    items: tuple[Item, ...]
    grounds: Grounds
    years: int
    weeks: int
    wanted: Floats
    supply: Supply
    spare_weight: float = 0.5
    risk_share: float = 0.2
    risk_tail: float = 0.2
    levels: tuple[float, ...] = (0.5, 1.0)
    values: tuple[float, ...] = (1.3, 0.7)
    scarce_share: float = SCARCE_SHARE
    scarce_worth: float = SCARCE_WORTH
    seed: int = DEFAULT_SEED
    met: Floats | None = None
    """kg of each layer's want that what stands already meets; (weeks, layers, items, years), None: nought"""

    def __post_init__(self) -> None:
        problems = [*_shape_problems(self), *_number_problems(self)]
        if problems:
            raise BadRequest(problems)


def _bad(what: str, mend: str, field: str) -> Problem:
    return Problem(what, mend, field=field)


def _within(values: Ints, limit: int, field: str) -> list[Problem]:
    if len(values) and (values.min() < 0 or values.max() >= limit):
        return [_bad(f"an index lies outside 0 to {limit - 1}.", "Number from nought.", field)]
    return []


def _shape_problems(r: Request) -> list[Problem]:
    c, g, s = r.candidates, r.grounds, r.supply
    n = len(c)
    found = [
        _bad("columns differ in length.", "Give every column one value per entry.", name)
        for name, columns, size in (
            ("candidates", (c.item, c.day, c.least, c.most, c.trouble, c.cost), n),
            ("grounds", (g.row, g.candidate, g.week, g.coefficient), len(g.row)),
            ("supply", (s.candidate, s.year, s.ripe, s.last, s.kg), len(s.kg)),
        )
        if any(column.shape != (size,) for column in columns)
    ]
    if r.wanted.shape != (len(r.items), r.weeks):
        found.append(_bad(f"wanted has shape {r.wanted.shape}.", "Make it items by weeks.", "wanted"))
    if r.met is not None and r.met.shape != (r.weeks, len(r.levels), len(r.items), r.years):
        found.append(_bad(f"met has shape {r.met.shape}.", "Make it weeks, layers, items, years.", "met"))
    if g.limit.shape != (len(g.names), r.weeks):
        found.append(_bad(f"limits have shape {g.limit.shape}.", "Make them rows by weeks.", "grounds.limit"))
    for values, limit, field in (
        (c.item, len(r.items), "candidates.item"), (g.row, len(g.names), "grounds.row"),
        (g.candidate, n, "grounds.candidate"), (g.week, r.weeks, "grounds.week"),
        (s.candidate, n, "supply.candidate"), (s.year, r.years, "supply.year"),
        (s.ripe, r.weeks, "supply.ripe"),
    ):
        found += _within(values, limit, field)
    return found


def _not_amount(*columns: Floats) -> bool:
    return any(bool(np.any(~np.isfinite(column) | (column < 0))) for column in columns)


def _number_problems(r: Request) -> list[Problem]:
    c, g, s = r.candidates, r.grounds, r.supply
    levels, values = np.array(r.levels), np.array(r.values)
    weights = np.array([item.weight for item in r.items])
    amounts = (
        c.least, c.most, c.trouble, c.cost, g.limit, g.coefficient, s.kg, r.wanted, weights, values,
        np.zeros(0) if r.met is None else r.met,
    )
    ordered: Bools = np.diff(values) <= 0
    checks = (
        (_not_amount(*amounts), "an amount is negative or missing.", "Give amounts of nought or more.", ""),
        (bool(np.any(c.least > c.most)), "a least area is over the most.", "Lower it.", "candidates.least"),
        (bool(np.any(s.last < s.ripe)), "something is past its time before it is ripe.",
         "Let the last week be no earlier than the ripe one.", "supply.last"),
        (len(levels) != len(values) or levels[-1] != 1.0 or bool(np.any(np.diff(levels, prepend=0.0) <= 0))
         or not bool(ordered.all()), "the layers of worth don't fit.",
         "Levels rise from above 0 to 1, values don't rise, one value a level.", "levels"),
        (not 0 <= r.risk_share <= 1 or not 0 < r.risk_tail <= 1, "a risk share is no share.",
         "Give the share from 0 to 1 and the tail above 0.", "risk_share"),
        (r.years < 1 or r.weeks < 1, "there is no year or no week.", "Give at least one.", "years"),
        (r.spare_weight < 0, "the weight of spare is negative.", "Give 0 or more.", "spare_weight"),
        (not 0 <= r.scarce_share <= 1, "the scarce share is no share.", "Give it from 0 to 1.",
         "scarce_share"),
        (r.scarce_worth < 0, "the worth of what is scarce is negative.", "Give 0 or more.", "scarce_worth"),
    )
    return [_bad(what, mend, field) for wrong, what, mend, field in checks if wrong]
