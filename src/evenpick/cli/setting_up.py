"""First steps: a demo, and a garden file from a few answers."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import later, tell
from evenpick.base.typed import as_typed
from evenpick.cli.asking import ask
from evenpick.cli.options import FILE, GARDEN, WORDS, asked, own_words
from evenpick.cli.plans import show_plan
from evenpick.cli.progress import told
from evenpick.cli.speaking import Speaking

if TYPE_CHECKING:
    from evenpick.garden.whose_words import English, Units
    from evenpick.garden.wishes import Crops
    from evenpick.service.beginning import Question

QUESTIONS: tuple[tuple[Question, str, str | None], ...] = (
    ("where", later("Where is it? A town such as 'Dublin, IE', or latitude, longitude; its height above the "
                    "sea too if you know it, such as 'Pune, IN, 560 m'"), None),
    ("ground", later("How much open ground is cropped? Such as 80 m², 12 beds of 4 ft x 12 ft, half an acre, "
                     "or 0"), None),
    ("tunnel", later("How much ground is in a tunnel?"), "0"),
    ("water", later("Can the open ground be watered in a dry spell? yes, or no where it lives by the rain "
                    "alone"), "yes"),
    ("eaters", later("Who eats it? Such as a family of four, 40 households, or 2 people, 6 boxes"),
     "2 people"),
    ("likes", later("What do they like? Crops with commas between, or such as 'everything but beans'; "
                    "nothing for a bit of everything"), ""),
)
"""what is asked where no option says it, and what an empty answer stands for"""
NEVER_ALONE: frozenset[Question] = frozenset(("water",))
"""asked only among others: whoever told all the rest by options has said that the usual will do"""


@click.command(cls=Speaking, short_help="A plan for an invented garden.")
@WORDS
def demo(as_json: bool, **rest: Any) -> None:
    """A plan for an invented garden under real weather, to see what evenpick does."""
    from evenpick.crops.catalogue import load_catalogue
    from evenpick.garden.whose_words import ENGLISH, UNITS
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
@click.option("--ground", metavar="AREA",
              help="Open ground: '80 m²', '12 beds of 4 ft x 12 ft', 'half an acre', 0.")
@click.option("--tunnel", metavar="AREA", help="Ground in a tunnel, likewise; 0 for none.")
@click.option("--water", metavar="YES|NO", help="Whether the open ground can be watered.  [yes]")
@click.option("--height", metavar="HEIGHT",
              help="Above the sea: '560 m', '1800 ft'.  [that of the place, where known]")
@click.option("--eaters", metavar="WHO",
              help="'4 people', 'a family of four', '40 households', '2 people, 6 boxes'.")
@click.option("--likes", metavar="CROPS",
              help="Crops with commas between, 'everything but beans'; '' for a bit of everything.")
@click.option("--garden", type=FILE, default=GARDEN, show_default=True, help="The file to write, a new one.")
@click.option("--english", type=click.Choice(["british", "american"]),
              help="Names of crops and covers.  [american for a town in the United States or Canada, else "
                   "british]")
@click.option("--units", type=click.Choice(["metric", "imperial"]),
              help="Units of what is told.  [as the ground is told; by the acre, as there]")
@click.option("--json", "as_json", is_flag=True, help="Tell the file written, and its place, as JSON.")
def begin(at: str | None, place: str | None, ground: str | None, tunnel: str | None, water: str | None,
          height: str | None, eaters: str | None, likes: str | None, garden: Path, english: English | None,
          units: Units | None, as_json: bool) -> None:
    """Write a first garden file from a few answers; whatever no option says is asked."""
    if garden.exists():
        mend = tell("Give another name with --garden, or move the old file away.")
        what = tell("there is a garden file already; it is never written over.")
        raise BadRequest(Problem(what, mend, str(garden)))
    if at and place:
        raise click.UsageError(tell("--at and --place exclude each other; give one."))
    from evenpick.crops.catalogue import load_catalogue
    from evenpick.service.beginning import answers_of
    from evenpick.service.beginning import begin as begin_here

    catalogue = load_catalogue()
    given: dict[Question, str | None] = {
        "where": at or place, "ground": ground, "tunnel": tunnel, "water": water, "eaters": eaters,
        "likes": likes,
    }
    answers = answers_of(**_asked_for(given, catalogue), height=height or "")
    first = begin_here(garden, replace(answers, english=english, units=units), catalogue)
    site = first.site
    from evenpick.garden.garden import WeatherChoice
    from evenpick.garden.likes_but import never_keys
    from evenpick.report.as_json import far_shape
    from evenpick.report.beginning import left_out, read_back
    from evenpick.report.place import far_said, whereabouts
    from evenpick.service.far_weather import far_weather

    far = far_weather(site, WeatherChoice())
    if as_json:
        shape = {"garden": str(garden), "place": site.name, "lat": site.lat, "lon": site.lon,
                 "far": None if far is None else far_shape(far),
                 "height_m": site.height_m, "watered": answers.watered,
                 "never": list(never_keys(answers.nevers, catalogue)), "needs_m2": first.ground or None,
                 "left_out": [{"item": item, "why": why} for item, why in first.left_out.items()]}
        click.echo(json.dumps(shape, ensure_ascii=False))
        return
    click.echo(as_typed(tell("{garden} is written for {place}. Read it through and change what does not fit, "
                             "then: evenpick plan", garden=garden, place=whereabouts(site))))
    words = own_words(garden)
    for said in read_back(answers, first, words):
        click.echo(said)
    for number, line in enumerate(left_out(first)):
        click.echo(f"- {line}" if number else line)
    if far is not None:
        click.echo(far_said(far, words))


def _asked_for(given: Mapping[Question, str | None], catalogue: Crops) -> dict[Question, str]:
    """All the answers. What options say is read before anything is asked, so that a slip in them costs no
    answers; what is typed is read as it is given."""
    from evenpick.garden.spoken_area import spoken_area
    from evenpick.service.beginning import check_answer

    said = {question: text for question, text in given.items() if text is not None}
    missing = [each for each in QUESTIONS if each[0] not in said]
    if not NEVER_ALONE.issuperset(question for question, _, _ in missing):
        for question, text in said.items():
            check_answer(said, catalogue, question, text)
    else:
        said |= {question: default or "" for question, _, default in missing}
    for question, asking, default in QUESTIONS:
        if question == "water" and not spoken_area(said["ground"]):
            said.setdefault(question, default or "")
        if question not in said:
            read = partial(check_answer, dict(said), catalogue, question)
            said[question] = ask(tell(asking), read, default)
            if question == "likes":
                said[question] = _liked_again(said[question], read, catalogue)
    return said


def _liked_again(said: str, read: Callable[[str], object], catalogue: Crops) -> str:
    """What is liked, once nothing of it is unknown or it goes without what is; off a terminal as it is."""
    from evenpick.service.beginning import not_known

    while sys.stdin.isatty() and (unknown := not_known(said, catalogue)):
        for each in unknown:
            click.echo(f"{each.word}: {each.why}.", err=True)
        again = ask(tell("Type the list anew, or press Enter to go on without that"), read, said, shown=False)
        if again == said:
            break
        said = again
    return said
