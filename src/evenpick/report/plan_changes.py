"""What is other than in the plan before, by its reasons."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from evenpick.base.language import tell, tell_n
from evenpick.base.trade import CoverName
from evenpick.report.days import day, span
from evenpick.report.page import Block, Heading, Items, Text
from evenpick.report.sowings import amount
from evenpick.report.words import WAY_WORDS, Words, capital
from evenpick.service.plan_answer import Change


def changes(heading: str, told: Sequence[Change], words: Words) -> list[Block]:
    """What is other than in the plan before: a list for each reason, in the order of their first days; what
    is not made good comes last."""
    by_reason: dict[str, list[Change]] = {}
    both = _in_two_ways(told)
    for change in sorted(told, key=lambda each: each.kind == "missed"):
        by_reason.setdefault(change.why, []).append(change)
    lists = (block for why, several in by_reason.items()
             for block in (Text(f"{capital(why)}:"), Items(tuple(_of_reason(several, both, words)))))
    return [Heading(heading), *lists] if told else []


def _in_two_ways(told: Sequence[Change]) -> frozenset[tuple[str, date]]:
    """Names and days of which there are changes in several ways: 'no sowing on 29 May' is of seed in place,
    and '581 plants on 29 May, new' of raised ones."""
    ways: dict[tuple[str, date], set[str]] = {}
    for change in told:
        ways.setdefault((change.name, change.sow), set()).add(change.way)
    return frozenset(each for each, found in ways.items() if len(found) > 1)


def _of_reason(
    several: Sequence[Change], both: frozenset[tuple[str, date]], words: Words
) -> Iterator[str]:
    """A line for each change; missed sowings of a crop under one cover have one together. `both` as in
    `_in_two_ways`."""
    missed: dict[tuple[str, CoverName], list[Change]] = {}
    for change in several:
        if change.kind == "missed":
            missed.setdefault((change.name, change.cover), []).append(change)
        else:
            yield _change(change, (change.name, change.sow) in both, words)
    for (name, cover), each in missed.items():
        if len(each) == 1:
            yield _change(each[0], (name, each[0].sow) in both, words)
        else:
            yield tell_n("{what}: {n} sowing, {span}", "{what}: {n} sowings, {span}", len(each),
                         what=_what(name, cover, words), span=span(each[0].sow, each[-1].sow))


def _what(name: str, cover: CoverName, words: Words) -> str:
    return words.name(name) if cover == "open" else f"{words.name(name)}, {words.cover(cover)}"


def _change(change: Change, tells_way: bool, words: Words) -> str:
    much = amount(change.row_m, change.plants, change.area_m2, change.way == "raised", words)
    when = day(change.sow)
    said = {
        "more": tell("{much} more on {when}", much=much, when=when),
        "less": tell("{much} less on {when}", much=much, when=when),
        "new": tell("{much} on {when}, new", much=much, when=when),
        "missed": tell("{much} on {when}", much=much, when=when),
        "dropped": tell("no sowing on {when}", when=when),
        "moved": tell("{much} on {when}", much=much,
                      when=when) + (tell(" instead of {was}", was=day(change.was)) if change.was else ""),
    }
    way = f", {tell(WAY_WORDS[change.way])}" if tells_way else ""
    return f"{_what(change.name, change.cover, words)}{way}: {said[change.kind]}"
