"""Whether to water: the water command."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import click

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.cli.options import (
    COVER,
    PLACE,
    SEED,
    WORDS,
    Asked,
    asked,
    day_of,
    garden_file,
    on_day,
    seed_of,
    seedbed,
    where,
    words,
)
from evenpick.cli.speaking import Speaking


@click.command(cls=Speaking, short_help="Whether to water, how much, and what may be left.")
@click.option("--crop", metavar="CROP", help="A crop, by any of its names; without it, the whole garden.")
@click.option("--sow", metavar="YYYY-MM-DD", help="The day it was or will be sown.")
@click.option("--on", metavar="YYYY-MM-DD", help="The day it is asked.  [today, or the sow day if later]")
@click.option("--soil", metavar="NAME",
              help="sand, sandy loam, loam, clay ...; a wrong name lists them.  [the garden's, or loam]")
@click.option("--rain", "gauge", multiple=True, metavar="YYYY-MM-DD=MM",
              help="Rain in your own gauge; repeat for more.")
@click.option("--way", type=click.Choice(["direct", "raised", "planted"]),
              help="In place, raised and planted out, or sets and tubers.  [in place where it can be]")
@COVER
@PLACE
@SEED
@WORDS
def water(crop: str | None, sow: str | None, on: str | None, soil: str | None, gauge: Sequence[str],
          way: str | None, cover: str, seed: int | None, as_json: bool, **rest: Any) -> int:
    """Whether to water today and in the fortnight from it: how much, and what may be left and why.

    Without a crop: everything that the garden's diary has in the ground, on one day.

    With --weather or --record the days in the record are taken as they were; the others are as likely.
    """
    from evenpick.cli.by_farm import Answered, answer_here
    from evenpick.report.water import water_page, water_shape
    from evenpick.service.water import water as answer_water

    given = asked(rest)
    if crop is None:
        return _whole_garden(given, on, as_json, sow is None and not gauge and way is None)
    if sow is None:
        raise click.UsageError(tell("--crop goes with --sow."))
    when = day_of(sow, "--sow")
    day = day_of(on, "--on") if on else None
    say, rain = words(given), rain_of(gauge)

    def here(given: Asked) -> Answered:
        bed = seedbed(given)
        site, choice = where(given)
        found = answer_water(site, choice, crop, when, day, soil or bed.soil, cover, way, rain,
                             seed_of(seed), bed.watered)
        return water_page(found, say), water_shape(found, say)

    return answer_here(given, as_json, here)


def _whole_garden(given: Asked, on: str | None, as_json: bool, alone: bool) -> int:
    from evenpick.cli.by_farm import Answered, answer
    from evenpick.report.watering import watering_page, watering_shape
    from evenpick.service.watering import watering

    if not alone or given.at or given.place or given.weather or given.record or given.normals or given.warmer:
        said = tell("without --crop the garden is asked, with --garden, --on and nothing else.")
        raise click.UsageError(said)
    day, say = on_day(on), words(given)

    def round_of(garden: Path) -> Answered:
        found = watering(garden, day)
        return watering_page(found, say), watering_shape(found, say)

    return answer(garden_file(given), as_json, round_of)


def rain_of(typed: Sequence[str]) -> dict[date, float]:
    """Millimetres by day from '2027-05-03=4.5'; BadRequest with the remedy."""
    return dict(_one(text) for text in typed)


def _one(text: str) -> tuple[date, float]:
    when, _, mm = text.partition("=")
    try:
        return day_of(when, "--rain"), float(mm.removesuffix("mm"))
    except ValueError as error:
        mend = tell("Write the day, '=' and millimetres, such as 2027-05-03=4.5.")
        raise BadRequest(Problem(tell("--rain '{text}' has no amount.", text=text), mend)) from error
