"""Pages about the garden's book: its check, what was brought in, versions of the set-up, conflicts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from evenpick.base.language import later, tell, tell_n
from evenpick.climate.origin import ClimateOrigin
from evenpick.garden.changes import changes
from evenpick.garden.diary import Entry, SetUp
from evenpick.garden.effective import Conflict
from evenpick.report.days import full_day
from evenpick.report.diary_words import entry_words
from evenpick.report.farm_by_farm import at_farm, heads
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import far_said
from evenpick.report.words import Words
from evenpick.service.books_together import BookRescued
from evenpick.service.check import Checked, FarmChecked, NotBegun
from evenpick.service.doubled import Pair, lighter
from evenpick.service.exchange import Imported
from evenpick.service.plan_command import plan_command
from evenpick.service.setups import Version
from evenpick.service.workbook import Taken
from evenpick.store.rescue import Rescued

TWICE = later("Each copy has an entry of its own for these, so they count twice. Where it was one and the "
              "same, undo one of the two:")


def check_page(answer: Checked | NotBegun, words: Words | None = None) -> Page:
    """The garden's own, and after it that of each farm of a cooperative."""
    page = _own(answer, words)
    farms = [block for farm in answer.farms for block in _of_farm(farm)]
    return Page(page.title, (*page.blocks, *farms))


def _of_farm(farm: FarmChecked) -> list[Block]:
    problem = [Text(farm.problem)] if farm.problem else []
    blocks = [*problem, *(() if farm.answer is None else _own(farm.answer, None).blocks)]
    return [*heads(farm.name, farm.path), *at_farm(farm.name, farm.path, blocks)]


def _own(answer: Checked | NotBegun, words: Words | None) -> Page:
    """Whether the book is whole, what is in it, what is open and which copies are kept; with `words`, how far
    off the weather was measured, if it is far."""
    if isinstance(answer, NotBegun):
        return Page(answer.garden.name, (
            Text(tell("The garden file can be read; nothing in it is at fault.")),
            Text(tell("There is no book yet; it is made when something is first written: a plan, a line of "
                      "the diary.")),
            *_far(answer.far, words),
        ))
    if answer.faults:
        bad: list[Block] = [Text(tell("The book is damaged.")), Items(answer.faults),
                            *map(Text, answer.notes)]
        return Page(answer.book.name, (*bad, *_copies(answer)))
    span = ""
    if answer.first and answer.last:
        span = tell(", written from {first} to {last}", first=full_day(answer.first),
                    last=full_day(answer.last))
    blocks: list[Block] = [Text(tell("The book is whole: {entries}{span}.",
                                     entries=_entries(answer.entries), span=span))]
    if answer.by_kind:
        blocks += [Table((Column(tell("kind")), Column(tell("entries"), align="right")),
                         tuple((tell(kind), str(count)) for kind, count in answer.by_kind))]
    blocks += [Text(tell("Digest: {digest} (a copy with the same digest holds the same diary).",
                         digest=answer.digest[:16]))]
    if answer.loose:
        blocks += [Text(tell("{loose} about a sowing that is not here; import the copy in which it was "
                             "written.", loose=_entries(answer.loose)))]
    if answer.conflicts:
        blocks += [Text(tell_n("{n} conflict open; see: evenpick settle",
                               "{n} conflicts open; see: evenpick settle", len(answer.conflicts)))]
    said = (*map(Text, answer.notes), *_far(answer.far, words))
    return Page(answer.book.name, (*blocks, *said, *_copies(answer)))


def _far(climates: Sequence[ClimateOrigin], words: Words | None) -> list[Block]:
    return [] if words is None else [Text(far_said(climate, words)) for climate in climates]


def _copies(answer: Checked) -> list[Block]:
    said = tell("Copies kept: {copies}", copies=len(answer.copies))
    if answer.only_read:
        said += tell("; none was made now, for here the book can only be read")
    elif answer.copies and not answer.faults:
        said += tell("; the last was made now") if answer.kept else tell("; the last is of this same diary")
    return [Heading(tell("copies")), Text(f"{said}."), Items(tuple(copy.stem for copy in answer.copies))]


def import_page(answer: Imported, known: Mapping[str, Entry]) -> Page:
    """What came in, and what is open since."""
    old = answer.read - answer.new
    blocks: list[Block] = [Text(_came_in(answer.new, old))]
    if answer.kept:
        blocks += [Text(tell("The book as it was is kept: {kept}.", kept=answer.kept))]
    if answer.garden_written:
        blocks += [Text(tell("The garden file was written to the version that stands."))]
    if answer.doubled:
        blocks += [Heading(tell("told by both copies")), Text(tell(TWICE)),
                   Items(tuple(_told_twice(pair, known) for pair in answer.doubled))]
    if answer.conflicts:
        blocks += _conflicts(answer.conflicts, known)
    return Page(tell("Imported from {name}", name=answer.source.name), tuple(blocks))


def _told_twice(pair: Pair, known: Mapping[str, Entry]) -> str:
    light, more = lighter(pair, known.values())
    said = tell("{mine}; and {theirs}: evenpick log --undo {mark}", mine=entry_words(pair[0], known),
                theirs=entry_words(pair[1], known), mark=light.id)
    if not more:
        return said
    return said + tell_n(" ({n} entry about it goes with it: write it anew of the other)",
                         " ({n} entries about it go with it: write them anew of the other)", more)


def workbook_page(taken: Taken) -> Page:
    """What came in from a spreadsheet."""
    changed = (tell("The garden file was changed.") if taken.garden_changed
               else tell("The garden file stays as it was."))
    told = (tell("Sheets: {sheets}.", sheets=", ".join(taken.sheets)), changed,
            tell("Diary: {came}", came=_came_in(taken.new, taken.read - taken.new)))
    return Page(tell("Imported from {name}", name=taken.source.name), tuple(Text(one) for one in told))


def conflicts_page(conflicts: tuple[Conflict, ...], known: Mapping[str, Entry]) -> Page:
    """Every open conflict with both versions and how to settle it."""
    none: list[Block] = [Text(tell("Nothing is open: no two copies disagree."))]
    return Page(tell("Conflicts"), tuple(_conflicts(conflicts, known) if conflicts else none))


def _conflicts(conflicts: Iterable[Conflict], known: Mapping[str, Entry]) -> list[Block]:
    blocks: list[Block] = []
    for number, each in enumerate(conflicts, 1):
        about = known.get(each.about)
        subject = entry_words(about, known) if about else tell("the garden's set-up")
        a, b = each.stands.fact, each.against.fact
        differ = changes(b.text, a.text) if isinstance(a, SetUp) and isinstance(b, SetUp) else ()
        blocks += [
            Heading(tell("conflict {number}", number=number)),
            Text(tell("About {subject}:", subject=subject)),
            Items((tell("a, which stands: {stands}", stands=entry_words(each.stands, known)),
                   f"b: {entry_words(each.against, known)}",
                   *(tell("from b to a: {change}", change=change) for change in differ))),
            Text(tell("Settle it with: evenpick settle {number} --take a (or b). If neither is right, "
                      "settle it and then correct it.", number=number)),
        ]
    return blocks


def versions_page(answer: tuple[Version, ...], notes: tuple[str, ...]) -> Page:
    """The set-ups that the book holds, the last first."""
    blocks: list[Block] = [Text(note) for note in notes]
    for number in range(len(answer), 0, -1):
        version = answer[number - 1]
        by = tell(" by {by}", by=version.by) if version.by else ""
        marks = tell("; it stands") if version.stands else ""
        marks += tell("; the garden file says this") if version.in_file else ""
        when = tell("Written {written:%Y-%m-%d %H:%M} UTC{by}{marks}:", written=version.written, by=by,
                    marks=marks)
        blocks += [Heading(tell("version {number}", number=number)), Text(when),
                   Items(version.changes or (tell("the first"),))]
    return Page(tell("Versions of the set-up"),
                tuple(blocks or [Text(tell("The book holds no set-up yet."))]))


def rescue_page(answer: Rescued) -> Page:
    """What was brought together, and what was lost."""
    return Page(tell("Rescued"), tuple(_rescued(answer)))


def rescued_together_page(file: Path, books: Sequence[BookRescued]) -> Page:
    """Of each damaged book of a cooperative what was brought together; `file` is its own."""
    blocks: list[Block] = [] if books else [Text(tell("None of the books is damaged: nothing was done."))]
    for each in books:
        own = [Text(each.problem)] if each.answer is None else _rescued(each.answer)
        if each.shared:
            again = tell("It holds nothing but the plan of all farms. If that can't be read any more, make "
                         "it again: {command}", command=plan_command(file))
            own = [*own[-1:], Text(again)]
        blocks += [*heads(each.name, each.path), *at_farm(each.name, each.path, own)]
    return Page(tell("Rescued"), tuple(blocks))


def _rescued(answer: Rescued) -> list[Block]:
    read = _entries(answer.read)
    blocks: list[Block] = [Text(tell("{read} read off the file, {copied} more from the kept copies.",
                                     read=read, copied=answer.copied))]
    if answer.doubtful:
        blocks += [Text(tell("Not as they were written, so look them through:")), Items(answer.doubtful)]
    if answer.lost:
        blocks += [Heading(tell("lost")), Items(answer.lost)]
    else:
        blocks += [Text(tell("No entry that the file names is lost. What it does not name can't be told."))]
    if answer.kept:
        blocks += [Text(tell("The file as it was is kept: {kept}.", kept=answer.kept))]
    return blocks


def restore_words(copy: Path, before: Path | None) -> str:
    kept = tell(" The book that was there is kept: {before}.", before=before) if before else ""
    return tell("The book is the copy of {stem} now.{kept}", stem=copy.stem, kept=kept)


def _entries(number: int) -> str:
    return tell_n("{n} entry", "{n} entries", number)


def _came_in(new: int, old: int) -> str:
    said = tell_n("{n} new entry", "{n} new entries", new)
    return tell_n("{said}; {n} was there already.", "{said}; {n} were there already.", old, said=said)
