"""Seeds sown for plants that are counted: of a job of 12 plants and 16 seeds the grower writes "sowed 16
cabbages" (docs/formats/diary-line.md)."""

from __future__ import annotations

from dataclasses import replace

from evenpick.base.language import tell, tell_n
from evenpick.crops.crop_words import CropWords
from evenpick.garden.diary_amounts import Amounts
from evenpick.garden.diary_asking import Asker
from evenpick.garden.diary_clause import Clause
from evenpick.garden.diary_names import Names, PlannedName

SEEDS, PLANTS = "seeds", "plants"


def seeds_for_plants(
    clause: Clause, crop: CropWords, names: Names, planned: PlannedName | None, asker: Asker
) -> Clause:
    """The clause with its plants told, where it tells seeds and carries out a planned sowing that has more
    seeds than plants. A bare number is of seeds where it is that of the planned ones, of plants where it is
    no more than the planned plants, else it is asked."""
    if planned is None or not planned.plants or not planned.seeds or planned.seeds <= planned.plants:
        return clause
    seeds = _seeds_told(clause.amounts, crop, names, planned.plants, planned.seeds, asker)
    if seeds is None:
        return clause
    plants = float(_plants(seeds, planned.plants, planned.seeds))
    return replace(clause, amounts=replace(clause.amounts, counts=(), seeds=seeds, plants=plants))


def _seeds_told(
    amounts: Amounts, crop: CropWords, names: Names, plants: int, seeds: int, asker: Asker
) -> float | None:
    if amounts.row is not None or amounts.area is not None or amounts.plants is not None:
        return None
    if amounts.seeds is not None:
        return None if amounts.counts else amounts.seeds
    if len(amounts.counts) != 1 or amounts.trays is not None or amounts.counts[0] <= plants:
        return None
    (count,) = amounts.counts
    if count == seeds or _asked(count, _plants(count, plants, seeds), names.name(crop.key), asker) == SEEDS:
        return count
    return None


def _plants(told: float, plants: int, seeds: int) -> int:
    return max(1, round(told * plants / seeds))


def _asked(count: float, plants: int, name: str, asker: Asker) -> str:
    return asker.ask("unit", tell("{counts:g} what of {name}?", counts=count, name=name), [
        (SEEDS, tell_n("seeds, from which about {plants} plant is to come",
                       "seeds, from which about {plants} plants are to come", plants, plants=plants)),
        (PLANTS, tell("plants")),
    ])
