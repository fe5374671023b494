"""On paper and in the calendar: print, calendar."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import click

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell, tell_n
from evenpick.base.typed import apart
from evenpick.base.whole import write_whole
from evenpick.cli.by_farm import code_of
from evenpick.cli.cooperative import is_cooperative
from evenpick.cli.options import A_GARDEN, FILE, ON, WORDS_ONLY, asked, on_day, words
from evenpick.cli.speaking import Speaking

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date

    from evenpick.report.paper import Paper, Sheet
    from evenpick.report.words import Words

What = Literal["week", "year", "labels", "box", "month"]
PAPER = click.option("--paper", type=click.Choice(["a4", "letter"]),
                     help="[a4; letter where units are imperial]")
OUT = click.option("--out", type=FILE, help="The file to write.  [evenpick-WHAT.pdf]")
SMALL = 7.5
"""points of the month's sheet: of fifty crops and their cautions on two pages, not three (our choice)"""
PDF, CALENDAR = b"%PDF", b"BEGIN:VCALENDAR"
"""how the files written here begin"""


@click.command("print", cls=Speaking, short_help="Sheets for the shed wall: week, year, labels, box, month.")
@click.argument("what", type=click.Choice(["week", "year", "labels", "box", "month"]))
@A_GARDEN
@ON
@PAPER
@OUT
@WORDS_ONLY
def print_(
    what: What, garden: Path, on: str | None, paper: Paper | None, out: Path | None, **rest: Any
) -> int:
    """Write a sheet as PDF, black and white.

    WHAT is week (jobs to tick), year (on one page), labels (for beds), box (what is in it this week, for
    customers) or month (what may be sown here).
    """
    day, say = on_day(on), words(asked({**rest, "garden": garden}))
    size: Paper = paper or ("letter" if say.imperial else "a4")
    path = out or Path(f"evenpick-{what}.pdf")

    def print_at(file: Path, path: Path, farm: str) -> None:
        _print(_sheet(what, file, day, say, size), path)

    if what == "box":  # which all farms fill
        _refuse_other(path, PDF)
        print_at(garden, path, "")
        return 0
    return written(garden, path, PDF, print_at)


def _print(page: Sheet, path: Path) -> None:
    from evenpick.report.paper import printed

    data, spelt = printed(page)
    _write(path, data)
    if spelt:
        click.echo(tell("No font here has these letters, so they are spelt out: {letters}",
                        letters=" ".join(sorted(spelt))), err=True)
    click.echo(tell("{path} is written.", path=path))


def _sheet(what: What, garden: Path, day: date, say: Words, paper: Paper) -> Sheet:
    from evenpick.report import sheets
    from evenpick.report.paper import sheet
    from evenpick.service.less_lost import plan_now
    from evenpick.service.store_plan import kept_plan
    from evenpick.service.today import today

    match what:
        case "week":
            return sheets.week_sheet(today(garden, day), say, paper)
        case "year":
            return sheets.year_sheet(plan_now(garden, day), say, paper)
        case "labels":
            return sheets.label_sheet(kept_plan(garden), say, paper)
        case "box":
            from evenpick.service.box import box

            answer = box(garden, day)
            if answer.note:  # not on the sheet, which is for the customer
                click.echo(answer.note)
            return sheet(sheets.box_page(answer, say), paper, size=12.0)
        case "month":
            from evenpick.report.month import month_page
            from evenpick.service.month import month
            from evenpick.service.setups import garden_of

            own = garden_of(garden)
            asked = month(own.site, own.weather, day.month, day.year, own.covers_there, lowest=own.lowest,
                          seedbed=own.seedbed)
            return sheet(month_page(asked, say), paper, size=SMALL)


@click.command(cls=Speaking, short_help="The jobs as a calendar file.")
@A_GARDEN
@ON
@click.option("--days", type=click.IntRange(1, 730), default=120, show_default=True, help="Days ahead.")
@click.option("--out", type=FILE, default="evenpick.ics", show_default=True, help="The file to write.")
@WORDS_ONLY
def calendar(garden: Path, on: str | None, days: int, out: Path, **rest: Any) -> int:
    """Write the jobs ahead as an iCalendar file; reading a later one moves its entries and doubles none."""
    from evenpick.report.calendar import calendar as as_calendar
    from evenpick.service.today import jobs_ahead

    day, say = on_day(on), words(asked({**rest, "garden": garden}))

    def write_at(file: Path, path: Path, farm: str) -> None:
        jobs, dealt, older = jobs_ahead(file, day, days)
        name = f"evenpick {farm}".rstrip()
        _write(path, as_calendar(jobs, say, name, datetime.now(UTC), dealt, older))
        click.echo(tell_n("{out} is written: {n} job.", "{out} is written: {n} jobs.", len(jobs), out=path))
        if older:
            click.echo(older)

    return written(garden, out, CALENDAR, write_at)


def written(garden: Path, path: Path, begins: bytes, write: Callable[[Path, Path, str], None]) -> int:
    """Write what a garden is told into a file; of a cooperative a file for each farm, named after it. `write`
    is given the garden, the file and the farm's name. An exit code that says whether all were written."""
    if not is_cooperative(garden):
        _refuse_other(path, begins)
        write(garden, path, "")
        return 0
    from evenpick.service.cooperative_files import cooperative_of
    from evenpick.service.farms_asked import each_farm

    found = cooperative_of(garden)
    names = [farm.name for farm in found.own.farms]
    paths = dict(zip(names, apart(path, names), strict=True))
    for own in paths.values():
        _refuse_other(own, begins)
    told = each_farm(found, lambda farm: write(farm.file, paths[farm.name], farm.name))
    for farm in told:
        if farm.problem:
            click.echo(f"{farm.name}: {farm.problem}", err=True)
    return code_of(told)


def _refuse_other(path: Path, begins: bytes) -> None:
    """BadRequest where a file is there that is no earlier one of the same kind: a mistyped name must not cost
    a garden file. One with nothing in it may be written."""
    if path.is_file():
        with path.open("rb") as file:
            head = file.read(len(begins))
        if head not in (b"", begins):
            what = tell("a file of another kind is there; it is never written over.")
            raise BadRequest(Problem(what, tell("Name another with --out, or move it away."), str(path)))


def _write(path: Path, data: bytes) -> None:
    """Written whole or not at all; straight into what is no file, such as a pipe."""
    if path.exists() and not path.is_file():
        path.write_bytes(data)
    else:
        write_whole(path, data)
