"""A first garden.toml from five answers: where, how much ground, how much tunnel, for whom, what they like.

The wishes are common practice, no source: helpings that people who grow for a table tend to want, in the
months a cool temperate kitchen asks for them; half a year round in the south, all the year in the tropics.
Whoever knows the climate tells seasons of its own (service/first_seasons.py).
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from textwrap import wrap

from evenpick.base.errors import BadRequest, Problem, UnknownCrop
from evenpick.base.language import tell
from evenpick.climate.site import Site
from evenpick.crops.winter import has_winter
from evenpick.garden.amounts import LARGEST
from evenpick.garden.fields import DAYS_IN_MONTH
from evenpick.garden.garden import English, MonthDay, Units
from evenpick.garden.whose_words import english_of
from evenpick.garden.wishes import Crops

Season = tuple[MonthDay, MonthDay]
ALL_YEAR: Season = ((1, 1), (12, 31))
PEOPLE_IN_A_BOX = 2
FEET = re.compile(r"ft|foot|feet|yd|yard|'", re.IGNORECASE)
WIDTH = 100
"""letters of a comment's line"""
SMALLEST = 0.1
"""m² of ground worth writing down"""


@dataclass(frozen=True, slots=True)
class Answers:
    where: str
    """a place such as 'Dublin, IE' or a point such as '53.4, -6.2'"""
    ground: float
    """m² of open ground"""
    tunnel: float = 0.0
    """m² of tunnel"""
    people: int = 0
    boxes: int = 0
    likes: tuple[str, ...] = ()
    """items or crops by any name; empty is a bit of everything"""
    english: English | None = None
    """None: as where it is, American in the United States"""
    units: Units | None = None
    """None: as the areas were typed"""
    ground_said: str = ""
    tunnel_said: str = ""
    """the two areas as typed, such as '4 x 10 m x 1.2 m', which tells the beds too; empty: as plain areas"""


@dataclass(frozen=True, slots=True)
class Helping:
    """What one person tends to want of an item in a week of its season (north of the tropics)."""

    item: str
    crops: tuple[str, ...]
    portions: float
    season: Season = ALL_YEAR
    needs_tunnel: bool = False
    american: str = ""
    """the item's name there, where it is another"""
    winterless: str = ""
    """the item's name in the tropics, where it is named after a season"""

    def named(self, english: English, lat: float) -> Helping:
        """The same with the item's name in that English, at that latitude."""
        here = self.winterless if not has_winter(lat) else self.american if english == "american" else ""
        return replace(self, item=here) if here else self


@dataclass(frozen=True, slots=True)
class Found:
    """When an item is wished for at a place; where it is not, why."""

    seasons: tuple[Season, ...]
    why: str = ""


Seasons = Callable[[Sequence[Helping], Site], Mapping[str, Found]]
"""by item"""


@dataclass(frozen=True, slots=True)
class First:
    """A first garden as it was written."""

    text: str
    site: Site
    left_out: Mapping[str, str]
    """items that are not wished for, and why"""


EVERYBODYS = (
    Helping("lettuce", ("leaf-lettuce", "cos-lettuce", "crisp-lettuce"), 3, ((5, 15), (10, 31))),
    Helping("winter salad", ("lambs-lettuce", "mizuna", "rocket"), 2, ((11, 1), (4, 30)),
            winterless="salad leaves"),
    Helping("greens", ("chard", "spinach"), 2),
    Helping("kale and sprouting broccoli", ("kale", "sprouting-broccoli"), 2, ((11, 1), (5, 10))),
    Helping("cabbage", ("summer-cabbage", "winter-cabbage"), 1, ((7, 1), (3, 31))),
    Helping("calabrese", ("calabrese",), 1, ((7, 1), (10, 31)), american="broccoli"),
    Helping("carrots", ("early-carrot", "main-carrot"), 3, ((6, 15), (3, 15))),
    Helping("beetroot", ("beetroot",), 1, ((6, 15), (3, 15)), american="beets"),
    Helping("radish", ("radish",), 1, ((4, 20), (10, 15))),
    Helping("potatoes", ("early-potato", "main-potato"), 3, ((6, 15), (3, 15))),
    Helping("leeks", ("leek",), 1.5, ((10, 1), (4, 15))),
    Helping("onions", ("onion-sets", "onion"), 2, ((8, 1), (3, 31))),
    Helping("peas", ("pea", "mangetout"), 1, ((6, 10), (7, 31))),
    Helping("broad beans", ("broad-bean",), 1, ((6, 10), (7, 20)), american="fava beans"),
    Helping("beans", ("dwarf-bean", "climbing-bean", "runner-bean"), 2, ((7, 10), (10, 5))),
    Helping("courgettes", ("courgette",), 2, ((7, 1), (10, 5)), american="zucchini"),
    Helping("tomatoes", ("tomato",), 3, ((7, 20), (10, 15)), needs_tunnel=True),
    Helping("cucumbers", ("cucumber",), 1, ((7, 1), (9, 30)), needs_tunnel=True),
    Helping("parsley", ("parsley",), 1),
)
"""wished for where no likes are named"""

SOMEBODYS = (
    Helping("cauliflower", ("cauliflower",), 1, ((7, 1), (10, 31))),
    Helping("brussels sprouts", ("brussels-sprout",), 2, ((10, 15), (2, 28))),
    Helping("chinese leaves", ("chinese-cabbage", "pak-choi"), 1, ((6, 15), (11, 15)),
            american="napa cabbage and bok choy"),
    Helping("kohlrabi", ("kohlrabi",), 1, ((6, 15), (11, 15))),
    Helping("swede", ("swede",), 1, ((10, 15), (3, 15)), american="rutabaga"),
    Helping("turnips", ("turnip",), 1, ((6, 1), (12, 15))),
    Helping("winter radish", ("winter-radish",), 1, ((9, 15), (1, 31))),
    Helping("parsnips", ("parsnip",), 1.5, ((10, 15), (3, 15))),
    Helping("celery", ("celery",), 1, ((8, 1), (10, 31))),
    Helping("celeriac", ("celeriac",), 1, ((10, 1), (3, 15)), american="celery root"),
    Helping("coriander", ("coriander",), 1, ((5, 15), (10, 15)), american="cilantro"),
    Helping("dill", ("dill",), 1, ((5, 15), (9, 30))),
    Helping("marrow", ("marrow",), 1, ((8, 1), (10, 15))),
    Helping("winter squash", ("winter-squash",), 2, ((10, 1), (2, 15))),
    Helping("peppers", ("pepper",), 1, ((8, 1), (10, 15))),
    Helping("aubergines", ("aubergine",), 1, ((8, 1), (10, 10)), american="eggplants"),
    Helping("sweetcorn", ("sweetcorn",), 1, ((8, 10), (9, 25)), american="sweet corn"),
    Helping("okra", ("okra",), 1, ((7, 15), (10, 5))),
    Helping("melons", ("melon",), 1, ((7, 20), (9, 25))),
    Helping("watermelons", ("watermelon",), 1, ((7, 25), (9, 25))),
    Helping("sweet potatoes", ("sweet-potato",), 2, ((9, 15), (3, 15))),
    Helping("yard-long beans", ("yardlong-bean",), 1, ((7, 15), (9, 30)), american="asparagus beans"),
    Helping("cowpeas", ("southern-pea",), 1, ((7, 10), (9, 30)), american="southern peas"),
    Helping("butter beans", ("lima-bean",), 1, ((7, 20), (9, 30)), american="lima beans"),
    Helping("collards", ("collards",), 1, ((9, 15), (5, 31))),
    Helping("endive and chicory", ("endive", "chicory"), 1, ((9, 1), (11, 30)),
            american="endive and radicchio"),
    Helping("summer spinach", ("new-zealand-spinach",), 1, ((7, 1), (9, 30))),
    Helping("spring onions", ("spring-onion",), 1, ((5, 15), (10, 15)), american="scallions"),
    Helping("garlic", ("garlic",), 1, ((7, 20), (3, 15))),
)
"""wished for where they are liked"""


def _usual(wished: Sequence[Helping], site: Site) -> Mapping[str, Found]:
    return {helping.item: Found((usual_season(helping, site.lat),)) for helping in wished}


def first_garden(answers: Answers, catalogue: Crops, seasons: Seasons = _usual) -> First:
    """A commented garden.toml. What `seasons` has none for stands in it as a comment, with the reason.
    UnknownPlace, UnknownCrop or BadRequest for a bad answer."""
    check_ground(answers.ground, answers.tunnel)
    check_eaters(answers.people, answers.boxes)
    liked = helpings(answers, catalogue)
    where, site, country = where_said(answers.where)
    english = answers.english or english_of(country)
    wished = [helping.named(english, site.lat) for helping in liked]
    said = answers.ground_said + answers.tunnel_said
    units = answers.units or ("imperial" if FEET.search(said) else "metric")
    here = seasons(wished, site)
    outlets = [
        (name, kind, shares, people)
        for name, kind, shares, people in (
            ("kitchen", "kitchen", answers.people, 1),
            ("boxes", "boxes", answers.boxes, PEOPLE_IN_A_BOX),
        )
        if shares
    ]
    words = {"english": f'"{english}"'.ljust(20), "units": f'"{units}"'.ljust(22)}
    parts = [_HEAD.format(where=where, **words), *_grounds(answers)]
    parts += [f'[[outlet]]\nname = "{name}"\nkind = "{kind}"\nshares = {shares}\n'
              for name, kind, shares, _ in outlets]
    parts.append(_WISHES)
    parts += [_wish(helping, name, people, season) for name, _, _, people in outlets for helping in wished
              for season in here[helping.item].seasons]
    left_out = {item: found.why for item, found in here.items() if not found.seasons}
    if left_out:
        parts.append(_left_out(wished, left_out, outlets[0], site.lat))
    return First("\n".join([*parts, _TAIL]), site, left_out)


def begin_garden(path: Path, answers: Answers, catalogue: Crops, seasons: Seasons = _usual) -> First:
    """Write `first_garden` to a new file; BadRequest if there is one of that name already."""
    first = first_garden(answers, catalogue, seasons)
    try:
        with path.open("x", encoding="utf-8") as file:
            file.write(first.text)
    except FileExistsError as error:
        mend = tell("Give another name, or move the old file away.")
        raise BadRequest(Problem(tell("{name} is there already.",
                                      name=path.name), mend, str(path))) from error
    return first


def check_ground(*areas: float) -> None:
    """BadRequest where there is no ground, or one of these m² can't be meant."""
    if not any(areas) or not all(area == 0 or SMALLEST <= area <= LARGEST for area in areas):
        mend = tell("Give the m² of open ground, of tunnel, or of both, from {smallest:g} to {largest:,.0f}.",
                    smallest=SMALLEST, largest=LARGEST)
        raise BadRequest(Problem(tell("there is no such ground to sow."), mend, field="ground"))


def check_eaters(people: int, boxes: int) -> None:
    """BadRequest where there is nobody to feed."""
    if min(people, boxes) < 0 or not 0 < people + boxes <= 100_000:
        mend = tell("Give the number of people, of boxes, or of both.")
        raise BadRequest(Problem(tell("there is nobody to feed."), mend, field="people"))


def where_said(text: str) -> tuple[str, Site, str]:
    """The line of the file that says where, the site it means, and of a town its country's two letters;
    UnknownPlace."""
    from evenpick.climate.places import country_of, find_place
    from evenpick.climate.point import parse_point

    if text.strip()[:1] in tuple("0123456789+-."):
        site = parse_point(text)
        return f'at = "{site.lat:.6f}, {site.lon:.6f}"', site, ""
    return f"place = {_quoted(text.strip())}", find_place(text), country_of(text)


def _quoted(text: str) -> str:
    """A TOML basic string; its escapes are JSON's, and the delete character too must be one."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _grounds(answers: Answers) -> list[str]:
    told = (
        ("garden", "open", answers.ground, answers.ground_said),
        ("tunnel", "tunnel", answers.tunnel, answers.tunnel_said),
    )
    return [
        f'[[ground]]\nname = "{name}"\ncover = "{cover}"\narea = {_quoted(said)}\n'
        for name, cover, area, said in (
            (name, cover, area, typed.strip() or f"{_plain(area)} m²") for name, cover, area, typed in told
        ) if area
    ]


def _plain(area: float) -> str:
    return f"{area:.2f}".rstrip("0").rstrip(".")


def _portions(count: float) -> str:
    return f"{count:g} portion" if count == 1 else f"{count:g} portions"


def helpings(answers: Answers, catalogue: Crops) -> Sequence[Helping]:
    """What is wished for; UnknownCrop."""
    if not answers.likes:
        return [helping for helping in EVERYBODYS if answers.tunnel or not helping.needs_tunnel]
    return list(helpings_of(answers.likes, catalogue))


def helpings_of(likes: Sequence[str], catalogue: Crops) -> tuple[Helping, ...]:
    """The usual helpings of items and crops, each once; UnknownCrop with all that are not known."""
    liked: list[Helping] = []
    problems: list[Problem] = []
    for like in likes:
        try:
            liked.append(helping_of(like, catalogue))
        except UnknownCrop as error:
            problems += error.problems
    if problems:
        raise UnknownCrop(problems)
    return tuple(dict.fromkeys(liked))


def helping_of(like: str, catalogue: Crops) -> Helping:
    """The usual helping of an item or crop; one portion all the year of a crop that has none."""
    for helping in (*EVERYBODYS, *SOMEBODYS):
        if like.strip().casefold() in (helping.item, helping.american, helping.winterless):
            return helping
    crop = catalogue.crop(like)
    usual = (helping for helping in (*EVERYBODYS, *SOMEBODYS) if crop.key in helping.crops)
    return next(usual, Helping(crop.name.casefold(), (crop.key,), 1))


def _left_out(
    wished: Sequence[Helping], why: Mapping[str, str], outlet: tuple[str, str, int, int], lat: float
) -> str:
    """What is not wished for, each with its reason and a wish to take the comment marks off."""
    name, _, _, people = outlet
    told = [_LEFT_OUT]
    for helping in (helping for helping in wished if helping.item in why):
        wish = _wish(helping, name, people, usual_season(helping, lat))
        reason = wrap(f"{helping.item}: {why[helping.item]}.", WIDTH)
        told += [*(f"# {line}" for line in (*reason, *wish.splitlines())), "#"]
    return "\n".join(told[:-1]) + "\n"


def usual_season(helping: Helping, lat: float) -> Season:
    """Half a year on in the south, all the year in the tropics."""
    if helping.season == ALL_YEAR or not has_winter(lat):
        return ALL_YEAR
    opens, closes = helping.season
    return (_half_year_on(opens), _half_year_on(closes)) if lat < 0 else helping.season


def _wish(helping: Helping, outlet: str, people: int, season: Season) -> str:
    crops = ", ".join(f'"{key}"' for key in helping.crops)
    lines = ["[[wish]]", f"item = {_quoted(helping.item)}", f"crops = [{crops}]", f'outlet = "{outlet}"',
             f'each_week = "{_portions(helping.portions * people)}"']
    if season != ALL_YEAR:
        opens, closes = season
        lines += [f'from = "{opens[0]:02d}-{opens[1]:02d}"', f'until = "{closes[0]:02d}-{closes[1]:02d}"']
    return "\n".join(lines) + "\n"


def _half_year_on(day: MonthDay) -> MonthDay:
    month = (day[0] + 5) % 12 + 1
    return month, min(day[1], 28 if month == 2 else DAYS_IN_MONTH[month - 1])


_HEAD = """\
# Your garden. Change what does not fit; every line is explained in docs/formats/garden-toml.md.

never = []                   # crops not to be suggested, such as ["celery"]

[site]
{where}
# height = "40 m"            # above the sea, if you know it
# weather = "my-record.csv"  # a daily record of your own, beside this file
# normals = "normals.toml"   # or twelve months' normals that you typed
# readings = "plot.csv"      # days read from a thermometer of your own

[words]
english = {english}# british or american
units = {units}# metric or imperial

[plan]
sowing_day = "saturday"

[covers]                     # covers that move about on open ground
# fleece = "20 m²"
# cloche = "3 m²"

# [bench]                    # where plants are raised, if you have one
# modules = 200              # cells that fit on it at one time
# lowest = "5 °C"            # it is never colder than this (5 frost-free, 16 heated)
"""

_WISHES = """\
# What is wanted in a week, for one person or one box; from and until are month-day, and leaving both
# out means all the year. A first guess by common practice, and by when your climate gives it: put your own.
"""

_LEFT_OUT = """\
# Left out, for it can't be counted on here. Take the marks off a wish if you want it all the same.
#"""

_TAIL = """\
# The seed tin: one [[seed]] for each packet.
# [[seed]]
# crop = "carrot"
# year = 2026
# amount = "2 g"             # or "300 seeds"
# tested = "85 %"            # how many of a hundred came up, if you tried
"""
