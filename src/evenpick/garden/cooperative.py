"""A cooperative: farms that share what is wanted (docs/formats/cooperative-toml.md)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from os.path import normpath
from pathlib import Path

from evenpick.base.errors import Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.garden import fields
from evenpick.garden.fields import Faults, Table, shown, through
from evenpick.garden.garden import Garden, Outlet, PlanSettings, Wish
from evenpick.garden.lines import parse_toml
from evenpick.garden.prices import money_sign
from evenpick.garden.reading import WORDS, file_beside, read_outlets, read_plan
from evenpick.garden.whose_words import ENGLISH, UNITS, English, Units
from evenpick.garden.wishes import Crops, read_wishes

TOP = ("invented", "cooperative", "words", "plan", "farm", "outlet", "wish")
PLAN = ("from", "years", "dice")
FARM = ("name", "garden")
MARK = "@"
"""stands between a name and its farm's in the planner's rows, so no farm's name may hold it"""


@dataclass(frozen=True, slots=True)
class Farm:
    name: str
    file: Path
    """its garden file"""
    line: int | None = None
    """of the cooperative's file"""


@dataclass(frozen=True, slots=True)
class Cooperative:
    name: str
    farms: tuple[Farm, ...]
    outlets: tuple[Outlet, ...]
    wishes: tuple[Wish, ...]
    plan: PlanSettings
    """its sowing weekday means nothing: each farm has its own"""
    english: English
    units: Units
    invented: bool
    money: str
    """as of a garden"""

    def growers(self, item: str) -> tuple[str, ...]:
        """Names of the farms that may grow an item."""
        named = next((wish.farms for wish in self.wishes if wish.item == item), ())
        return named or tuple(farm.name for farm in self.farms)


def understand_cooperative(
    text: str, file: str, folder: Path, catalogue: Crops, found: bool = True
) -> Cooperative:
    """The cooperative that a text describes; farms' files are sought in `folder`, and are to be `found`
    there. BadGarden with every fault of this file; those of the farms' files are not read here."""
    values, lines = parse_toml(text, file)
    faults = Faults(file, lines)
    top = Table(values, (), TOP, faults)
    words = top.table("words", WORDS)
    farms = _farms(top, folder, found)
    outlets = read_outlets(top)
    wishes = read_wishes(top, outlets, catalogue, [farm.name for farm in farms])
    _note_differing(top, wishes)
    name = top.table("cooperative", ("name",)).get("name", fields.text, "the cooperative")
    read = Cooperative(
        name, farms, outlets, wishes,
        read_plan(top.table("plan", PLAN)), words.get("english", fields.one_of(ENGLISH), "british"),
        words.get("units", fields.one_of(UNITS), "metric"), top.get("invented", fields.yes_or_no, False),
        words.get("money", money_sign, ""),
    )
    faults.raise_any()
    return read


def nobody_sows(own: Cooperative, gardens: Sequence[Garden], file: str) -> Iterator[Problem]:
    """A fault for each wish of which every farm that may grow it has all crops under 'never'; `gardens` of
    the farms, in their order."""
    for wish in own.wishes:
        may = [(farm.name, garden) for farm, garden in zip(own.farms, gardens, strict=True)
               if farm.name in own.growers(wish.item)]
        if all(set(wish.crops) <= set(garden.never) for _, garden in may):
            yield Problem(
                tell("{item} is wished for and stands under 'never' of every farm that may grow it: {farms}.",
                     item=shown(wish.item), farms=", ".join(name for name, _ in may)),
                tell("Take it out of one of the two, or let another farm grow it."), file, wish.line,
            )


def serves_nobody(own: Cooperative, garden: Garden, file: str) -> Iterator[Problem]:
    """A fault for each crop that comes anyway on a farm and is said to serve what nobody wishes for."""
    wished = {wish.item.casefold(): wish.item for wish in own.wishes}
    for number, each in enumerate(garden.anyway, 1):
        if each.line is not None and each.serves.casefold() not in wished:
            hint = did_you_mean(each.serves, wished)
            items = tell("Items wished for: {shown}.", shown=", ".join(map(shown, wished.values())))
            yield Problem(
                tell("nobody wishes for {serves} in the cooperative's file.", serves=shown(each.serves)),
                f"{hint} {items}".strip(), file, each.line, f"anyway {number}, serves",
            )


def _farms(top: Table, folder: Path, found: bool) -> tuple[Farm, ...]:
    tables = top.tables("farm", FARM)
    if not tables:
        top.note(tell("no farm is named."), tell('Add [[farm]] with name = "hill" and garden = "hill.toml" '
                                           "under it."))
    beside = through(lambda name: file_beside(name, folder) if found else Path(normpath(folder / name)))
    farms = tuple(
        Farm(table.need("name", _name, f"farm {number}", '"hill"'),
             table.need("garden", beside, folder / f"{number}", '"hill.toml"'),
             table.faults.lines.line(table.path))
        for number, table in enumerate(tables, 1)
    )
    for what, several in (("name", [farm.name.casefold() for farm in farms]),
                          ("garden", [str(farm.file.resolve()) for farm in farms])):
        for i, each in enumerate(several):
            if each in several[:i]:
                mend = tell("Each farm has a name and a file of its own.")
                tables[i].note(tell("two farms have one {what}.", what=what), mend, what)
    return farms


def _name(value: object) -> str:
    name = fields.text(value)
    if MARK in name:
        raise fields.refuse(tell("{name} has {mark} in it.", name=shown(name),
                                 mark=MARK), tell("Call the farm something plainer."))
    return name


def _note_differing(top: Table, wishes: Sequence[Wish]) -> None:
    """Wishes of one item are one want, so the same farms may grow it for all of them."""
    first: dict[str, tuple[str, ...]] = {}
    for i, wish in enumerate(wishes):
        if set(first.setdefault(wish.item, wish.farms)) != set(wish.farms):
            what = tell("{item} names other farms here than in a wish above.", item=shown(wish.item))
            mend = tell("Name the same farms in both, or call the item something else.")
            top.faults.add(Problem(what, mend), ("wish", i, "farms"))
