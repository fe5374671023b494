"""First steps: a demo, and a garden file from five answers."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.cli.options import FILE, GARDEN, WORDS, asked
from evenpick.cli.plans import show_plan
from evenpick.cli.progress import told
from evenpick.cli.speaking import Speaking

if TYPE_CHECKING:
    from evenpick.garden.garden import English, Units


@click.command(cls=Speaking, short_help="A plan for an invented garden.")
@WORDS
def demo(as_json: bool, **rest: Any) -> None:
    """A plan for an invented garden under real weather, to see what evenpick does."""
    from evenpick.crops.catalogue import load_catalogue
    from evenpick.garden.garden import ENGLISH, UNITS
    from evenpick.report.words import words_for
    from evenpick.service.planning import demo_plan

    given: Any = asked(rest)
    say = words_for(given.english or ENGLISH[0], given.units or UNITS[0], load_catalogue())
    with told() as progress:
        answer = demo_plan(progress)
    show_plan(answer, say, as_json)


@click.command(cls=Speaking, short_help="Write a first garden file.")
@click.option("--at", metavar="LAT,LON", help="The point, north then east: 53.43,-6.24 (south is minus).")
@click.option("--place", metavar="TOWN", help="A town such as 'Dublin, IE'.")
@click.option("--ground", metavar="AREA", help="Open ground: '80 m²', '400 sq ft', '4 x 10 m x 1.2 m', 0.")
@click.option("--tunnel", metavar="AREA", help="Ground in a tunnel, likewise; 0 for none.")
@click.option("--eaters", metavar="WHO", help="'4', '4 people', '12 boxes', '2 people, 6 boxes'.")
@click.option("--likes", metavar="CROPS", help="Crops with commas between; '' for a bit of everything.")
@click.option("--garden", type=FILE, default=GARDEN, show_default=True, help="The file to write, a new one.")
@click.option("--english", type=click.Choice(["british", "american"]),
              help="Names of crops and covers.  [american for a town in the United States, else british]")
@click.option("--units", type=click.Choice(["metric", "imperial"]),
              help="Units of what is told.  [imperial where the ground is told in feet, else metric]")
@click.option("--json", "as_json", is_flag=True, help="Tell the file written, and its place, as JSON.")
def begin(at: str | None, place: str | None, ground: str | None, tunnel: str | None, eaters: str | None,
          likes: str | None, garden: Path, english: English | None, units: Units | None,
          as_json: bool) -> None:
    """Write a first garden file from five answers; whatever no option says is asked."""
    if garden.exists():
        mend = tell("Give another name with --garden, or move the old file away.")
        what = tell("there is a garden file already; it is never written over.")
        raise BadRequest(Problem(what, mend, str(garden)))
    if at and place:
        raise click.UsageError(tell("--at and --place exclude each other; give one."))
    from evenpick.service.beginning import answers_of
    from evenpick.service.beginning import begin as begin_here

    answers = answers_of(
        at or place or _ask(tell("Where is it? A town such as 'Dublin, IE', or latitude, longitude")),
        _ask(tell("How much open ground is cropped? Such as 80 m², 4 x 10 m x 1.2 m, or 0"))
        if ground is None else ground,
        _ask(tell("How much ground is in a tunnel?"), "0") if tunnel is None else tunnel,
        _ask(tell("Who eats it? Such as 4 people, or 2 people, 6 boxes"),
             "2 people") if eaters is None else eaters,
        _ask(tell("What do they like? Crops with commas between; nothing for a bit of everything"), "")
        if likes is None else likes,
    )
    from evenpick.crops.catalogue import load_catalogue

    site = begin_here(garden, replace(answers, english=english, units=units), load_catalogue())
    if as_json:
        shape = {"garden": str(garden), "place": site.name, "lat": site.lat, "lon": site.lon}
        click.echo(json.dumps(shape, ensure_ascii=False))
        return
    from evenpick.report.place import whereabouts

    click.echo(tell("{garden} is written for {place}. Read it through and change what does not fit, then: "
                    "evenpick plan", garden=garden, place=whereabouts(site)))


def _ask(question: str, default: str | None = None) -> str:
    said: str = click.prompt(question, default=default, show_default=bool(default), err=True)
    return said
