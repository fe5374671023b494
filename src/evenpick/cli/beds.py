"""The question where everything goes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from evenpick.base.errors import BadRequest, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.cli import cooperative
from evenpick.cli.options import A_GARDEN, ON, WORDS, asked, on_day, words
from evenpick.cli.speaking import Speaking


@click.command(cls=Speaking, short_help="What goes in which bed, and when.")
@A_GARDEN
@ON
@click.option("--weeks", type=click.IntRange(1, 104), default=52, show_default=True, help="Weeks ahead.")
@click.option("--bed", metavar="NAME", help="One bed alone.")
@WORDS
def ground(garden: Path, on: str | None, weeks: int, bed: str | None, as_json: bool, **rest: Any) -> int:
    """The beds over the coming weeks, from the plan kept: where each sowing goes, what it follows, and
    what comes back too soon."""
    from evenpick.cli.by_farm import show
    from evenpick.report.ground import ground_page, within
    from evenpick.report.plan_json import ground_shape
    from evenpick.service.ground import ground as answer_ground

    day = on_day(on)
    say = words(asked({**rest, "garden": garden}))
    if cooperative.is_cooperative(garden):
        return cooperative.ground(garden, day, weeks, bed, say, as_json)
    answer = answer_ground(garden)
    asked_bed = None if bed is None else _bed(bed, [each.name for each in answer.beds])
    shown = within(answer, asked_bed, day, weeks)
    return show(ground_page(shown, say, day, weeks), ground_shape(shown, say), as_json)


def _bed(name: str, beds: Sequence[str]) -> str:
    """The bed's name as the garden has it; BadRequest where it has none such."""
    found = next((bed for bed in beds if bed.casefold() == name.strip().casefold()), None)
    if found is None:
        mend = did_you_mean(name, beds) or tell("Beds here: {beds}.", beds=", ".join(beds))
        raise BadRequest(Problem(tell("no bed is called '{name}'.", name=name), mend))
    return found
