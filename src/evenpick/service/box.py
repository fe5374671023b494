"""What is in a box this week, and what is coming: the list for the customer."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from evenpick.base.days import monday_of
from evenpick.garden.garden import Garden, Outlet
from evenpick.service.answers import ItemPickings, PlanAnswer
from evenpick.service.less_lost import plan_now
from evenpick.service.picking_list import picking_list
from evenpick.service.setups import garden_of
from evenpick.service.shares_answer import WeekShare
from evenpick.service.week_shares import week_share

AHEAD = timedelta(weeks=8)
ENOUGH = 0.5
"""of what is wanted: an item is coming from the first week likely to have so much"""
LEAST = 0.02
"""kg in a box: less is not worth packing"""


@dataclass(frozen=True, slots=True)
class BoxItem:
    item: str
    kg: float
    """in one box"""
    pieces: float | None
    """heads, bunches; None for what goes by weight"""
    piece: str


@dataclass(frozen=True, slots=True)
class BoxAnswer:
    outlet: str
    monday: date
    items: tuple[BoxItem, ...]
    coming: tuple[tuple[str, date], ...]
    """item, and the Monday of the first week likely to have it"""
    crops: tuple[tuple[str, str], ...]
    """catalogue key and name of all that may be in it"""
    share: WeekShare
    """all of it together"""
    note: str = ""
    """for the grower: that something was lost since the plan was made"""


def box(garden: Path, day: date) -> BoxAnswer:
    """One share of the outlet that packs boxes (else of the first outlet). BadRequest without a plan."""
    described, plan = garden_of(garden), plan_now(garden, day)
    outlet = _outlet(described)
    listed = [(one, share) for one in picking_list(plan.pickings, described.wishes, day)
              for share in one.outlets if share.outlet == outlet.name]
    each = [(one, share.likely / outlet.shares) for one, share in listed]
    items = tuple(
        BoxItem(one.item, kg, _pieces(kg, one.piece, one.piece_kg), one.piece)
        for one, kg in each if kg >= LEAST
    )
    return BoxAnswer(outlet.name, monday_of(day), items, _coming(plan, described, outlet, items, day),
                     _crops(plan, {one.item for one in items}),
                     week_share(outlet, [share for _, share in listed], described.money), plan.loss_note)


def _outlet(garden: Garden) -> Outlet:
    return next((one for one in garden.outlets if one.kind == "boxes"), garden.outlets[0])


def _pieces(kg: float, piece: str, piece_kg: float) -> float | None:
    return None if piece == "kg" or piece_kg <= 0 else kg / piece_kg


def _coming(
    plan: PlanAnswer, garden: Garden, outlet: Outlet, now: tuple[BoxItem, ...], day: date
) -> tuple[tuple[str, date], ...]:
    mine = {wish.item for wish in garden.wishes if wish.outlet == outlet.name} - {one.item for one in now}
    found = [(item.item, _first(item, monday_of(day))) for item in plan.pickings if item.item in mine]
    return tuple(sorted(((item, when) for item, when in found if when is not None), key=lambda one: one[1]))


def _first(item: ItemPickings, monday: date) -> date | None:
    last = monday + AHEAD
    return next((week.week for week in item.weeks
                 if monday < week.week <= last and 0 < ENOUGH * week.wanted <= week.likely), None)


def _crops(plan: PlanAnswer, items: set[str]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted({(one.crop, one.name) for one in plan.sowings if one.item in items}))
