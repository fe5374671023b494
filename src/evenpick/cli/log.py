"""The diary from the command line: a line, plain options, a CSV file; undone, corrected, listed."""

from __future__ import annotations

import re
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenpick.base.language import month, tell, tell_n, weekday
from evenpick.base.typed import as_typed
from evenpick.cli.exits import BAD_INPUT
from evenpick.cli.log_asking import asked_through
from evenpick.cli.options import A_GARDEN, FILE, on_day, together
from evenpick.cli.speaking import Speaking
from evenpick.cli.to_come import typed_day

if TYPE_CHECKING:
    from evenpick.garden.diary import Entry
    from evenpick.service.log import LogAnswer, LogEntry

SHOWN_ID = 6
PLAIN = together(
    click.option(
        "--did", metavar="WORD", help="In place of a line: sowed, picked, watered, thinned, lost ..."
    ),
    click.option("--crop", metavar="CROP", help="With --did: the crop, by any of its names."),
    click.option("--variety", metavar="NAME", help="With --did: the variety."),
    click.option("--row", metavar="LENGTH", help="With --did: metres or feet of row: '4 m'."),
    click.option("--area", metavar="AREA", help="With --did: '2 m²', '20 sq ft'."),
    click.option("--plants", type=click.IntRange(min=1), help="With --did: a number of plants."),
    click.option("--weight", metavar="WEIGHT", help="With --did: '1.2 kg', '2 lb'."),
    click.option("--pieces", metavar="COUNT", help="With --did: '3 heads', '2 bunches'."),
    click.option("--share", metavar="SHARE", help="With --did: of a loss, 'half', '30 %'."),
    click.option("--because", metavar="WORD", help="With --did lost: slugs, blight, frost ..."),
    click.option("--bed", metavar="GROUND", help="With --did: the bed or piece of ground."),
)


class Lines(Speaking):
    """A command whose line may begin with a minus: '-2 last night' is a reading, and no option."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        asks = {name for param in self.params if not getattr(param, "is_flag", True) for name in param.opts}
        cold = [at for at, arg in enumerate(args) if re.match(r"-\d", arg) and not asks & {*args[:at][-1:]}]
        if len(cold) == 1 and "--" not in args:
            (at,) = cold
            args = [*args[:at], *args[at + 1 :], "--", args[at]]
        return super().parse_args(ctx, args)


@click.command(cls=Lines, short_help="Write what was done or seen into the diary.")
@click.argument("line", required=False)
@A_GARDEN
@click.option("--on", metavar="YYYY-MM-DD",
              help="The day the line is written on.  [today; with --correct, the entry's]")
@click.option("--yes", is_flag=True, help="Write what was understood without asking.")
@click.option(
    "--answer",
    "answers",
    multiple=True,
    metavar="KEY=VALUE",
    help="An answer to a question; repeat for more.",
)
@click.option(
    "--undo", is_flag=False, flag_value="", metavar="[ID]", help="Undo the last line, or the entry of an id."
)
@click.option("--correct", metavar="ID", help="LINE is how that entry should have been.")
@click.option("--csv", "file", type=FILE, help="A file of date,line rows, written all or none.")
@PLAIN
@click.option("--json", "as_json", is_flag=True, help="The answer as JSON.")
def log(
    line: str | None,
    garden: Path,
    on: str | None,
    yes: bool,
    answers: tuple[str, ...],
    undo: str | None,
    correct: str | None,
    file: Path | None,
    as_json: bool,
    **said: Any,
) -> int:
    """Write LINE, in a grower's own words, into the diary: evenpick log "sowed 4 m carrots bed 3".

    What was understood is read back before it counts. Without LINE the last entries are shown.
    """
    day = on_day(on)
    line = line if line is not None else _as_line(said)
    if sum(each is not None for each in (undo, file, line)) > 1:
        raise click.UsageError(tell("give one of LINE (or --did), --undo and --csv."))
    if correct is not None and line is None:
        raise click.UsageError(tell("--correct ID goes with the line as it should have been."))
    if undo is not None:
        return _undo(garden, undo, day, as_json)
    now = typed_day(on)
    if file is not None:
        return _import(garden, file, day, yes, as_json, now)
    if line is None:
        return _list(garden, as_json)
    return _write(garden, line, day, dict(_pair(each) for each in answers), correct, yes, as_json, now)


def _as_line(said: dict[str, Any]) -> str | None:
    """The plain options as the line they stand for."""
    if said["did"] is None:
        if any(value is not None for value in said.values()):
            raise click.UsageError(tell("--crop, --row and the like go with --did."))
        return None
    plants = f"{said['plants']} plants" if said["plants"] else None
    parts = (
        said["did"],
        said["row"],
        said["area"],
        plants,
        said["weight"],
        said["pieces"],
        said["share"],
        said["crop"],
        f"'{said['variety']}'" if said["variety"] else None,
        f"to {said['because']}" if said["because"] else None,
        f"in {said['bed']}" if said["bed"] else None,
    )
    return " ".join(part for part in parts if part)


def _pair(text: str) -> tuple[str, str]:
    key, sign, value = text.partition("=")
    if not sign:
        raise click.UsageError(tell("--answer '{text}' is not KEY=VALUE.", text=text))
    return key, value


def _write(
    garden: Path, line: str, day: date, answers: dict[str, str], which: str | None, yes: bool, as_json: bool,
    now: date | None,
) -> int:
    from evenpick.service.log import (
        as_it_stands,
        commit,
        commit_correction,
        correct,
        understand,
        without_doubt,
    )

    asks = sys.stdin.isatty() and not as_json
    before = None if which is None else as_it_stands(garden, which)
    days = [day] if now is not None or before is None else [before.day, day]
    entry: str | None = None

    def read() -> LogAnswer:
        nonlocal entry
        if which is None:
            return understand(garden, line, day, answers, now)
        for each in days:  # that of the entry; what is later than it, '5 June', is told from today
            found, entry = correct(garden, which, line, each, answers, now)
            if found.outcome != "refused":
                break
        return found

    answer, doubts = without_doubt(read, answers) if yes else (read(), ())
    answer = asked_through(read, answer, answers) if asks else answer
    if answer.outcome != "understood":
        return _not_understood(answer, as_json)
    if not as_json:
        _echo(answer, doubts)
        if before is not None:
            click.echo(tell("in place of: {day}  {words}", day=_on(before.day), words=before.words))
    if not yes and not (asks and click.confirm(tell("Is that right?"), default=True, err=True)):
        if as_json:
            _json(answer, (), doubts)
        else:
            click.echo(tell("Nothing was written.") + ("" if asks else tell(" Write it with --yes.")),
                       err=True)
        return 0
    written = commit(garden, answer) if entry is None else commit_correction(garden, entry, answer)
    if as_json:
        _json(answer, written, doubts)
    else:
        click.echo(tell("Written: {written}",
                        written=", ".join(each.id[-SHOWN_ID:] for each in written)), err=True)
    return 0


def _echo(answer: LogAnswer, doubts: Sequence[str]) -> None:
    for each in answer.facts:
        click.echo(f"{_on(each.day)}  {each.words}")
    for doubt in doubts:
        click.echo(doubt)


def _on(when: date) -> str:
    """'Mon 3 May 2027'."""
    return tell("{weekday} {day} {month} {year}", weekday=weekday(when.weekday(), "abbreviated"),
                day=when.day,
                month=month(when.month), year=when.year)


def _not_understood(answer: LogAnswer, as_json: bool) -> int:
    if as_json:
        _json(answer, ())
    elif answer.question is not None:
        click.echo(f"evenpick: {answer.question.text}", err=True)
        for choice in answer.question.choices:
            click.echo(f'  --answer "{answer.question.key}={choice.value}"  {choice.label}', err=True)
        if answer.question.free:
            given = f'--answer "{answer.question.key}={answer.question.free}"'
            click.echo(f"  {given}  {tell('for example')}", err=True)
    else:
        click.echo(f"evenpick: {answer.why} {answer.mend}", err=True)
    return BAD_INPUT


def _json(answer: LogAnswer, written: Sequence[Entry], doubts: Sequence[str] = ()) -> None:
    from evenpick.report.log_json import log_shape

    _put(log_shape(answer, [each.id for each in written], doubts))


def _undo(garden: Path, which: str, day: date, as_json: bool) -> int:
    from evenpick.service.undoing import undo

    gone = undo(garden, which, day)
    _entries(gone, "undone", as_json)
    return 0


def _list(garden: Path, as_json: bool) -> int:
    from evenpick.service.log import latest

    found = latest(garden)
    if not found and not as_json:
        click.echo(as_typed(tell('Nothing is in the diary yet. Write into it with: evenpick log "sowed 4 m '
                                 'carrots bed 3"')))
    else:
        _entries(found, "entries", as_json)
    return 0


def _entries(found: Sequence[LogEntry], name: str, as_json: bool) -> None:
    if as_json:
        from evenpick.report.log_json import entries_shape

        _put({name: entries_shape(found)})
        return
    for each in found:
        undone = f"{tell('undone')}  " if name == "undone" else ""
        click.echo(f"{undone}{each.id[-SHOWN_ID:]}  {_on(each.day)}  {_words(each)}")


def _words(entry: LogEntry) -> str:
    return entry.note if entry.only_words else entry.words


def _import(garden: Path, file: Path, day: date, yes: bool, as_json: bool, now: date | None) -> int:
    from evenpick.service.log_file import commit_lines, read_back, read_lines

    read = read_lines(garden, file, day, sure=yes, now=now)
    number = len(read.entries)
    told = tuple(read_back(garden, read.entries))
    for each in () if as_json else told:
        click.echo(f"{_on(each.day)}  {_words(each)}")
    asks = sys.stdin.isatty() and not as_json
    agreed = yes or (
        asks and click.confirm(tell_n("{n} entry is understood. Write it?",
                                      "{n} entries are understood. Write them?", number),
                               default=True, err=True)
    )
    written = commit_lines(garden, read.entries) if agreed else 0
    if as_json:
        from evenpick.report.log_json import entries_shape

        _put({"understood": number, "written": written, "doubts": list(read.doubts),
              "entries": entries_shape(told)})
        return 0
    for doubt in read.doubts:
        click.echo(doubt)
    outcome = (
        tell("{written} written.", written=written)
        if agreed
        else tell("Nothing was written.") + ("" if asks else tell(" Write them with --yes."))
    )
    click.echo(tell_n("{n} entry understood. {told}", "{n} entries understood. {told}", number, told=outcome))
    return 0


def _put(shape: Any) -> None:
    import json

    click.echo(json.dumps(shape, ensure_ascii=False, indent=2))
