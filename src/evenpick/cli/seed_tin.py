"""The seed tin: tin, saving."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import click

from evenpick.base.language import tell
from evenpick.cli.options import A_GARDEN, ON, WORDS, asked, on_day, words
from evenpick.cli.speaking import Speaking


@click.command(cls=Speaking, short_help="The seed tin: what is left, will it grow, what to buy.")
@A_GARDEN
@ON
@click.option("--got", metavar="CROP", help="A packet that came in; with --amount and more.")
@click.option("--variety", default="", help="With --got.")
@click.option("--year", type=click.IntRange(1900, 2200), help="With --got: packed or saved.  [this one]")
@click.option("--amount", metavar="AMOUNT", help="With --got or --left: '300 seeds', '2 g', '50 sets'.")
@click.option("--maker", metavar="PERCENT", help="With --got: the germination on the packet.")
@click.option("--f1", is_flag=True, help="With --got: an F1 hybrid.")
@click.option("--own", is_flag=True, help="With --got: your own seed.")
@click.option("--test", metavar="PACKET", help="A germination test; with --tried and --came.")
@click.option("--tried", type=click.IntRange(1), help="With --test: seeds tried.")
@click.option("--came", type=click.IntRange(0), help="With --test: seeds that came.")
@click.option("--left", metavar="PACKET", help="What is left of a packet; with --amount ('0 seeds': empty).")
@click.option("--how", is_flag=True, help="How a germination test is done.")
@WORDS
def tin(garden: Path, on: str | None, how: bool, as_json: bool, **rest: Any) -> int:
    """The seed tin: what is left, whether it will still grow, and what the plan wants bought."""
    from evenpick.cli.by_farm import Answered, answer
    from evenpick.report.kept_json import tin_shape
    from evenpick.report.tin import tin_page
    from evenpick.service.tin import tin_of

    day = on_day(on)
    say = words(asked({**rest, "garden": garden}))
    _written(garden, day, rest)

    def tin_at(file: Path) -> Answered:
        found = tin_of(file, day)
        return tin_page(found, say, how), tin_shape(found, say)

    return answer(garden, as_json, tin_at)


@click.command(cls=Speaking, short_help="Saving seed of a crop: does it come true, what crosses.")
@click.argument("crop", metavar="CROP")
@A_GARDEN
@WORDS
def saving(crop: str, garden: Path, as_json: bool, **rest: Any) -> int:
    """Whether seed of CROP saved here comes true, what would cross with it, and how it is done."""
    from evenpick.cli.by_farm import Answered, answer
    from evenpick.report.kept_json import saving_shape
    from evenpick.report.saving import saving_page
    from evenpick.service.saving import saving as answer_saving

    say = words(asked({**rest, "garden": garden}))

    def saved_at(file: Path) -> Answered:
        found = answer_saving(file, crop)
        return saving_page(found, say), saving_shape(found, say)

    return answer(garden, as_json, saved_at)


def _written(garden: Path, day: date, said: dict[str, Any]) -> None:
    """Write down what came, was tested or is left, if anything was said."""
    from evenpick.garden.amounts import percent, seed_left
    from evenpick.service import tin as service

    seeds, grams = seed_left(said["amount"]) if said["amount"] else (None, None)
    if said["got"]:
        from evenpick.base.errors import BadRequest, Problem
        from evenpick.crops.catalogue import load_catalogue
        from evenpick.garden.diary import SeedGot
        from evenpick.garden.diary_names import several_crops

        maker = None if said["maker"] is None else percent(said["maker"]) / 100
        crop = load_catalogue().crop(said["got"]).key
        if others := several_crops(said["got"]):
            raise BadRequest(Problem(
                tell("'{name}' may be several crops: {crops}.", name=said["got"],
                     crops=", ".join(load_catalogue().crop(each).name for each in others)),
                tell("Name one of them."), field="--got"))
        kind = said["f1"] or None, said["own"]
        fact = SeedGot(crop, said["variety"], said["year"], seeds, grams, maker, *kind)
        service.write_got(garden, day, fact)
    if said["test"]:
        if said["tried"] is None or said["came"] is None:
            raise click.UsageError(tell("--test goes with --tried and --came."))
        service.write_test(garden, day, said["test"], said["tried"], said["came"])
    if said["left"]:
        if said["amount"] is None:
            raise click.UsageError(tell("--left goes with --amount."))
        service.write_left(garden, day, said["left"], seeds, grams)
