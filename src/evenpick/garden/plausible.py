"""Whether a picking can be: what a sowing could give at the very most, and where more is told."""

from __future__ import annotations

from evenpick.base.language import tell
from evenpick.garden.amounts import area_told, weight_told
from evenpick.garden.diary_asking import DOUBT, SO, Asker
from evenpick.garden.diary_names import Names

MOST = 8.0
"""times what the catalogue expects of the ground (our choice): the most uneven crop, leeks (sd of ln 0.74),
gives that once in four hundred years, and a point that slipped by one figure is beyond it"""


def more_than_can_be(kg: float | None, usual_kg: float) -> bool:
    """Whether one picking is more than ground could give that usually gives so much in all."""
    return kg is not None and kg > MOST * usual_kg


def doubt_picking(
    kg: float | None, pieces: float | None, key: str, sowing: str | None, names: Names, asker: Asker
) -> None:
    """Asks whether a picking is so that is more than its sowing, or else all the ground there is, gives."""
    crop, made = names.crops[key], names.sowing(sowing)
    area = made.area * made.left if made is not None else sum(names.room.values())
    usual, counted = crop.kg_per_m2 * area, None if pieces is None else pieces * crop.piece_kg
    if not area or not (more_than_can_be(kg, usual) or more_than_can_be(counted, usual)):
        return
    told = weight_told(kg, names.imperial) if kg is not None else tell(
        "{pieces:g} of the {piece}", pieces=pieces or 0.0, piece=tell(crop.piece))
    text = too_much(told, names.name(key), area, usual, names.imperial)
    asker.ask(DOUBT, text, [(SO, tell("yes, it is so"))])


def too_much(told: str, name: str, area: float, usual_kg: float, imperial: bool) -> str:
    """What can't be, what is usual, and where to look."""
    what = tell("{told} of {name} is more than {ground} can give: about {usual} all in all, in a usual year.",
                told=told, name=name, ground=area_told(area, imperial),
                usual=weight_told(usual_kg, imperial))
    return f"{what} {tell('Look at the number and its unit (grams, kilos, pounds).')}"
