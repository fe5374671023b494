"""Whether a garden's book is whole; copies of it, going back to one, and rescue from a damaged file."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from evenpick.base.errors import BadBook, BadGarden, BadRequest, BadWeatherFile, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.climate.origin import ClimateOrigin
from evenpick.garden.diary import Entry, Sowed, written
from evenpick.garden.effective import Conflict, conflicts
from evenpick.service.cooperative_files import cooperative_of, farms_named, seen_from
from evenpick.service.far_weather import far_weather
from evenpick.service.setups import garden_of, is_cooperative, setup_notes, there_is
from evenpick.store import rescue as store
from evenpick.store.book import Book, book_path
from evenpick.store.checking import examine
from evenpick.store.kept import copied, copies, keep_copy, may_keep
from evenpick.store.kept import replace as put_in_place
from evenpick.store.opening import RESCUE


@dataclass(frozen=True, slots=True)
class Checked:
    book: Path
    entries: int
    by_kind: tuple[tuple[str, int], ...]
    """how many of each kind, most first"""
    first: datetime | None
    last: datetime | None
    """when the first and the last entry were written"""
    digest: str
    """two copies with the same digest hold the same diary"""
    faults: tuple[str, ...]
    conflicts: tuple[Conflict, ...]
    loose: int
    """entries about a sowing that the diary does not have"""
    notes: tuple[str, ...]
    kept: Path | None
    """the copy kept now; None where the last is of the same diary, or none can be kept"""
    copies: tuple[Path, ...]
    only_read: bool = False
    """no copy can be kept: the book lies where nothing can be written"""
    far: tuple[ClimateOrigin, ...] = ()
    """where the weather comes from, of each garden for which that is far off"""
    farms: tuple[FarmChecked, ...] = ()
    """of a cooperative: each farm's own book looked through"""


@dataclass(frozen=True, slots=True)
class FarmChecked:
    """A farm of a cooperative."""

    name: str
    file: str
    """as seen from the cooperative's folder"""
    path: Path
    """the same file, as it is found from here"""
    answer: Checked | NotBegun | None
    problem: str = ""
    """what is wrong beside the book, or why there is no answer: a garden file that is not there or at
    fault, or no book where one should be"""

    @property
    def whole(self) -> bool:
        damaged = isinstance(self.answer, Checked) and self.answer.faults
        return self.answer is not None and not (damaged or self.problem)


@dataclass(frozen=True, slots=True)
class NotBegun:
    """A garden file that can be read, and no book yet."""

    garden: Path
    book: Path
    far: tuple[ClimateOrigin, ...] = ()
    """as of `Checked`"""
    farms: tuple[FarmChecked, ...] = ()


def check(garden: Path) -> Checked | NotBegun:
    """Look through the garden's book and, if all is well and the place can be written, keep a copy; where
    nothing was ever written, read the garden file. Of a cooperative its farms' books too, one by one: what is
    wrong at one hides nothing of the others. BadGarden with every fault of the file, BadBook where there is
    no book and should be one."""
    return replace(_own(garden), farms=tuple(_farms(garden)))


def _farms(garden: Path) -> Iterator[FarmChecked]:
    if not garden.exists() or not is_cooperative(garden):
        return
    for farm in farms_named(garden):
        file = seen_from(farm.file, garden)
        missing = "" if farm.file.is_file() else tell("There is no garden file of that name.")
        if not there_is(farm.file):
            yield FarmChecked(farm.name, file, farm.file, None, missing)
            continue
        try:
            yield FarmChecked(farm.name, file, farm.file, _own(farm.file), missing)
        except EvenpickError as error:
            yield FarmChecked(farm.name, file, farm.file, None, str(error))


def _own(garden: Path) -> Checked | NotBegun:
    path = book_path(garden)
    if not path.exists() and garden.exists() and not copies(path):
        return NotBegun(garden, path, _far(garden))
    path = _there(garden)
    found = examine(path)
    if found.faults:
        return Checked(path, found.entries, (), None, None, found.digest, found.faults, (), 0, (RESCUE,),
                       None, copies(path))
    may = may_keep(path)
    kept = keep_copy(path) if may else None
    entries = Book(path).entries()
    kinds = Counter(entry.fact.kind for entry in entries).most_common()
    moments = [written(entry.id) for entry in entries[:1] + entries[-1:]]
    far, unread = _far_told(garden)
    return Checked(
        path, found.entries, tuple(kinds), moments[0] if moments else None, moments[-1] if moments else None,
        found.digest, (), conflicts(entries), _loose(entries), (*setup_notes(garden), *unread), kept,
        copies(path), only_read=not may, far=far,
    )


def _far_told(garden: Path) -> tuple[tuple[ClimateOrigin, ...], tuple[str, ...]]:
    """Weather from far off; where the garden file can't be read, that in words: the book may be whole."""
    if not garden.exists():
        return (), ()
    try:
        return _far(garden), ()
    except (BadGarden, BadWeatherFile) as error:
        return (), (str(error),)


def _far(garden: Path) -> tuple[ClimateOrigin, ...]:
    """Weather from far off, of a garden or the farms of a cooperative. BadGarden with every fault of the
    file."""
    gardens = cooperative_of(garden).gardens if is_cooperative(garden) else (garden_of(garden),)
    found = (far_weather(each.site, each.weather) for each in gardens)
    return tuple(one for one in found if one is not None)


def _loose(entries: tuple[Entry, ...]) -> int:
    sown = {entry.id for entry in entries if isinstance(entry.fact, Sowed)}
    told = (getattr(entry.fact, "sowing", None) for entry in entries)
    return sum(sowing is not None and sowing not in sown for sowing in told)


def restore(garden: Path, which: str) -> tuple[Path, Path | None]:
    """Put a kept copy, by its name or "last", in the book's place; the copy, and where the former book went.

    BadRequest for a copy that is not there, BadBook for one that is not whole; then nothing is changed.
    """
    path = book_path(garden)
    there = copies(path)
    wanted = [copy for copy in there if which in (copy.name, copy.stem)] if which != "last" else there[-1:]
    if not wanted:
        known = tell("There are: {there}.",
                     there=", ".join(copy.stem for copy in there)) if there else tell("No copies are kept.")
        raise BadRequest(Problem(tell("no kept copy is called '{which}'.", which=which), known, str(path)))
    with copied(wanted[0], path.parent) as copy:
        found = examine(copy)
        if found.faults:
            what = tell("that copy is damaged itself ({faults}); nothing was changed.",
                        faults=found.faults[0])
            raise BadBook(Problem(what, tell("Take another."), str(wanted[0])))
        return wanted[0], put_in_place(path, copy)


def rescue(garden: Path) -> store.Rescued:
    """As `store.rescue`."""
    return store.rescue(book_path(garden))


def _there(garden: Path) -> Path:
    path = book_path(garden)
    if not path.exists():
        what = tell("there is no book yet; it is made when something is first written.")
        mend = tell("Bring back a kept copy: {restore}",
                    restore=RESTORE) if copies(path) else tell("Write something, or make a plan.")
        raise BadBook(Problem(what, mend, str(path)))
    return path


RESTORE = "evenpick check --restore last"
