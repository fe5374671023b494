"""What a grower needs of a plan first, within a screen: whether it is good, what is missing most, what can't
be had, what is taken for granted and what to order. The long lists come after."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from evenpick.base.language import tell, tell_n
from evenpick.report.page import Block, Heading, Items
from evenpick.report.words import Words, listing, percent, sentence
from evenpick.service.advice import ADVICE
from evenpick.service.plan_answer import GivenUp, PlannedSowing, SeedNeed

BAREST = 4
"""items named of those that miss most"""
IMPOSSIBLE = 3
"""wishes told of those that can't be met"""
TO_ORDER = 8
"""crops named of those whose seed is to be bought"""


def in_short(
    good: str, given_up: Sequence[GivenUp], cannot: Sequence[str], words: Words, more: Iterable[str] = ()
) -> list[Block]:
    """A heading and a line for each; `good` says how good the plan is, in a sentence."""
    told = (good, *_barest(given_up), *_impossible([*map(words.with_areas, cannot)]), *map(sentence, more))
    return [Heading(tell("in short")), Items(told)]


def _barest(given_up: Sequence[GivenUp]) -> Iterator[str]:
    if given_up:
        ordered = sorted(given_up, key=lambda each: -each.missing)
        items = ", ".join(f"{each.item} {percent(each.missing)}" for each in ordered[:BAREST])
        yield tell("Most is missing of: {items}. Why, stands under what it gives up.", items=items)


def _impossible(cannot: Sequence[str]) -> Iterator[str]:
    """The first sentence of each; the whole of them comes after, with what would mend them all."""
    cannot = [each for each in cannot if each != tell(ADVICE)]
    for each in cannot[:IMPOSSIBLE]:
        first, _, _ = each.partition(". ")
        yield sentence(first)
    left = len(cannot) - IMPOSSIBLE
    if left > 0:
        yield tell_n("{n} more wish can't be met; it stands under what can't be had.",
                     "{n} more wishes can't be met; they stand under what can't be had.", left)


def to_order(
    needs: Sequence[SeedNeed], sowings: Sequence[PlannedSowing], words: Words
) -> Iterator[str]:
    """What is to be bought, what is sown first before the others."""
    first = {sowing.name: sowing.sow for sowing in sorted(sowings, key=lambda each: each.sow, reverse=True)}
    lacking = [need for need in needs if need.buy_seeds != 0]
    lacking.sort(key=lambda need: (need.name not in first, first.get(need.name), need.name))
    if not lacking:
        return
    names = listing(words.name(need.name) for need in lacking[:TO_ORDER])
    left = len(lacking) - TO_ORDER
    if left > 0:
        names = tell_n("{names} and {n} more", "{names} and {n} more", left, names=names)
    yield tell("To order, what is sown first before the rest: {names}. How much, stands under seed.",
               names=names)
