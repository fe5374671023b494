"""Which crop and which sowing under way a clause is about; a question where more than one fits."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.days import day_date
from evenpick.base.language import later, tell
from evenpick.garden.diary_asking import Asker, refuse
from evenpick.garden.diary_clause import EVERY, LAST, UNTOLD, Clause
from evenpick.garden.diary_names import Names, day_words
from evenpick.garden.record import Sowing

_WRITE = later("Write the sowing first, with its day, or put 'note:' before the line to keep the words.")
_BUY = later("If the plants were bought, say so: \"planted 24 bought lettuces in bed 2\". If they were raised"
             " here, write the sowing first, with its day; 'note:' before the line keeps the words alone.")
_RAISED_ONLY = ("pricked out", "potted on", "hardened off", "planted out")


def under_way(names: Names, clause: Clause, act: str, day: int, by_ground: bool = True) -> list[Sowing]:
    """The sowings that the act may be about on that day: not over, in the state, place and variety told."""
    spoken = {variety for _, variety in clause.varieties} or ({clause.variety} if clause.variety else set())
    fitting = [
        sowing
        for sowing in names.sowings
        if not sowing.over(day)
        and sowing.day <= day
        and _ready(sowing, act)
        and (not clause.sown_on or day_date(sowing.day) in clause.sown_on)
        and (not spoken or sowing.fact.variety.lower() in {each.lower() for each in spoken})
    ]
    return _in_place(names, clause, fitting) if by_ground and clause.grounds else fitting


def _in_place(names: Names, clause: Clause, sowings: Sequence[Sowing]) -> list[Sowing]:
    """Those in the grounds told; where none of the crops named is there, those of them of which no ground was
    told and whose cover is a ground's: 'in the tunnel' is said of what was only sown under it."""
    there = [sowing for sowing in sowings if names.lies_in(sowing.ground, clause.grounds)]
    named = [sowing for sowing in sowings if sowing.fact.crop in clause.keys]
    if not named or any(names.lies_in(sowing.ground, clause.grounds) for sowing in named):
        return there
    covers = {ground.cover for name in clause.grounds if (ground := names.ground(name)) is not None}
    return [sowing for sowing in named if sowing.ground is None and sowing.cover in covers]


def _ready(sowing: Sowing, act: str) -> bool:
    if act == "came up":
        return sowing.up is None and sowing.planted_out is None and not sowing.pickings
    if act == "planted out":
        return sowing.fact.way == "raised" and sowing.planted_out is None
    if act in _RAISED_ONLY:
        return sowing.fact.way == "raised"
    if act == "cleared":
        return sowing.cleared is None
    return not (act == "thinned" and sowing.fact.way == "planted")


def crop_of(names: Names, clause: Clause, asker: Asker, fitting: Sequence[Sowing]) -> str:
    """The crop; among several those under way, then those grown here; asked where several are left."""
    keys = clause.keys
    if not keys:
        growing = {sowing.fact.crop for sowing in fitting} or names.grown
        return asker.ask("crop", tell("Which crop?"),
                         sorted(((key, names.name(key)) for key in growing), key=lambda each: each[1]))
    standing = [key for key in keys if any(sowing.fact.crop == key for sowing in fitting)]
    grown = [key for key in keys if key in names.grown]
    for some in (standing, grown, list(keys)):
        if len(some) == 1:
            return some[0]
        if some:
            typed = clause.crop[0] if clause.crop else clause.variety
            return asker.ask(
                "crop", tell("Which crop is meant by '{typed}'?",
                             typed=typed), [(key, names.name(key)) for key in some]
            )
    raise AssertionError("keys are not empty")


def sowings_of(
    names: Names,
    clause: Clause,
    asker: Asker,
    fitting: Sequence[Sowing],
    crop: str | None,
    act: str,
    several: bool,
    optional: bool,
) -> list[str | None]:
    """Ids of the sowings meant; `several` lets all of them be meant, `optional` none in particular."""
    meant = [sowing for sowing in fitting if crop is None or sowing.fact.crop == crop]
    if optional and clause.which == UNTOLD:
        return [None]
    told = _nth(names, clause.nth, meant) if clause.nth else meant
    if len(told) == 1:
        return [told[0].id]
    if not meant:
        if optional and not clause.sown_on:
            return [None]
        what = names.name(crop) if crop else tell("anything")
        where = f" in {' or '.join(clause.grounds)}" if clause.grounds else ""
        if clause.sown_on:
            where = tell(" of {day}", day=day_words(clause.sown_on[0])) + where
        refuse(
            tell("no sowing of {what}{where} is under way in the diary that this could be told of.",
                 what=what, where=where),
            tell(_BUY) if act == "planted out" else tell(_WRITE),
        )
    choices = [(sowing.id, names.told(sowing)) for sowing in meant]
    choices += [(EVERY, tell("all of them"))] * several + [(UNTOLD, tell("I don't know which"))] * optional
    given = EVERY if several and clause.which == EVERY else asker.ask("sowing", tell("Which sowing{crop}?",
                                     crop="" if crop is None else " of " + names.name(crop)), choices)
    if given == EVERY:
        return [sowing.id for sowing in meant]
    return [None if given == UNTOLD else given]


SEASON = 366
"""days before the last of its crop within which a sowing counts as one of the same season's"""


def _nth(names: Names, nth: int, meant: Sequence[Sowing]) -> list[Sowing]:
    """Of those that may be meant the one of that number among its crop's in a year; none where it is not
    among them."""
    if not meant:
        return []
    latest = max(meant, key=lambda each: (each.day, each.id))
    if nth == LAST:
        return [latest]
    alike = sorted((each for each in names.sowings if each.fact.crop == latest.fact.crop
                    and 0 <= latest.day - each.day < SEASON), key=lambda each: (each.day, each.id))
    return [each for each in alike[nth - 1 : nth] if each in meant]


def one(found: list[str | None]) -> str:
    """The one sowing that a fact must have."""
    return _told(found[0])


def _told(sowing: str | None) -> str:
    assert sowing is not None, "such a fact is asked for its sowing"
    return sowing
