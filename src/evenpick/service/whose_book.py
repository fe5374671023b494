"""A copy that comes into one farm's book and is another farm's (docs/design/cooperative.md, 5b)."""

from __future__ import annotations

from collections.abc import Iterator, Set
from pathlib import Path

from evenpick.base.errors import BadRequest, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.base.typed import typed
from evenpick.garden.cooperative import Farm
from evenpick.service.cooperative_files import farms_named
from evenpick.service.setups import garden_of, there_is
from evenpick.store.book import Book, book_path


def refuse_anothers(garden: Path, source: Path, coming: Set[str], ours: Set[str]) -> None:
    """BadRequest where of the ids that are `coming` some are in the book of another farm and none in `ours`:
    two farms' diaries in one book can't be told apart any more."""
    if coming & ours:
        return
    whose = next((farm for farm in _others(garden) if coming & _ids(farm.file)), None)
    if whose is not None:
        what = tell("this is the diary of {farm}, another farm of the cooperative.", farm=whose.name)
        mend = tell("Bring it in there: evenpick import --garden {file} {source}",
                    source=typed(source), file=typed(whose.file))
        raise BadRequest(Problem(what, mend, str(source)))


def _others(garden: Path) -> Iterator[Farm]:
    """The other farms; none where the files don't tell them, which is told wherever those are read."""
    try:
        shared = garden_of(garden).cooperative if there_is(garden) else None
        farms = () if shared is None else farms_named(shared)
    except EvenpickError:
        return
    yield from (farm for farm in farms if farm.file.resolve() != garden.resolve())


def _ids(garden: Path) -> Set[str]:
    """Of a book that can't be read none: `check` tells that."""
    try:
        return {entry.id for entry in Book(book_path(garden)).entries()}
    except EvenpickError:
        return set()
