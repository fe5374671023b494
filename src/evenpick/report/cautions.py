"""What can hurt someone, said with the crops that it is about."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from evenpick.base.language import later, tell
from evenpick.report.page import Block, Heading, Items
from evenpick.report.words import Words, listing, sentence

FOR_EATERS = {
    "Winter leaf grown in poor light is high in nitrate; leaf for sale must keep to the local limit, where "
    "there is one.": later("Winter leaf grown in poor light is high in nitrate."),
}
"""cautions without the rules that are for whoever sells"""


def take_care(cautions: Iterable[tuple[str, str]], words: Words) -> list[Block]:
    """A list of (British crop name, caution): each caution once, after the crops it is about."""
    crops: dict[str, dict[str, None]] = {}
    for name, caution in cautions:
        crops.setdefault(caution, {})[words.name(name)] = None
    told = tuple(f"{listing(names)}: {sentence(tell(caution))}" for caution, names in crops.items())
    return [Heading(tell("take care")), Items(told)] if told else []


def of_crops(crops: Iterable[tuple[str, str]], words: Words, dim: bool) -> list[Block]:
    """The cautions that hold for crops given by (key, British name); `dim`: some of what is picked grew in
    the poor light of winter."""
    return take_care(_of_crops(crops, words, dim), words)


def for_eaters(crops: Iterable[tuple[str, str]], words: Words, dim: bool) -> list[Block]:
    """The same for whoever eats them and sells nothing."""
    return take_care(((name, FOR_EATERS.get(said, said)) for name, said in _of_crops(crops, words, dim)),
                     words)


def _of_crops(crops: Iterable[tuple[str, str]], words: Words, dim: bool) -> Iterator[tuple[str, str]]:
    """British name and caution."""
    for key, name in crops:
        yield from ((name, said) for said in words.cautions.get(key, ())
                    if dim or said not in words.in_poor_light)
