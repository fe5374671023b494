"""A sowing told in a clause: its way, its cover, the m² it takes, the planned sowing it carries out."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from evenpick.base.language import later, number_of, tell, tell_n
from evenpick.base.trade import CoverName, WayName
from evenpick.crops.crop_words import CropWords
from evenpick.garden.amounts import area_told
from evenpick.garden.areas import LARGEST_POT
from evenpick.garden.diary import Sowed
from evenpick.garden.diary_amounts import Amounts, take_amounts
from evenpick.garden.diary_as_planned import as_planned, nearest
from evenpick.garden.diary_asking import DOUBT, SO, Asker, refuse
from evenpick.garden.diary_bounds import TIMES
from evenpick.garden.diary_clause import Clause
from evenpick.garden.diary_names import Names
from evenpick.garden.diary_scan import UNNUMBERED, Scan, normalised, plain
from evenpick.garden.diary_seeds_for_plants import seeds_for_plants
from evenpick.garden.diary_sowing import crop_of

EACH, TOGETHER = "each", "together"
SLACK = 1.01
"""rows told in whole metres may come out a little larger than the ground"""
_WAYS = {
    "direct": later("in place, where it stays"),
    "raised": later("to raise plants"),
    "planted": later("sets, cloves, tubers or slips"),
}


def bought_crops(clause: Clause, names: Names) -> tuple[str, ...]:
    """Those of the crops told that may be bought as plants; sets, cloves, tubers and slips are no plants."""
    if Scan(clause.text.lower()).see(r"\b(?:sets|cloves|tubers|slips)\b"):
        return ()
    return tuple(key for key in clause.keys if names.crops[key].ways != ("planted",))


def sowings(
    clause: Clause, day: date, names: Names, asker: Asker, way: WayName | None, bought: bool = False
) -> tuple[Sowed, ...]:
    """A sowing as `sown` tells it, or one in each of several beds."""
    grounds = clause.grounds
    if len(grounds) < 2:
        return (sown(clause, day, names, asker, way, bought),)
    how = EACH if clause.amounts.share is not None or _says_each(clause) else _ask_each(clause, asker)
    if how in grounds:
        grounds = (how,)
    facts = [sown(replace(clause, grounds=(ground,)), day, names, asker, way, bought) for ground in grounds]
    part = len(grounds) if how == TOGETHER else 1
    return tuple(
        replace(fact, area=fact.area / part, seeds=None if fact.seeds is None else fact.seeds / part)
        for fact in facts
    )


def _says_each(clause: Clause) -> bool:
    return Scan(clause.text.lower()).see(r"\b(?:each|apiece|per bed)\b") is not None


def _ask_each(clause: Clause, asker: Asker) -> str:
    return asker.ask("ground", tell("Is that in each of them, or in all of them together?"), [
        (EACH, tell("so much in each of them")), (TOGETHER, tell("so much in all, shared evenly")),
        *((name, tell("only in {name}", name=name)) for name in clause.grounds),
    ])


def sown(
    clause: Clause, day: date, names: Names, asker: Asker, way: WayName | None, bought: bool = False
) -> Sowed:
    """The sowing that a clause of one ground at most tells; `bought` of plants raised elsewhere, which may be
    of any crop."""
    plan = None if bought else as_planned(clause, day, names, way)
    crop = names.crops[plan.crop if plan else _crop(clause, names, asker, way)]
    way = "raised" if bought else plan.way if plan else _way(clause, crop, names, asker, way)
    ground = clause.grounds[0] if clause.grounds else None
    there, stays = names.ground(ground), bought or way != "raised"
    meant = stays or (ground is not None and _is_for(clause, ground))
    cover: CoverName = clause.cover or (
        there.cover if there is not None and meant else plan.cover if plan else "open")
    planned = plan if plan is not None and plan.cover == cover else nearest(
        crop.key, way, None if not meant and not clause.cover else cover, day, names, bought)
    if way != "planted" and not bought:
        clause = seeds_for_plants(clause, crop, names, planned, asker)
    told = bool(clause.amounts.extent()) or clause.amounts.share not in (None, 1.0)
    area = plan.area if plan and not told else _area(clause, crop, names, asker, way, ground)
    _room_for(area, crop, cover if stays else None, names, asker)
    seeds = clause.amounts.seeds if way != "planted" and not bought else None
    variety = next((variety for key, variety in sorted(clause.varieties) if key == crop.key), clause.variety)
    fact = Sowed(crop.key, way, cover, area, variety, ground, seeds, bought=bought)
    return fact if planned is None else replace(fact, cover=planned.cover, planned=planned.id)


def _is_for(clause: Clause, ground: str) -> bool:
    """Whether what is raised is said to be for that ground; 'in the tunnel' may say where it is raised."""
    return re.search(rf"\bfor (?:the )?{re.escape(plain(ground))}\b", plain(clause.text)) is not None


def _crop(clause: Clause, names: Names, asker: Asker, way: WayName | None) -> str:
    """The crop sown; sets and tubers only where they are planted, a crop's own name before its kin."""
    fit = tuple(
        key
        for key in clause.keys
        if ("planted" in names.crops[key].ways if way == "planted" else names.crops[key].ways != ("planted",))
    )
    if len(fit) == 1:
        return fit[0]
    own = [key for key in fit if clause.crop and clause.crop[0] in _own_names(names.crops[key])]
    grown = [key for key in own if key in names.grown]
    if len(grown) == 1 or (len(own) == 1 and not any(key in names.grown for key in fit)):
        return (grown or own)[0]
    return crop_of(names, clause, asker, ())


def _own_names(crop: CropWords) -> tuple[str, ...]:
    name = crop.name.lower()
    return name, f"{name}s", f"{name}es"


def _way(clause: Clause, crop: CropWords, names: Names, asker: Asker, way: WayName | None) -> WayName:
    amounts = clause.amounts
    in_cells = (
        clause.raised
        or amounts.trays is not None
        or (
            amounts.plants is not None
            and not clause.grounds
            and amounts.row is None
            and "raised" in crop.ways
        )
    )
    if way is None and clause.in_place and not clause.raised and amounts.trays is None:
        way = "direct"
    if way is None and (clause.raised or amounts.trays is not None or in_cells or _says_cells(clause)):
        way = "raised"
    if (
        way is None
        and "direct" in crop.ways
        and (clause.grounds or amounts.row is not None or amounts.area is not None)
    ):
        way = "direct"
    if way is None:
        sown_ways = [each for each in crop.ways if each != "planted"]
        if len(sown_ways) == 1:
            way = sown_ways[0]
        elif not sown_ways:
            way = "planted"
        else:
            given = asker.ask(
                "way",
                tell("How was the {key} sown?", key=names.name(crop.key)),
                [(each, tell(_WAYS[each])) for each in sown_ways],
            )
            way = next(each for each in sown_ways if each == given)
    if way not in crop.ways:
        known = tell(" or ").join(tell(_WAYS[each]) for each in crop.ways)
        refuse(
            tell("{key} is only known here as started {known}.", key=names.name(crop.key), known=known),
            tell("Write it so, or put 'note:' before the line to keep the words."),
        )
    return way


CELLS = rf"\b(?:trays?|modules|cells?|plugs?|pots{UNNUMBERED}|flats?)\b"


def _says_cells(clause: Clause) -> bool:
    return Scan(clause.text.lower()).see(CELLS) is not None


def _area(
    clause: Clause, crop: CropWords, names: Names, asker: Asker, way: WayName, ground: str | None
) -> float:
    """m² in the ground named."""
    return in_pots(_area_told(clause, crop, names, asker, way, ground), crop, names, ground)


def in_pots(area: float, crop: CropWords, names: Names, ground: str | None) -> float:
    """m² of plants told at their room in a bed, of which each has no more than its part of a pot where the
    ground named is pots; what is sown in rows stands closer there, and takes no more than there is."""
    whole, room, there = crop.in_row * crop.row, names.plant_room(ground, crop), names.ground(ground)
    if crop.layout != "station":
        return min(area, there.area) if there is not None and there.area <= LARGEST_POT else area
    return area if room >= whole else max(1, round(area / whole)) * room


def _area_told(
    clause: Clause, crop: CropWords, names: Names, asker: Asker, way: WayName, ground: str | None
) -> float:
    amounts, name = clause.amounts, names.name(crop.key)
    there = names.ground(ground)
    told = (amounts.row, amounts.plants, amounts.area, amounts.seeds, *amounts.counts)
    if there is not None and amounts.share is not None and 0 < amounts.share <= 1 and not any(told):
        return there.area * amounts.share
    counted = way != "direct" or crop.layout == "station"
    rows = Scan(normalised(clause.text).lower()).see(r"(?<![\w.])(\d+) rows?\b")
    if rows and amounts.row is None and amounts.area is None and amounts.plants is None:
        text = tell_n("How long was the row?", "How long were the {n} rows together?", int(rows[1]))
        return area_of(asker.ask("amount", text, (), "4 m"), crop)
    if (
        any(each is not None for each in (amounts.row, amounts.area, amounts.plants))
        or (counted and amounts.counts and amounts.trays is None)
        or (way == "planted" and amounts.seeds is not None)
    ):
        return area_of(amounts, crop, counted=counted)
    if amounts.counts and amounts.trays is None:
        given = asker.ask(
            "unit",
            tell("{counts:g} what of {name}?", counts=amounts.counts[0], name=name),
            [("m", tell("metres of row")), ("ft", tell("feet of row")), ("plants", tell("plants")),
             ("m²", "m²")],
            "4 m",
        )
        bare = given in ("m", "ft", "plants", "m²")
        return area_of(f"{amounts.counts[0]:g} {given}" if bare else given, crop)
    example = {"raised": "84 plants", "planted": "50 plants"}.get(way, "4 m")
    if counted and amounts.seeds:
        text = tell_n("How many plants of {name} are to come of the {seeds:g} seed?",
                      "How many plants of {name} are to come of the {seeds:g} seeds?",
                      number_of(amounts.seeds), name=name, seeds=amounts.seeds)
        return area_of(asker.ask("amount", text, (), "10 plants"), crop)
    return area_of(asker.ask("amount", tell("How much {name} was it?", name=name), (), example), crop)


def area_of(told: Amounts | str, crop: CropWords, counted: bool = True) -> float:
    """m² of metres of row, m², or plants at the crop's spacing; an answer may be given as typed."""
    amounts = take_amounts(Scan(normalised(told).lower())) if isinstance(told, str) else told
    if amounts.area is not None:
        area = amounts.area
    elif amounts.row is not None:
        area = amounts.row * crop.row
    else:
        plants = amounts.plants or (amounts.seeds if not isinstance(told, str) else None)
        plants = plants or (amounts.counts[0] if counted and len(amounts.counts) == 1 else None)
        if plants is None:
            refuse(
                tell("'{told}' is no amount to sow or plant.",
                     told=told if isinstance(told, str) else tell("that")),
                tell('Write it such as "4 m", "2 m²" or "40 plants".'),
            )
        area = plants * crop.in_row * crop.row
    if not 0 < area <= 1e5:
        refuse(tell("{area:g} m² can't be.", area=area), tell("Look at the amount again."))
    return area


def _room_for(
    area: float, crop: CropWords, cover: CoverName | None, names: Names, asker: Asker
) -> None:
    """Asks whether it is so where more is told than all the ground there is under that cover; plants that
    are raised may go out under any (`cover` None)."""
    if not names.room:
        return
    under: CoverName = "tunnel" if cover == "tunnel" else "open"
    room = sum(names.room.values()) if cover is None else names.room.get(under, 0.0)
    if area <= room * SLACK:
        return
    whole = sum(names.room.values())
    if area > TIMES * whole:
        refuse(tell("{area} of {name} is far more than all the ground there is ({room}).",
                    area=area_told(area, names.imperial), name=names.name(crop.key),
                    room=area_told(whole, names.imperial)),
               tell("Look at the amount again."))
    what = later("{area} of {name} is more than all the {cover} ground there is ({room}).")
    if cover is None:
        what = later("{area} of {name} is more than all the ground there is ({room}).")
    text = tell(what, area=area_told(area, names.imperial), name=names.name(crop.key), cover=tell(under),
                room=area_told(room, names.imperial))
    asker.ask(DOUBT, text, [(SO, tell("yes, it is so"))])
