"""The garden's set-up: its file, the versions of it in the book, and the one that stands (record.md, R20)."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from evenpick.base.days import day_number
from evenpick.base.errors import BadGarden, BadRequest, Problem
from evenpick.base.language import tell
from evenpick.base.whole import write_whole
from evenpick.garden.changes import changes
from evenpick.garden.diary import Corrected, Entry, SetUp, Undid, written
from evenpick.garden.effective import effective, setups
from evenpick.garden.file_text import file_text
from evenpick.garden.garden_json import KeptPlan
from evenpick.store.book import SUFFIX, Book, Proviso, book_path

if TYPE_CHECKING:
    from evenpick.garden.garden import Garden

KINDS = (SetUp.kind, Undid.kind, Corrected.kind)
"""all that bears on set-ups"""
FARM = re.compile(r"^\s*\[\[\s*farm\s*\]\]", re.MULTILINE)
SEEN = "set-up"
"""under this name the book knows the version that the garden file was last seen to be"""


@dataclass(frozen=True, slots=True)
class Version:
    """One set-up that the book holds."""

    id: str
    written: datetime
    by: str
    text: str
    after: str | None
    changes: tuple[str, ...]
    """against the version it was made from"""
    stands: bool
    in_file: bool
    """the garden file says just this"""


@dataclass(frozen=True, slots=True)
class SetUps:
    """Versions by id in the order of writing, and how the garden file stands to them."""

    versions: Mapping[str, SetUp]
    standing: str | None
    """the version that stands; None where the book has none"""
    file: str | None
    """the garden file's text; None where there is none"""
    seen: str | None
    """the version that the file was last seen to be"""

    @property
    def file_is(self) -> str | None:
        """The version that the file says word for word; the one that stands, or else the latest."""
        same = [identity for identity, fact in self.versions.items() if fact.text == self.file]
        return self.standing if self.standing in same else same[-1] if same else None

    @property
    def changed_by_hand(self) -> bool:
        """The file says what no version says."""
        return self.file is not None and self.file_is is None

    @property
    def behind(self) -> bool:
        """The file is a version that does not stand."""
        return self.file_is is not None and self.file_is != self.standing


def setup_text(garden: Path) -> str:
    """The set-up of a garden: the file's words; where a book is named, or only it is there, the version that
    stands in it. BadGarden where there is neither."""
    text = text_if_any(garden)
    if text is not None:
        return text
    if not book_path(garden).exists():
        return file_text(garden)
    what = tell("there is no set-up of a garden in this book.")
    raise BadGarden(Problem(what, tell("Name the garden file, or begin one with: evenpick begin"),
                            str(garden)))


def text_if_any(garden: Path) -> str | None:
    """As `setup_text`; None where there is neither."""
    if garden.suffix != SUFFIX and garden.exists():
        return file_text(garden)
    found = setups(effective(Book(book_path(garden)).entries(KINDS)))
    return found[-1].fact.text if found and isinstance(found[-1].fact, SetUp) else None


def there_is(garden: Path) -> bool:
    """Whether a garden file or its book is there."""
    return garden.exists() or book_path(garden).exists()


def is_cooperative(garden: Path) -> bool:
    """Whether a file is a cooperative's and not one garden's."""
    if garden.suffix == SUFFIX or not garden.is_file():
        return False
    return FARM.search(garden.read_bytes().decode("utf-8-sig", "replace")) is not None


def garden_of(garden: Path, text: str | None = None) -> Garden:
    """The garden that a file (or a book) describes, or would with `text`; weather files are sought beside it.

    BadGarden with every fault.
    """
    from evenpick.crops.catalogue import load_catalogue
    from evenpick.garden.reading import understand

    text = setup_text(garden) if text is None else text
    found = understand(text.replace("\r\n", "\n"), str(garden), garden.parent, load_catalogue())
    fetched = fetched_path(garden)
    return replace(found, weather=replace(
        found.weather, diary=book_path(garden), fetched=fetched if fetched.exists() else None
    ))


def fetched_path(garden: Path) -> Path:
    """Where the season's days that were fetched for a garden stand."""
    return garden.with_suffix(".weather.csv")


def look(garden: Path, coming: Sequence[Entry] = ()) -> SetUps:
    """How the garden file and the book stand to each other, with entries that are about to come in."""
    book = Book(book_path(garden))
    entries = effective((*book.entries(KINDS), *coming))
    standing = setups(entries)
    found = {entry.id: entry.fact for entry in sorted(entries, key=lambda each: each.id)
             if isinstance(entry.fact, SetUp)}
    file = garden.with_suffix(".toml") if garden.suffix == SUFFIX else garden
    text = file_text(file) if file.exists() else None
    return SetUps(found, standing[-1].id if standing else None, text, book.own(SEEN))


def taken_in(
    garden: Path, coming: Sequence[Entry] = (), by: str = ""
) -> tuple[tuple[Entry, ...], Mapping[str, str]]:
    """The set-up to write where the garden file was changed by hand, and what the book is to have seen."""
    now = look(garden, coming)
    if now.file is None:
        return (), {}
    if now.changed_by_hand:
        base = now.seen if now.seen in now.versions else now.standing
        identity = Book(book_path(garden)).next_id()
        entry = Entry(identity, day_number(date.today()), SetUp(now.file, base), "", by)
        return (entry,), {SEEN: entry.id}
    return (), {SEEN: now.file_is} if now.file_is and now.file_is != now.seen else {}


def add(
    garden: Path, entries: Sequence[Entry], plan: KeptPlan | None = None, coming: Sequence[Entry] = (),
    proviso: Proviso | None = None,
) -> int:
    """Add entries to a garden's book, and with them the garden file where it was changed by hand; how many of
    the entries were new. The file is held against the book while nobody else can write, so that of several
    writers at once one alone takes it in."""
    if not (entries or plan or any(taken_in(garden, coming))):
        return 0
    return Book(book_path(garden)).add(
        entries, plan=plan, proviso=proviso, besides=lambda: taken_in(garden, coming)
    )


def rewrite(garden: Path, text: str, version: str) -> None:
    """Make the garden file say a version that the book holds, whole or not at all; a garden that is a book
    alone needs none."""
    file = garden.with_suffix(".toml") if garden.suffix == SUFFIX else garden
    if garden.suffix == SUFFIX and not file.exists():
        return
    write_whole(file, text.encode())
    Book(book_path(garden)).add((), {SEEN: version})


def bring_file_up(garden: Path) -> bool:
    """Write the version that stands into a garden file that is missing or an older one of its line; whether
    it was written. Where a book alone is named, no file is made beside it."""
    now = look(garden)
    missing = now.file is None and garden.suffix != SUFFIX
    if now.standing is None or not (missing or (now.behind and _descends(now))):
        return False
    rewrite(garden, now.versions[now.standing].text, now.standing)
    return True


def _descends(now: SetUps) -> bool:
    """Whether the version that stands was made, near or far, from what the file says."""
    at, passed = now.standing, set[str]()
    while at is not None and at in now.versions and at not in passed:
        if at == now.file_is:
            return True
        passed.add(at)
        at = now.versions[at].after
    return False


def versions(garden: Path) -> tuple[Version, ...]:
    """Every version in the book, oldest first, each with what it changed."""
    now = look(garden)
    entries = {entry.id: entry for entry in Book(book_path(garden)).entries(KINDS)}
    return tuple(
        Version(identity, written(identity), entries[identity].by, fact.text, fact.after,
                _changed(now.versions, fact), identity == now.standing, identity == now.file_is)
        for identity, fact in now.versions.items()
    )


def _changed(known: Mapping[str, SetUp], fact: SetUp) -> tuple[str, ...]:
    """In words against the version that a set-up was made from."""
    if fact.after is None:
        return ()
    base = known.get(fact.after)
    if base is None:
        return (tell("made from a version that is not here"),)
    return changes(base.text, fact.text) or (tell("nothing, but it settles what was written apart"),)


def take_version(garden: Path, number: int) -> Entry:
    """Make an earlier version (its number in `versions`) stand again, as a new one; BadRequest if there is
    no such number."""
    add(garden, ())
    now = look(garden)
    texts = [fact.text for fact in now.versions.values()]
    if not 1 <= number <= len(texts):
        what = tell("there is no version {number}; the book holds {texts}.", number=number, texts=len(texts))
        raise BadRequest(Problem(what, tell("See them with: evenpick versions"), str(garden)))
    book = Book(book_path(garden))
    entry = Entry(book.next_id(), day_number(date.today()), SetUp(texts[number - 1], now.standing))
    book.add([entry])
    rewrite(garden, texts[number - 1], entry.id)
    return entry


def setup_notes(garden: Path) -> tuple[str, ...]:
    """What a grower should know of the garden file and the book, in words; nothing where they agree."""
    now = look(garden)
    if now.behind:
        file = garden.with_suffix(".toml").name
        return (tell("{file} says another version than the one that stands in the book. Both are kept; "
                     "make one stand with: evenpick versions --take NUMBER", file=file),)
    return ()
