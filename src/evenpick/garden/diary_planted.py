"""What 'planted' tells: sets and tubers, plants raised here put out, plants that were bought, seed."""

from __future__ import annotations

from datetime import date

from evenpick.base.days import day_number
from evenpick.base.language import later, tell
from evenpick.garden.diary import Fact, PlantedOut
from evenpick.garden.diary_asking import Asker
from evenpick.garden.diary_clause import Clause
from evenpick.garden.diary_names import Names
from evenpick.garden.diary_sowing import crop_of, one, sowings_of, under_way
from evenpick.garden.diary_sown import area_of, bought_crops, in_pots, sowings

_PLANTED = {"direct": later("seed was sown in place"), "raised": later("seed was sown to raise plants")}


def planted(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    """'Planted' is of sets and tubers, of raised plants put out, of bought ones, and in America of seed."""
    if clause.bought and bought_crops(clause, names):
        return sowings(clause, day, names, asker, "raised", bought=True)
    waiting = under_way(names, clause, "planted out", day_number(day), by_ground=False)
    sets = [key for key in clause.keys if "planted" in names.crops[key].ways]
    if sets or not clause.keys:
        return sowings(clause, day, names, asker, "planted")
    crop = crop_of(names, clause, asker, waiting)
    ways = names.crops[crop].ways
    raised = [sowing for sowing in waiting if sowing.fact.crop == crop]
    if "raised" not in ways:
        return sowings(clause, day, names, asker, "direct")
    if "direct" not in ways and raised:
        return planted_out(clause, day, names, asker)
    offered = [
        ("out", tell("raised plants were put out")),
        *((way, tell(_PLANTED[way])) for way in ways),
        ("bought", tell("plants that were bought were put out")),
    ]
    given = asker.ask("way", tell("How was the {crop} planted?",
                                  crop=names.name(crop)), offered[0 if raised else 1 :])
    if given == "out":
        return planted_out(clause, day, names, asker)
    if given == "bought":
        return sowings(clause, day, names, asker, "raised", bought=True)
    return sowings(clause, day, names, asker, "direct" if given == "direct" else "raised")


def only_planted(clause: Clause, names: Names) -> bool:
    """Whether it is of sets, cloves, tubers or slips, which nobody sows: put out, they are planted."""
    return bool(clause.keys) and all(names.crops[key].ways == ("planted",) for key in clause.keys)


def planted_out(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    """Plants put out: raised here, of a sowing under way, or bought."""
    if clause.bought:
        return sowings(clause, day, names, asker, "raised", bought=True)
    waiting = under_way(names, clause, "planted out", day_number(day), by_ground=False)
    crop = crop_of(names, clause, asker, waiting)
    sowing = one(sowings_of(names, clause, asker, waiting, crop, "planted out", False, False))
    ground = one_ground(clause, asker)
    amounts, area = clause.amounts, None
    if amounts.share == 1.0:
        area = None
    elif amounts.share is not None or amounts.some:
        area = area_of(asker.ask("amount", tell("How many were planted out?"), (), "40 plants"),
                       names.crops[crop])
    elif any(each is not None for each in (amounts.row, amounts.area, amounts.plants)) or amounts.counts:
        area = area_of(amounts, names.crops[crop], counted=True)
    area = None if area is None else in_pots(area, names.crops[crop], names, ground)
    there, stands = names.ground(ground), names.sowing(sowing)
    cover = clause.cover
    if (
        cover is None
        and stands is not None
        and there is not None
        and "tunnel" in (there.cover, stands.cover)
        and there.cover != stands.cover
    ):
        cover = there.cover
    return (PlantedOut(sowing, ground, cover, area),)


def one_ground(clause: Clause, asker: Asker) -> str | None:
    """The ground told; asked where several are."""
    if len(clause.grounds) > 1:
        return asker.ask("ground", tell("In which of them?"), [(name, name) for name in clause.grounds])
    return clause.grounds[0] if clause.grounds else None
