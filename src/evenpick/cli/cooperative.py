"""The same questions asked of a cooperative: plan, today, pickings, ground."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenpick.base.language import tell
from evenpick.cli.keeping import if_readable, it_stays, keeping
from evenpick.cli.progress import Breaks, told

if TYPE_CHECKING:
    from evenpick.plan.hands import Hands
    from evenpick.report.words import Words


def is_cooperative(garden: Path) -> bool:
    from evenpick.service.setups import is_cooperative as asked

    return asked(garden)


def plan(
    file: Path, on: date, seconds: float | None, mend: bool, hands: Hands, stop: Breaks, say: Words,
    as_json: bool,
) -> Callable[[], None]:
    """The plan of all farms made and kept; what shows it."""
    from evenpick.report.as_json import as_text
    from evenpick.report.cooperative import cooperative_plan_page
    from evenpick.report.cooperative_json import cooperative_plan_shape
    from evenpick.report.terminal import render
    from evenpick.service.cooperative import better_together, plan_cooperative, save_cooperative
    from evenpick.service.today import first_week

    with told() as progress:
        made = plan_cooperative(file, on, progress, seconds, mend, hands, stop)
    stop.settle()
    better = if_readable(lambda: better_together(file, made))
    answer = better or made
    kept = None if better else keeping(lambda: save_cooperative(file, made))

    def show() -> None:
        jobs = {farm.name: first_week(farm.plan) for farm in answer.farms}
        click.echo(as_text(cooperative_plan_shape(answer, say)) if as_json
                   else render(cooperative_plan_page(answer, jobs, say)).rstrip())
        click.echo(
            it_stays(answer.gap, made.gap) if kept is None else
            tell("The plan is kept in {file}, and each farm's part in its own book.", file=kept()), err=True)

    return show


def today(file: Path, on: date, tonight: float | None, say: Words, as_json: bool) -> int:
    from evenpick.cli.by_farm import code_of, show
    from evenpick.report.cooperative import cooperative_today_page
    from evenpick.report.cooperative_json import cooperative_today_shape
    from evenpick.service.cooperative import today_by_farm
    from evenpick.service.cooperative_files import cooperative_of
    from evenpick.service.kept_together import older_note
    from evenpick.service.plan_command import plan_command, with_command

    described = cooperative_of(file)
    name, older, farms = described.own.name, older_note(described), today_by_farm(described, on, tonight)
    note = with_command(older, plan_command(file, mend=True)) if older else ""
    page = cooperative_today_page(name, on, farms, say, note)
    show(page, cooperative_today_shape(name, farms, older), as_json)
    return code_of(farms)


def refuse_answers(file: Path) -> None:
    """Jobs are answered at the farm whose diary it is."""
    from evenpick.service.books_together import at_the_farm

    raise at_the_farm(file, tell("a job is answered at the farm that does it."))


def pickings(file: Path, on: date, weeks: int, say: Words, as_json: bool) -> None:
    from evenpick.report.as_json import as_text
    from evenpick.report.cooperative import cooperative_pickings_page
    from evenpick.report.cooperative_json import cooperative_pickings_shape
    from evenpick.report.terminal import render
    from evenpick.service.cooperative_files import cooperative_of
    from evenpick.service.cooperative_now import cooperative_now
    from evenpick.service.week_shares import shares_on

    kept = cooperative_now(file, on)
    shares = partial(shares_on, kept.pickings, cooperative_of(file).own)
    if not as_json:
        click.echo(render(cooperative_pickings_page(kept, say, on, weeks, shares)).rstrip())
        return
    click.echo(as_text(cooperative_pickings_shape(kept, on, weeks, shares)))


def ground(file: Path, on: date, weeks: int, bed: str | None, say: Words, as_json: bool) -> int:
    from evenpick.cli.by_farm import code_of, show
    from evenpick.report.cooperative import cooperative_ground_page
    from evenpick.report.cooperative_json import cooperative_ground_shape
    from evenpick.report.ground import within
    from evenpick.service.books_together import at_the_farm
    from evenpick.service.cooperative import ground_by_farm
    from evenpick.service.kept_together import kept_cooperative

    if bed is not None:
        raise at_the_farm(file, tell("one bed alone is shown of one farm."))
    name = kept_cooperative(file).name
    farms = tuple(farm.having(None if farm.answer is None else within(farm.answer, None, on, weeks))
                  for farm in ground_by_farm(file))
    page = cooperative_ground_page(name, farms, say, on, weeks)
    show(page, cooperative_ground_shape(name, farms, say), as_json)
    return code_of(farms)
