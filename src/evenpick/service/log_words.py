"""A fact of the diary in plain words, as it is read back to the grower before it counts."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from evenpick.base.days import day_date
from evenpick.base.language import later, number_of, tell, tell_n
from evenpick.base.trade import several
from evenpick.garden.amounts import FOOT, area_told, few, weight_told
from evenpick.garden.diary import (
    Answered,
    CameUp,
    Cleared,
    Corrected,
    Decided,
    Fact,
    JobAnswer,
    LeftOut,
    Lost,
    Noted,
    Picked,
    PlantedOut,
    Reading,
    Relearned,
    SeedGot,
    SeedLeft,
    SeedTested,
    Sowed,
    Tended,
    TrialLaid,
    TrialRecorded,
    Undid,
    Watered,
)
from evenpick.garden.diary_amounts import INCH
from evenpick.garden.diary_names import Names, day_words

_WAYS = {
    "direct": later("sown in place"), "raised": later("sown to raise plants"), "planted": later("planted"),
}


ANSWERS: Mapping[JobAnswer, str] = {
    "done": later("job done: {job}"), "put off": later("job put off until {until}: {job}"),
    "refused": later("job refused: {job}"),
}
PLANNED = re.compile(r"([a-z0-9-]+)\.[a-z]+\.[a-z]+\.(\d{4}-\d{2}-\d{2})(?:\.\d+)?")
"""id of a planned sowing: crop, way, cover, the day it was first planned for (service/sowing_ids)"""


def fact_words(fact: Fact, names: Names) -> str:
    """One line without a full stop, such as 'sown in place: Early carrot, 0.8 m² (4 m of row), bed 3'."""
    made: Mapping[type[Any], Callable[[Any, Names], str]] = {
        Sowed: _sowed,
        CameUp: _came_up,
        PlantedOut: _planted_out,
        Tended: _tended,
        Watered: _watered,
        Picked: _picked,
        Lost: _lost,
        Cleared: lambda f, n: tell("cleared: {sowing}", sowing=_sowing(f.sowing, n)),
        Corrected: lambda f, n: tell("put right as: {fact}", fact=fact_words(f.fact, n)),
        Undid: lambda f, n: tell("an undoing undone"),
        Reading: _reading,
        SeedGot: _seed_got,
        SeedTested: _tested,
        SeedLeft: _left,
        Noted: lambda f, n: tell("kept as words only"),
        Answered: _answered,
        Decided: lambda f, n: tell("planned sowing {decision}: {planned}", decision=tell(f.decision),
                                   planned=_planned(f.planned, n)),
        TrialLaid: lambda f, n: tell("trial laid: {name}", name=f.name),
        TrialRecorded: lambda f, n: tell("trial, plot {plot}: {measure} {value}", plot=f.plot,
                                         measure=f.measure,
                                         value=tell("lost") if f.value is None else f"{f.value:g}"),
        LeftOut: lambda f, n: tell("left out of learning: {sowing}", sowing=_sowing(f.sowing, n)),
        Relearned: lambda f, n: tell("learnt anew from here on: {crop}",
                                     crop=tell("every crop") if f.crop is None else _crop(f.crop, "", n)),
    }
    say = made.get(type(fact))
    return tell(fact.kind) if say is None else say(fact, names)


def _answered(fact: Answered, names: Names) -> str:
    """Which job it was and what was answered; its id names its kind and the sowing, planned or made."""
    kind, about = fact.job.split(":")[:2]
    what = _sowing(about, names) if names.sowing(about) else _planned(about, names)
    until = "" if fact.until is None else day_words(day_date(fact.until))
    return tell(ANSWERS[fact.answer], job=f"{tell(kind)} {what}", until=until)


def _planned(identity: str, names: Names) -> str:
    """The crop of a planned sowing and the day it was first planned for; one named otherwise by its id."""
    found = PLANNED.fullmatch(identity)
    if found is None:
        return identity
    day = day_words(date.fromisoformat(found[2]))
    return tell("{crop}, first planned for {day}", crop=_crop(found[1], "", names), day=day)


def _list(*parts: str | None) -> str:
    return ", ".join(part for part in parts if part)


def _crop(key: str, variety: str, names: Names) -> str:
    known = names.name(key) if key in names.crops else key
    return f"{known} {variety}".strip()


def _sowing(identity: str | None, names: Names) -> str | None:
    found = names.sowing(identity)
    return names.told(found) if found else tell("a sowing that is not there") if identity else None


def _degrees(value: float, names: Names) -> str:
    return f"{value * 1.8 + 32:.3g} °F" if names.imperial else f"{value:.3g} °C"


def _sowed(fact: Sowed, names: Names) -> str:
    seeds = _seeds(fact.seeds) if fact.seeds is not None else None
    area = area_told(fact.area, names.imperial) + _extent(fact, names)
    what = _crop(fact.crop, fact.variety, names)
    plan = _as_planned(fact, names) if fact.planned else None
    how = tell("bought as plants, planted") if fact.bought else tell(_WAYS[fact.way])
    return f"{how}: " + _list(what, area, fact.ground, _cover(fact, names), seeds, plan)


MUCH_LESS = 0.8
"""of what was planned: under it that is told, for a sowing carries the whole planned one out (our choice)"""


def _as_planned(fact: Sowed, names: Names) -> str:
    """That it carries a planned sowing out, and of how much where it is far from all of it."""
    planned = next((each for each in names.planned() if each.id == fact.planned), None)
    if planned is None or fact.area >= MUCH_LESS * planned.area:
        return tell("as planned")
    whole = area_told(planned.area, names.imperial) + _extent(replace(fact, area=planned.area), names)
    return tell("of the {whole} planned", whole=whole)


def _extent(fact: Sowed, names: Names) -> str:
    """The row or the plants that the area stands for."""
    crop = names.crops.get(fact.crop)
    if crop is None:
        return ""
    if crop.layout == "station" or fact.way == "raised":
        plants = max(1, round(fact.area / names.plant_room(fact.ground, crop)))
        return tell_n(" ({plants:,} plant)", " ({plants:,} plants)", plants, plants=plants)
    length = fact.area / crop.row
    return tell(" ({length} ft of row)", length=few(length / FOOT)) if names.imperial else tell(
                        " ({length} m of row)", length=few(length))


def _cover(fact: Sowed | PlantedOut, names: Names) -> str | None:
    """Where it is not that of the ground."""
    there = names.ground(fact.ground)
    usual = there.cover if there is not None else "open"
    return (
        None
        if fact.cover in (None, usual)
        else tell("in the open")
        if fact.cover == "open"
        else tell("under {cover}", cover=tell(fact.cover or ""))
    )


def _came_up(fact: CameUp, names: Names) -> str:
    share = None if fact.share is None else tell("{share:.0%} of it", share=fact.share)
    return tell("came up: ") + _list(_sowing(fact.sowing, names), share)


def _planted_out(fact: PlantedOut, names: Names) -> str:
    area = tell("all of them") if fact.area is None else area_told(fact.area, names.imperial)
    to = tell("into {ground}", ground=fact.ground) if fact.ground else None
    return tell("planted out: ") + _list(_sowing(fact.sowing, names), area, to, _cover(fact, names))


def _tended(fact: Tended, names: Names) -> str:
    return f"{tell(fact.what)}: " + (_list(_sowing(fact.sowing, names), fact.ground) or tell("no place told"))


def _watered(fact: Watered, names: Names) -> str:
    litres = None if fact.litres is None else tell_n(
        "{litres:.4g} litre", "{litres:.4g} litres", number_of(fact.litres), litres=fact.litres)
    where = _list(_sowing(fact.sowing, names), fact.ground) or tell("everything")
    return tell("watered: ") + _list(where, litres)


def _picked(fact: Picked, names: Names) -> str:
    piece = names.crops[fact.crop].piece if fact.crop in names.crops else "piece"
    kg = None if fact.kg is None else weight_told(fact.kg, names.imperial)
    pieces = (
        None if fact.pieces is None else f"{fact.pieces:g} {several(piece) if fact.pieces != 1 else piece}"
    )
    amount = _list(pieces, kg) or tell("not weighed")
    from_where = _sowing(fact.sowing, names)
    some = any(sowing.fact.crop == fact.crop for sowing in names.sowings)
    told = (tell("from {from_where}", from_where=from_where) if from_where else
            tell("of which sowing is not told") if some else tell("from no sowing in the diary"))
    return tell("picked: ") + _list(
        _crop(fact.crop, "", names), amount, fact.ground if not from_where else None, told
    )


def _lost(fact: Lost, names: Names) -> str:
    share = tell("all") if fact.share == 1 else f"{fact.share:.0%}"
    by = f"{fact.cause} ({fact.by})" if fact.by else fact.cause
    return tell("lost: {share} of {sowing}, {by}", share=share, sowing=_sowing(fact.sowing, names), by=by)


def _reading(fact: Reading, names: Names) -> str:
    return tell("weather: ") + _measured(fact, names)


def reading_words(fact: Reading, before: Reading, names: Names) -> str:
    """As `fact_words`, with what it takes the place of: of one day the last told counts."""
    over = Reading(*(old if new is not None else None for old, new in zip(
        (before.tmin, before.tmax, before.rain), (fact.tmin, fact.tmax, fact.rain), strict=True)))
    words = _reading(fact, names)
    if over == Reading():
        return words
    return tell("{words}, in place of {before} written of that day", words=words,
                before=_measured(over, names))


def _measured(fact: Reading, names: Names) -> str:
    rain = (
        None
        if fact.rain is None
        else tell("rain {rain:.2g} in", rain=fact.rain / INCH)
        if names.imperial
        else tell("rain {rain:.3g} mm", rain=fact.rain)
    )
    low = None if fact.tmin is None else tell("lowest {tmin}", tmin=_degrees(fact.tmin, names))
    high = None if fact.tmax is None else tell("highest {tmax}", tmax=_degrees(fact.tmax, names))
    return _list(low, high, rain)


def _seed_got(fact: SeedGot, names: Names) -> str:
    seeds = None if fact.seeds is None else _seeds(fact.seeds)
    grams = None if fact.grams is None else f"{few(fact.grams)} g"
    return (tell("seed saved: ") if fact.saved else tell("seed got: ")) + _list(
        _crop(fact.crop, fact.variety, names), seeds, grams
    )


def _seeds(seeds: float) -> str:
    return tell_n("{seeds:g} seed", "{seeds:g} seeds", number_of(seeds), seeds=seeds)


def _packet(identity: str, names: Names) -> str:
    found = next((each for each in names.packets if each.id == identity), None)
    return _crop(found.crop, found.variety, names) if found else tell("a packet that is not there")


def _tested(fact: SeedTested, names: Names) -> str:
    days = None if fact.days is None else tell_n("in {n} day", "in {n} days", fact.days)
    return tell("seed tested: ") + _list(_packet(fact.packet, names), tell(
                        "{came} of {tried} came up", came=fact.came, tried=fact.tried), days)


def _left(fact: SeedLeft, names: Names) -> str:
    if fact.seeds == 0:
        amount = tell("the packet is empty")
    elif fact.seeds is not None:
        amount = _seeds(fact.seeds)
    else:
        amount = f"{few(fact.grams or 0)} g"
    return tell("seed left: ") + _list(_packet(fact.packet, names), amount)
