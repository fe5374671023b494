"""What one share of an outlet comes to in a week, beside what it should be."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Protocol

from evenpick.garden.garden import Outlet, Wish
from evenpick.service.picking_list import ListedItem, OutletShare, picking_list
from evenpick.service.pickings_answer import ItemPickings
from evenpick.service.shares_answer import WeekShare


class Wishing(Protocol):
    """A garden, or a cooperative: who wants what, and what it fetches."""

    @property
    def outlets(self) -> tuple[Outlet, ...]: ...
    @property
    def wishes(self) -> tuple[Wish, ...]: ...
    @property
    def money(self) -> str: ...


def shares_on(items: Sequence[ItemPickings], of: Wishing, day: date) -> tuple[WeekShare, ...]:
    """The shares of the week of a day, by the pickings of a plan."""
    return week_shares(picking_list(items, of.wishes, day), of.outlets, of.money)


def week_shares(listed: Sequence[ListedItem], outlets: Sequence[Outlet], money: str) -> tuple[WeekShare, ...]:
    """One share of each outlet that wants something of what is listed for the week and packs boxes, has
    something priced to sell, or should come to something."""
    of_outlet = {outlet.name: [share for one in listed for share in one.outlets
                               if share.outlet == outlet.name] for outlet in outlets}
    return tuple(week_share(outlet, of_outlet[outlet.name], money) for outlet in outlets
                 if of_outlet[outlet.name] and _is_told(outlet, of_outlet[outlet.name]))


def _is_told(outlet: Outlet, mine: Sequence[OutletShare]) -> bool:
    """Boxes and what was promised always, be it nothing; a price only where there is something to sell."""
    promised = outlet.weight is not None or outlet.worth is not None
    return outlet.kind == "boxes" or promised or any(share.worth for share in mine)


def week_share(outlet: Outlet, mine: Sequence[OutletShare], money: str) -> WeekShare:
    """One share of an outlet, of what the whole outlet gets."""
    priced = [share.worth for share in mine if share.worth is not None]
    return WeekShare(
        outlet.name, sum(share.likely for share in mine) / outlet.shares, outlet.weight,
        sum(priced) / outlet.shares if priced else None, outlet.worth, len(priced) < len(mine), money,
    )
