"""What is in a box this week, and what is coming: the list for the customer."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass
from datetime import date, timedelta
from math import floor
from pathlib import Path

from evenpick.base.days import monday_of
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.climate.site import Site
from evenpick.crops.winter import in_poor_light
from evenpick.service.cooperative_files import cooperative_of
from evenpick.service.cooperative_now import cooperative_now
from evenpick.service.less_lost import plan_now
from evenpick.service.picking_list import ListedItem, picking_list, share_in
from evenpick.service.pickings_answer import ItemPickings
from evenpick.service.pieces import WEIGHED
from evenpick.service.plan_answer import PlannedSowing
from evenpick.service.plan_command import noted
from evenpick.service.setups import garden_of, is_cooperative
from evenpick.service.shares_answer import WeekShare
from evenpick.service.week_shares import Wishing, week_share

AHEAD, SUNDAY = timedelta(weeks=8), timedelta(days=6)
ENOUGH = 0.5
"""of what is wanted: an item is coming from the first week likely to have so much"""
HALF_A_WEEK = 0.5
"""of a week's days that must lie in the season of a wish: what is wanted from a Sunday on comes next week"""
LEAST = 0.02
"""kg in a box: less is not worth packing"""

GOOD_PART = 0.1
"""of the boxes: where fewer have one more it is not told"""


@dataclass(frozen=True, slots=True)
class BoxItem:
    item: str
    kg: float
    """in one box"""
    pieces: int | None
    """whole heads, bunches; None for what goes by weight, and where there is not one for any box"""
    piece: str
    boxes: int | None = None
    """how many boxes have one, where there is not one for each; None: every box has `pieces`"""
    or_more: bool = False
    """a good part of the boxes have one more than `pieces`"""


@dataclass(frozen=True, slots=True)
class BoxAnswer:
    outlet: str
    monday: date
    items: tuple[BoxItem, ...]
    shares: int
    """boxes packed"""
    coming: tuple[tuple[str, date], ...]
    """item, and the Monday of the first week likely to have it"""
    crops: tuple[tuple[str, str], ...]
    """catalogue key and name of all that may be in it"""
    share: WeekShare
    """all of it together"""
    dim: bool = True
    """whether leaf in it grew in the poor light of winter"""
    note: str = ""
    """for the grower: what is told otherwise than the plan has it"""


def box(garden: Path, day: date) -> BoxAnswer:
    """One share of the outlet that packs boxes (else of the first outlet), of a cooperative's too. BadRequest
    without a plan, and for a farm that packs its boxes together with others."""
    if is_cooperative(garden):
        whole = cooperative_now(garden, day)
        return _box(cooperative_of(garden).own, whole.pickings,
                    [sowing for farm in whole.farms for sowing in farm.plan.sowings], day,
                    [farm.plan.site for farm in whole.farms], *noted(whole))
    described = garden_of(garden)
    if described.cooperative is not None:
        what = tell("this farm packs its boxes together with the others of its cooperative.")
        mend = tell("Print them with: evenpick print box --garden {file}", file=described.cooperative)
        raise BadRequest(Problem(what, mend, str(garden)))
    plan = plan_now(garden, day)
    return _box(described, plan.pickings, plan.sowings, day, [described.site],
                *noted(plan))


def _box(
    described: Wishing, pickings: Sequence[ItemPickings], sowings: Sequence[PlannedSowing],
    day: date, sites: Sequence[Site], note: str = "",
) -> BoxAnswer:
    outlet = next((one for one in described.outlets if one.kind == "boxes"), described.outlets[0])
    monday = monday_of(day)
    begun = {wish.item for wish in described.wishes
             if wish.outlet == outlet.name and share_in(wish, monday) >= HALF_A_WEEK}
    listed = [(one, share) for one in picking_list(pickings, described.wishes, day)
              for share in one.outlets if share.outlet == outlet.name and one.item in begun]
    items = tuple(_packed(one, share.likely, outlet.shares) for one, share in listed
                  if share.likely >= LEAST * outlet.shares)
    there = {one.item for one in items}
    mine = {wish.item for wish in described.wishes if wish.outlet == outlet.name} - there
    dim = any(in_poor_light(site.lat, monday, monday + SUNDAY) for site in sites)
    return BoxAnswer(outlet.name, monday, items, outlet.shares, _coming(pickings, mine, monday),
                     _crops(sowings, there),
                     week_share(outlet, [share for _, share in listed], described.money), dim, note)


def _packed(one: ListedItem, kg: float, shares: int) -> BoxItem:
    """What one box gets of so many kg for all: of what is counted whole pieces, as many as the picking list
    counts at most, and where they don't go round one for some of the boxes."""
    there = 0 if one.piece == WEIGHED or one.piece_kg <= 0 else floor(kg / one.piece_kg + 0.5)
    if there >= shares:
        each, over = divmod(there, shares)
        return BoxItem(one.item, kg / shares, each, one.piece, or_more=over > GOOD_PART * shares)
    if there:
        return BoxItem(one.item, kg / shares, 1, one.piece, there)
    return BoxItem(one.item, kg / shares, None, one.piece)


def _coming(
    pickings: Sequence[ItemPickings], mine: Set[str], monday: date
) -> tuple[tuple[str, date], ...]:
    found = [(item.item, _first(item, monday)) for item in pickings if item.item in mine]
    return tuple(sorted(((item, when) for item, when in found if when is not None), key=lambda one: one[1]))


def _first(item: ItemPickings, monday: date) -> date | None:
    last = monday + AHEAD
    return next((week.week for week in item.weeks
                 if monday < week.week <= last and 0 < ENOUGH * week.wanted <= week.likely), None)


def _crops(sowings: Sequence[PlannedSowing], items: Set[str]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted({(one.crop, one.name) for one in sowings if one.item in items}))
