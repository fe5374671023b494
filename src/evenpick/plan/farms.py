"""The tasks of several farms as one: what is wanted is shared, everything else is each farm's own
(docs/design/cooperative.md)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.garden.cooperative import MARK
from evenpick.plan.given import met_by, together
from evenpick.plan.request import Candidates, Grounds, Request, Supply
from evenpick.plan.task import Task

JOIN = f" {MARK} "
"""between a row's name and its farm's"""


def joined(tasks: Sequence[Task], farms: Sequence[str]) -> Task:
    """One task of the farms' own, in their order. They have the same items and the same years, and a year is
    the same calendar year on every farm."""
    if len(tasks) == 1:
        return tasks[0]
    requests = [task.request for task in tasks]
    starts = _starts([len(request.candidates) for request in requests])
    first = requests[0]
    wanted = np.max([request.wanted for request in requests], axis=0)
    given, given_unseen = together(t.given for t in tasks), together(t.given_unseen for t in tasks)
    request = Request(
        _candidates(requests, farms), first.items, _grounds(requests, farms, starts), first.years,
        first.weeks, wanted, _supply([request.supply for request in requests], starts), seed=first.seed,
    )
    if given.kg.size:
        request = replace(request, met=met_by(given, wanted, request.levels, request.years))
    options, barred = (
        tuple(replace(option, farm=farm) for farm, each in enumerate(several) for option in each)
        for several in ([task.options for task in tasks], [task.barred for task in tasks])
    )
    unseen = _supply([task.unseen for task in tasks], starts)
    largest = {row_of(cover, farm): area for farm, task in zip(farms, tasks, strict=True)
               for cover, area in task.largest.items()}
    return Task(request, options, unseen, tasks[0].unseen_years, given, given_unseen, largest, barred)


def of_farms(tasks: Sequence[Task], areas: Floats) -> list[Floats]:
    """Areas of the joined task's candidates, farm by farm."""
    return np.split(areas, _starts([len(task.options) for task in tasks])[1:])


def row_and_farm(name: str) -> tuple[str, str]:
    """A row's own name, and its farm's; no farm where there is only one."""
    row, _, farm = name.partition(JOIN)
    return row, farm


def row_of(row: str, farm: str) -> str:
    """The name of a farm's row; the row's own where there is no farm."""
    return f"{row}{JOIN}{farm}" if farm else row


def _starts(sizes: Sequence[int]) -> Ints:
    return np.cumsum([0, *sizes])[:-1]


def _candidates(requests: Sequence[Request], farms: Sequence[str]) -> Candidates:
    several = [request.candidates for request in requests]
    labels = (f"{label}{JOIN}{farm}" for own, farm in zip(several, farms, strict=True) for label in own.label)
    item, day, least, most, trouble, cost = (
        np.concatenate([getattr(own, name) for own in several])
        for name in ("item", "day", "least", "most", "trouble", "cost")
    )
    return Candidates(item, tuple(labels), day, least, most, trouble, cost)


def _grounds(requests: Sequence[Request], farms: Sequence[str], starts: Ints) -> Grounds:
    several = [request.grounds for request in requests]
    rows = _starts([len(own.names) for own in several])
    names = (f"{name}{JOIN}{farm}" for own, farm in zip(several, farms, strict=True) for name in own.names)
    return Grounds(
        tuple(names), np.concatenate([own.limit for own in several]),
        _moved([own.row for own in several], rows), _moved([own.candidate for own in several], starts),
        np.concatenate([own.week for own in several]), np.concatenate([own.coefficient for own in several]),
    )


def _supply(several: Sequence[Supply], starts: Ints) -> Supply:
    year, ripe, last, kg = (
        np.concatenate([getattr(own, name) for own in several]) for name in ("year", "ripe", "last", "kg")
    )
    return Supply(_moved([own.candidate for own in several], starts), year, ripe, last, kg)


def _moved(several: Sequence[Ints], starts: Ints) -> Ints:
    return np.concatenate([numbers + start for numbers, start in zip(several, starts, strict=True)])
