"""What is never to be grown, as it is spoken among the likes: 'no brassicas', 'everything but beans'."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from evenpick.base.errors import Problem, UnknownCrop
from evenpick.crops.crop_words import crop_words
from evenpick.crops.families import family_called
from evenpick.garden.diary_names import GROUPS
from evenpick.garden.diary_scan import plain
from evenpick.garden.likes import ALL, EVERYTHING, GENERAL, helping_of, keys_of, near_of
from evenpick.garden.wishes import Crops

_BUT = r"(?:but|except(?:ing)?(?: for)?|apart from|other than|without|minus)"
_NO = r"(?:no|not|never|don'?t like|do not like)"
_PART = re.compile(rf"[,;\n]+|\s+(?:and\s+)?(?=(?:{_BUT}|{_NO})\b)", re.IGNORECASE)
_SAYS_BUT = re.compile(rf"{_BUT}\b\s*(?:any\s+)?", re.IGNORECASE)
_SAYS_NO = re.compile(rf"{_NO}\b\s+(?:any\s+)?", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*(?:&|\+|/|\band\b|\bor\b|\bnor\b)\s*", re.IGNORECASE)
_DONT_MIND = ("no preference", "no preferences")


def likes_of(text: str) -> tuple[str, ...]:
    """The words of an answer that are liked, by commas; none of one that likes everything."""
    return tuple(word for word, liked in _words(text) if liked and word.casefold() not in EVERYTHING)


def nevers_of(text: str) -> tuple[str, ...]:
    """The words of an answer that are not; after 'everything but' all that follow."""
    return tuple(word for word, liked in _words(text) if not liked)


def _words(text: str) -> Iterator[tuple[str, bool]]:
    if text.strip(" \t.!").casefold() in _DONT_MIND:
        return
    but = False
    for part in _PART.split(text):
        word = part.strip(" \t.!")
        if says := _SAYS_BUT.match(word):
            but, word = True, word[says.end() :]
        says_no = _SAYS_NO.match(word)
        word = word[says_no.end() :] if says_no else word
        if word:
            yield word, not (but or says_no)


def never_keys(words: Sequence[str], catalogue: Crops) -> tuple[str, ...]:
    """Catalogue keys of what is never to be grown, by crops, items, general words and families, each once.
    UnknownCrop with all that may be a slip of the pen for one; what comes near none is never grown anyway."""
    keys: list[str] = []
    problems: list[Problem] = []
    for word in _apart(words, catalogue):
        try:
            keys += _keys(word, catalogue)
        except UnknownCrop as error:
            problems += (problem for problem in error.problems if near_of(word, error, catalogue))
    if problems:
        raise UnknownCrop(problems)
    return tuple(dict.fromkeys(keys))


def unknown_nevers(words: Sequence[str], catalogue: Crops) -> tuple[str, ...]:
    """Those of the words that no crop here goes by."""
    return tuple(word for word in _apart(words, catalogue) if not _known(word, catalogue))


def _apart(words: Sequence[str], catalogue: Crops) -> Iterator[str]:
    """Each by itself: 'beans or peas' are two, unless something goes by both."""
    for word in words:
        parts = [word] if _known(word, catalogue) else [part for part in _BETWEEN.split(word) if part]
        yield from parts


def _known(word: str, catalogue: Crops) -> bool:
    try:
        return bool(_keys(word, catalogue))
    except UnknownCrop:
        return False


def _keys(word: str, catalogue: Crops) -> tuple[str, ...]:
    """Of beans every kind of them, of an item all its crops, of a family's name all of it; else one crop."""
    said = " ".join(word.split()).casefold()
    several = [key for item in GENERAL.get(said, ()) for key in helping_of(item, catalogue).crops]
    several += [key for group, keys in GROUPS.items() if plain(said) in (group, f"{group}s", f"{group}es")
                for key in keys]
    several += [key for helping in ALL if said in (helping.item, helping.american, helping.winterless)
                for key in helping.crops]
    if several:
        return tuple(several)
    try:
        return keys_of(word, catalogue)
    except UnknownCrop:
        family = family_called(said)
        if family is None:
            raise
    return tuple(key for key in crop_words() if catalogue.crop(key).family == family)
