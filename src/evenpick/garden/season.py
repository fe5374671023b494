"""What a garden file says of the season beside its wishes: what comes anyway."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.garden import amounts, fields
from evenpick.garden.fields import Table, shown, through
from evenpick.garden.garden import Anyway, Wish

ANYWAY = ("item", "serves", "each_week", "from", "until")


def read_anyway(top: Table, wishes: Sequence[Wish]) -> tuple[Anyway, ...]:
    return tuple(_anyway(table, wishes) for table in top.tables("anyway", ANYWAY))


def _anyway(table: Table, wishes: Sequence[Wish]) -> Anyway:
    item = table.need("item", fields.text, "", '"rhubarb"')
    serves = table.get("serves", fields.text, item)
    wished = {wish.item.casefold(): wish.item for wish in wishes}
    if table.has("serves") and serves.casefold() not in wished:
        what = f"nobody wishes for {shown(serves)}."
        table.note(what, f"Items wished for: {', '.join(map(shown, wished.values()))}.", "serves")
    kg = table.need("each_week", through(amounts.weight_kg), 1.0, '"1 kg"')
    return Anyway(item, serves, kg, *fields.season(table))
