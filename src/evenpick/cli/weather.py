"""The garden's weather: this season against the years, and what its own thermometer says."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import click

from evenpick.base.language import later, tell, tell_n
from evenpick.cli.options import A_GARDEN, ON, WORDS, asked, on_day, words
from evenpick.cli.speaking import Speaking

LEFT_OUT = {"radiation": later("sunshine"), "dew": later("dew point"), "wind": later("wind")}
"""what a service may leave out of a day"""


@click.command(cls=Speaking, short_help="This season's weather against the years.")
@A_GARDEN
@ON
@click.option("--fetch", metavar="SERVICE",
              help="First ask a weather service for the season so far: nasa-power, or open-meteo.")
@WORDS
def weather(garden: Path, on: str | None, fetch: str | None, as_json: bool, **rest: Any) -> int:
    """This season against the years, the station behind them, your own thermometer against the station.

    Nothing is ever asked of the network but by --fetch.
    """
    from evenpick.cli.by_farm import Answered, answer
    from evenpick.report.weather import weather_page
    from evenpick.report.when_json import weather_shape
    from evenpick.service.weather_weeks import weather_weeks

    day = on_day(on)
    say = words(asked({**rest, "garden": garden}))

    def weeks_at(file: Path) -> Answered:
        if fetch is not None:
            _fetch(file, fetch)
        found = weather_weeks(file, day)
        return weather_page(found, say), weather_shape(found)

    return answer(garden, as_json, weeks_at)


def _fetch(garden: Path, name: str) -> None:
    """Ask, and say what came of it, to standard error."""
    from evenpick.base.days import day_date
    from evenpick.climate.services import SERVICES
    from evenpick.service.fetching import fetch

    found = fetch(garden, name, date.today(), datetime.now(UTC))
    last = day_date(found.fetched.known[-1])
    how = tell("Fetched") if found.asked else tell("Fetched less than six hours ago and not asked again:")
    click.echo(tell_n("{how} {n} day to {last}, kept in {path}. {licence}: {terms}.",
                      "{how} {n} days to {last}, kept in {path}. {licence}: {terms}.",
                      len(found.fetched.known), how=how, last=last, path=found.path,
                      licence=found.fetched.licence, terms=SERVICES[name].terms), err=True)
    if found.fetched.left_out:
        without = ", ".join(tell(LEFT_OUT[variable]) for variable in found.fetched.left_out)
        click.echo(tell("It would not answer for all that was asked, and was asked once more without: "
                        "{without}. Those are reckoned as where no station tells them.", without=without),
                   err=True)
