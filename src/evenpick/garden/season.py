"""What a garden file says of the season beside its wishes: what comes anyway, and every limit there is."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.days import dated, day_date
from evenpick.base.errors import did_you_mean
from evenpick.base.language import tell
from evenpick.crops.families import families, family_called
from evenpick.garden import amounts, areas, fields
from evenpick.garden.fields import Table, shown, through
from evenpick.garden.garden import Anyway, Ground, Wish
from evenpick.garden.hours import read_hours
from evenpick.garden.limits import Away, Buying, Limits, Rest
from evenpick.garden.wishes import Crops, crop_keys

AWAY = ("from", "until", "hours", "watered")
REST = ("ground", "area", "from", "until", "for")
ROTATION = ("keep", "tunnel", "years")
LONGEST_SPAN = 5 * 366
ANYWAY = ("item", "serves", "each_week", "from", "until")


def read_anyway(top: Table, wishes: Sequence[Wish] | None) -> tuple[Anyway, ...]:
    """What comes without a sowing; `wishes` None: they stand elsewhere, where what serves is looked up."""
    return tuple(_anyway(table, wishes) for table in top.tables("anyway", ANYWAY))


def _anyway(table: Table, wishes: Sequence[Wish] | None) -> Anyway:
    item = table.need("item", fields.text, "", '"rhubarb"')
    serves = table.get("serves", fields.text, item)
    wished = {wish.item.casefold(): wish.item for wish in wishes or ()}
    if wishes is not None and table.has("serves") and serves.casefold() not in wished:
        what = tell("nobody wishes for {serves}.", serves=shown(serves))
        table.note(what, tell("Items wished for: {shown}.",
                              shown=", ".join(map(shown, wished.values()))), "serves")
    kg = table.need("each_week", through(amounts.weight), 1.0, '"1 kg"')
    line = table.faults.lines.line((*table.path, "serves")) if table.has("serves") else None
    return Anyway(item, serves, kg, *fields.season(table), line)


def read_limits(
    top: Table, plan: Table, tin: Table, grounds: Sequence[Ground], catalogue: Crops
) -> Limits:
    rotation = top.table("rotation", ROTATION)
    hours, by_day = read_hours(top)
    return Limits(
        hours=hours, by_day=by_day,
        sowings_a_week=plan.get("sowings_a_week", fields.whole(1, 1000), None),
        away=tuple(_away(table, hours) for table in top.tables("away", AWAY)),
        rests=_rests(top, grounds),
        rotation=_rotation(rotation) if top.has("rotation") else {},
        rotated_tunnel=rotation.get("tunnel", fields.yes_or_no, False),
        buying=Buying(
            tin.get("no_more", lambda value: crop_keys(fields.texts(value), catalogue), ()),
            tin.get("packets", fields.whole(0, 10_000), None),
        ),
    )


def _span(table: Table, example: str) -> tuple[int, int]:
    """Two dates, both in the span."""
    first = table.need("from", fields.full_date, 0, example)
    last = table.need("until", fields.full_date, first, example)
    if last < first:
        table.note(tell("'until' lies before 'from'."), tell("Give the first day and then the last."),
                   "until")
    if last - first > LONGEST_SPAN:
        table.note(tell("the span is longer than five years."), tell("Check the year of both days."), "until")
    return first, last


def _away(table: Table, hours: float | None) -> Away:
    share = table.get("hours", through(amounts.percent), 0.0) / 100
    if table.has("hours") and hours is None:
        mend = tell('Write [hours] with week = "12 h" under it, or leave this line out.')
        table.note(tell("a share of the hours needs the hours of a week."), mend, "hours")
    return Away(*_span(table, "2027-07-10"), share, table.get("watered", fields.yes_or_no, False))


def _rests(top: Table, grounds: Sequence[Ground]) -> tuple[Rest, ...]:
    tables = top.tables("rest", REST)
    rests = tuple(_rest(table, grounds) for table in tables)
    areas = {ground.name: ground.area for ground in grounds}
    for table, rest in zip(tables, rests, strict=True):
        at_once = [other.area for other in rests
                   if other.ground == rest.ground and other.first <= rest.first <= other.last]
        if len(at_once) > 1 and sum(at_once) > areas.get(rest.ground, 0.0) + 1e-6:
            day = dated(day_date(rest.first))
            what = tell("with the other ground of {name} at rest on {day} it makes {area:g} m², more than "
                        "there is.", name=shown(rest.ground), day=day, area=sum(at_once))
            mend = tell("Give a part of the ground to each, or let one end before the other begins.")
            table.note(what, mend, "area")
    return rests


def _rest(table: Table, grounds: Sequence[Ground]) -> Rest:
    name = table.need("ground", fields.text, "", '"long bed"')
    known = {ground.name: ground for ground in grounds}
    if name and name not in known:
        hint = did_you_mean(name, known) or tell("Ground here: {shown}.", shown=", ".join(map(shown, known)))
        table.note(tell("no [[ground]] is called {name}.", name=shown(name)), hint, "ground")
    ground = known.get(name, grounds[0] if grounds else Ground("", "open", 1.0))
    area = table.get("area", through(areas.area), ground.area)
    if area > ground.area + 1e-6:
        what = tell("{area:g} m² are more than {name} has ({ground_area:g} m²).", area=area,
                    name=shown(ground.name), ground_area=ground.area)
        table.note(what, tell("Give a part of it, or leave the line out for all of it."), "area")
    why = table.get("for", fields.text, "")
    return Rest(ground.name, ground.cover, area, *_span(table, "2027-09-01"), why)


def _rotation(table: Table) -> dict[str, int]:
    """The table's own years by family, the packaged ones for the rest; none where it is not kept."""
    if not table.get("keep", fields.yes_or_no, True):
        return {}
    usual = {name: family.years for name, family in families().items()}
    given = table.values.get("years", {})
    if not isinstance(given, dict):
        table.note(tell("the years are no table."), tell("Write years = { alliums = 6 }."), "years")
        return usual
    own = {name: _own_years(table, given[word])
           for word in given if (name := _family(table, word))}
    return {**usual, **own}


def _family(table: Table, word: str) -> str:
    found = family_called(word)
    if found is None:
        said = {family.said for family in families().values()}
        table.note(tell("no family is called {word}.", word=shown(word)),
                   did_you_mean(word, said) or tell("Families: {said}.",
                                                    said=", ".join(sorted(said))), "years")
    return found or ""


def _own_years(table: Table, value: object) -> int:
    def parse(_: object) -> int:
        return fields.whole(1, 30)(value)

    return table.get("years", parse, 1)
