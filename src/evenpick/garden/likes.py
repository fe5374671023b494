"""What is liked, by any word for it; what is not known is told with what is."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from evenpick.base.errors import Problem, UnknownCrop
from evenpick.base.language import tell
from evenpick.crops.crop_words import crop_words
from evenpick.garden.diary_names import Names
from evenpick.garden.diary_scan import plain
from evenpick.garden.helpings import EVERYBODYS, SOMEBODYS, Helping
from evenpick.garden.standing import STANDING
from evenpick.garden.wishes import Crops

ALL = (*EVERYBODYS, *SOMEBODYS)
EVERYTHING = ("everything", "anything", "all", "any", "a bit of everything", "bit of everything")
_HERBS = ("parsley", "coriander", "dill", "basil", "chives")
GENERAL: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(("salad", "salads", "salad leaves", "salad greens"), ("lettuce", "winter salad")),
    **dict.fromkeys(("herb", "herbs"), _HERBS),
    **dict.fromkeys(("roots", "root vegetables", "root crops"),
                    ("carrots", "beetroot", "parsnips", "turnips", "swede")),
}
"""words for several items, by their British names"""
OTHER_HERBS = frozenset((
    "mint", "thyme", "sage", "rosemary", "oregano", "marjoram", "tarragon", "chervil", "lovage", "savory",
    "sorrel",
))


def helpings_of(likes: Sequence[str], catalogue: Crops) -> tuple[Helping, ...]:
    """The usual helpings of items and crops, each once; UnknownCrop with all that are not known, and what is
    to be had."""
    liked: list[Helping] = []
    problems: list[Problem] = []
    for like in likes:
        try:
            liked += _each(like, catalogue)
        except UnknownCrop as error:
            problems += error.problems
    if problems:
        raise UnknownCrop(_with_alternatives(problems))
    return tuple(dict.fromkeys(liked))


def _each(like: str, catalogue: Crops) -> list[Helping]:
    """Of one word between commas: an item, several by one word, or several with 'and' between."""
    if like.casefold() in GENERAL:
        return [helping_of(item, catalogue) for item in GENERAL[like.casefold()]]
    try:
        return [helping_of(like, catalogue)]
    except UnknownCrop:
        parts = [part for part in re.split(r"\s*(?:&|\+|/|\band\b|\bor\b)\s*", like) if part]
        if len(parts) < 2:
            raise
    found = helpings_of(parts, catalogue)
    return list(found)


def helping_of(like: str, catalogue: Crops) -> Helping:
    """The usual helping of an item or crop; one portion all the year of a crop that has none. UnknownCrop."""
    for helping in ALL:
        if like.strip().casefold() in (helping.item, helping.american, helping.winterless):
            return helping
    key = key_of(like, catalogue)
    usual = (helping for helping in ALL if key in helping.crops)
    return next(usual, Helping(catalogue.crop(key).name.casefold(), (key,), 1))


def key_of(like: str, catalogue: Crops) -> str:
    """The catalogue key of a crop by any of its names, spoken or written; UnknownCrop."""
    try:
        return catalogue.crop(like).key
    except UnknownCrop as error:
        spoken = Names(crop_words()).words.get(plain(like))
        if spoken is None:
            raise UnknownCrop(list(_unknown(like, error))) from error
        return spoken[0]


def _unknown(like: str, error: UnknownCrop) -> Iterator[Problem]:
    """What is said of a word that is no crop here, and what comes nearest to it."""
    what = error.problems[0].what
    if like.casefold() in OTHER_HERBS:
        yield Problem(what, tell("Of herbs there are {names}.", names=", ".join(_HERBS)))
    elif like.casefold() in STANDING:
        yield Problem(what, tell("It stands for years; here is planned what is sown or planted each year. "
                                 "Leave it out."))
    else:
        yield from error.problems


def _with_alternatives(problems: Sequence[Problem]) -> list[Problem]:
    """The last that has no alternative of its own gets all that there are."""
    bare = tell("Name a crop that grows like it, or leave it out.")
    last = max((at for at, problem in enumerate(problems) if problem.mend == bare), default=None)
    told = list(problems)
    if last is not None:
        every = ", ".join(helping.item for helping in ALL)
        told[last] = Problem(problems[last].what, tell("{mend} There are: {names}.", mend=bare, names=every))
    return told
