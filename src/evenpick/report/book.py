"""Pages about the garden's book: its check, what was brought in, versions of the set-up, conflicts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from evenpick.garden.changes import changes
from evenpick.garden.diary import Entry, SetUp
from evenpick.garden.effective import Conflict
from evenpick.report.diary_words import entry_words
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.service.check import Checked
from evenpick.service.exchange import Imported
from evenpick.service.setups import Version
from evenpick.service.workbook import Taken
from evenpick.store.rescue import Rescued


def check_page(answer: Checked) -> Page:
    """Whether the book is whole, what is in it, what is open and which copies are kept."""
    if answer.faults:
        bad: list[Block] = [Text("The book is damaged."), Items(answer.faults), *map(Text, answer.notes)]
        return Page(answer.book.name, (*bad, *_copies(answer)))
    span = ""
    if answer.first and answer.last:
        span = f", written from {answer.first:%Y-%m-%d} to {answer.last:%Y-%m-%d}"
    blocks: list[Block] = [Text(f"The book is whole: {_count(answer.entries, 'entry', 'entries')}{span}.")]
    if answer.by_kind:
        blocks += [Table((Column("kind"), Column("entries", align="right")),
                         tuple((kind, str(count)) for kind, count in answer.by_kind))]
    blocks += [Text(f"Digest: {answer.digest[:16]} (a copy with the same digest holds the same diary).")]
    if answer.loose:
        blocks += [Text(f"{_count(answer.loose, 'entry', 'entries')} about a sowing that is not here; "
                        "import the copy in which it was written.")]
    if answer.conflicts:
        blocks += [Text(f"{_count(len(answer.conflicts), 'conflict')} open; see: evenpick settle")]
    return Page(answer.book.name, (*blocks, *map(Text, answer.notes), *_copies(answer)))


def _copies(answer: Checked) -> list[Block]:
    said = f"Copies kept: {len(answer.copies)}"
    if answer.copies and not answer.faults:
        said += "; the last was made now" if answer.kept else "; the last is of this same diary"
    return [Heading("copies"), Text(f"{said}."), Items(tuple(copy.stem for copy in answer.copies))]


def import_page(answer: Imported, known: Mapping[str, Entry]) -> Page:
    """What came in, and what is open since."""
    old = answer.read - answer.new
    new = _count(answer.new, "new entry", "new entries")
    blocks: list[Block] = [Text(f"{new}; {old} {'was' if old == 1 else 'were'} there already.")]
    if answer.kept:
        blocks += [Text(f"The book as it was is kept: {answer.kept}.")]
    if answer.garden_written:
        blocks += [Text("The garden file was written to the version that stands.")]
    if answer.conflicts:
        blocks += _conflicts(answer.conflicts, known)
    return Page(f"Imported from {answer.source.name}", tuple(blocks))


def workbook_page(taken: Taken) -> Page:
    """What came in from a spreadsheet."""
    old, new = taken.read - taken.new, _count(taken.new, "new entry", "new entries")
    changed = "The garden file was changed." if taken.garden_changed else "The garden file stays as it was."
    told = (f"Sheets: {', '.join(taken.sheets)}.", changed,
            f"Diary: {new}; {old} {'was' if old == 1 else 'were'} there already.")
    return Page(f"Imported from {taken.source.name}", tuple(Text(one) for one in told))


def conflicts_page(conflicts: tuple[Conflict, ...], known: Mapping[str, Entry]) -> Page:
    """Every open conflict with both versions and how to settle it."""
    none: list[Block] = [Text("Nothing is open: no two copies disagree.")]
    return Page("Conflicts", tuple(_conflicts(conflicts, known) if conflicts else none))


def _conflicts(conflicts: Iterable[Conflict], known: Mapping[str, Entry]) -> list[Block]:
    blocks: list[Block] = []
    for number, each in enumerate(conflicts, 1):
        about = known.get(each.about)
        subject = entry_words(about, known) if about else "the garden's set-up"
        a, b = each.stands.fact, each.against.fact
        differ = changes(b.text, a.text) if isinstance(a, SetUp) and isinstance(b, SetUp) else ()
        blocks += [
            Heading(f"conflict {number}"),
            Text(f"About {subject}:"),
            Items((f"a, which stands: {entry_words(each.stands, known)}",
                   f"b: {entry_words(each.against, known)}",
                   *(f"from b to a: {change}" for change in differ))),
            Text(f"Settle it with: evenpick settle {number} --take a (or b). If neither is right, settle it "
                 "and then correct it."),
        ]
    return blocks


def versions_page(answer: tuple[Version, ...], notes: tuple[str, ...]) -> Page:
    """The set-ups that the book holds, the last first."""
    blocks: list[Block] = [Text(note) for note in notes]
    for number in range(len(answer), 0, -1):
        version = answer[number - 1]
        by = f" by {version.by}" if version.by else ""
        marks = "; it stands" if version.stands else ""
        marks += "; the garden file says this" if version.in_file else ""
        when = f"Written {version.written:%Y-%m-%d %H:%M} UTC{by}{marks}:"
        blocks += [Heading(f"version {number}"), Text(when), Items(version.changes or ("the first",))]
    return Page("Versions of the set-up", tuple(blocks or [Text("The book holds no set-up yet.")]))


def rescue_page(answer: Rescued) -> Page:
    """What was brought together, and what was lost."""
    read = _count(answer.read, "entry", "entries")
    blocks: list[Block] = [Text(f"{read} read off the file, {answer.copied} more from the kept copies.")]
    if answer.doubtful:
        blocks += [Text("Not as they were written, so look them through:"), Items(answer.doubtful)]
    if answer.lost:
        blocks += [Heading("lost"), Items(answer.lost)]
    else:
        blocks += [Text("No entry that the file names is lost. What it does not name can't be told.")]
    if answer.kept:
        blocks += [Text(f"The file as it was is kept: {answer.kept}.")]
    return Page("Rescued", tuple(blocks))


def restore_words(copy: Path, before: Path | None) -> str:
    kept = f" The book that was there is kept: {before}." if before else ""
    return f"The book is the copy of {copy.stem} now.{kept}"


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"
