"""Damaged books of a cooperative and its farms, rescued together (docs/design/cooperative.md, 5b)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from evenpick.base.errors import BadRequest, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.base.typed import typed
from evenpick.garden.cooperative import Farm
from evenpick.service.cooperative_files import farms_named, seen_from
from evenpick.store.book import book_path
from evenpick.store.checking import examine
from evenpick.store.rescue import Rescued, rescue


@dataclass(frozen=True, slots=True)
class BookRescued:
    """One of the damaged books."""

    name: str
    """of the farm; of the cooperative's own file its name"""
    file: str
    """as seen from the cooperative's folder"""
    path: Path
    """the same file, as it is found from here"""
    answer: Rescued | None
    problem: str = ""
    """why nothing could be rescued"""
    shared: bool = False
    """the cooperative's own book, which holds nothing but the plan"""


def rescue_together(file: Path) -> tuple[BookRescued, ...]:
    """Rescue each book that is damaged, as `store.rescue`; the others stay untouched. What can't be rescued
    at one farm keeps nothing from the others. BadGarden with every fault of the cooperative's file."""
    books = [Farm(file.name, file), *farms_named(file)]
    return tuple(found for number, farm in enumerate(books) for found in _rescued(farm, file, number == 0))


def _rescued(farm: Farm, file: Path, shared: bool) -> Iterator[BookRescued]:
    book, seen = book_path(farm.file), seen_from(farm.file, file)
    try:
        if not book.exists() or not examine(book).faults:
            return
        yield BookRescued(farm.name, seen, farm.file, rescue(book, bare=shared), shared=shared)
    except EvenpickError as error:
        yield BookRescued(farm.name, seen, farm.file, None, str(error), shared)


def at_the_farm(file: Path, what: str) -> BadRequest:
    """What is done at one farm alone, asked of all: its files are named."""
    own = tell(" or ").join(f"--garden {typed(farm.file)}" for farm in farms_named(file))
    return BadRequest(Problem(what, tell("Type the same with {own}.", own=own), str(file)))
