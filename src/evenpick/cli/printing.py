"""On paper and in the calendar: print, calendar."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import click

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell, tell_n
from evenpick.base.whole import write_whole
from evenpick.cli.options import A_GARDEN, FILE, ON, WORDS_ONLY, asked, on_day, words
from evenpick.cli.speaking import Speaking

if TYPE_CHECKING:
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
) -> None:
    """Write a sheet as PDF, black and white.

    WHAT is week (jobs to tick), year (on one page), labels (for beds), box (what is in it this week, for
    customers) or month (what may be sown here).
    """
    from evenpick.report.paper import printed

    day, say = on_day(on), words(asked({**rest, "garden": garden}))
    size: Paper = paper or ("letter" if say.imperial else "a4")
    path = out or Path(f"evenpick-{what}.pdf")
    _refuse_other(path, PDF)
    data, spelt = printed(_sheet(what, garden, day, say, size))
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
            asked = month(own.site, own.weather, day.month, day.year, own.covers_there, lowest=own.lowest)
            return sheet(month_page(asked, say), paper, size=SMALL)


@click.command(cls=Speaking, short_help="The jobs as a calendar file.")
@A_GARDEN
@ON
@click.option("--days", type=click.IntRange(1, 730), default=120, show_default=True, help="Days ahead.")
@click.option("--out", type=FILE, default="evenpick.ics", show_default=True, help="The file to write.")
@WORDS_ONLY
def calendar(garden: Path, on: str | None, days: int, out: Path, **rest: Any) -> None:
    """Write the jobs ahead as an iCalendar file; reading a later one moves its entries and doubles none."""
    from evenpick.report.calendar import calendar as as_calendar
    from evenpick.service.today import jobs_ahead

    day, say = on_day(on), words(asked({**rest, "garden": garden}))
    _refuse_other(out, CALENDAR)
    jobs, dealt = jobs_ahead(garden, day, days)
    _write(out, as_calendar(jobs, say, "evenpick", datetime.now(UTC), dealt))
    click.echo(tell_n("{out} is written: {n} job.", "{out} is written: {n} jobs.", len(jobs), out=out))


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
