"""What is liked, by any word for it; what is not known is told with what comes near, and the rest is kept."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from evenpick.base.errors import Problem, UnknownCrop
from evenpick.base.language import tell
from evenpick.crops.crop_words import crop_words
from evenpick.crops.families import family_called
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
    **dict.fromkeys(("salad mix", "mesclun", "salad mixes", "mixed salad", "mixed leaves"),
                    ("lettuce", "winter salad")),
    **dict.fromkeys(("leafy greens", "leaf crops", "palak"), ("greens",)),
    **dict.fromkeys(("roots", "root vegetables", "root crops", "root veg"),
                    ("carrots", "beetroot", "parsnips", "turnips", "swede")),
}
"""words for several items, by their British names"""
VARIETAL = re.compile(
    r"^(?:(?:cut|cutting|cut-and-come-again|loose-?leaf|baby|mini|dwarf|giant|early|late|cherry|plum|beefsteak|"
    r"salad|pickling|slicing|heirloom|heritage|"
    r"organic|fresh|home-?grown|mixed|curly|pointed|flat|round|long|red|purple|yellow|golden|gold|green|orange|"
    r"rainbow|striped|crunchy|sweet(?=\s+(?:onion|beet|carrot)))\s+)+"
)
"""words of a kind within a crop: 'cherry tomatoes', 'red cabbage'"""
PLANTS = re.compile(r"^(?:(?:an?|one|two|three|four|\d{1,2})\s+)?(.+?)(?:\s+plants?)?$", re.IGNORECASE)
"""'one tomato plant': what it is of; how much is wanted is guessed as of all"""
_DRY = re.compile(r"\b(?:red|green|yellow|purple)\s+(?:beans?|lentils?|gram)\b")
"""grown for its dry seed, which is another crop"""
OTHER_HERBS = frozenset((
    "mint", "thyme", "sage", "rosemary", "oregano", "marjoram", "tarragon", "chervil", "lovage", "savory",
    "sorrel",
))


@dataclass(frozen=True, slots=True)
class Unknown:
    """A word that is no crop here."""

    word: str
    near: str
    """what may be meant by it or stand for it, in a sentence; '' where nothing comes near"""

    @property
    def why(self) -> str:
        what = tell("it is not in the catalogue")
        return f"{what}. {self.near.rstrip('.')}" if self.near else what


@dataclass(frozen=True, slots=True)
class Liked:
    helpings: tuple[Helping, ...]
    unknown: tuple[Unknown, ...]


def liked_of(likes: Sequence[str], catalogue: Crops) -> Liked:
    """The usual helpings of items and crops, each once, and every word that is not known."""
    helpings: list[Helping] = []
    unknown: list[Unknown] = []
    for like in likes:
        found = _each(like, catalogue)
        helpings += found.helpings
        unknown += found.unknown
    return Liked(tuple(dict.fromkeys(helpings)), tuple(unknown))


def helpings_of(likes: Sequence[str], catalogue: Crops) -> tuple[Helping, ...]:
    """The usual helpings of what is known; UnknownCrop, with what is to be had, where nothing is."""
    found = liked_of(likes, catalogue)
    if found.unknown and not found.helpings:
        raise UnknownCrop(_with_alternatives(found.unknown))
    return found.helpings


def _each(like: str, catalogue: Crops) -> Liked:
    """Of one word between commas: an item, several by one word, or several with 'and' between."""
    like = PLANTS.sub(r"\1", " ".join(like.split()))
    said = like.casefold()
    if said in GENERAL:
        return Liked(tuple(helping_of(item, catalogue) for item in GENERAL[said]), ())
    try:
        return Liked((helping_of(like, catalogue),), ())
    except UnknownCrop as error:
        parts = [part for part in re.split(r"\s*(?:&|\+|/|\band\b|\bor\b)\s*", like) if part]
        if len(parts) > 1:
            return liked_of(parts, catalogue)
        if family := _of_family(said, catalogue):
            return Liked(family, ())
        return Liked((), (Unknown(like, near_of(like, error, catalogue)),))


def _of_family(said: str, catalogue: Crops) -> tuple[Helping, ...]:
    """What everybody wants of a family: 'brassicas'."""
    family = family_called(said)
    return () if family is None else tuple(
        helping for helping in EVERYBODYS
        if all(catalogue.crop(key).family == family for key in helping.crops)
    )


def helping_of(like: str, catalogue: Crops) -> Helping:
    """The usual helping of an item, of one crop of it where that one is named; one portion all the year of a
    crop that has none. UnknownCrop."""
    said = " ".join(like.split()).casefold()
    for helping in ALL:
        if said in (helping.item, helping.american, helping.winterless):
            return helping
    keys = keys_of(like, catalogue)
    usual = next((helping for helping in ALL if keys[0] in helping.crops), None)
    if usual is None:
        return Helping(catalogue.crop(keys[0]).name.casefold(), keys[:1], 1)
    named = tuple(key for key in usual.crops if key in keys)
    return usual if named == usual.crops else replace(usual, item=said, crops=named, american="",
                                                      winterless="")


def keys_of(like: str, catalogue: Crops) -> tuple[str, ...]:
    """The catalogue keys that a word may mean, written or spoken, with a word for the kind before it or
    without; UnknownCrop."""
    spoken = Names(crop_words()).words
    said = plain(like)
    several = spoken.get(said, ())
    if len(several) > 1:
        return several
    try:
        return (catalogue.crop(like).key,)
    except UnknownCrop:
        bare = VARIETAL.sub("", said)
        if several or bare == said or _DRY.search(said):
            if not several:
                raise
            return several
        if bare in spoken:
            return spoken[bare]
        raise


def near_of(like: str, error: UnknownCrop, catalogue: Crops) -> str:
    """What comes nearest to a word that is no crop here, in a sentence."""
    said = like.casefold()
    if said in OTHER_HERBS:
        return tell("Of herbs there are {names}.", names=", ".join(_HERBS))
    if said in STANDING:
        return tell("It stands for years; here is planned what is sown or planted each year. Leave it out.")
    head = said.split()[-1]
    if head != said:
        try:
            helping_of(head, catalogue)
        except UnknownCrop:
            pass
        else:
            return tell("Did you mean {names}?", names=repr(head))
    mend = error.problems[0].mend
    return "" if mend == _bare() else mend


def _bare() -> str:
    return tell("Name a crop that grows like it, or leave it out.")


def _with_alternatives(unknown: Sequence[Unknown]) -> list[Problem]:
    """The last that nothing comes near to gets all that there are."""
    last = max((at for at, each in enumerate(unknown) if not each.near), default=None)
    every = tell("{mend} There are: {names}.", mend=_bare(), names=", ".join(helping.item for helping in ALL))
    return [
        Problem(tell("'{name}' is not in the catalogue.", name=each.word),
                each.near or (every if at == last else _bare()))
        for at, each in enumerate(unknown)
    ]
