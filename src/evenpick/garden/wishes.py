"""The wishes, the crops never wanted and the seed tin of a garden file: all that names crops."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Protocol

from evenpick.base.errors import BadGarden, EvenpickError, Problem, UnknownCrop, did_you_mean
from evenpick.base.language import tell
from evenpick.crops.crop import Crop
from evenpick.garden import amounts, fields
from evenpick.garden.fields import Table, refuse, shown, through
from evenpick.garden.garden import Outlet, Packet, Wish
from evenpick.garden.prices import note_unpriced, price, weighed

WISH = ("item", "crops", "outlet", "each_week", "keep", "from", "until", "matters", "price")
SEED = ("crop", "variety", "year", "amount", "tested")


class Crops(Protocol):
    """What reading asks of the catalogue: a crop by any of its names, or UnknownCrop."""

    def crop(self, name: str) -> Crop: ...


def crop_keys(names: Iterable[str], catalogue: Crops) -> tuple[str, ...]:
    """Catalogue keys of crops by any name; every unknown one is told."""
    keys: list[str] = []
    problems: list[Problem] = []
    for name in names:
        try:
            keys.append(catalogue.crop(name).key)
        except UnknownCrop as error:
            problems.extend(error.problems)
    if problems:
        raise BadGarden(problems)
    return tuple(dict.fromkeys(keys))


def read_wishes(
    top: Table, outlets: Sequence[Outlet], catalogue: Crops, farms: Sequence[str] | None = None
) -> tuple[Wish, ...]:
    """All wishes; those of a cooperative may name some of its `farms`."""
    tables = top.tables("wish", WISH if farms is None else (*WISH, "farms"))
    if not tables:
        top.note(tell("nothing is wished for."),
                 tell('Add [[wish]] with item = "carrot" and each_week = "1 kg".'))
    wishes = tuple(_wish(table, outlets, catalogue, farms or ()) for table in tables)
    for i, wish in enumerate(wishes):
        if wish.item and any(_clash(wish, earlier) for earlier in wishes[:i]):
            what = tell("{item} is wished for twice in the same weeks by {outlet}.", item=shown(wish.item),
                        outlet=shown(wish.outlet))
            tables[i].note(what, tell("Put the amounts together, or give two seasons that do not overlap."),
                           "item")
    note_unpriced(top, outlets, [(wish, table.has("price"))
                                 for wish, table in zip(wishes, tables, strict=True)])
    return weighed(wishes, [_portion(wish, catalogue) for wish in wishes])


def _portion(wish: Wish, catalogue: Crops) -> float:
    """kg; of crops that could not be read any figure does, for the fault ends the reading."""
    return amounts.portion_kg([catalogue.crop(key) for key in wish.crops]) if wish.crops else 1.0


def _clash(one: Wish, other: Wish) -> bool:
    if (one.item.casefold(), one.outlet, one.keep) != (other.item.casefold(), other.outlet, other.keep):
        return False
    starts = (one.opens or (1, 1), other.opens or (1, 1))
    return other.wanted_on(*starts[0]) or one.wanted_on(*starts[1])


def _wish(table: Table, outlets: Sequence[Outlet], catalogue: Crops, farms: Sequence[str]) -> Wish:
    item = table.need("item", fields.text, "", '"carrot"')
    keys = _wished_crops(table, item, catalogue)
    outlet = _wished_outlet(table, outlets)
    crops = [catalogue.crop(key) for key in keys]
    keep = table.has("keep")
    if keep and table.has("each_week"):
        mend = tell("Make two wishes of it: one to eat each week, one to keep.")
        table.note(tell("both 'each_week' and 'keep' are given."), mend, "keep")
    if keep and not table.has("until"):
        mend = tell("Add from and until: it is to be had by then.")
        table.note(tell("what is to be kept has no season."), mend, "keep")
    kg = table.need("keep" if keep else "each_week", _amount(crops), 1.0, '"2 kg"')
    opens, closes = fields.season(table)
    return Wish(
        item, keys, outlet.name, kg * outlet.shares, opens, closes,
        table.get("matters", fields.number(0.01, 100), 1.0),
        table.faults.lines.line(table.path), keep, _wished_farms(table, farms),
        table.get("price", through(lambda text: price(text, crops)), None),
    )


def _wished_farms(table: Table, farms: Sequence[str]) -> tuple[str, ...]:
    """Farms of the cooperative that may grow it."""
    named = table.get("farms", fields.texts, ())
    if table.values.get("farms") == []:
        table.note(tell("the list of farms is empty."), tell("Name at least one, or leave the line out."),
                   "farms")
    for name in named:
        if name not in farms:
            hint = did_you_mean(name, farms) or tell("Farms here: {shown}.",
                                                     shown=", ".join(map(shown, farms)))
            table.note(tell("no [[farm]] is called {name}.", name=shown(name)), hint, "farms")
    return named


def _amount(crops: Sequence[Crop]) -> fields.Parse[float]:
    """A week's kg; a slip in it is told even where the crops could not be read to weigh a portion by."""

    def parse(value: object) -> float:
        if crops:
            return amounts.weekly_kg(fields.text(value), crops)
        return amounts.quantity(fields.text(value), tell('Write such as "2 kg" or "12 portions".'))[0]

    return parse


def _wished_crops(table: Table, item: str, catalogue: Crops) -> tuple[str, ...]:
    if table.has("crops"):
        keys = table.get("crops", lambda value: crop_keys(fields.texts(value), catalogue), ())
        if table.values["crops"] == []:
            table.note(tell("the list of crops is empty."), tell("Name at least one, or leave the line out."),
                       "crops")
        return keys
    if not item:
        return ()
    try:
        return crop_keys([item], catalogue)
    except EvenpickError as error:
        mend = tell('Or say what it is made of: crops = ["cos-lettuce", "rocket"].')
        for problem in error.problems:
            table.note(problem.what, f"{problem.mend} {mend}".strip(), "item")
        return ()


def _wished_outlet(table: Table, outlets: Sequence[Outlet]) -> Outlet:
    names = {outlet.name: outlet for outlet in outlets}
    if not table.has("outlet"):
        if len(outlets) > 1:
            table.note(tell("it is not said who wants it."), tell("Add outlet = one of {shown}.",
                                                            shown=", ".join(map(shown, names))))
        return outlets[0]
    name = table.get("outlet", fields.text, "")
    if name and name not in names:
        hint = did_you_mean(name, names) or tell("Outlets here: {shown}.", shown=", ".join(map(shown, names)))
        table.note(tell("no [[outlet]] is called {name}.", name=shown(name)), hint, "outlet")
    return names.get(name, outlets[0])


def read_never(top: Table, wishes: Sequence[Wish], catalogue: Crops) -> tuple[str, ...]:
    never = top.get("never", lambda value: crop_keys(fields.texts(value), catalogue), ())
    for i, wish in enumerate(wishes):
        if both := sorted(set(wish.crops) & set(never)):
            problem = Problem(tell("{shown} is wished for and stands under 'never'.",
                                   shown=", ".join(map(shown, both))),
                              tell("Take it out of one of the two."))
            top.faults.add(problem, ("wish", i, "crops"))
    return never


def read_packets(top: Table, catalogue: Crops, last_year: int) -> tuple[Packet, ...]:
    return tuple(_packet(table, catalogue, last_year) for table in top.tables("seed", SEED))


def _packet(table: Table, catalogue: Crops, last_year: int) -> Packet:
    year = table.need("year", fields.whole(1900, 2200), last_year, "2026")
    if year > last_year:
        late = packed_later(year)
        table.note(late.what, late.mend, "year")
    seeds, grams = table.need("amount", through(amounts.seed_amount), (None, None), '"300 seeds"')
    keys = table.need("crop", lambda value: crop_keys([fields.text(value)], catalogue), ("",), '"carrot"')
    return Packet(
        keys[0], table.get("variety", fields.text, ""), year, seeds, grams,
        table.get("tested", _tested, None),
    )


def packed_later(year: int) -> Problem:
    """What is told of a packet whose year is after the last that can be meant."""
    what = tell("the packet's year {year} lies in the future.", year=year)
    return Problem(what, tell("Write the year it was packed."), field="year")


def _tested(value: object) -> float:
    """'85 %' or 85 as a share; 0.85 is refused, for it may be either."""
    percent = amounts.percent(value) if isinstance(value, str) else fields.number(0, 100)(value)
    if 0 < percent < 1:
        mend = tell('Write it in percent, such as "85 %".')
        raise refuse(tell("{value} may be a share or a percentage.", value=shown(value)), mend)
    return percent / 100
