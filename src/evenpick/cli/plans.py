"""Questions about a garden: plan, today, pickings."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenpick.base.language import tell
from evenpick.cli import cooperative
from evenpick.cli.hands import hands_of
from evenpick.cli.keeping import if_readable, it_stays, keeping
from evenpick.cli.options import A_GARDEN, ON, WORDS, Number, asked, day_of, on_day, words
from evenpick.cli.progress import Breaks, gently, told
from evenpick.cli.speaking import Speaking
from evenpick.cli.to_come import check_day

if TYPE_CHECKING:
    from evenpick.plan.hands import Hands
    from evenpick.report.words import Words
    from evenpick.service.plan_answer import PlanAnswer


@click.command(cls=Speaking, short_help="Make the plan for the garden.")
@A_GARDEN
@ON
@click.option("--seconds", type=Number(min=1), help="Stop after so long with the best plan so far.")
@click.option("--mend", is_flag=True, help="Better the plan kept, in a second or two, instead of a new one.")
@click.option("--cluster", metavar="ADDRESS", help="Plan on a Dask cluster: tcp://HOST:8786.")
@WORDS
def plan(
    garden: Path, on: str | None, seconds: float | None, mend: bool, cluster: str | None, as_json: bool,
    **rest: Any,
) -> None:
    """Make the plan for the garden, from what stands in it, and keep it in the garden's book.

    Ctrl-C ends the search and keeps the best plan so far, or the first one where there is none yet; pressed
    again, it drops it.
    """
    with gently() as stop, hands_of(cluster) as hands:  # which get ready while this process loads
        say = words(asked({**rest, "garden": garden}))
        if cooperative.is_cooperative(garden):
            show = cooperative.plan(garden, on_day(on), seconds, mend, hands, stop, say, as_json)
        else:
            show = _plan(garden, on_day(on), seconds, mend, hands, stop, say, as_json)
    show()


def _plan(
    garden: Path, on: date, seconds: float | None, mend: bool, hands: Hands, stop: Breaks, say: Words,
    as_json: bool,
) -> Callable[[], None]:
    """A plan made and kept; what shows it."""
    from evenpick.service.planning import make_plan, save_plan
    from evenpick.service.store_plan import better_kept

    with told() as progress:
        answer = make_plan(garden, on, progress, seconds, None, mend, hands, stop)
    stop.settle()
    better = if_readable(lambda: better_kept(garden, answer))
    if better is not None:
        return partial(_show_the_better, better, answer, say, as_json)
    kept = keeping(lambda: save_plan(garden, answer))

    def show() -> None:
        show_plan(answer, say, as_json)
        click.echo(tell("The plan is kept in {file}.", file=kept()), err=True)

    return show


def _show_the_better(kept: PlanAnswer, new: PlanAnswer, say: Words, as_json: bool) -> None:
    show_plan(kept, say, as_json)
    click.echo(it_stays(kept.gap, new.gap), err=True)


@click.command(cls=Speaking, short_help="What to do today, what to pick.")
@A_GARDEN
@ON
@click.option("--tonight", metavar="TEMPERATURE", help="The coming night's minimum: -2, '28 °F'.")
@click.option("--done", multiple=True, metavar="JOB", help="A job that is done; repeat for more.")
@click.option("--put-off", multiple=True, metavar="JOB", help="A job to put off, for a week or --until.")
@click.option("--refuse", multiple=True, metavar="JOB", help="A job you won't do.")
@click.option("--undo", multiple=True, metavar="JOB", help="A job whose answer was wrong.")
@click.option("--until", metavar="YYYY-MM-DD", help="The day to put off to.")
@click.option("--weight", metavar="WEIGHT", help="With --done of a picking: '1.2 kg', '2 lb'.")
@click.option("--yes", is_flag=True, help="Answer on a day that is still to come without being asked.")
@WORDS
def today(garden: Path, on: str | None, tonight: str | None, yes: bool, as_json: bool, **rest: Any) -> int:
    """What to do today with amounts, what to pick, what may be left, what will be bare.

    Each job has a short mark in the first column; answer it by that.
    """
    from evenpick.cli.by_farm import show
    from evenpick.garden.amounts import air_temperature
    from evenpick.report.plan_json import today_shape
    from evenpick.report.today import today_page
    from evenpick.service.today import today as answer_today

    if rest["weight"] and not rest["done"]:
        raise click.UsageError(tell("--weight goes with --done of a picking."))
    if rest["until"] and not rest["put_off"]:
        raise click.UsageError(tell("--until goes with --put-off."))
    day = on_day(on)
    say = words(asked({**rest, "garden": garden}))
    together = cooperative.is_cooperative(garden)
    if any(rest[answer] for answer in ("done", "put_off", "refuse", "undo")):
        if together:
            cooperative.refuse_answers(garden)
        check_day(garden, on, day, yes)
    _answer(garden, day, rest)
    if tonight is not None and tonight.strip("+- .0123456789") == "":
        tonight = f"{tonight} {say.temperature_unit}"
    degrees = None if tonight is None else air_temperature(tonight)
    if together:
        return cooperative.today(garden, day, degrees, say, as_json)
    answer = answer_today(garden, day, degrees)
    return show(today_page(answer, say), today_shape(answer), as_json)


def _answer(garden: Path, day: date, said: dict[str, Any]) -> None:
    """Write down the answers to jobs, each as it comes."""
    from evenpick.garden.amounts import weight
    from evenpick.service.job_answers import answer_job, undo_job

    until = day_of(said["until"], "--until") if said["until"] else None
    kg = weight(said["weight"]) if said["weight"] else None
    for job in said["done"]:
        answer_job(garden, job, "done", day, kg=kg)
    for job in said["put_off"]:
        answer_job(garden, job, "put off", day, until)
    for job in said["refuse"]:
        answer_job(garden, job, "refused", day)
    for job in said["undo"]:
        undo_job(garden, job, day)


@click.command(cls=Speaking, short_help="What will be picked, week by week.")
@A_GARDEN
@ON
@click.option("--weeks", type=click.IntRange(1, 104), default=8, show_default=True, help="Weeks ahead.")
@WORDS
def pickings(garden: Path, on: str | None, weeks: int, as_json: bool, **rest: Any) -> None:
    """The picture of the year, and the coming weeks against what is wanted."""
    from evenpick.report.as_json import as_text
    from evenpick.report.pickings import pickings_page, shown_weeks
    from evenpick.report.plan_json import pickings_shape
    from evenpick.report.terminal import render
    from evenpick.service.less_lost import plan_now
    from evenpick.service.setups import garden_of
    from evenpick.service.week_shares import shares_on

    day = on_day(on)
    say = words(asked({**rest, "garden": garden}))
    if cooperative.is_cooperative(garden):
        cooperative.pickings(garden, day, weeks, say, as_json)
        return
    kept = plan_now(garden, day)
    shares = partial(shares_on, kept.pickings, garden_of(garden))
    if as_json:
        shown = shown_weeks(kept.pickings, day, kept.begins, weeks)
        click.echo(as_text(pickings_shape(kept, shown, say, shares)))
    else:
        click.echo(render(pickings_page(kept, say, day, weeks, shares)).rstrip())


def show_plan(answer: PlanAnswer, say: Words, as_json: bool) -> None:
    """The plan as a page, with the jobs of its first week, or as JSON."""
    from evenpick.report.as_json import as_text
    from evenpick.report.plan import plan_page
    from evenpick.report.plan_json import plan_shape
    from evenpick.report.terminal import render
    from evenpick.service.today import first_week

    if as_json:
        click.echo(as_text(plan_shape(answer, say)))
    else:
        click.echo(render(plan_page(answer, first_week(answer), say)).rstrip())
