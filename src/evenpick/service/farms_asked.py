"""A question put to each farm of a cooperative: what is wrong with the files of one hides nothing of the
others (docs/design/cooperative.md, 5b)."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from evenpick.base.errors import BadBook, BadDiary, BadFile, BadWeatherFile, EvenpickError, NothingKept
from evenpick.garden.cooperative import Farm
from evenpick.service.cooperative_answer import FarmTold
from evenpick.service.cooperative_files import Described

Answer = TypeVar("Answer")
OF_ITS_FILES: tuple[type[EvenpickError], ...] = (BadBook, BadDiary, BadFile, BadWeatherFile, NothingKept)
"""what the files of one farm are at fault for, and never the question"""


def each_farm(found: Described, ask: Callable[[Farm], Answer]) -> tuple[FarmTold[Answer], ...]:
    """What each farm answers, in their order; of one whose files can't be read, why and what mends it."""
    return tuple(_told(found, farm, ask) for farm in found.own.farms)


def _told(found: Described, farm: Farm, ask: Callable[[Farm], Answer]) -> FarmTold[Answer]:
    try:
        answer, problem = ask(farm), ""
    except OF_ITS_FILES as error:
        answer, problem = None, str(error)
    return FarmTold(farm.name, found.named(farm), farm.file, answer, problem)
