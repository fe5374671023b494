"""A first garden.toml from a few answers: where, how much ground, how much tunnel, whether it can be watered,
for whom, what they like.

Whoever knows the climate tells seasons of its own for the usual helpings (service/first_seasons.py).
"""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.climate.site import Site
from evenpick.garden.amounts import LARGEST
from evenpick.garden.begin_asides import left_out_lines, selling_lines, standing_lines, unknown_lines
from evenpick.garden.begin_lines import DRY, HEAD, HIGH, IMPERIAL, METRIC, TAIL, WATERED, WISHES
from evenpick.garden.begin_where import quoted, where_said
from evenpick.garden.helpings import ALL_YEAR, Helping, Season, everybodys, usual_season, without_tunnel
from evenpick.garden.likes import Liked, helpings_of, liked_of
from evenpick.garden.likes_but import never_keys, unknown_nevers
from evenpick.garden.spoken_area import spoken_names, spoken_parts
from evenpick.garden.standing import parted, why_not_wished
from evenpick.garden.whose_words import English, Units, english_of, units_of
from evenpick.garden.wishes import Crops

PEOPLE_IN_A_BOX = 2
MANY = 8
"""people and more are no household"""
FEW = 0.25
"""of many people, fewer than these whom the ground feeds are whom the wishes are for (our choice)"""
FEET = re.compile(r"ft|foot|feet|\bin|yd|yard|'")
LAND = re.compile(r"acre|rod|guntha|cent|rai|ngan")
"""told in these wherever feet once were: whoever says so may lay beds by the metre"""
LETTERS = ("", *(f" {letter}" for letter in "BCDEFGHIJKLMNOPQRSTUVWXYZ"))
"""of pieces of ground told together (spoken_area.MOST_PIECES); numbers are their beds'"""
SMALLEST = 0.01
"""m² of ground worth writing down: a pot of 12 cm"""


@dataclass(frozen=True, slots=True)
class Answers:
    where: str
    """a place such as 'Dublin, IE' or a point such as '53.4, -6.2', with its height behind it or without"""
    ground: float
    """m² of open ground"""
    tunnel: float = 0.0
    """m² of tunnel"""
    people: int = 0
    boxes: int = 0
    likes: tuple[str, ...] = ()
    """items or crops by any name; empty is a bit of everything"""
    nevers: tuple[str, ...] = ()
    """crops, items or families by any name that are never to be grown"""
    english: English | None = None
    """None: as where it is, American in the United States"""
    units: Units | None = None
    """None: as the areas were typed"""
    ground_said: str = ""
    tunnel_said: str = ""
    """the two areas as typed, such as '4 x 10 m x 1.2 m', which tells the beds too; empty: as plain areas"""
    watered: bool = True
    """whether the open ground can be watered"""
    height: str = ""
    """above the sea, as typed; empty: as `where` says, else that of the place"""
    selling: tuple[str, ...] = ()
    """what is sold to without a word of how much: 'a stall'"""


@dataclass(frozen=True, slots=True)
class Found:
    """When an item is wished for at a place; where it is not, why."""

    seasons: tuple[Season, ...]
    why: str = ""
    ground: float = 0.0
    """m² that a portion a week in all its seasons takes all year round, at the best pace of its crops; nought
    where that is not known"""


Seasons = Callable[[Sequence[Helping], Site], Mapping[str, Found]]
"""by item"""


@dataclass(frozen=True, slots=True)
class First:
    """A first garden as it was written."""

    text: str
    site: Site
    left_out: Mapping[str, str]
    """items that are not wished for, and why; with what was liked and is not known"""
    ground: float = 0.0
    """m² that what all eat takes at least; nought where that is not known"""
    fed: int = 0
    """people that the wishes are written for; fewer than eat where the ground is next to nothing for them"""


def _usual(wished: Sequence[Helping], site: Site) -> Mapping[str, Found]:
    return {helping.item: Found((usual_season(helping, site.lat),)) for helping in wished}


def first_garden(answers: Answers, catalogue: Crops, seasons: Seasons = _usual) -> First:
    """A commented garden.toml. What `seasons` has none for stands in it as a comment, with the reason.
    UnknownPlace, UnknownCrop or BadRequest for a bad answer."""
    check_ground(answers.ground, answers.tunnel)
    check_eaters(answers.people, answers.boxes)
    where = where_said(answers.where, answers.height)
    site, country = where.site, where.country
    liked = helpings(answers, catalogue, site.lat)
    english = answers.english or english_of(country)
    units = answers.units or _units(answers, country)
    named = [helping.named(english, site.lat) for helping in liked]
    wished, here = _wished_here(named, answers, site, seasons)
    _check_something(here)
    each = sum(helping.portions * here[helping.item].ground for helping in wished)
    fed = _fed(answers, each)
    outlets = [
        (name, kind, shares, people)
        for name, kind, shares, people in (
            ("kitchen", "kitchen", fed, 1),
            ("boxes", "boxes", answers.boxes, PEOPLE_IN_A_BOX),
        )
        if shares
    ]
    such = IMPERIAL if units == "imperial" else METRIC
    words = {"english": f'"{english}"'.ljust(20), "units": f'"{units}"'.ljust(22)}
    never = json.dumps(never_keys(answers.nevers, catalogue)) + " "
    parts = [HEAD.format(where=where.lines, high="" if where.height_said else HIGH.format(**such),
                         watered=WATERED if answers.watered else DRY, never=never.ljust(21), **words, **such),
             *_grounds(answers)]
    fewer = "" if fed == answers.people else f"    # of {answers.people}: whom the ground feeds"
    parts += [f'[[outlet]]\nname = "{name}"\nkind = "{kind}"\nshares = {shares}'
              f'{fewer if kind == "kitchen" else ""}\n' for name, kind, shares, _ in outlets]
    parts.append(WISHES)
    parts += [_wish(helping, name, people, season) for name, _, _, people in outlets for helping in wished
              for season in here[helping.item].seasons]
    left_out = {item: found.why for item, found in here.items() if not found.seasons}
    usual = {helping.item: _wish(helping, outlets[0][0], outlets[0][3], usual_season(helping, site.lat))
             for helping in wished}
    if left_out:
        parts.append(left_out_lines(wished, left_out, usual))
    standing = parted(answers.likes)[1]
    if standing:
        parts.append(standing_lines(standing, site.lat))
        left_out |= dict.fromkeys(standing, why_not_wished())
    if unknown := liked_here(answers.likes, catalogue).unknown:
        parts.append(unknown_lines(unknown))
        left_out |= {each.word: each.why for each in unknown}
    left_out |= {word: tell("it is not in the catalogue, and so never grown")
                 for word in unknown_nevers(answers.nevers, catalogue)}
    if answers.selling:
        parts.append(selling_lines(answers.selling, _wish(wished[0], "stall", 1, ALL_YEAR)))
    ground = (answers.people + PEOPLE_IN_A_BOX * answers.boxes) * each
    return First("\n".join([*parts, TAIL]), site, left_out, ground, fed)


def _fed(answers: Answers, each: float) -> int:
    """The people that the wishes are written for: of many with next to no ground, such as a school with a
    bed, those whom it feeds. Wishes of all would let the one or two things that give most take all of it."""
    able = (answers.ground + answers.tunnel) / each if each else math.inf
    if answers.boxes or answers.people < MANY or able >= FEW * answers.people:
        return answers.people
    return max(1, int(able))


def _wished_here(
    wished: Sequence[Helping], answers: Answers, site: Site, seasons: Seasons
) -> tuple[Sequence[Helping], Mapping[str, Found]]:
    """What is wished for and when; of a bit of everything nothing that wants a tunnel here and has none."""
    here = seasons(wished, site)
    if not answers.likes and not answers.tunnel:
        wished = without_tunnel(wished, {item: found.seasons for item, found in here.items()}, site.lat)
    return wished, {helping.item: here[helping.item] for helping in wished}


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


def _check_something(here: Mapping[str, Found]) -> None:
    """BadRequest where nothing of what is liked is to be had: a garden file without a wish can't be read."""
    if any(found.seasons for found in here.values()):
        return
    why = "; ".join(f"{item}: {found.why}" for item, found in here.items())
    what = tell("nothing that they like can be counted on here ({why}).", why=why)
    mend = tell("Name something else too, or answer nothing for a bit of everything.")
    raise BadRequest(Problem(what, mend, field="likes"))


def _units(answers: Answers, country: str) -> Units:
    """As the areas were typed; where that is in both, or by the acre, as they are there."""
    said = [part for part in (*_parts(answers.ground_said), *_parts(answers.tunnel_said))
            if not LAND.search(part)]
    feet = {bool(FEET.search(part)) for part in said}
    if len(feet) == 1:
        return "imperial" if True in feet else "metric"
    return units_of(country) if answers.ground_said or answers.tunnel_said else "metric"


def _parts(said: str) -> tuple[str, ...]:
    return spoken_parts(said) if said else ()


def _grounds(answers: Answers) -> list[str]:
    """One for each piece of ground that was told apart, with its beds; tubs go by what they were called."""
    told = (
        ("garden", "open", answers.ground, answers.ground_said),
        ("tunnel", "tunnel", answers.tunnel, answers.tunnel_said),
    )
    lines, used = [], Counter[str]()
    for usual, cover, area, said in (each for each in told if each[2]):
        parts, called = (_parts(said), spoken_names(said)) if said else ((f"{_plain(area)} m²",), (("", ""),))
        for part, (tubs, as_told) in zip(parts, called, strict=True):
            name, aside = tubs or usual, f"      # {as_told}" if as_told else ""
            letter = LETTERS[used[name]]
            used[name] += 1
            lines.append(f'[[ground]]\nname = "{name}{letter}"\ncover = "{cover}"\n'
                         f"area = {quoted(part)}{aside}\n")
    return lines


def _plain(area: float) -> str:
    return f"{area:.2f}".rstrip("0").rstrip(".")


def _portions(count: float) -> str:
    return f"{count:g} portion" if count == 1 else f"{count:g} portions"


def liked_here(likes: Sequence[str], catalogue: Crops) -> Liked:
    """What is liked of what is sown anew, and what is no crop here."""
    return liked_of(parted(likes)[0], catalogue)


def helpings(answers: Answers, catalogue: Crops, lat: float | None = None) -> Sequence[Helping]:
    """What is wished for at a latitude, less what is never to be grown and what stands for years;
    UnknownCrop, or BadRequest where that leaves nothing."""
    never = set(never_keys(answers.nevers, catalogue))
    liked: Iterable[Helping] = helpings_of(parted(answers.likes)[0], catalogue)
    if not answers.likes:
        liked = everybodys(lat, answers.ground + answers.tunnel)
    left = [replace(helping, crops=tuple(key for key in helping.crops if key not in never))
            for helping in liked]
    wished = [helping for helping in left if helping.crops]
    if not wished:
        what = tell("all that they like is what they never want.")
        raise BadRequest(Problem(what, tell("Name something else too, or leave some of it out."),
                                 field="likes"))
    return wished


def _wish(helping: Helping, outlet: str, people: int, season: Season) -> str:
    crops = ", ".join(f'"{key}"' for key in helping.crops)
    lines = ["[[wish]]", f"item = {quoted(helping.item)}", f"crops = [{crops}]", f'outlet = "{outlet}"',
             f'each_week = "{_portions(helping.portions * people)}"']
    if season != ALL_YEAR:
        opens, closes = season
        lines += [f'from = "{opens[0]:02d}-{opens[1]:02d}"', f'until = "{closes[0]:02d}-{closes[1]:02d}"']
    return "\n".join(lines) + "\n"
